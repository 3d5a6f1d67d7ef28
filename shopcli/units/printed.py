"""A number as a handbook prints it, in one line: ``6 thou``, ``0.35 to 0.45 mm``, ``at least 9 bar``.

On a numeric pad ``0.35-0.45`` is a range, ``0.35-0.40-0.45`` low, nominal and high, ``9+`` a low end alone and
``0.3-`` a high end alone. A second print of the same limits follows in brackets or behind ``=``.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from shopcli.errors import Ambiguous, BadInput, BadUnit, ShopError
from shopcli.units.kinds import unit_named
from shopcli.units.limits import Limits
from shopcli.units.parse import LONGEST, Typed, parse

ENDS = ("low", "nominal", "high")
_SPLIT = r"\s*(?:\bto\b|\.\.+|–|—|(?<=[\d\w\"'])\s*-\s*(?=[\d.,]))\s*"
_RANGE = re.compile(rf"(?P<low>.*?\d.*?){_SPLIT}(?P<high>[+-]?[\d.,].*)")
_AIM = re.compile(r"(?P<rest>.*\d.*?),?\s*\b(?:aim(?:\s+(?:for|at))?)\s+(?P<aim>.*\d.*)", re.IGNORECASE)
_LEAST = re.compile(r"(?:at least|min(?:imum|\.)?|>=?|≥)\s*(?P<figure>.+)", re.IGNORECASE)
_MOST = re.compile(r"(?:at most|max(?:imum|\.)?|<=?|≤)\s*(?P<figure>.+)", re.IGNORECASE)
_OPEN = re.compile(r"(?P<figure>[+-]?[\d.,/ ]*\d)\s?(?P<end>[+-])(?P<unit>(?:\s*[^\d\s.,+-].*)?)")
_TWICE = re.compile(r"(?P<first>[^=(]*\d[^=(]*?)\s*(?:\((?P<bracket>[^()=]+)\)|=\s*(?P<behind>[^()=]+))")
_BARE = re.compile(r"[+-]?[\d.,/]+")
_FIGURE = re.compile(r"^[+-]?[\d.,/]+(?:\s+\d+/\d+)?\s*")
LONGEST_LINE = 4 * LONGEST


@dataclass(frozen=True, slots=True)
class Printed:
    """Low, nominal and high as typed, each with its unit; empty where nothing was printed. `also` is a second print."""

    low: str = ""
    nominal: str = ""
    high: str = ""
    also: str = ""


def read_printed(text: str, quantity: str, unit: str | None = None) -> Printed:
    """Read a number as a handbook prints it.

    Parameters
    ----------
    text : str
        One figure, or low and high, with the unit once or twice.
    quantity : str
        What it has to be.
    unit : str, optional
        Symbol of the unit of bare figures.

    Raises
    ------
    BadInput
        When it cannot be read so, its unit is missing or of another kind, or low is above high.

    Examples
    --------
    >>> read_printed("0.35 to 0.45 mm", "length")
    Printed(low='0.35 mm', nominal='', high='0.45 mm', also='')
    >>> read_printed("14-16-18", "length", "thou").nominal, read_printed("9+ bar", "pressure").low
    ('16', '9 bar')
    >>> read_printed("0.45 to 0.55 mm (0.018 to 0.022 in)", "length").also
    '0.018 to 0.022 in'
    """
    text = text.strip()
    if len(text) > LONGEST_LINE:
        raise BadInput(
            f"that is {len(text)} characters long; a number takes a few",
            hint="Type the figures and their unit; remarks belong in the note.",
        )
    said = _read(text, quantity, unit)
    limits_of(said, quantity, unit)
    return said


def limits_of(printed: Printed, quantity: str, unit: str | None = None) -> Limits:
    """Return the limits a print gives, its last digits kept.

    Parameters
    ----------
    printed : Printed
        Texts with or without a unit.
    quantity : str
        What they have to be.
    unit : str, optional
        Symbol of the unit of bare figures.

    Raises
    ------
    BadInput, BadUnit
        When nothing is given, a text cannot be read, the units differ or the ends are out of order.

    Examples
    --------
    >>> limits_of(Printed("0.35 mm", "", "0.40 mm"), "length").text()
    '0.35 to 0.40 mm'
    """
    also = () if not printed.also else (limits_of(_read(printed.also.strip(), quantity, None), quantity),)
    return _limits(_typed(printed, quantity, unit), quantity, also)


def _limits(typed: Mapping[str, Typed], quantity: str, also: tuple[Limits, ...]) -> Limits:
    if not typed:
        raise BadInput("no number was given", hint="Give low and high, or nominal, each with its unit.")
    units = sorted({t.unit for t in typed.values()})
    if len(units) > 1:
        names = " and ".join(unit_named(u).label for u in units)
        raise BadUnit(
            f"the figures are in {names}",
            hint="Type them as the document prints them, in one unit; a second print stands in brackets.",
        )
    low, nominal, high = (typed[end].written if end in typed else None for end in ENDS)
    return Limits.of(quantity, units[0], low=low, nominal=nominal, high=high, also=also)


def _typed(printed: Printed, quantity: str, unit: str | None) -> dict[str, Typed]:
    given = {end: text for end in ENDS if (text := getattr(printed, end).strip())}
    return {end: parse(text, quantity, default_unit=unit or None) for end, text in given.items()}


def _read(text: str, quantity: str, unit: str | None) -> Printed:
    if found := _OPEN.fullmatch(text):
        figure = f"{found['figure']}{found['unit']}".strip()
        return Printed(low=figure) if found["end"] == "+" else Printed(high=figure)
    if _is_one_figure(text, quantity, unit):
        return Printed(nominal=text)
    if twice := _TWICE.fullmatch(text):
        second = (twice["bracket"] or twice["behind"]).strip()
        return replace(_read(twice["first"].strip(), quantity, unit), also=second)
    if aimed := _AIM.fullmatch(text):
        said = _read(aimed["rest"].strip(" ,"), quantity, unit)
        if said.nominal and not (said.low or said.high):
            raise BadInput(f"“{text}” has two figures to aim for", hint="Write low to high, aim for nominal.")
        return _shared(replace(said, nominal=aimed["aim"].strip()))
    if found := _LEAST.fullmatch(text):
        return Printed(low=found["figure"].strip())
    if found := _MOST.fullmatch(text):
        return Printed(high=found["figure"].strip())
    if found := _RANGE.fullmatch(text):
        low, high = found["low"].strip(), found["high"].strip()
        if not _is_one_figure(high, quantity, unit) and (third := _RANGE.fullmatch(high)):
            return _shared(Printed(low, third["low"].strip(), third["high"].strip()))
        return _shared(Printed(low=low, high=high))
    return Printed(nominal=text)


def _is_one_figure(text: str, quantity: str, unit: str | None) -> bool:
    """Whether the whole text is one figure, unclear or not: 1-1/16 in is no range."""
    try:
        parse(text, quantity, default_unit=unit)
    except Ambiguous:
        return True
    except ShopError:
        return False
    return True


def _shared(said: Printed) -> Printed:
    """Give the unit that was written once to the figures without one."""
    given = [getattr(said, end) for end in ENDS]
    units = [rest for one in given if one and (rest := _FIGURE.sub("", one).strip())]
    if not units:
        return said
    low, nominal, high = (with_unit(one, units[-1]) for one in given)
    return replace(said, low=low, nominal=nominal, high=high)


def with_unit(figure: str, unit: str) -> str:
    """Return a bare figure with its unit behind it; one that has a unit, or none at all, as it is.

    Examples
    --------
    >>> with_unit("0.35", "mm"), with_unit("0.35 mm", "mm"), with_unit("", "mm")
    ('0.35 mm', '0.35 mm', '')
    """
    if not unit or not _BARE.fullmatch(figure):
        return figure
    return figure + (unit if unit in {'"', "'"} else f" {unit}")
