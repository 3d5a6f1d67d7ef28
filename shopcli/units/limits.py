"""What a number may be, and the judgement on a reading.

A document often prints a limit in two units that do not convert exactly (0.45 to 0.55 mm beside 0.018 to
0.022 in). The document is right in both, so a reading is judged by the limit printed in the system it was
read in.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import isfinite
from typing import Any

from shopcli.errors import BadInput
from shopcli.units import judging, limit_text
from shopcli.units.display import spoken
from shopcli.units.figures import Figure, read_figure
from shopcli.units.judging import Verdict
from shopcli.units.kinds import QUANTITIES, exact_canonical, refuse_impossible, require_unit, unit_named
from shopcli.units.preferences import Preferences

Written = float | int | str | Decimal
_DIGITS = 30  # more places before or behind the point are no figure of a workshop
_ALIKE = 0.25  # two prints of one limit that differ by more than this share are a misprint


@dataclass(frozen=True, slots=True)
class Limits:
    """Low, nominal and high of a number, the unit they are spoken in, and other prints of them.

    Attributes
    ----------
    low, nominal, high : float or None
        [canonical unit of the quantity]
    also : tuple of Limits
        The same limits as the same document prints them in other units.
    step : float or None
        Last printed digit, [canonical unit]; None where the sheet gave bare floats.

    Raises
    ------
    BadInput
        If nothing is given, a figure is not finite or out of order, or two prints disagree grossly.
    BadUnit
        If the unit does not measure the quantity.
    """

    quantity: str
    unit: str
    low: float | None = None
    nominal: float | None = None
    high: float | None = None
    also: "tuple[Limits, ...]" = ()
    step: float | None = None

    def __post_init__(self) -> None:
        require_unit(self.unit, self.quantity)
        given = [v for v in self.values if v is not None]
        if not given:
            raise BadInput("a limit needs a low, a nominal or a high figure", hint="Give at least one.")
        for value in given:
            refuse_impossible(self.quantity, value, f"limit {value:g} {QUANTITIES[self.quantity].unit}")
        if given != sorted(given):
            raise BadInput(
                "the limits are out of order: " + ", ".join(spoken(v, self.unit) for v in given),
                hint="Low is at most nominal, nominal at most high.",
            )
        if self.step is not None and not (isfinite(self.step) and self.step > 0):
            raise BadInput("the last printed digit must be a step above zero")
        for other in self.also:
            self._compare(other)

    @classmethod
    def of(
        cls,
        quantity: str,
        unit: str,
        low: Written | None = None,
        nominal: Written | None = None,
        high: Written | None = None,
        also: "Sequence[Limits]" = (),
    ) -> "Limits":
        """Make limits from figures in `unit`.

        Parameters
        ----------
        quantity, unit : str
            Name of the quantity, symbol of the unit.
        low, nominal, high : float, int, str or Decimal, optional
            Figures, [unit]. Text and Decimal tell the last printed digit (``"0.20"``), a whole number counts
            as printed without decimals, a float tells nothing and the tool's graduation stands in.
        also : sequence of Limits, optional
            The same limits as printed in other units.

        Raises
        ------
        BadInput, BadUnit
            See the class.

        Examples
        --------
        >>> Limits.of("length", "mm", low="0.15", high="0.20").text()
        '0.15 to 0.20 mm'
        """
        named = require_unit(unit, quantity)
        figures = [None if f is None else _written(f) for f in (low, nominal, high)]
        exact = [None if f is None else _canonical(f.value, quantity, unit) for f in figures]
        if named.reciprocal:
            exact.reverse()
        decimals = [f.decimals for f in figures if f is not None and f.decimals is not None]
        step = None
        if decimals:
            digit = float(Fraction(1, 10 ** max(decimals)))
            at = next(v for v in (exact[1], exact[0], exact[2]) if v is not None)
            step = limit_text.span(at, unit, digit)
        return cls(quantity, unit, exact[0], exact[1], exact[2], tuple(also), step)

    @property
    def values(self) -> limit_text.Triple:
        """Low, nominal, high, [canonical unit]."""
        return (self.low, self.nominal, self.high)

    def _compare(self, other: "Limits") -> None:
        if other.quantity != self.quantity or other.also:
            raise BadInput("another print of a limit is one plain limit of the same quantity")
        if self.quantity == "temperature":
            return  # a share of degrees says nothing
        for mine, theirs in zip(self.values, other.values, strict=True):
            if mine is None or theirs is None:
                continue
            allowed = max(_ALIKE * max(abs(mine), abs(theirs)), self.step or 0.0, other.step or 0.0)
            if abs(mine - theirs) > allowed:
                raise BadInput(
                    f"{spoken(mine, self.unit)} and {spoken(theirs, other.unit)} cannot be the same limit",
                    hint="One of them is a misprint or has the wrong unit; check the document.",
                )

    def printed_for(self, unit: str | None) -> "Limits":
        """Return the print of these limits that suits a reading in `unit`: that unit, else its system."""
        prints = (self, *self.also)
        if unit is None:
            return self
        for one in prints:
            if one.unit == unit:
                return one
        system = unit_named(unit).system
        same = (one for one in prints if unit_named(one.unit).system == system)
        return next(same, self)

    def band(self, unit: str | None = None) -> tuple[float | None, float | None]:
        """Lowest and highest value that is in, [canonical unit], None where there is no end.

        A nominal alone reaches half its last printed digit to both sides; for a reading in another unit at
        least half a graduation of that unit, since its tool has no nearer mark.
        """
        if self.low is not None or self.high is not None or self.nominal is None:
            return self.low, self.high
        width = self.step or limit_text.span(self.nominal, self.unit, unit_named(self.unit).graduation)
        if unit is not None and unit != self.unit:
            width = max(width, limit_text.span(self.nominal, unit, unit_named(unit).graduation))
        return self.nominal - width / 2, self.nominal + width / 2

    def judge(self, value: float, *, unit: str | None = None) -> Verdict:
        """Judge a reading; ends are inclusive.

        Parameters
        ----------
        value : float
            The reading, [canonical unit]
        unit : str, optional
            Unit it was read in; the limits printed in that system are then the judge.

        Raises
        ------
        BadInput
            If the value is not a finite number.
        BadUnit
            If the unit does not measure the quantity.

        Examples
        --------
        >>> Limits.of("length", "thou", nominal=6).judge(0.00015).words
        'in limits'
        >>> Limits.of("pressure", "psi", low=90).judge(586054.0).words
        'low by 5 psi (limit 90 psi)'
        """
        return judging.judge(self, value, unit)

    def text(self, prefs: Preferences | None = None) -> str:
        """Say the limits as printed or, with preferences, in the preferred unit.

        Examples
        --------
        >>> from shopcli.units.preferences import IMPERIAL, METRIC
        >>> gap = Limits.of("length", "thou", nominal=6)
        >>> gap.text(), gap.text(METRIC)
        ('6 thou', '0.15 mm')
        >>> Limits.of("pressure", "bar", low=9).text()
        'at least 9 bar'
        """
        if prefs is None:
            return self.text_in(self.unit)
        largest = max(abs(v) for v in self.values if v is not None)
        return self.text_in(prefs.unit_for(self.quantity, self.unit, largest))

    def text_in(self, unit: str) -> str:
        """Say the limits in `unit`: as printed where the document has it, else rounded inwards."""
        require_unit(unit, self.quantity)
        source = self.printed_for(unit)
        if source.unit == unit:
            return limit_text.as_printed(source.values, unit, source.step)
        return limit_text.converted(source.values, unit)

    def text_both(self, unit: str, other: str) -> str:
        """Say the limits in one unit and, in brackets, in another."""
        return f"{self.text_in(unit)} ({self.text_in(other)})"

    def to_json(self) -> dict[str, Any]:
        """Return a plain dict; floats are kept to the last bit."""
        return {
            "quantity": self.quantity,
            "unit": self.unit,
            "low": self.low,
            "nominal": self.nominal,
            "high": self.high,
            "step": self.step,
            "also": [other.to_json() for other in self.also],
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> "Limits":
        """Make limits from what `to_json` gave.

        Raises
        ------
        BadInput
            If the dict is not of that shape.
        """
        try:
            low, nominal, high, step = (_number(data[k]) for k in ("low", "nominal", "high", "step"))
            also = tuple(cls.from_json(other) for other in data["also"])
            return cls(str(data["quantity"]), str(data["unit"]), low, nominal, high, also, step)
        except (KeyError, TypeError, AttributeError, OverflowError) as error:
            raise BadInput(f"stored limits cannot be read: {error}") from error


def _number(value: object) -> float | None:
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise TypeError(f"{value!r} is not a number")
    return float(value)


def _canonical(figure: Fraction, quantity: str, unit: str) -> float:
    value = exact_canonical(figure, unit)
    refuse_impossible(quantity, value, "the limit")
    return float(value)


def _written(figure: Written) -> Figure:
    if isinstance(figure, str):
        return read_figure(figure)
    if isinstance(figure, int) and not isinstance(figure, bool):
        return Figure(Fraction(figure), 0)
    if isinstance(figure, float) and isfinite(figure):
        return Figure(Fraction(repr(figure)), None)
    if isinstance(figure, Decimal) and figure.is_finite() and abs(figure.adjusted()) <= _DIGITS:
        exponent = figure.as_tuple().exponent
        return Figure(Fraction(figure), max(0, -exponent) if isinstance(exponent, int) else None)
    raise BadInput(f"{figure} is not a finite figure", hint="Give a number.")
