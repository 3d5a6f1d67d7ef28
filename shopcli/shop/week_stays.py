"""How cards stood before it was kept: as far as the journal tells. What it does not tell is not guessed."""

from collections.abc import Iterable, Mapping

from shopcli.shop.fetching import Fetch
from shopcli.shop.touched import from_text
from shopcli.shop.week_parts import Stand, Stay, stand_of, stays_of

CARDS = """
SELECT id, state, held_for, waits_for_parts, handed_at, opened_at, closed_at FROM card
WHERE id NOT IN (SELECT card_id FROM card_stay) ORDER BY id"""
# What an act taken back had changed is as it was from then on.
HISTORY = """
SELECT j.at, COALESCE(u.touched, j.touched), CASE WHEN j.undid IS NULL THEN 0 ELSE 1 END
FROM journal j LEFT JOIN journal u ON u.id = j.undid
WHERE COALESCE(u.touched, j.touched) LIKE ? ORDER BY j.id"""
OF_A_CARD = '%["card",%'
STANDING = ("state", "held_for", "waits_for_parts", "handed_at")
Event = tuple[int, Mapping[str, object]]


def told_stays(fetch: Fetch) -> dict[int, list[Stay]]:
    """Return the stays of every card that has none yet.

    A card is booked when it is opened, closed when its closing says so, and stands at the end as it does now; between them
    lies what the journal kept.
    """
    cards = fetch(CARDS)
    if not cards:
        return {}
    told = _told(fetch, {row[0] for row in cards})
    found = {}
    for key, state, held_for, for_parts, handed_at, opened_at, closed_at in cards:
        events: list[Event] = [(opened_at, {"state": "booked"}), *told.get(key, ())]
        if closed_at is not None:
            events.append((closed_at, {"state": "closed"}))
        if handed_at is not None:
            events.append((handed_at, {"handed_at": handed_at}))
        events.sort(key=lambda event: event[0])
        now = stand_of(state, held_for, for_parts, handed_at)
        found[key] = stays_of([*_stands(events), (events[-1][0], now)])
    return found


def _told(fetch: Fetch, cards: set[int]) -> dict[int, list[Event]]:
    found: dict[int, list[Event]] = {}
    for at, touched, undone in fetch(HISTORY, (OF_A_CARD,)):
        for row in from_text(touched):
            said = row.was if undone else row.now
            if row.table == "card" and row.key in cards and said:
                found.setdefault(row.key, []).append((at, {n: said[n] for n in STANDING if n in said}))
    return found


def _stands(events: Iterable[Event]) -> Iterable[tuple[int, Stand]]:
    known: dict[str, object] = {}
    for at, said in events:
        known.update(said)
        handed = known.get("handed_at")
        state, reason = str(known.get("state", "booked")), str(known.get("held_for") or "")
        yield (
            at,
            stand_of(
                state, reason, known.get("waits_for_parts"), None if handed is None else int(str(handed))
            ),
        )
