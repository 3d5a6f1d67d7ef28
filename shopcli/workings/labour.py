"""Time and money on the bench: units to bill, markup, VAT and margin, in whole numbers and exact decimals.

Amounts come as text, because a binary fraction cannot hold a penny.
"""

import re
from decimal import Decimal

from shopcli.errors import BadInput
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.money_sums import (
    amount,
    half_up,
    margin_percent,
    marked_up,
    price_for_margin,
    vat_by_group,
)
from shopcli.workings.telling import result, words
from shopcli.workings.time_sums import (
    MOST_MINUTES,
    UNIT_MINUTES,
    Mode,
    billing_units,
    hours_minutes,
    read_hours,
    units_to_hours,
)

MODES: tuple[Mode, ...] = ("up", "nearest")
_MOST_LINES = 200


def _plain(value: Decimal) -> str:
    return format(value, "f")


def _labour_units(
    minutes: int, unit_minutes: int = UNIT_MINUTES, mode: Mode = "up", rate: str | None = None
) -> Worked:
    units = billing_units(minutes, unit_minutes, mode)
    hours = units_to_hours(units, unit_minutes)
    rule = "every unit begun counts" if mode == "up" else "nearest unit, half going up"
    steps = [
        f"{minutes} min = {hours_minutes(minutes)} on the clock.",
        f"Units of {unit_minutes} min, {rule}: {units}.",
        f"{units} x {unit_minutes} min = {_plain(hours)} h.",
    ]
    results = [
        result("units", "Units", units, decimals=0),
        words("hours", "Hours billed", _plain(hours)),
        words("clock", "On the clock", hours_minutes(minutes)),
    ]
    verdict = f"{units} units, {_plain(hours)} h."
    if rate is not None:
        money = half_up(Decimal(units * unit_minutes) * amount(rate, name="rate") / 60)
        steps.append(f"x {_plain(amount(rate))} an hour = {_plain(money)}.")
        results.append(words("amount", "Amount, net", _plain(money)))
        verdict = f"{units} units, {_plain(hours)} h, {_plain(money)} net."
    cautions = ("Rounded when it is priced and not before: the clock keeps its minutes.",)
    return Worked(tuple(results), tuple(steps), cautions, verdict)


def _hours(time: str) -> Worked:
    minutes = read_hours(time)
    tenths = Decimal(minutes) / 60
    steps = (f"{minutes} min = {minutes // 60} h and {minutes % 60} min.",)
    results = (
        words("clock", "Hours and minutes", hours_minutes(minutes)),
        result("minutes", "Minutes", minutes, "min", decimals=0),
        words("decimal", "Hours in hundredths", _plain(half_up(tenths))),
    )
    return Worked(results, steps, (), f"{hours_minutes(minutes)} = {_plain(half_up(tenths))} h")


def read_bands(text: str) -> tuple[tuple[Decimal, Decimal], ...]:
    """Read markup bands: ``0 60, 10 40, 50 30`` means 60 % from 0, 40 % from 10, 30 % from 50.

    Examples
    --------
    >>> read_bands("0 60; 10 40")
    ((Decimal('0'), Decimal('60')), (Decimal('10'), Decimal('40')))
    """
    return _pairs(text, "band", "0 60; 10 40; 50 30")


def read_lines(text: str) -> tuple[tuple[Decimal, Decimal], ...]:
    """Read invoice lines: ``120.00 20; 45.50 5; 30 0`` means net amount and VAT rate.

    Examples
    --------
    >>> read_lines("120.00 20")
    ((Decimal('120.00'), Decimal('20')),)
    """
    return _pairs(text, "line", "120.00 20; 45.50 5; 30 0")


def _pairs(text: str, name: str, form: str) -> tuple[tuple[Decimal, Decimal], ...]:
    pieces = [piece.split() for piece in re.split(r"[;\n]", text) if piece.strip()]
    if not 0 < len(pieces) <= _MOST_LINES:
        raise BadInput(f"{len(pieces)} {name}s", hint=f"1 to {_MOST_LINES}, written like {form}")
    pairs = []
    for piece in pieces:
        if len(piece) != 2:  # noqa: PLR2004 - a pair
            raise BadInput(f"cannot read the {name} {' '.join(piece)[:40]!r}", hint=f"Write {form}")
        pairs.append((amount(piece[0]), amount(piece[1].rstrip("%"), name="percentage")))
    return tuple(pairs)


