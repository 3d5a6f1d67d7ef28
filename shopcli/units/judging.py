"""The judgement on a reading: low, in or high, by how much, and by which print of the limit."""

from dataclasses import dataclass
from math import isfinite
from typing import TYPE_CHECKING, Literal

from shopcli.errors import BadInput
from shopcli.units import limit_text
from shopcli.units.display import spoken
from shopcli.units.kinds import require_unit, unit_named

if TYPE_CHECKING:
    from shopcli.units.limits import Limits

Standing = Literal["low", "in", "high"]
_DUST = 1e-9  # relative; a limit converted there and back must not fail itself
_TURNED: dict[Standing, Standing] = {"low": "high", "high": "low", "in": "in"}


@dataclass(frozen=True, slots=True)
class Verdict:
    """The judgement on a reading.

    `standing` is told in the unit of the limit, `by` is the distance from it, [canonical unit], 0 when in;
    `judged_by` is the limit in words, `amount` the distance as said.
    """

    standing: Standing
    by: float
    words: str
    judged_by: str
    amount: str = ""

    def said(self, low: str, high: str) -> str:
        """Say the verdict with the trade's own words for low and high.

        Examples
        --------
        >>> Verdict("low", 5e-5, "low by 2 thou (wanted 6 thou)", "6 thou", "2 thou").said("tight", "wide")
        '2 thou tight'
        """
        if self.standing == "in":
            return self.words
        return f"{self.amount} {low if self.standing == 'low' else high}"


def judge(limits: "Limits", value: float, unit: str | None) -> Verdict:
    """Judge a reading by the print of the limits that suits `unit`; see `Limits.judge`."""
    if not isfinite(value):
        raise BadInput("the reading is not a finite number", hint="Type the figure again.")
    if unit is not None:
        require_unit(unit, limits.quantity)
    printed = limits.printed_for(unit)
    named = unit_named(printed.unit)
    low, high = printed.band(unit)
    smallest = named.graduation * named.factor
    if low is not None and value < low - _DUST * max(abs(low), smallest):
        limit = low if printed.low is not None else printed.nominal
        return _outside(printed, value, "low", low if limit is None else limit, unit or printed.unit)
    if high is not None and value > high + _DUST * max(abs(high), smallest):
        limit = high if printed.high is not None else printed.nominal
        return _outside(printed, value, "high", high if limit is None else limit, unit or printed.unit)
    return Verdict("in", 0.0, "in limits", printed.text())


def _outside(printed: "Limits", value: float, side: Standing, limit: float, read_in: str) -> Verdict:
    amount = limit_text.difference(value, limit, read_in)
    text = limit_text.as_printed((None, limit, None), printed.unit, printed.step)
    if read_in != printed.unit:
        text += f" = {spoken(limit, read_in)}"
    name = "wanted" if printed.low is None and printed.high is None else "limit"
    standing = _TURNED[side] if unit_named(printed.unit).reciprocal else side
    return Verdict(
        standing, abs(value - limit), f"{standing} by {amount} ({name} {text})", printed.text(), amount
    )
