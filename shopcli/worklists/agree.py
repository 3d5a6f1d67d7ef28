"""Whether two numbers of one name say the same, as far as their printed digits go.

A figure printed as 0.40 stands for anything that rounds to it. Two prints disagree when no value could have been
rounded to both; a range and a figure disagree when the figure lies outside the range.
"""

from shopcli.units import Limits, unit_named
from shopcli.units.limit_text import span
from shopcli.worklists.model import Spec

_EDGE = 1e-6
_DUST = 1e-9  # share of a figure that is binary dust and no difference


def agree(one: Spec, other: Spec) -> bool:
    """Return whether two numbers of one name can both be right.

    Numbers for different states (cold, hot) are different numbers and agree. Common practice claims nothing
    against a source, so it disagrees with none.

    Parameters
    ----------
    one, other : Spec
        Of the same name.

    Examples
    --------
    >>> from shopcli.worklists.model import Provenance
    >>> def gap(**ends: str) -> Spec:
    ...     return Spec("gap", "gap", Limits.of("length", "mm", **ends), "", Provenance("handbook", "A", "1"), "s")
    >>> agree(gap(nominal="0.4"), gap(nominal="0.42")), agree(gap(nominal="0.40"), gap(nominal="0.42"))
    (True, False)
    >>> agree(gap(nominal="0.40"), gap(low="0.35", high="0.45")), agree(gap(low="0.3"), gap(low="0.5"))
    (True, False)
    """
    if one.provenance.to_confirm or other.provenance.to_confirm:
        return True
    if one.state and other.state and one.state.casefold() != other.state.casefold():
        return True
    return limits_agree(one.limits, other.limits)


def limits_agree(one: Limits, other: Limits) -> bool:
    """Return whether two limits can both be the print of one number; prints in a common unit are compared in it."""
    if one.quantity != other.quantity:
        return False
    pairs = [(a, b) for a in (one, *one.also) for b in (other, *other.also)]
    alike = [(a, b) for a, b in pairs if a.unit == b.unit] or pairs[:1]
    return any(_plain_agree(a, b) for a, b in alike)


def _plain_agree(one: Limits, other: Limits) -> bool:
    slack = _half_digit(one) + _half_digit(other)
    if one.nominal is not None and other.nominal is not None and not _near(one.nominal, other.nominal, slack):
        return False
    for mine, theirs in ((one.low, other.low), (one.high, other.high)):
        if mine is not None and theirs is not None and not _near(mine, theirs, slack):
            return False
    return _within(one, other, slack) and _within(other, one, slack)


def _within(one: Limits, other: Limits, slack: float) -> bool:
    """Whether the aim of one lies in the range of the other, where either has them."""
    aim = one.nominal
    if aim is None or other.nominal is not None:
        return True
    too_low = other.low is not None and aim < other.low and not _near(aim, other.low, slack)
    too_high = other.high is not None and aim > other.high and not _near(aim, other.high, slack)
    return not (too_low or too_high)


def _near(one: float, other: float, slack: float) -> bool:
    """Whether some value could have been rounded to both; the next digit up is another print already."""
    apart = abs(one - other)
    return apart <= _DUST * max(abs(one), abs(other)) or apart < slack * (1 - _EDGE)


def _half_digit(limits: Limits) -> float:
    """Half the last printed digit, [canonical unit]; half a mark of the unit's tool where no digit is known."""
    if limits.step is not None:
        return limits.step / 2
    at = next(v for v in (limits.nominal, limits.low, limits.high) if v is not None)
    return span(at, limits.unit, unit_named(limits.unit).graduation) / 2
