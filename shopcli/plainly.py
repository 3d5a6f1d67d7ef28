"""Any text in plain characters, column for column: for consoles and fonts that have no others.

What is drawn by us has a twin chosen beside it (`shopcli.marks`); the rest, frames and names of people, is
brought down here. Nothing is made to look like another figure: a degree sign becomes a star, never an "o".
"""

import unicodedata
from functools import lru_cache

from shopcli import marks
from shopcli.columns import display_width

LAST_PLAIN = 126
_TWINS = {
    **dict.fromkeys("─━═╌┄╍┅╴╶╸╺‐‑‒–—−", "-"),
    **dict.fromkeys("│┃║╎┆╏┇╷╵╹╻▏▎▍▕▐▊▋▉▌", "|"),
    **dict.fromkeys("┌┐└┘├┤┬┴┼┏┓┗┛┣┫┳┻╋╭╮╰╯╔╗╚╝╠╣╦╩╬╒╕╘╛┡┩┢┪╇╈", "+"),
    **dict.fromkeys("█▓▒■▮▇▆▅", "#"),
    **dict.fromkeys("░▫□▯", ":"),
    **dict.fromkeys("▄▃▂▁", "_"),
    **dict.fromkeys("▀▔", '"'),
    **dict.fromkeys("●◉⬤•∙", "*"),
    **dict.fromkeys("○◯", "o"),
    **dict.fromkeys("“”„«»", '"'),
    **dict.fromkeys("‘’‚′", "'"),
    **dict.fromkeys("→▶►»⇒", ">"),
    **dict.fromkeys("←◀◄⇐", "<"),
    **dict.fromkeys("↑▲⇑", "^"),
    **dict.fromkeys("↓▼⇓", "v"),
    **dict.fromkeys("…", "~"),
    **dict.fromkeys("·⋅", "."),
    **dict.fromkeys("\u00a0\u2007\u202f\u2009", " "),
    "×": "x", "÷": "/", "±": "~", "≈": "~", "≥": ">", "≤": "<", "≠": "#", "√": "V", "°": "*", "º": "*", "″": '"',
    "µ": "u", "μ": "u", "Ω": "R", "Δ": "D", "α": "a", "π": "p", "²": "2", "³": "3", "¹": "1", "£": "L", "€": "E", "¥": "Y",
    "§": "S", "©": "c", "®": "r", "ß": "s", "æ": "a", "Æ": "A", "ø": "o", "Ø": "O", "œ": "o", "Œ": "O", "đ": "d",
    "Đ": "D", "ł": "l", "Ł": "L", "þ": "p", "Þ": "P", "ı": "i", "⊘": "x", "⊠": "#", "⊚": "o", "◦": ".", "∎": "#", "⋯": "~",
    "↘": "\\", "↗": "/", "┿": "+", "┊": ":",
}  # fmt: skip


def _of_marks() -> dict[str, str]:
    found: dict[str, str] = {}
    for kind in vars(marks).values():
        if isinstance(kind, dict):
            found.update((m.sign, m.ascii) for m in kind.values() if isinstance(m, marks.Mark))
    return found


TWINS = {sign: twin for sign, twin in {**_of_marks(), **_TWINS}.items() if ord(sign) > LAST_PLAIN}


@lru_cache(maxsize=4096)
def _plain_sign(sign: str) -> str:
    if sign in TWINS:
        return TWINS[sign]
    base = unicodedata.normalize("NFD", sign)[0]
    wide = display_width(sign)
    if " " <= base <= "~" and wide == 1:
        return base
    return "?" * wide


def plainly(text: str) -> str:
    """Return a line of text in plain characters; it takes as many columns as before.

    Examples
    --------
    >>> plainly("✓ done by Zoë, 7° … 0.38–0.43 mm"), plainly("┏━ 車 ━┓")
    ('v done by Zoe, 7* ~ 0.38-0.43 mm', '+- ?? -+')
    """
    if text.isascii():
        return text
    return "".join(sign if " " <= sign <= "~" or sign == "\n" else _plain_sign(sign) for sign in text)
