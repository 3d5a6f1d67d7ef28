"""How values are written for people: one function for each kind, for screens, command line and papers alike.

Values stay values until they are shown. A state is always a sign and a word, so nothing depends on colour;
every sign takes one column and has a twin in ASCII (``plain=True``) for a console that has no others. The
English of dates is our own, not the machine's, so that a paper printed anywhere reads the same.
"""

from collections.abc import Mapping
from datetime import date, datetime, timedelta, tzinfo
from decimal import ROUND_HALF_UP, Context, Decimal

from shopcli.columns import cut, display_width, pad, shown, wrap
from shopcli.errors import BadInput
from shopcli.marks import (
    NOTHING,
    Mark,
    card_state,
    finding_state,
    owed_state,
    part_state,
    severity,
    severity_long,
    standing,
    task_state,
)

__all__ = [
    "Mark",
    "amount",
    "card_state",
    "clock_time",
    "cut",
    "day",
    "day_long",
    "display_width",
    "finding_state",
    "h_mm",
    "hours",
    "moment",
    "money",
    "odometer",
    "on_shelf",
    "owed_state",
    "pad",
    "part_state",
    "percent",
    "price",
    "promise",
    "qty",
    "severity",
    "severity_long",
    "shown",
    "standing",
    "task_state",
    "wrap",
]

CENT = Decimal("0.01")
SYMBOLS: Mapping[str, str] = {"GBP": "£", "EUR": "€", "USD": "$"}
DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_WIDE = Context(prec=60, rounding=ROUND_HALF_UP)


# Figures ----------------------------------------------------------------------------------------------


def amount(d: Decimal) -> str:
    """Write an amount without its currency, for a column of them.

    Examples
    --------
    >>> amount(Decimal("1234.5")), amount(Decimal("-0.125"))
    ('1,234.50', '-0.13')
    """
    cents = d.quantize(Decimal("0.01"), context=_WIDE)
    return format(cents.copy_abs() if cents.is_zero() else cents, ",f")


def money(d: Decimal, currency: str = "GBP", *, plain: bool = False) -> str:
    """Write an amount with its currency.

    Parameters
    ----------
    d : Decimal
        Amount, [currency]
    currency : str, optional
        ISO 4217 code; pounds, euros and dollars have their sign, others keep the code.
    plain : bool, optional
        Code instead of sign, for ASCII.

    Examples
    --------
    >>> money(Decimal("1234.5")), money(Decimal(-5), "EUR"), money(Decimal(5), "CHF")
    ('£1,234.50', '-€5.00', 'CHF 5.00')
    >>> money(Decimal("1234.5"), plain=True)
    'GBP 1,234.50'
    """
    return _with_currency(amount(d), currency, plain=plain)


def price(d: Decimal, currency: str = "GBP", *, plain: bool = False) -> str:
    """Write a price with all the decimals it has, two at least.

    Examples
    --------
    >>> price(Decimal("0.1212")), price(Decimal("7.5"))
    ('£0.1212', '£7.50')
    """
    figure = qty(d) if _decimals(d) > 2 else amount(d)  # noqa: PLR2004
    return _with_currency(figure, currency, plain=plain)


def _with_currency(figure: str, currency: str, *, plain: bool) -> str:
    symbol = "" if plain else SYMBOLS.get(currency, "")
    if not symbol:
        return f"{currency} {figure}"
    return f"-{symbol}{figure[1:]}" if figure.startswith("-") else symbol + figure


def _decimals(d: Decimal) -> int:
    exponent = d.normalize(_WIDE).as_tuple().exponent
    return -exponent if isinstance(exponent, int) else 0


