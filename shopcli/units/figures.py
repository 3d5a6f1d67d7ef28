"""The figure in front of a unit, read as people write it: 0,15 or .006 or 3½ or 1-1/16 or 12 500.

The rule for the comma, since it decides between 1.25 and 1250: a point is always decimal. A comma is
decimal too, except where it could part thousands, that is with one to three digits, not all zero, before it
and exactly three behind it. Such a figure (``1,250``) is never guessed. Several groups (``1,250,000``), or
a comma and a point together (``1,250.5`` or ``1.250,5``), leave no doubt. A blank before exactly three
digits parts thousands.
"""

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from shopcli.errors import Ambiguous, BadInput

_DECIMAL = r"(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3}(?![0-9]))?"
_GROUPED = r"[0-9]{1,3}(?:(?:[ '][0-9]{3})+|(?:,[0-9]{3}){2,}|(?:\.[0-9]{3})+(?=,))(?:[.,][0-9]+)?(?![0-9])"
_COMMAS_AND_POINT = r"[0-9]{1,3}(?:,[0-9]{3})+\.[0-9]+"
_MIXED = r"[0-9]+(?: |-)[0-9]+/[0-9]+"
_FRACTION = r"[0-9]+/[0-9]+"
_SHAPE = re.compile(
    rf"(?P<sign>[+-]?) ?(?:(?P<mixed>{_MIXED}|{_FRACTION})"
    rf"|(?P<grouped>{_GROUPED}|{_COMMAS_AND_POINT})|(?P<decimal>{_DECIMAL}))"
)
_SECOND = re.compile(
    r"(?! ?1/min)(?: ?[+-]? ?[0-9.,/]*[0-9]|[.,/])"
)  # a figure has no business behind a figure
_EITHER = re.compile(r"(?P<whole>[0-9]{1,3}),(?P<rest>[0-9]{3})")
# A letter that stands last belongs to the figures only where no other letter follows: in 1lb it is the unit's.
_LOOKS_LIKE = re.compile(r"[+-]?[0-9oOlI.,/]*(?:[0-9](?=[A-Za-z])|[0-9oOlI](?![0-9A-Za-z.,/]))")
_AS_FIGURES = str.maketrans("oOlI", "0011")
_MEANT = "Write one figure and its unit, for example 6 thou or 0,15 mm."


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure as written: its exact value and the decimals it was written with (None for a fraction)."""

    value: Fraction
    decimals: int | None


def split_figure(text: str) -> tuple[Figure, str]:
    """Take the figure off the front of a cleaned text and return it with the rest.

    Raises
    ------
    Ambiguous
        If a comma may part thousands or decimals.
    BadInput
        If the text does not begin with one readable figure.

    Examples
    --------
    >>> split_figure("3 1/2 L")
    (Figure(value=Fraction(7, 2), decimals=None), 'L')
    >>> split_figure("0,150mm")
    (Figure(value=Fraction(3, 20), decimals=3), 'mm')
    """
    shape = _SHAPE.match(text)
    if shape is None:
        raise BadInput(f"“{text}” does not begin with a figure", hint=_MEANT)
    rest = text[shape.end() :]
    if _SECOND.match(rest):
        raise BadInput(f"“{text}” is more than one figure, or a figure not written clearly", hint=_MEANT)
    minus = shape["sign"] == "-"
    if shape["mixed"]:
        figure = _fraction(shape["mixed"])
    elif shape["grouped"]:
        figure = _grouped(shape["grouped"])
    else:
        figure = _decimal(shape["decimal"], shape["sign"], rest)
    return Figure(-figure.value if minus else figure.value, figure.decimals), rest.strip()


def figures_meant(text: str) -> str:
    """Return a text with the letters among its first figures as the figures they look like; empty where there are none.

    Examples
    --------
    >>> figures_meant("4o Nm"), figures_meant("l5"), figures_meant("4 oz"), figures_meant("1lb"), figures_meant("oil")
    ('40 Nm', '15', '', '', '')
    """
    found = _LOOKS_LIKE.match(text)
    if found is None or not any(c.isdigit() for c in found[0]) or not any(c.isalpha() for c in found[0]):
        return ""
    return found[0].translate(_AS_FIGURES) + text[found.end() :]


def read_figure(text: str) -> Figure:
    """Read a text that is a figure and nothing else.

    Raises
    ------
    BadInput
        If anything stands behind the figure.

    Examples
    --------
    >>> read_figure("0.20")
    Figure(value=Fraction(1, 5), decimals=2)
    """
    figure, rest = split_figure(text.strip())
    if rest:
        raise BadInput(f"“{text}” is not just a figure", hint=_MEANT)
    return figure


def _fraction(text: str) -> Figure:
    whole, _, part = text.replace("-", " ").rpartition(" ")
    over, under = part.split("/")
    if int(under) == 0:
        raise BadInput(f"“{text}” divides by zero", hint=_MEANT)
    return Figure(int(whole or "0") + Fraction(int(over), int(under)), None)


def _grouped(text: str) -> Figure:
    marks = [c for c in text if c in ".,"]
    if not marks or (len(set(marks)) == 1 and len(marks) > 1):
        return Figure(Fraction(re.sub(r"[ ',.]", "", text)), 0)
    whole, decimal = re.split(re.escape(marks[-1]), text)[0], text.rpartition(marks[-1])[2]
    return Figure(Fraction(re.sub(r"[ ',.]", "", whole) + "." + decimal), len(decimal))


def _decimal(text: str, sign: str, rest: str) -> Figure:
    if (either := _EITHER.fullmatch(text)) and int(either["whole"]):
        whole, part = sign + either["whole"], either["rest"]
        raise Ambiguous(
            f"“{text}” may be {whole}{part} or {whole}.{part}",
            (f"{whole}{part}{_tail(rest)}", f"{whole}.{part}{_tail(rest)}"),
        )
    number = Decimal(text.replace(",", "."))
    exponent = number.as_tuple().exponent
    return Figure(Fraction(number), max(0, -exponent) if isinstance(exponent, int) else None)


def _tail(rest: str) -> str:
    return f" {rest.strip()}" if rest.strip() else ""