def _markup(cost: str, bands: str, no_dip: bool = True) -> Worked:
    net, table = amount(cost, name="cost"), read_bands(bands)
    price = marked_up(net, table, no_dip=no_dip)
    plain = marked_up(net, table, no_dip=False)
    percent = [p for start, p in table if start <= net][-1]
    steps = [f"Cost {_plain(net)}, band {_plain(percent)} %: {_plain(plain)}."]
    if price != plain:
        steps.append(f"Raised to {_plain(price)}: a dearer part does not sell below a cheaper one.")
    results = (
        words("price", "Price, net", _plain(price)),
        words("earned", "Earned", _plain(half_up(price - net))),
    )
    return Worked(results, tuple(steps), (), f"{_plain(price)} net.")


def _vat(lines: str) -> Worked:
    groups = vat_by_group(read_lines(lines))
    net = sum((base for base, _ in groups.values()), Decimal(0))
    tax = sum((part for _, part in groups.values()), Decimal(0))
    steps = [
        f"{_plain(rate)} %: {_plain(base)} -> VAT {_plain(part)}." for rate, (base, part) in groups.items()
    ]
    steps.append(f"Net {_plain(net)} + VAT {_plain(tax)} = {_plain(net + tax)}.")
    told = tuple(f"{_plain(rate)} % {_plain(base)} {_plain(part)}" for rate, (base, part) in groups.items())
    results = (
        words("net", "Net", _plain(net)),
        words("vat", "VAT", _plain(tax)),
        words("gross", "To pay", _plain(net + tax)),
        Result("groups", "Rate, taxable, VAT", told, "", "; ".join(told)),
    )
    cautions = (
        "Rounded once for each rate, half up, as EN 16931 has it. Which rate applies: ask your accountant.",
    )
    return Worked(results, tuple(steps), cautions, f"{_plain(net)} + {_plain(tax)} VAT = {_plain(net + tax)}")


def _margin(cost: str, price: str | None = None, wanted_percent: str | None = None) -> Worked:
    if (price is None) == (wanted_percent is None):
        raise BadInput("give the price or the wanted margin, one of the two")
    net = amount(cost, name="cost")
    if price is not None:
        sold = amount(price, name="price")
    else:
        sold = price_for_margin(net, amount(wanted_percent or "0", name="margin"))
    part = margin_percent(net, sold)
    over = _plain(half_up((sold - net) * 100 / net, 1)) if net else "no end of"
    steps = (
        f"Price {_plain(sold)} less cost {_plain(net)} = {_plain(sold - net)}.",
        f"Of the price that is {_plain(part)} % (margin), on the cost {over} % (markup).",
    )
    results = (
        words("price", "Price, net", _plain(sold)),
        words("margin_percent", "Margin", _plain(part)),
        words("earned", "Earned", _plain(half_up(sold - net))),
    )
    verdict = f"Margin {_plain(part)} %." + (" It is sold below cost." if sold < net else "")
    return Worked(results, steps, (), verdict)


WORKINGS: tuple[Working, ...] = (
    Working(
        "labour-units",
        "Minutes to billing units",
        "time and money",
        (
            Input("minutes", "Minutes", "whole", "time", "min", 0, MOST_MINUTES),
            Input("unit_minutes", "Unit", "whole", "time", "min", 1, 240, UNIT_MINUTES, required=False),
            Input("mode", "Rounding", "choice", default="up", required=False, choices=MODES),
            Input("rate", "Rate an hour, net", "text", required=False, help="85.00"),
        ),
        _labour_units,
        "tenths: Army Maintenance Allocation Chart (TM 55-1905-217-12 App. C); begun units: common practice",
        "whole minutes, whole units",
    ),
    Working(
        "hours",
        "Hours and minutes",
        "time and money",
        (Input("time", "Time", "text", help="1:05 or 65"),),
        _hours,
        "definition",
        "up to a million minutes",
    ),
    Working(
        "markup",
        "Price by markup bands",
        "time and money",
        (
            Input("cost", "Cost, net", "text", help="12.50"),
            Input("bands", "Bands", "text", help="0 60; 10 40; 50 30: from this cost, this %"),
            Input("no_dip", "Never below a cheaper part", "yesno", default=True, required=False),
        ),
        _markup,
        "common practice, no source",
        "bands rising from 0, rounded half up to two decimals",
    ),
    Working(
        "vat",
        "VAT for each rate",
        "time and money",
        (Input("lines", "Net and rate", "text", help="120.00 20; 45.50 5; 30 0"),),
        _vat,
        "EN 16931 BR-CO-14 and BR-CO-17 (validation artefacts v1.3.16)",
        "two decimals, rounded once for each rate; which rate applies is not its business",
    ),
    Working(
        "margin",
        "Margin and price",
        "time and money",
        (
            Input("cost", "Cost, net", "text", help="60.00"),
            Input("price", "Price, net", "text", required=False),
            Input("wanted_percent", "Wanted margin in %", "text", required=False),
        ),
        _margin,
        "definition",
        "net amounts",
    ),
)
