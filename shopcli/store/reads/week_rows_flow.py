"""The cards behind the figures of flow."""

from datetime import date
from typing import Any

from shopcli.shop.week_views import CardAge, OpenedRow, Period
from shopcli.store.reads.week_bounds import FROM_CARD, REFERENCE, bounds, day_of
from shopcli.store.reads.week_flow import card_ages
from shopcli.store.shop import Shop

Answer = tuple[str, list[OpenedRow]]
BY = "SELECT {reference}, c.title, c.state, c.{column} {cards} WHERE c.{column} >= ? AND c.{column} < ? AND c.state <> 'void' ORDER BY c.{column}, c.id"
STAYED = f"SELECT {REFERENCE}, c.title, c.handed_to, c.handed_at, c.opened_at {FROM_CARD} WHERE c.handed_at >= ? AND c.handed_at < ? ORDER BY c.handed_at, c.id"
STOOD = f"SELECT {REFERENCE}, c.title, c.state, c.opened_at {FROM_CARD} WHERE c.opened_at < ? AND (c.handed_at IS NULL OR c.handed_at >= ?) AND c.state <> 'void' ORDER BY c.opened_at, c.id"
WAITED = f"SELECT {REFERENCE}, c.title, s.why, s.started_at, s.ended_at FROM card_stay s JOIN card c ON c.id = s.card_id JOIN vehicle v ON v.id = c.vehicle_id WHERE s.waits = ? AND s.waits <> '' AND (s.ended_at IS NULL OR s.ended_at > ?) AND s.started_at < ? ORDER BY s.started_at, c.id"
OF_CARD = f"SELECT {REFERENCE}, s.state, s.why, s.started_at, s.ended_at FROM card_stay s JOIN card c ON c.id = s.card_id JOIN vehicle v ON v.id = c.vehicle_id WHERE c.id = ? ORDER BY s.nth"
OPEN = f"SELECT {REFERENCE}, c.title, c.state, c.opened_at {FROM_CARD} WHERE c.state IN ('booked', 'in hand', 'held', 'checked') ORDER BY c.opened_at, c.id"


def narrowed(period: Period, words: tuple[str, ...]) -> Period:
    """Return the one week a key names, else the period."""
    if not words:
        return period
    year, _, week = words[0].partition("-W")
    return Period(date.fromisocalendar(int(year), int(week), 1))


def row_of(shop: Shop, row: tuple[Any, ...], *, seconds: int | None = None) -> OpenedRow:
    """Return a card as a row: id, number, registration, what, detail, moment."""
    return OpenedRow(*row[:5], day_of(shop, row[5]), seconds=seconds)


def _moved(column: str, title: str) -> Any:
    sql = BY.format(reference=REFERENCE, column=column, cards=FROM_CARD)

    def answer(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
        rows = shop.fetch(sql, bounds(shop, narrowed(period, words)))
        return title, [row_of(shop, row) for row in rows]

    return answer


def stays(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return the cards handed over, each with how long it stood here."""
    rows = shop.fetch(STAYED, bounds(shop, narrowed(period, words)))
    return "From intake to hand-over", [row_of(shop, row, seconds=row[5] - row[6]) for row in rows]


def in_shop(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return the cards that stood here at the end of a week or period; of the one we are in, those here now."""
    end = min(bounds(shop, narrowed(period, words))[1], shop.at() + 1)
    return "In the shop", [row_of(shop, row, seconds=end - row[5]) for row in shop.fetch(STOOD, (end, end))]


def waits(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return the stretches cards waited for something, as far as they lie in the period."""
    start, end = bounds(shop, period)
    end = max(start, min(end, shop.at()))
    found = []
    for *row, started, ended in shop.fetch(WAITED, (words[0], start, end)):
        lasted = min(end, end if ended is None else ended) - max(start, started)
        found.append(OpenedRow(*row[:5], day_of(shop, started), seconds=lasted))
    return f"Waited: {words[0]}", found


def _aged(shop: Shop, card: CardAge) -> OpenedRow:
    since = day_of(shop, shop.at() - card.since_s)
    detail = card.held_for or card.state
    return OpenedRow(
        card.card_id, card.number, card.registration, card.title, detail, since, seconds=card.since_s
    )


def waiting(shop: Shop, _period: Period, words: tuple[str, ...]) -> Answer:
    """Return the cards that wait for something now, the longest first."""
    cards = sorted((c for c in card_ages(shop) if c.waits == words[0]), key=lambda c: -c.since_s)
    return f"Waiting now: {words[0]}", [_aged(shop, card) for card in cards]


def late(shop: Shop, _period: Period, _words: tuple[str, ...]) -> Answer:
    """Return the cards not finished on the day that was promised."""
    today = day_of(shop, shop.at())
    cards = [c for c in card_ages(shop) if c.promised and c.promised < today and c.state != "closed"]
    return "Promised and not finished", [
        OpenedRow(c.card_id, c.number, c.registration, c.title, c.held_for or c.state, c.promised)
        for c in sorted(cards, key=lambda c: c.promised or today)
    ]


def of_card(shop: Shop, _period: Period, words: tuple[str, ...]) -> Answer:
    """Return how long a card stood in each state, in order."""
    found = []
    for *row, started, ended in shop.fetch(OF_CARD, (int(words[0]),)):
        lasted = max(0, (shop.at() if ended is None else ended) - started)
        found.append(OpenedRow(*row[:5], day_of(shop, started), seconds=lasted))
    return "Where it stood", found


def queue(shop: Shop, _period: Period, _words: tuple[str, ...]) -> Answer:
    """Return the cards that are open now."""
    return "Open now", [row_of(shop, row) for row in shop.fetch(OPEN)]


QUESTIONS = {
    "opened": _moved("opened_at", "Opened"),
    "closed": _moved("closed_at", "Closed"),
    "left": _moved("handed_at", "Handed over"),
    "stays": stays,
    "in-shop": in_shop,
    "waits": waits,
    "waiting": waiting,
    "late": late,
    "card": of_card,
    "queue": queue,
}
