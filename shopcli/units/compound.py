"""Figures in two parts: hours with minutes, degrees with minutes of arc, a ratio to one."""

import re
from fractions import Fraction

from shopcli.errors import Ambiguous, BadInput

_CLOCK = re.compile(
    r"(?P<a>[0-9]{1,4}):(?P<b>[0-9]{2})(?::(?P<c>[0-9]{2}))? ?(?P<unit>h|hrs?|hours?|min|mins|minutes)?"
)
_HOURS = re.compile(r"(?P<a>[0-9]{1,4}) ?(?:h|hrs?|hours?) ?(?P<b>[0-9]{1,2}) ?(?:m|mins?|minutes?|')?")
_MINUTES = re.compile(
    r"(?P<a>[0-9]{1,4}) ?(?:m|mins?|minutes?|') ?(?P<b>[0-9]{1,2}) ?(?:s|secs?|seconds?|\")?"
)
_ARC = re.compile(
    r"(?P<sign>[+-]?)(?P<a>[0-9]{1,3}) ?(?:°|deg|degrees?) ?(?P<b>[0-9]{1,2}) ?(?:'|′|’|min|arcmin)?"
)
_RATIO = re.compile(r"(?P<a>[0-9]+(?:[.,][0-9]+)?) ?(?::|to) ?1(?:[.,]0+)?")
_SIXTY = 60


def read_compound(text: str, quantity: str, default_unit: str | None) -> tuple[Fraction, str] | None:
    """Read a two-part figure, or return None where the text is none for this quantity.

    Returns
    -------
    tuple of Fraction and str, or None
        Figure and the symbol of its unit.

    Raises
    ------
    Ambiguous
        If a clock figure may be hours and minutes or minutes and seconds.
    BadInput
        If the second part is sixty or more.

    Examples
    --------
    >>> read_compound("2h30", "time", None)
    (Fraction(5, 2), 'h')
    >>> read_compound("8.5:1", "ratio", None)
    (Fraction(17, 2), 'ratio')
    """
    low = text.lower()
    if quantity == "time":
        return _time(low, default_unit)
    if quantity == "angle" and (arc := _ARC.fullmatch(low)):
        figure = _sixtieths(low, arc["a"], arc["b"])
        return (-figure if arc["sign"] == "-" else figure), "deg"
    if quantity == "ratio" and (ratio := _RATIO.fullmatch(low)):
        return Fraction(ratio["a"].replace(",", ".")), "ratio"
    return None


def _time(text: str, default_unit: str | None) -> tuple[Fraction, str] | None:
    if clock := _CLOCK.fullmatch(text):
        return _clock(text, clock, default_unit)
    if hours := _HOURS.fullmatch(text):
        return _sixtieths(text, hours["a"], hours["b"]), "h"
    if minutes := _MINUTES.fullmatch(text):
        return _sixtieths(text, minutes["a"], minutes["b"]), "min"
    return None


def _clock(text: str, clock: re.Match[str], default_unit: str | None) -> tuple[Fraction, str]:
    figure = _sixtieths(text, clock["a"], clock["b"])
    if clock["c"]:
        if clock["unit"] and not clock["unit"].startswith("h"):
            raise BadInput(f"“{text}” has three parts; the first can only be hours", hint="Write 1:30:00 h.")
        return figure + _sixtieths(text, "0", clock["c"]) / _SIXTY, "h"
    unit = clock["unit"] or {"h": "h", "min": "min"}.get(default_unit or "")
    if unit is None:
        choices = (f"{text} h", f"{text} min")
        raise Ambiguous(f"“{text}”: hours and minutes, or minutes and seconds?", choices)
    return figure, "h" if unit.startswith("h") else "min"


def _sixtieths(text: str, whole: str, part: str) -> Fraction:
    if int(part) >= _SIXTY:
        raise BadInput(
            f"“{text}”: the second part is 60 or more", hint="Sixty of them make one of the first."
        )
    return int(whole) + Fraction(int(part), _SIXTY)
