"""How a number was printed, kept beside its values: the texts as typed, and the texts of a number that came otherwise."""

import json
from decimal import Decimal

from shopcli.units import Limits, from_canonical, unit_named
from shopcli.units.display import figure_in, plain, rounded, with_label
from shopcli.units.limit_text import decimals_of
from shopcli.units.printed import ENDS, Printed


def printed_json(printed: Printed) -> str:
    """Return the texts to keep."""
    said = {end: text for end in (*ENDS, "also") if (text := getattr(printed, end).strip())}
    return json.dumps(said, ensure_ascii=False)


def printed_from(text: str, limits: Limits) -> Printed:
    """Return the texts that were kept; for a number from before they were kept, those of its limits."""
    try:
        data = json.loads(text) if text else {}
    except ValueError:
        data = {}
    if not isinstance(data, dict) or not any(data.get(end) for end in ENDS):
        return printed_of(limits)
    return Printed(*(str(data.get(end, "")) for end in (*ENDS, "also")))


def printed_of(limits: Limits) -> Printed:
    """Return limits as texts that read back as the same limits, each with its unit.

    Examples
    --------
    >>> printed_of(Limits.of("length", "mm", low="0.35", high="0.40"))
    Printed(low='0.35 mm', nominal='', high='0.40 mm', also='')
    """
    unit = unit_named(limits.unit)
    values = limits.values[::-1] if unit.reciprocal else limits.values
    figures = [None if v is None else figure_in(v, limits.unit) for v in values]
    digits = max(_printed_digits(limits), *(decimals_of(f) for f in figures if f is not None))
    low, nominal, high = (
        "" if f is None else with_label(plain(rounded(f, digits), keep=True), unit) for f in figures
    )
    return Printed(low, nominal, high, one_line(printed_of(limits.also[0])) if limits.also else "")


def _printed_digits(limits: Limits) -> int:
    """Decimals of the last printed digit, 0 where it is not known."""
    if limits.step is None:
        return 0
    unit = unit_named(limits.unit)
    digit = limits.step / unit.factor
    if unit.reciprocal:
        at = next(v for v in (limits.nominal, limits.low, limits.high) if v is not None)
        digit = limits.step * from_canonical(at, limits.unit) / at
    return decimals_of(Decimal(format(digit, ".9g")))


def one_line(printed: Printed) -> str:
    """Return the texts as one line that reads back as the same print.

    Examples
    --------
    >>> one_line(Printed("14 thou", "16 thou", "18 thou")), one_line(Printed(low="9 bar"))
    ('14 thou to 18 thou, aim for 16 thou', 'at least 9 bar')
    """
    low, nominal, high = printed.low, printed.nominal, printed.high
    ends = (
        f"{low} to {high}"
        if low and high
        else f"at least {low}"
        if low
        else f"at most {high}"
        if high
        else ""
    )
    said = ", aim for ".join(filter(None, (ends, nominal)))
    return f"{said} ({printed.also})" if printed.also else said
