"""A bare figure far out of its limits that another usual unit would bring there: which one was meant is asked.

Six typed for 0.15 mm is six thou and not six millimetres; but nobody guesses, the person is asked. A figure typed
with its unit is taken at its word. Units as near to each other as lbf·ft and N·m cannot be told apart so.
"""

from fractions import Fraction

from shopcli.errors import Ambiguous
from shopcli.units.display import spoken
from shopcli.units.kinds import exact_canonical, measures, unit_named
from shopcli.units.limits import Limits
from shopcli.units.parse import Typed
from shopcli.units.preferences import IMPERIAL, METRIC

NO_TIMES = frozenset({"temperature"})  # whose figures do not begin at nothing
FAR = 3.0  # times beyond the limits; common practice, no source
NEAR = 2.0  # times beyond the limits that another unit may still bring it to; common practice, no source
SLIP = 4.0  # times the highest limit that are a slip of the hand rather than a reading; common practice, no source
# What else a workshop's tools of a quantity are marked in, beside what the two systems say first.
MORE = {
    "length": ("mm", "thou", "in"),
    "offset": ("mm", "thou", "in"),
    "torque": ("Nm", "lbf.ft", "lbf.in", "kgf.m"),
    "pressure": ("bar", "psi", "kPa"),
    "volume": ("L", "cc", "pt_imp"),
}


def see_what_is_meant(typed: Typed, limits: Limits) -> None:
    """Let a reading pass, unless its figure stands bare and its size says another unit.

    Parameters
    ----------
    typed : Typed
        As read; its unit is the one a bare figure is taken in.
    limits : Limits
        What it is held against.

    Raises
    ------
    Ambiguous
        When it is out of limits by more than `FAR` and within `NEAR` of them in another usual unit; the choices
        carry the units.

    Examples
    --------
    >>> from shopcli.units.parse import parse
    >>> gap = Limits.of("length", "mm", low="0.13", high="0.18")
    >>> see_what_is_meant(parse("6 mm", "length"), gap)
    >>> see_what_is_meant(parse("6", "length", default_unit="mm"), gap)
    Traceback (most recent call last):
        ...
    shopcli.errors.Ambiguous: 6 mm is far from 0.13 to 0.18 mm; 6 thou would be near
    """
    choices = other_units(typed, limits)
    if not choices:
        return
    label = unit_named(typed.unit).label
    others = tuple(f"{typed.text} {unit_named(unit).label}" for unit in choices)
    raise Ambiguous(
        f"{typed.text} {label} is far from {limits.text_in(typed.unit)}; {' or '.join(others)} would be near",
        (*others, f"{typed.text} {label}"),
        hint=f"Type it with its unit: {' or '.join((*others, f'{typed.text} {label}'))}.",
    )


def other_units(typed: Typed, limits: Limits) -> tuple[str, ...]:
    """Return the usual units that bring a bare figure near its limits, where the one it is taken in does not.

    Examples
    --------
    >>> from shopcli.units.parse import parse
    >>> tyre = Limits.of("pressure", "psi", low=24, high=28)
    >>> other_units(parse("26", "pressure", default_unit="bar"), tyre)
    ('psi',)
    >>> other_units(parse("2.6", "pressure", default_unit="bar"), tyre)
    ()
    """
    given = [v for v in limits.values if v is not None]
    times_say_nothing = limits.quantity in NO_TIMES or unit_named(typed.unit).reciprocal
    if times_say_nothing or min(given) <= 0 or typed.value <= 0 or not is_bare(typed.text):
        return ()
    at_most = limits.low is None and limits.nominal is None
    if not _beyond(typed.value, given, FAR, at_most=at_most):
        return ()
    figure = Fraction(str(typed.number))
    usual = MORE.get(limits.quantity) or tuple(
        dict(prefs.units).get(limits.quantity, limits.unit) for prefs in (METRIC, IMPERIAL)
    )
    found = []
    for unit in dict.fromkeys((limits.unit, *(one.unit for one in limits.also), *usual)):
        if unit == typed.unit or not measures(unit, limits.quantity):
            continue
        if not _beyond(float(exact_canonical(figure, unit)), given, NEAR, at_most=False):
            found.append(unit)
    return tuple(found)


def slip(typed: Typed, limits: Limits) -> str:
    """Say how far above its limits a figure lies that is hardly a reading; empty when it may be one.

    Below nothing is a slip: a tyre may be flat, a cylinder dead.

    Examples
    --------
    >>> from shopcli.units.parse import parse
    >>> plug = Limits.of("torque", "Nm", low=35, high=45)
    >>> slip(parse("5555 Nm", "torque"), plug), slip(parse("55 Nm", "torque"), plug)
    ('5555 N·m is 123 times 45 N·m', '')
    """
    given = [v for v in limits.values if v is not None]
    if limits.quantity in NO_TIMES or unit_named(typed.unit).reciprocal or min(given) <= 0:
        return ""
    times = typed.value / max(given)
    if times <= SLIP:
        return ""
    return f"{spoken(typed.value, typed.unit)} is {times:.0f} times {spoken(max(given), typed.unit)}"


def is_bare(text: str) -> bool:
    """Whether a figure stands alone, without a unit.

    Examples
    --------
    >>> is_bare("0,15"), is_bare('.006"'), is_bare("3 1/2")
    (True, False, True)
    """
    return all(c.isdigit() or c in " .,/+-" for c in text)


def _beyond(value: float, given: list[float], times: float, *, at_most: bool) -> bool:
    """Whether a value lies more than so many times beyond its figures; below an upper limit alone nothing does."""
    low, high = min(given), max(given)
    return value > high * times or (not at_most and value < low / times)
