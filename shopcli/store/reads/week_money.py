"""Money of the week: invoiced and what was left of it, what each template earned, and what lies unbilled, unpaid or on the shelf."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache

from shopcli.shop.amounts import ZERO, from_minor, rounded
from shopcli.shop.labour_pricing import labour_quantity, labour_units
from shopcli.shop.settings import Settings
from shopcli.shop.week_views import AgeBand, Earning, MoneyView, MoneyWeek, Period
from shopcli.store.reads.unsettled import Unsettled, unsettled
from shopcli.store.reads.week_bounds import billed_sql, day_of, issued_sql
from shopcli.store.reads.week_jobs import jobs
from shopcli.store.reads.week_paid import workers
from shopcli.store.shop import Shop

INVOICED = """
SELECT week, SUM(net_minor), SUM(labour_minor), SUM(parts_minor), SUM(parts_cost_minor) FROM invoice
WHERE {weeks} GROUP BY week"""
CREDITED = "SELECT week, SUM(net_minor) FROM credit_note WHERE {weeks} GROUP BY week"
OFF = "SELECT week, SUM(minor) FROM taken_off WHERE {weeks} GROUP BY week"
EARNED = """
SELECT template, SUM(cards), SUM(sold_s), SUM(minor), SUM(took_s) FROM week_jobs WHERE {weeks} GROUP BY template HAVING SUM(cards) > 0"""
# Of a week that is cut off; what the labour sold in it took, whenever it was clocked.
EARNED_UNTIL = """
SELECT template, COUNT(DISTINCT card_id), SUM(seconds), SUM(minor) FROM sold_hours WHERE {weeks} GROUP BY template"""
TOOK_UNTIL = """
SELECT d.template, SUM(d.seconds) FROM day_hours d
WHERE d.card_id IN (SELECT DISTINCT card_id FROM sold_hours WHERE {weeks}) GROUP BY d.template"""
OPEN_STATES = "('booked', 'in hand', 'held', 'checked')"
OPEN_LABOUR = f"""
SELECT e.card_id, e.task_id, SUM(COALESCE(e.ended_at, ?) - e.started_at) FROM card c CROSS JOIN clock_entry e
WHERE e.card_id = c.id AND c.state IN {OPEN_STATES} GROUP BY e.card_id, e.task_id"""
OPEN_PARTS = f"""
SELECT c.id, l.qty_milli, l.price_minor, CASE WHEN l.old_unit_back_at IS NULL THEN l.surcharge_minor ELSE 0 END
FROM card c CROSS JOIN card_part l WHERE l.card_id = c.id AND c.state IN {OPEN_STATES} AND l.state = 'fitted'"""
OPEN_OUTWORK = f"""
SELECT c.id, 1000, o.price_minor, 0 FROM card c JOIN outwork o ON o.card_id = c.id WHERE c.state IN {OPEN_STATES}
UNION ALL
SELECT c.id, b.qty_milli, b.price_minor, 0 FROM card c JOIN bill_item b ON b.card_id = c.id
WHERE c.state IN {OPEN_STATES} AND b.removed_at IS NULL"""
STOCK = "SELECT COALESCE(SUM(stock_milli * CAST(cost_minor AS BIGINT)), 0) FROM part WHERE stock_milli > 0"
SURCHARGES = """
SELECT l.card_id, l.description, CASE WHEN b.id IS NULL THEN l.qty_milli * l.surcharge_minor / 1000 ELSE b.credit_minor END,
       CASE WHEN b.id IS NOT NULL THEN 'sent back, no credit yet' WHEN l.old_unit_back_at IS NULL
            THEN 'the customer has the old unit' ELSE 'the old unit is here' END, COALESCE(b.at, l.old_unit_back_at, l.fitted_at)
