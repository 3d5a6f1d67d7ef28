"""Money: Decimal amounts only, rounded once and by a named rule."""

import re
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings.say import within

_MOST_MONEY = Decimal(10) ** 9
_LONGEST = 24


def amount(text: str, *, name: str = "amount") -> Decimal:
    """Read an amount of money or a percentage exactly.

    Parameters
    ----------
    text : str
        ``1250``, ``12.50`` or ``12,50``; no thousands mark.
    name : str, optional
        What it is, for the message.

    Returns
    -------
    Decimal
        The amount.

    Raises
    ------
    BadInput
        If it cannot be read, or more than three digits follow a comma.
    OutOfRange
        If it is beyond a thousand million.

    Examples
    --------
    >>> amount("12,50")
    Decimal('12.50')
    """
    tidy = text.strip().replace("\N{MINUS SIGN}", "-")
    head, comma, tail = tidy.partition(",")
    if comma and (len(tail) > 2 or "." in tidy):  # noqa: PLR2004 - 1,250 may be one or a thousand
        raise BadInput(
            f"cannot tell what {text[:_LONGEST]!r} means", hint="Write 1250 or 1.25, no thousands mark."
        )
    plain = f"{head}.{tail}" if comma else tidy
    if len(plain) > _LONGEST or not re.fullmatch(r"[-+]?(?:\d+\.?\d*|\.\d+)", plain, re.ASCII):
        raise BadInput(f"cannot read the {name} {text[:_LONGEST]!r}", hint="Write it like 12.50.")
    value = Decimal(plain)
    if abs(value) > _MOST_MONEY:
        raise OutOfRange(name, float(value), "up to 1000000000")
    return value


def half_up(value: Decimal, places: int = 2) -> Decimal:
    """Round half up on the absolute value, sign restored.

    Parameters
    ----------
    value : Decimal
        Exact amount.
    places : int, optional
        Places kept, 0 to 6.

    Returns
    -------
    Decimal
        Rounded amount; never a minus nought.

    Raises
    ------
    OutOfRange
        If `places` is outside 0 to 6.

    Examples
    --------
    >>> half_up(Decimal("0.125")), half_up(Decimal("-117.76545"))
    (Decimal('0.13'), Decimal('-117.77'))

    References
    ----------
    .. [1] EN 16931 validation artefacts v1.3.16, BR-CO-17: "rounded half up to two decimals".
    """
    within("places", places, 0, 6)
    rounded = value.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
    return abs(rounded) if rounded.is_zero() else rounded


def vat(base: Decimal, rate_percent: Decimal) -> Decimal:
    """VAT of one rate group, rounded once.

    Parameters
    ----------
    base : Decimal
        Taxable amount of the group.
    rate_percent : Decimal
        Rate, 0 to 100, [%]

    Returns
    -------
    Decimal
        VAT, two decimals.

    Raises
    ------
    OutOfRange
        If the rate is out of range.

    Examples
    --------
    >>> vat(Decimal("6491.34"), Decimal(25))
    Decimal('1622.84')

    References
    ----------
    .. [1] EN 16931 BR-CO-17; validation artefacts v1.3.16: 6491.34 x 25 % is 1622.84.
    """
    within("rate_percent", float(rate_percent), 0, 100, "%")
    return half_up(base * rate_percent / 100)


def vat_by_group(lines: Sequence[tuple[Decimal, Decimal]]) -> dict[Decimal, tuple[Decimal, Decimal]]:
    """Taxable amount and VAT of each rate, summed before it is rounded.

    Parameters
    ----------
    lines : sequence of (net, rate)
        Net amounts with two decimals at most, and their rate [%]

    Returns
    -------
    dict
        Rate -> (taxable amount, VAT), highest rate first.

    Raises
    ------
    BadInput
        If a net amount has more than two decimals.
    OutOfRange
        If a rate is out of range.

    Examples
    --------
    >>> vat_by_group([(Decimal("0.33"), Decimal(19))] * 3)
    {Decimal('19'): (Decimal('0.99'), Decimal('0.19'))}

    References
    ----------
    .. [1] EN 16931 BR-CO-14 and BR-CO-17: per rate group, not per line.
    """
    groups: dict[Decimal, Decimal] = {}
    for net, rate in lines:
        if net != half_up(net):
            raise BadInput(f"{net} has more than two decimals", hint="Round the line first.")
        groups[rate] = groups.get(rate, Decimal(0)) + net
    return {rate: (half_up(groups[rate]), vat(groups[rate], rate)) for rate in sorted(groups, reverse=True)}


def marked_up(cost: Decimal, bands: Sequence[tuple[Decimal, Decimal]], *, no_dip: bool = True) -> Decimal:
    """Selling price from cost by bands.

    Parameters
    ----------
    cost : Decimal
        Cost, 0 or more.
    bands : sequence of (from cost, markup)
        Bands rising from 0; markup 0 to 1000 [%]
    no_dip : bool, optional
        A dearer part never sells below a cheaper one: the price is at least the top of the band before.

    Returns
    -------
    Decimal
        Price, two decimals.

    Raises
    ------
    BadInput
        If the bands do not rise from 0.
    OutOfRange
        If a cost or a markup is out of range.

    Examples
    --------
    >>> table = [(Decimal(0), Decimal(60)), (Decimal(10), Decimal(40))]
    >>> marked_up(Decimal("8.00"), table), marked_up(Decimal("10.00"), table)
    (Decimal('12.80'), Decimal('16.00'))

    References
    ----------
    .. [1] Common practice, no source.
    """
    if not bands or bands[0][0] != 0 or any(b[0] <= a[0] for a, b in pairwise(bands)):
        raise BadInput("the bands of the markup must rise, the first from 0")
    within("cost", float(cost), 0, float(_MOST_MONEY))
    for _, percent in bands:
        within("markup", float(percent), 0, 1000, "%")
    reached = [band for band in bands if band[0] <= cost]
    price = cost * (100 + reached[-1][1]) / 100
    if no_dip:
        for (_, percent), (end, _) in pairwise(reached):
            price = max(price, end * (100 + percent) / 100)
    return half_up(price)


def margin_percent(cost: Decimal, price: Decimal) -> Decimal:
    """Margin: what stays of the price, in parts of the price.

    Parameters
    ----------
    cost, price : Decimal
        Net amounts; price above 0.

    Returns
    -------
    Decimal
        Margin, one decimal, [%]

    Raises
    ------
    OutOfRange
        If the price is not above zero or the cost negative.

    Examples
    --------
    >>> margin_percent(Decimal(60), Decimal(100))
    Decimal('40.0')

    References
    ----------
    .. [1] Definition.
    """
    if price <= 0:
        raise OutOfRange("price", float(price), "above 0")
    within("cost", float(cost), 0, float(_MOST_MONEY))
    return half_up((price - cost) * 100 / price, 1)


def price_for_margin(cost: Decimal, margin: Decimal) -> Decimal:
    """Price that leaves a margin; inverse of `margin_percent`.

    Parameters
    ----------
    cost : Decimal
        Cost, 0 or more.
    margin : Decimal
        Margin, 0 to 95, [%]

    Returns
    -------
    Decimal
        Price, two decimals.

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Examples
    --------
    >>> price_for_margin(Decimal(60), Decimal(40))
    Decimal('100.00')
    """
    within("cost", float(cost), 0, float(_MOST_MONEY))
    within("margin", float(margin), 0, 95, "%")
    return half_up(cost * 100 / (100 - margin))