def qty(d: Decimal) -> str:
    """Write a quantity with no more decimals than it has.

    Examples
    --------
    >>> qty(Decimal("4.000")), qty(Decimal("0.70")), qty(Decimal("1E+3")), qty(Decimal("-1.5"))
    ('4', '0.7', '1,000', '-1.5')
    """
    if d.is_zero():
        return "0"
    text = format(d, ",f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def on_shelf(d: Decimal, unit: str) -> str:
    """Write how much of a part there is, with its unit; to two decimals, finer than anybody draws from a drum.

    Examples
    --------
    >>> on_shelf(Decimal("74.266"), "L"), on_shelf(Decimal(3), "pc"), on_shelf(Decimal("-0.004"), "L")
    ('74.27 L', '3 pc', '0 L')
    """
    return f"{qty(d.quantize(CENT, ROUND_HALF_UP))} {unit}".strip()


def percent(d: Decimal) -> str:
    """Write a rate.

    Examples
    --------
    >>> percent(Decimal("20.00")), percent(Decimal("5.5"))
    ('20 %', '5.5 %')
    """
    return f"{qty(d)} %"


def odometer(n: int | None, unit: str) -> str:
    """Write an odometer reading; one that was not taken is a dash.

    Examples
    --------
    >>> odometer(54320, "mi"), odometer(None, "mi")
    ('54,320 mi', '-')
    """
    return NOTHING if n is None else f"{n:,} {unit}".rstrip()


# Time -------------------------------------------------------------------------------------------------


def hours(seconds: int) -> str:
    """Write a duration in whole minutes, started minutes left out, as a clock does.

    Examples
    --------
    >>> hours(7500), hours(59), hours(-300)
    ('2 h 05', '0 h 00', '-0 h 05')
    """
    return _split(seconds, " h ")


def h_mm(seconds: int) -> str:
    """Write a duration where there is little room.

    Examples
    --------
    >>> h_mm(7500), h_mm(360_000)
    ('2:05', '100:00')
    """
    return _split(seconds, ":")


def _split(seconds: int, between: str) -> str:
    minutes = abs(seconds) // 60
    sign = "-" if seconds < 0 and minutes else ""
    return f"{sign}{minutes // 60}{between}{minutes % 60:02d}"


def day(d: date | None) -> str:
    """Write a date as it is spoken of within the year.

    Examples
    --------
    >>> day(date(2026, 11, 27)), day(None)
    ('Fri 27 Nov', '-')
    """
    return NOTHING if d is None else f"{DAYS[d.weekday()][:3]} {d.day} {MONTHS[d.month - 1][:3]}"


def day_long(d: date | None) -> str:
    """Write a date for a paper that is kept.

    Examples
    --------
    >>> day_long(date(2026, 11, 27))
    'Friday 27 November 2026'
    """
    return NOTHING if d is None else f"{DAYS[d.weekday()]} {d.day} {MONTHS[d.month - 1]} {d.year}"


def moment(at: datetime, tz: tzinfo, *, year: bool = False) -> str:
    """Write a moment in the zone of the shop.

    Raises
    ------
    BadInput
        If the moment does not say its zone.

    Examples
    --------
    >>> from datetime import UTC
    >>> from zoneinfo import ZoneInfo
    >>> moment(datetime(2026, 7, 3, 13, 5, tzinfo=UTC), ZoneInfo("Europe/London"))
    'Fri 3 Jul 14:05'
    """
    local = _local(at, tz)
    return f"{day(local)}{f' {local.year}' if year else ''} {local:%H:%M}"


def clock_time(at: datetime, tz: tzinfo) -> str:
    """Write the time of the day in the zone of the shop.

    Examples
    --------
    >>> from datetime import UTC
    >>> clock_time(datetime(2026, 7, 3, 13, 5, tzinfo=UTC), UTC)
    '13:05'
    """
    return f"{_local(at, tz):%H:%M}"


def _local(at: datetime, tz: tzinfo) -> datetime:
    if at.tzinfo is None:
        raise BadInput("a moment without a time zone", hint="Store moments in UTC and say so.")
    return at.astimezone(tz)


def promise(d: date | None, today: date) -> str:
    """Write a promise date, saying in words when it is late or near.

    Examples
    --------
    >>> promise(date(2026, 11, 23), date(2026, 11, 27)), promise(date(2026, 11, 27), date(2026, 11, 27))
    ('! Mon 23 Nov (late)', 'Fri 27 Nov (today)')
    """
    if d is None:
        return NOTHING
    if d < today:
        return f"! {day(d)} (late)"
    near = (
        {today: " (today)", today + timedelta(days=1): " (tomorrow)"}
        if today < date.max
        else {today: " (today)"}
    )
    return day(d) + near.get(d, "") + ("" if d.year == today.year else f" {d.year}")
