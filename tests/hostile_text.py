"""Texts no screen may stumble over: markup, orders to a terminal, reordering marks, piles of accents, endless words.

Nothing in them is anybody's; they are made of pieces and of whatever hypothesis thinks of in between.
"""

import re
import unicodedata

from hypothesis import strategies as st
from rich.cells import cell_len

from shopcli.columns import display_width, shown

PIECES = (
    *("[b", "[/]", "[/oops]", "[bold]x[/bold]", "[@click=app.quit]out[/]", "5 [imp] gal", "\\[", "\\", "]"),
    *("$text-error", "{{ 7 * 7 }}", "{% raw", "%s", "{0}", "<b>&amp;", "'; DROP TABLE card; --", '"', "'"),
    *("\x1b[2J", "\x1b]0;title\x07", "\x9b31m", "\x1b", "\x00", "\x07", "\x08", "\x7f", "\x85", "\x9d"),
    *("\r", "\r\n", "\n", "\t", "\v", "\f", "\x1c", "\u2028", "\u2029", " ", "\u00a0", "\u3000", "\u202f"),
    *("\u202e", "\u2066", "\u200f", "\u061c", "שלום", "مرحبا", "\u0600\u06dd"),
    *("👩\u200d🔧", "🏳️\u200d🌈", "👍🏽", "🇬🇧", "🇬", "❤️", "1️⃣", "\u200d", "\u200b", "\ufeff", "\u00ad", "☰䷀"),
    *("e\u0301", "a" + "\u0301" * 30, "\u0301", "ก็ำ", "नमस्ते", "가", "\u1160", "﷽", "ǆ", "ﬃ"),
    *("車検整備", "ｗｉｄｅ", "\ud800", "\udfff", "\ue000", "\U000e0041", "\U0010ffff"),
    *("١٢٣", "१२", "１２,５", "½", "²", "-", "–", "#", "~", "0.4", "6 thou", "1e999", "nan", "∞"),
    *("drain plug", "a b", "x" * 90, "Tom", "0"),
)
LONG = 10_000
short = st.lists(st.one_of(st.sampled_from(PIECES), st.text(max_size=6)), max_size=8).map("".join)
# A piece over and over, as a stuck key or a pasted file makes it.
endless = st.tuples(st.sampled_from(PIECES), st.sampled_from(("", " ", "\n"))).map(
    lambda made: ((made[0] + made[1]) * (LONG // len(made[0] + made[1]) + 1))[:LONG]
)
hostile = st.one_of(short, short, short, endless)
one_line = short.map(lambda text: text.replace("\n", " ").replace("\r", " "))
_BLANK = re.compile(r"\s+")
_CUT = ("…", "more lines", "more above", "more below")
_REORDERING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def bare(text: str) -> str:
    """Return what of a text is to be seen: cleaned, without blanks."""
    return _BLANK.sub("", shown(text))


def is_shown(text: str, drawn: str) -> bool:
    """Whether every visible character stands there, in its order; what is cut must say so."""
    drawn = _BLANK.sub("", drawn)
    wanted, at = bare(text), 0
    if wanted in drawn:
        return True
    for char in wanted:
        at = drawn.find(char, at) + 1
        if not at:
            return any(_BLANK.sub("", sign) in drawn for sign in _CUT)
    return True


def harmless(drawn: str) -> bool:
    """Whether nothing drives a terminal, turns a line round or cannot be written at all."""
    return not any(c in _REORDERING or (c != "\n" and unicodedata.category(c) in {"Cc", "Cs"}) for c in drawn)


def too_wide(drawn: str, width: int) -> list[str]:
    """Return the lines wider than a room, by our own measure and by that of the framework."""
    return [line for line in drawn.split("\n") if max(display_width(line), cell_len(line)) > width]
