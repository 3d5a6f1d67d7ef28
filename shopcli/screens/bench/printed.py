"""A number as a handbook prints it, in one line: ``6 thou``, ``0.35 to 0.45 mm``, ``at least 9 bar``."""

import re
from dataclasses import dataclass

from shopcli.errors import BadInput
from shopcli.units import Limits, parse, unit_named

_FROM_TO = re.compile(
    r"(?P<low>.*?\d.*?)\s*(?:\bto\b|\.\.+|–|—|(?<=[\d\w\"'])\s*-\s*(?=[\d.,]))\s*(?P<high>[+-]?[\d.,].*)"
)
_LEAST = re.compile(r"(?:at least|min(?:imum|\.)?|>=?|≥)\s*(?P<figure>.+)", re.IGNORECASE)
_MOST = re.compile(r"(?:at most|max(?:imum|\.)?|<=?|≤)\s*(?P<figure>.+)", re.IGNORECASE)
_BARE = re.compile(r"[+-]?[\d.,]+")


@dataclass(frozen=True, slots=True)
class Printed:
    """Low, nominal and high as typed, each with its unit; empty where nothing was printed."""

    low: str = ""
    nominal: str = ""
    high: str = ""


def read_printed(text: str, quantity: str) -> Printed:
    """Read a number as a handbook prints it.

    Parameters
    ----------
    text : str
        One figure, or low and high, with the unit once or twice.
    quantity : str
        What it has to be.

    Raises
    ------
    BadInput
        When it cannot be read so, its unit is missing or of another kind, or low is above high.

    Examples
    --------
    >>> read_printed("0.35 to 0.45 mm", "length")
    Printed(low='0.35 mm', nominal='', high='0.45 mm')
    >>> read_printed("14-18 thou", "length"), read_printed("at least 9 bar", "pressure")
    (Printed(low='14 thou', nominal='', high='18 thou'), Printed(low='9 bar', nominal='', high=''))
    """
    text = text.strip()
    if found := _LEAST.fullmatch(text):
        said = Printed(low=found["figure"].strip())
    elif found := _MOST.fullmatch(text):
        said = Printed(high=found["figure"].strip())
    elif found := _FROM_TO.fullmatch(text):
        said = _both(found["low"].strip(), found["high"].strip())
    else:
        said = Printed(nominal=text)
    _check(said, quantity)
    return said


def _both(low: str, high: str) -> Printed:
    if _BARE.fullmatch(low):
        unit = re.sub(r"^[+-]?[\d.,]+", "", high).strip()
        low = f"{low} {unit}".strip() if unit not in {'"', "'"} else low + unit
    return Printed(low=low, high=high)


def _check(said: Printed, quantity: str) -> None:
    typed = {
        end: parse(text, quantity)
        for end, text in (("low", said.low), ("nominal", said.nominal), ("high", said.high))
        if text
    }
    units = {t.unit for t in typed.values()}
    if len(units) > 1:
        names = " and ".join(sorted(unit_named(u).label for u in units))
        raise BadInput(
            f"low and high are in {names}", hint="Type both as the document prints them, in one unit."
        )
    Limits.of(quantity, units.pop(), **{end: t.number for end, t in typed.items()})
