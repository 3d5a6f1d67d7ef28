"""Cards through the shop: opened, closed and handed over by week, how old those are that stand here, where they wait."""

from bisect import bisect_left
from collections.abc import Sequence
from datetime import date
from typing import Any

from shopcli.shop.amounts import from_minor
from shopcli.shop.week_parts import Stand, stand_of
from shopcli.shop.week_views import DAY_S, WAITS, CardAge, FlowView, Period, Spent, Waiting, WeekFlow
from shopcli.store.reads.open_cards import as_date
from shopcli.store.reads.week_bounds import bounds, day_of, start_of
from shopcli.store.shop import Shop
from shopcli.workings.estimates import at

OPENED = (
    "SELECT opened_at FROM card WHERE opened_at >= ? AND opened_at < ? AND state <> 'void' ORDER BY opened_at"
)
CLOSED = "SELECT closed_at FROM card WHERE closed_at >= ? AND closed_at < ? ORDER BY closed_at"
LEFT = "SELECT handed_at, opened_at FROM card WHERE handed_at >= ? AND handed_at < ? ORDER BY handed_at"
# Those here now, and back from there: what was opened since is taken off, what was handed over since is put back.
HERE = "SELECT COUNT(*) FROM card WHERE handed_at IS NULL AND state <> 'void'"
OPENED_SINCE = "SELECT COUNT(*) FROM card WHERE opened_at >= ? AND state <> 'void'"
LEFT_SINCE = "SELECT COUNT(*) FROM card WHERE handed_at >= ?"
CARDS = """
SELECT c.id, c.number, v.registration, k.name, c.title, c.state, c.held_for, c.waits_for_parts, c.promised, c.opened_at,
       k.phone, v.make, v.model, c.authority_minor,
       (SELECT f.place || ': ' || f.what FROM finding f WHERE f.card_id = c.id AND f.state = 'open' AND f.severity = 'stop'
        AND f.wanted = '' ORDER BY f.id LIMIT 1),
       (SELECT MAX(COALESCE(e.ended_at, 0)) FROM clock_entry e WHERE e.card_id = c.id),
       (SELECT COUNT(*) FROM clock_entry e WHERE e.card_id = c.id AND e.ended_at IS NULL)
FROM card c JOIN vehicle v ON v.id = c.vehicle_id JOIN customer k ON k.id = c.customer_id
WHERE c.handed_at IS NULL AND c.state <> 'void' ORDER BY c.opened_at, c.id"""
STAYS = """
SELECT s.card_id, s.state, s.waits, s.why, s.started_at, s.ended_at FROM card c CROSS JOIN card_stay s
WHERE s.card_id = c.id AND c.handed_at IS NULL AND c.state <> 'void' ORDER BY s.card_id, s.nth"""
# Those that ended and those that go on apart: asked together, the engine first sorts out which it has met twice.
SINCE = "CASE WHEN started_at > ? THEN started_at ELSE ? END"
WAITED = f"""
SELECT waits, COUNT(DISTINCT card_id), SUM(lasted) FROM (
    SELECT waits, card_id, CASE WHEN ended_at < ? THEN ended_at ELSE ? END - {SINCE} AS lasted
    FROM card_stay WHERE ended_at > ? AND started_at < ? AND waits <> ''
    UNION ALL SELECT waits, card_id, ? - {SINCE} FROM card_stay WHERE ended_at IS NULL AND started_at < ? AND waits <> '') q
GROUP BY waits"""
HALF, MOST = 0.5, 0.85


def flow_weeks(shop: Shop, period: Period) -> tuple[WeekFlow, ...]:
    """Return the weeks of a period without the rest."""
    start, end = bounds(shop, period)
    opened, closed = ([row[0] for row in shop.fetch(sql, (start, end))] for sql in (OPENED, CLOSED))
    left = [row[0] for row in shop.fetch(LEFT, (start, end))]
    return _weeks(shop, period, opened, closed, left, _stood_at(shop, start))


def _stood_at(shop: Shop, start: int) -> int:
    here = int(shop.fetch(HERE)[0][0])
    return here - _count(shop, OPENED_SINCE, start) + _count(shop, LEFT_SINCE, start)


