"""Results in words, workshop fractions of an inch and a sheet to draw on: what many sums share.

Rounding and refusing live in `say`; here is how a result is put together and how its unit is spoken.
"""

from fractions import Fraction

from shopcli.workings.frame import Result
from shopcli.workings.say import figure, trimmed

MM_PER_INCH = 25.4
NEWTON_PER_LBF = 4.4482216152605
NM_PER_LBF_FT = 1.3558179483314004

SPOKEN_UNITS = {
    "Nm": "N·m",
    "lbf.ft": "lbf·ft",
    "lbf.in": "lbf·in",
    "kgf.m": "kgf·m",
    "kgf.cm": "kgf·cm",
    "mm2": "mm²",
    "in2": "in²",
    "degC": "°C",
    "degF": "°F",
}
_SAME = 1e-6


def unit_words(unit: str) -> str:
    """Return a unit symbol as it is written on paper.

    Examples
    --------
    >>> unit_words("Nm"), unit_words("thou")
    ('N·m', 'thou')
    """
    return SPOKEN_UNITS.get(unit, unit)


def say(value: float, unit: str, decimals: int, *, trim: bool = False) -> str:
    """Return a number with its unit.

    Parameters
    ----------
    value : float
        The number, [`unit`]
    unit : str
        Symbol of the units package, empty for a pure number.
    decimals : int
        Places after the point.
    trim : bool, optional
        Leave idle noughts away.

    Examples
    --------
    >>> say(50.549, "Nm", 1), say(8.0, "mm", 2, trim=True), say(3.0, "%", 0)
    ('50.5 N·m', '8 mm', '3 %')
    """
    number = trimmed(value, decimals) if trim else figure(value, decimals)
    return f"{number} {unit_words(unit)}".rstrip()


def result(name: str, label: str, value: float, unit: str = "", *, decimals: int = 2) -> Result:
    """Return a numeric result with its text.

    Examples
    --------
    >>> result("torque_nm", "Torque", 50.55, "Nm", decimals=1).text
    '50.6 N·m'
    """
    return Result(name, label, value, unit, say(value, unit, decimals))


def words(name: str, label: str, text: str) -> Result:
    """Return a result that is a word or a sentence.

    Examples
    --------
    >>> words("state", "State", "discard").value
    'discard'
    """
    return Result(name, label, text, "", text)


def inch_words(value_in: float, denominator: int = 64) -> str:
    """Return a length as a workshop fraction of an inch, decimal where it is none.

    Parameters
    ----------
    value_in : float
        Length, [in]
    denominator : int, optional
        Finest fraction spoken, a power of two, [-]

    Examples
    --------
    >>> inch_words(0.4375), inch_words(1.125), inch_words(0.71)
    ('7/16 in', '1-1/8 in', '0.710 in')
    """
    exact = Fraction(value_in).limit_denominator(denominator)
    if abs(float(exact) - value_in) > _SAME or denominator % exact.denominator:
        return f"{figure(value_in, 3)} in"
    whole, rest = divmod(exact, 1)
    if not rest:
        return f"{whole} in"
    return f"{whole}-{rest} in" if whole else f"{rest} in"


class Canvas:
    r"""A sheet of characters to draw a small picture on; grows to what was put on it.

    Examples
    --------
    >>> sheet = Canvas()
    >>> sheet.put(0, 0, "a-b"); sheet.centred(1, 1, "xyz"); sheet.text()
    'a-b\nxyz'
    """

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], str] = {}

    def put(self, column: int, row: int, text: str) -> None:
        """Write `text` to the right from (`column`, `row`), both counted from 0."""
        for offset, character in enumerate(text):
            self._cells[column + offset, row] = character

    def centred(self, column: int, row: int, text: str) -> None:
        """Write `text` with its middle at (`column`, `row`)."""
        self.put(column - len(text) // 2, row, text)

    def text(self) -> str:
        """Return the picture, lines without trailing blanks."""
        left = min((column for column, _ in self._cells), default=0)
        left = min(left, 0)  # a word centred on the edge reaches over it
        width = max((column for column, _ in self._cells), default=-1) + 1
        height = max((row for _, row in self._cells), default=-1) + 1
        lines = (
            "".join(self._cells.get((c, r), " ") for c in range(left, width)).rstrip() for r in range(height)
        )
        return "\n".join(lines)
