"""Text in columns of a terminal or a typewritten page: how wide it is, where it breaks, where it is cut.

A line is as wide as the eye sees it, not as many characters as it has: an ideograph takes two columns and an
accent that sits on the letter before it takes none. Where terminals differ the wider answer is given, because
a line that ends early is untidy and one that runs over is broken.
"""

import unicodedata
from collections.abc import Iterator
from functools import lru_cache

from shopcli.errors import BadInput

# Overrides, embeddings, isolates and marks would let a name rearrange the line it stands in.
_REORDERING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_CONTROLS = (*range(32), *range(127, 160), *range(0xD800, 0xE000))
_BREAKS = dict.fromkeys(map(ord, "\n\r\u2028\u2029"), "\n")
_PRINTABLE = dict.fromkeys((*_CONTROLS, *map(ord, _REORDERING))) | {ord("\t"): " "} | _BREAKS
_NO_BREAKS = ("\u00a0", "\u202f")  # hold together what they stand between
_EMOJI_STYLE = "\ufe0f"
# Signs of formatting that are drawn all the same, and signs that became wide with Unicode 16: terminals that know it
# draw them over two columns.
_DRAWN = frozenset(
    "\u00ad\u0600\u0601\u0602\u0603\u0604\u0605\u06dd\u070f\u0890\u0891\u08e2\U000110bd\U000110cd"
)
_WIDE_NOW = (
    ("\u2630", "\u2637"),
    ("\u268a", "\u268f"),
    ("\u4dc0", "\u4dff"),
    ("\U0001d300", "\U0001d356"),
    ("\U0001d360", "\U0001d376"),
)
NARROWEST = 2


@lru_cache(maxsize=4096)
def _char_width(char: str) -> int:
    if char in _DRAWN:
        return 1
    if unicodedata.category(char) in {"Mn", "Me", "Cf", "Cc", "Cs"} or "\u1160" <= char <= "\u11ff":
        return 0
    wide = unicodedata.east_asian_width(char) in {"W", "F"} or any(a <= char <= b for a, b in _WIDE_NOW)
    return 2 if wide else 1


def display_width(text: str) -> int:
    r"""Return how many columns a line of text takes.

    Examples
    --------
    >>> display_width("Zoë"), display_width("Zoe\u0308"), display_width("車検")
    (3, 3, 4)
    """
    return len(text) if text.isascii() and text.isprintable() else sum(wide for _, wide in _clusters(text))


def shown(text: str) -> str:
    r"""Return text fit to be printed: no control characters but line breaks, nothing that reorders a line.

    Text is cleaned where it enters; this is for a record that came another way.

    Examples
    --------
    >>> shown("Lark\x1b[2J \u202eltd\tand\r\nsons")
    'Lark[2J ltd and\nsons'
    """
    if text.isascii() and text.isprintable():
        return text
    return text.replace("\r\n", "\n").translate(_PRINTABLE)


def one_line(text: str) -> str:
    r"""Return `shown` text in a single line: runs of blanks and line breaks become one blank.

    Examples
    --------
    >>> one_line(" gap,\n as   found\t")
    'gap, as found'
    """
    return " ".join(shown(text).split())


def _clusters(text: str) -> Iterator[tuple[str, int]]:
    """Yield pieces that must not be torn apart (a letter with its accents), each with its width."""
    piece, width = "", 0
    for char in text:
        own = _char_width(char)
        if piece and own:
            yield piece, width
            piece, width = "", 0
        piece += char
        # The emoji style may turn the sign before it into a wide one.
        width = 2 if char == _EMOJI_STYLE else width + own
    if piece:
        yield piece, width


def _head(text: str, width: int) -> str:
    """Return as much of the beginning as `width` columns hold."""
    used = taken = 0
    for piece, wide in _clusters(text):
        if used + wide > width:
            break
        used, taken = used + wide, taken + len(piece)
    return text[:taken]


def _broken(word: str, width: int) -> list[str]:
    """Break a word that is wider than the column, in one pass however long it is."""
    if word.isascii() and word.isprintable():
        return [word[i : i + width] for i in range(0, len(word), width)]
    lines, line, used = [], "", 0
    for piece, wide in _clusters(word):
        if line and used + wide > width:
            lines.append(line)
            line, used = "", 0
        line, used = line + piece, used + wide
    return [*lines, line]


def _checked(width: int) -> None:
    if width < NARROWEST:
        raise BadInput(f"a column of {width}", hint=f"Give it {NARROWEST} or more.")


def wrap(text: str, width: int) -> list[str]:
    r"""Return text broken into lines of at most `width` columns; its own line breaks are kept.

    Lines break at blanks, at no-break ones never, and inside a word only when the word alone is wider than the column.

    Parameters
    ----------
    text : str
        Any text; runs of blanks are folded.
    width : int
        Widest line, [columns]

    Returns
    -------
    list of str
        At least one line, which may be empty.

    Raises
    ------
    BadInput
        If the column is narrower than 2.

    Examples
    --------
    >>> wrap("runs rough when warm\nno heater", 10)
    ['runs rough', 'when warm', 'no heater']
    >>> wrap("1234567", 3)
    ['123', '456', '7']
    >>> wrap("held 2.1\u00a0d", 8)
    ['held', '2.1\xa0d']
    """
    _checked(width)
    return [line for paragraph in shown(text).split("\n") for line in _wrap_paragraph(paragraph, width)]


def _words(text: str) -> list[str]:
    if not any(blank in text for blank in _NO_BREAKS):
        return text.split()
    return [word for word in text.split(" ") if word.strip()]


def _wrap_paragraph(text: str, width: int) -> list[str]:
    lines: list[str] = []
    line, used = "", 0
    for word in _words(text):
        wide = display_width(word)
        if line and used + 1 + wide <= width:
            line, used = f"{line} {word}", used + 1 + wide
            continue
        if line:
            lines.append(line)
        *whole, line = [word] if wide <= width else _broken(word, width)
        lines += whole
        used = display_width(line)
    if line or not lines:
        lines.append(line)
    return lines


def cut(text: str, width: int, *, plain: bool = False) -> str:
    """Return one line of at most `width` columns, with an ellipsis where something is missing.

    Examples
    --------
    >>> cut("Brindle 1600 tourer", 12), cut("Brindle", 12), cut("Brindle 1600", 9, plain=True)
    ('Brindle 160…', 'Brindle', 'Brindle~')
    """
    _checked(width)
    line = one_line(text)
    if display_width(line) <= width:
        return line
    return _head(line, width - 1).rstrip() + ("~" if plain else "…")


def pad(text: str, width: int, *, right: bool = False) -> str:
    """Return a line filled with blanks to `width` columns, at the right or, for figures, at the left.

    Examples
    --------
    >>> pad("車", 4) + "|", pad("1.50", 6, right=True)
    ('車  |', '  1.50')
    """
    blanks = " " * max(0, width - display_width(text))
    return blanks + text if right else text + blanks