def flow(shop: Shop, period: Period, cards: tuple[CardAge, ...] | None = None) -> FlowView:
    """Return cards through the shop in a period, and those that stand here now where they were not read before."""
    start, end = bounds(shop, period)
    now = shop.at()
    upto = max(start, min(end, now))
    opened = [row[0] for row in shop.fetch(OPENED, (start, end))]
    closed = [row[0] for row in shop.fetch(CLOSED, (start, end))]
    gone = shop.fetch(LEFT, (start, end))
    left = [row[0] for row in gone]
    there = _stood_at(shop, start)
    days = sorted((handed - taken) / DAY_S for handed, taken in gone)
    cards = card_ages(shop) if cards is None else cards
    span = upto - start
    stood = there * span + sum(max(0, upto - t) for t in opened) - sum(max(0, upto - t) for t in left)
    return FlowView(
        period=period,
        weeks=_weeks(shop, period, opened, closed, left, there),
        opened=len(opened),
        closed=len(closed),
        left=len(left),
        in_shop=there + len(opened) - len(left),
        stays=len(days),
        median_days=at(days, HALF) if days else None,
        most_days=at(days, MOST) if days else None,
        mean_days=sum(days) / len(days) if days else None,
        counted=stood / span if span else float(there),
        per_week=len(left) / (span / (7 * DAY_S)) if span else 0.0,
        cards=cards,
        waiting=_waiting(shop, start, upto, cards),
    )


def _count(shop: Shop, sql: str, since: int) -> int:
    return int(shop.fetch(sql, (since,))[0][0])


def _weeks(
    shop: Shop, period: Period, opened: Sequence[int], closed: Sequence[int], left: Sequence[int], there: int
) -> tuple[WeekFlow, ...]:
    edges = [start_of(shop, day) for day in (*period.mondays, period.until)]
    found = []
    for nth, (monday, name) in enumerate(zip(period.mondays, period.names, strict=True)):
        came, done, went = (
            bisect_left(times, edges[nth + 1]) - bisect_left(times, edges[nth])
            for times in (opened, closed, left)
        )
        there += came - went
        found.append(WeekFlow(name, monday, came, done, went, there))
    return tuple(found)


def card_ages(shop: Shop) -> tuple[CardAge, ...]:
    """Return every card that stands here now, oldest first, with the time it spent in each state."""
    now, stays = shop.at(), _stays(shop)
    return tuple(_age(shop, row, stays.get(row[0], []), now) for row in shop.fetch(CARDS))


def _stays(shop: Shop) -> dict[int, list[tuple[Stand, int, int | None]]]:
    found: dict[int, list[tuple[Stand, int, int | None]]] = {}
    for card_id, state, waits, why, started, ended in shop.fetch(STAYS):
        found.setdefault(card_id, []).append((Stand(state, waits, why), started, ended))
    return found


def _age(shop: Shop, row: tuple[Any, ...], stays: list[tuple[Stand, int, int | None]], now: int) -> CardAge:
    key, number, registration, customer, title, state, held_for, for_parts, promised, opened_at = row[:10]
    phone, make, model, authority, stop, last, runs = row[10:]
    spent: dict[Stand, int] = {}
    for stand, started, ended in stays:
        spent[stand] = spent.get(stand, 0) + max(0, (now if ended is None else ended) - started)
    return CardAge(
        card_id=key,
        number=number,
        registration=registration,
        customer=customer,
        title=title,
        state=state,
        held_for=held_for,
        waits=stand_of(state, held_for, for_parts, None).waits,
        promised=as_date(promised),
        opened=day_of(shop, opened_at),
        age_s=max(0, now - opened_at),
        since_s=max(0, now - (stays[-1][1] if stays else opened_at)),
        spent=tuple(Spent(s.state, s.waits, s.why, seconds) for s, seconds in spent.items()),
        phone=phone,
        car=f"{make} {model}".strip(),
        stop=stop or "",
        authority=None if authority is None else from_minor(authority),
        running=runs > 0,
        last_on=day_of(shop, last) if last else None,
        waited=stays[-2][0].waits if len(stays) > 1 else "",
    )


def _waiting(shop: Shop, start: int, upto: int, cards: Sequence[CardAge]) -> tuple[Waiting, ...]:
    ended, goes_on = (upto, upto, start, start, start, upto), (upto, start, start, upto)
    rows = shop.fetch(WAITED, (*ended, *goes_on))
    known = {waits: (int(count), int(seconds)) for waits, count, seconds in rows}
    found = []
    for why in WAITS:
        now = [card.since_s for card in cards if card.waits == why]
        if why in known or now:
            found.append(Waiting(why, *known.get(why, (0, 0)), len(now), max(now, default=0)))
    return tuple(found)


def weeks_before(shop: Shop, monday: date, most: int) -> int:
    """Return how many whole weeks there are from the first card to a Monday, `most` at most."""
    first = shop.fetch("SELECT MIN(opened_at) FROM card")[0][0]
    return 0 if first is None else max(0, min(most, (monday - day_of(shop, first)).days // 7))
