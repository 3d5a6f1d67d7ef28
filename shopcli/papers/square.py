"""The square that is scanned (a QR code, ISO/IEC 18004): as a picture for paper, as half blocks for a line printer."""

from functools import cache
from io import BytesIO
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

QUIET = 2  # blank modules round it in text; the paper itself is the rest of the quiet zone
# (upper dark, lower dark): a dark module is ink
_HALVES = {(0, 0): " ", (1, 0): "▀", (0, 1): "▄", (1, 1): "█"}


@cache
def _square(text: str) -> Any:
    import segno

    return segno.make_qr(text, error="m", boost_error=False)


def square_svg(text: str) -> bytes:
    """Return the square as an SVG picture with its full quiet zone."""
    out = BytesIO()
    _square(text).save(out, kind="svg", border=4, xmldecl=False, svgclass=None, lineclass=None)
    return out.getvalue()


def modules(text: str, *, border: int = QUIET) -> "Sequence[Sequence[int]]":
    """Return the rows of modules, 1 where it is dark, with blank ones round it."""
    return [[int(bool(m)) for m in row] for row in _square(text).matrix_iter(border=border)]


def square_lines(text: str, *, plain: bool = False, border: int = QUIET) -> list[str]:
    """Return the square as lines of ink: half blocks, or ``##`` a module where there are only plain characters."""
    rows = modules(text, border=border)
    if plain:
        return ["".join("##" if m else "  " for m in row) for row in rows]
    if len(rows) % 2:
        rows = [*rows, [0] * len(rows[0])]
    pairs = zip(rows[::2], rows[1::2], strict=True)
    return ["".join(_HALVES[a, b] for a, b in zip(upper, lower, strict=True)) for upper, lower in pairs]