FROM card_part l JOIN card c ON c.id = l.card_id LEFT JOIN sent_back b ON b.card_part_id = l.id
WHERE l.surcharge_minor > 0 AND l.state = 'fitted' AND NOT l.customers_own AND c.state <> 'void'
AND (b.id IS NULL OR b.credited_at IS NULL) ORDER BY l.id"""
# By how long an invoice is past the day it was due.
NOT_DUE, OLDEST = "not due", "over 90"
BANDS = ((0, NOT_DUE), (30, "1 to 30"), (60, "31 to 60"), (90, "61 to 90"))


@dataclass(frozen=True, slots=True)
class MoneyNow:
    """What of the money does not depend on the period; see `MoneyView`."""

    unbilled_cards: int
    unbilled: Decimal
    unpaid: tuple[AgeBand, ...]
    stock: Decimal
    surcharge_count: int
    surcharges: Decimal


def money_now(
    shop: Shop,
    open_bills: Sequence[Unsettled] | None = None,
    unbilled: Mapping[int, Decimal] | None = None,
) -> MoneyNow:
    """Return what stands now; `open_bills` are those not settled, `unbilled` by card, where they were read already."""
    unbilled = unbilled_by_card(shop) if unbilled is None else unbilled
    owed = shop.fetch(SURCHARGES)
    return MoneyNow(
        unbilled_cards=len(unbilled),
        unbilled=sum(unbilled.values(), ZERO),
        unpaid=ages(unsettled(shop) if open_bills is None else open_bills, shop),
        stock=rounded(Decimal(int(shop.fetch(STOCK)[0][0])) / 1000 / 100),
        surcharge_count=len(owed),
        surcharges=sum((from_minor(int(row[2])) for row in owed), ZERO),
    )


def money(shop: Shop, period: Period, now: MoneyNow | None = None) -> MoneyView:
    """Return the money of a period, and what stands now where that was not read before."""
    return replace(sums(shop, period, now), earnings=earnings(shop, period))


def sums(shop: Shop, period: Period, now: MoneyNow | None = None, paid_s: int | None = None) -> MoneyView:
    """Return the money of a period but for what each template earned.

    What stands now and the hours paid, [s], are read where they were not before.
    """
    weeks = money_weeks(shop, period)
    if paid_s is None:
        paid_s = sum(worker.paid.paid_s for worker in workers(shop, period))
    now = now or money_now(shop)
    return MoneyView(
        period=period,
        weeks=weeks,
        net=sum((w.net for w in weeks), ZERO),
        labour=sum((w.labour for w in weeks), ZERO),
        parts=sum((w.parts for w in weeks), ZERO),
        parts_cost=sum((w.parts_cost for w in weeks), ZERO),
        discount=sum((w.discount for w in weeks), ZERO),
        credited=sum((w.credited for w in weeks), ZERO),
        labour_cost=cost_of(shop.settings, paid_s),
        earnings=(),
        unbilled_cards=now.unbilled_cards,
        unbilled=now.unbilled,
        unpaid=now.unpaid,
        stock=now.stock,
        surcharge_count=now.surcharge_count,
        surcharges=now.surcharges,
    )


def cost_of(settings: Settings, seconds: int) -> Decimal | None:
    """Return what so much paid time costs the shop, None while the settings do not say."""
    if not settings.hour_cost_minor:
        return None
    return rounded(Decimal(seconds) * settings.hour_cost_minor / 3600 / 100)


def money_weeks(shop: Shop, period: Period) -> tuple[MoneyWeek, ...]:
    """Return what was invoiced in each week."""
    asked = ((INVOICED, issued_sql), (CREDITED, issued_sql), (OFF, billed_sql))
    net, credited, off = (
        {row[0]: row[1:] for row in shop.fetch(sql.format(weeks=where), params)}
        for sql, (where, params) in ((sql, within(period)) for sql, within in asked)
    )
    found = []
    for monday, name in zip(period.mondays, period.names, strict=True):
        sums = [from_minor(int(m)) for m in net.get(name, (0, 0, 0, 0))]
        taken = from_minor(int(off.get(name, (0,))[0]))
        back = from_minor(int(credited.get(name, (0,))[0]))
        found.append(MoneyWeek(name, monday, *(*sums, taken, back)))
    return tuple(found)


def earnings(shop: Shop, period: Period) -> tuple[Earning, ...]:
    """Return what each template earned on the invoices of a period, the most first."""
    rows = _earned(shop, period)
    called = jobs(shop, [row[0] for row in rows])
    found = []
    for template, cards, seconds, minor, took in rows:
        labour = from_minor(minor)
        cost = cost_of(shop.settings, took)
        margin = None if cost is None else labour - cost
        head = called[template]
        found.append(Earning(template, head.title, head.system, cards, took, seconds, labour, cost, margin))
    return tuple(sorted(found, key=lambda e: (-(e.labour if e.margin is None else e.margin), e.title)))


def _earned(shop: Shop, period: Period) -> list[tuple[str, int, int, int, int]]:
    """Return by template: cards, seconds sold, minor units and seconds these cards took."""
    where, params = billed_sql(period)
    if period.upto is None:
        return [(row[0], *map(int, row[1:])) for row in shop.fetch(EARNED.format(weeks=where), params)]
    took = dict(shop.fetch(TOOK_UNTIL.format(weeks=where), params))
    rows = shop.fetch(EARNED_UNTIL.format(weeks=where), params)
    return [(row[0], *map(int, row[1:]), int(took.get(row[0], 0))) for row in rows]


def unbilled_by_card(shop: Shop) -> dict[int, Decimal]:
    """Return what each open card would be billed for now, without VAT, sundries and discounts; what is nothing is left out."""
    settings, found = shop.settings, dict[int, Decimal]()
    priced = cache(lambda units: units_price(settings, units))  # many tasks took as many units as another
    for card_id, _task, seconds in shop.fetch(OPEN_LABOUR, (shop.at(),)):
        units = labour_units(int(seconds), settings.labour_unit_minutes, settings.labour_rounding)
        found[card_id] = found.get(card_id, ZERO) + priced(units)
    for sql in (OPEN_PARTS, OPEN_OUTWORK):
        for card_id, qty, price, surcharge in shop.fetch(sql):
            amount = Decimal(qty) / 1000
            net = rounded(amount * from_minor(price)) + rounded(amount * from_minor(surcharge))
            found[card_id] = found.get(card_id, ZERO) + net
    return {key: amount for key, amount in found.items() if amount}


def units_price(settings: Settings, units: int) -> Decimal:
    """Return what so many units of labour are billed at, rounded as the bill rounds it."""
    qty, unit = labour_quantity(units, settings.labour_unit_minutes)
    return rounded(qty * from_minor(settings.labour_minor) / (1 if unit == "h" else 60))


def band_of(one: Unsettled, shop: Shop) -> str:
    """Return the age of an unpaid invoice in words."""
    past = one.days_past(day_of(shop, shop.at()))
    return next((words for days, words in BANDS if past <= days), OLDEST)


def ages(open_now: Sequence[Unsettled], shop: Shop) -> tuple[AgeBand, ...]:
    """Return what customers owe by how long it is past its day; what is in their favour is left out."""
    sums: dict[str, list[Decimal]] = {words: [] for words in (*(words for _days, words in BANDS), OLDEST)}
    for one in owing(open_now):
        sums[band_of(one, shop)].append(one.due)
    return tuple(AgeBand(words, len(found), sum(found, ZERO)) for words, found in sums.items())


def owing(open_now: Iterable[Unsettled]) -> list[Unsettled]:
    """Return the invoices on which something is owed to the shop."""
    return [one for one in open_now if one.due > 0]
