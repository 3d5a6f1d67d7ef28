"""The open cards, as the desk lists them: all that the first picture reads."""

from datetime import date

from shopcli.folded import spellings
from shopcli.shop.listed import CardRow
from shopcli.shop.owed_now import is_due, is_owed_here
from shopcli.store.shop import Shop

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

# A sign before a column keeps its index out of the search: the open cards are few and are found by their state,
# whatever the planner makes of how many customers and checks there are.
OPEN_CARDS = """
SELECT c.id, c.number, k.id, k.name, k.phone, v.id, v.registration, v.make, v.model, v.year, c.title, c.state,
       c.held_for, c.promised, c.opened_at, c.expected_minutes,
       (SELECT COALESCE(SUM(COALESCE(e.ended_at, ?) - e.started_at), 0) FROM clock_entry e WHERE e.card_id = c.id),
       (SELECT COUNT(*) FROM task t WHERE t.card_id = c.id),
       (SELECT COUNT(*) FROM task t WHERE t.card_id = c.id AND t.state <> 'open'),
       (SELECT COUNT(*) FROM card_part l WHERE l.card_id = c.id AND l.state = 'on order'),
       (SELECT COUNT(*) FROM card_part l WHERE l.card_id = c.id AND l.state = 'wanted' AND l.arrived_at IS NOT NULL)
FROM card c JOIN customer k ON k.id = +c.customer_id JOIN vehicle v ON v.id = +c.vehicle_id
WHERE c.state IN ('booked', 'in hand', 'held', 'checked') {narrow}
ORDER BY k.name, k.id, v.registration, c.number LIMIT ?"""
OPEN_TAGS = """
SELECT g.card_id, g.name FROM card c JOIN tag g ON g.card_id = +c.id
WHERE c.state IN ('booked', 'in hand', 'held', 'checked') AND g.lifted_at IS NULL ORDER BY g.id"""
# What is owed is found by its vehicle: asked for by its state, all that is owed anywhere would be looked through.
OWED = """
SELECT c.id, o.card_id, e.state, o.before, o.due_odometer, o.due_date, c.odometer
FROM card i JOIN card c ON c.id = +i.id JOIN owed o ON o.vehicle_id = +c.vehicle_id JOIN card e ON e.id = +o.card_id
WHERE i.state IN ('booked', 'in hand', 'held', 'checked') AND CASE o.state WHEN 'owed' THEN 1 ELSE 0 END = 1"""
RUNNING = """
SELECT e.card_id, p.name FROM clock_entry e JOIN person p ON p.id = e.person_id WHERE e.ended_at IS NULL"""
NARROW = """AND (lower(v.registration) LIKE ? ESCAPE '!' OR lower(k.name) LIKE ? ESCAPE '!'
OR lower(c.number) LIKE ? ESCAPE '!' OR lower(v.make || ' ' || v.model) LIKE ? ESCAPE '!'
OR lower(c.title) LIKE ? ESCAPE '!'{within})"""
# By the words a customer is found by, folded: letters, or figures as many as below.
FOLDED = """ OR EXISTS (SELECT 1 FROM find_word f WHERE f.customer_id = k.id
AND COALESCE(f.vehicle_id, v.id) = v.id AND (f.word LIKE ? ESCAPE '!' OR f.word LIKE ? ESCAPE '!'))"""
# Of a word of three letters or figures and more: fewer stand in every task and in every telephone number.
WITHIN = """
OR replace(k.phone, ' ', '') LIKE ? ESCAPE '!' OR EXISTS (SELECT 1 FROM task t WHERE t.card_id = c.id AND lower(t.title) LIKE ? ESCAPE '!')
OR EXISTS (SELECT 1 FROM tag g WHERE g.card_id = c.id AND g.lifted_at IS NULL AND lower(g.name) LIKE ? ESCAPE '!')"""
LETTERS = 3


def vehicle_name(make: str, model: str, year: int | None) -> str:
    """Return make, model and year in one line."""
    return " ".join(str(x) for x in (make, model, year) if x)


def as_date(text: str) -> date | None:
    """Return a stored date."""
    return date.fromisoformat(text) if text else None


def like(text: str) -> str:
    """Return a pattern that finds the text anywhere, its own wildcards taken literally."""
    for sign in "!%_":
        text = text.replace(sign, "!" + sign)
    return f"%{text.strip().lower()}%"


def _by_card(shop: Shop, sql: str) -> dict[int, tuple[str, ...]]:
    found: dict[int, list[str]] = {}
    for card_id, name in shop.fetch(sql):
        found.setdefault(card_id, []).append(name)
    return {card_id: tuple(names) for card_id, names in found.items()}


def open_cards(shop: Shop, text: str = "", limit: int = 500) -> tuple[CardRow, ...]:
    """Return open cards grouped by customer and vehicle, narrowed by every word of `text`.

    A word may be of the customer, the vehicle, the card, one of its tasks or what its tags say. A card whose number ends so
    stands first with its customer, then whose own words hold the text, then those whose tasks do.
    """
    words = text.lower().split()[:6]
    params: list[object] = [shop.at()]
    narrow = []
    for word in words:
        long, ways = len(word) >= LETTERS, spellings(word)
        named, within = FOLDED if long or word.isalpha() else "", WITHIN if long else ""
        narrow.append(NARROW.format(within=named + within))
        params += [like(word)] * NARROW.count("?")
        params += [like(ways[0]), like(ways[-1])] if named else []
        params += [like(word)] * within.count("?")
    rows = shop.fetch(OPEN_CARDS.format(narrow=" ".join(narrow)), (*params, limit))
    if words:
        numbered = {row[2] for row in rows if len(words) == 1 and row[1].lower().endswith(words[0])}
        named = {row[2] for row in rows if _names(row, words)}
        rows = sorted(rows, key=lambda row: (row[2] not in numbered, row[2] not in named))
    running = _by_card(shop, RUNNING)
    tags = _by_card(shop, OPEN_TAGS)
    owed = _owed(shop)
    return tuple(_card_row(shop, row, running, tags, owed) for row in rows)


def _names(row: "tuple[Any, ...]", words: list[str]) -> bool:
    """Whether every word is of the customer, the vehicle or the card itself."""
    said = " ".join(spellings(" ".join(str(row[i]) for i in (1, 3, 6, 7, 8, 10)))) + row[4].replace(" ", "")
    return all(any(way in said for way in spellings(word)) for word in words)


def _owed(shop: Shop) -> dict[int, tuple[int, int]]:
    """Return by card how many checks are owed on it now, and how many of them an earlier visit left."""
    today = shop.local(shop.at()).date()
    found: dict[int, tuple[int, int]] = {}
    for card_id, promised_on, state, before, due_odometer, due_date, odometer in shop.fetch(OWED):
        due = is_due(before, due_odometer, due_date, odometer, today)
        mine, over = promised_on == card_id, state in {"closed", "void"}
        if is_owed_here(before, mine=mine, over=over, due=due):
            owed, overdue = found.get(card_id, (0, 0))
            found[card_id] = owed + 1, overdue + (before != "hand-over")
    return found


def _card_row(
    shop: Shop,
    row: "tuple[Any, ...]",
    running: "dict[int, Any]",
    tags: "dict[int, Any]",
    owed: dict[int, tuple[int, int]],
) -> CardRow:
    (key, number, customer_id, customer, phone, vehicle_id, registration, make, model, year, title, state) = (
        row[:12]
    )
    return CardRow(
        id=key,
        number=number,
        customer_id=customer_id,
        customer=customer,
        phone=phone,
        vehicle_id=vehicle_id,
        registration=registration,
        vehicle=vehicle_name(make, model, year),
        title=title,
        state=state,
        held_for=row[12],
        promised=as_date(row[13]),
        opened=shop.local(row[14]),
        expected_minutes=row[15],
        clocked_seconds=int(row[16]),
        tasks=row[17],
        tasks_settled=row[18],
        running=running.get(key, ()),
        open_tags=tags.get(key, ()),
        owed=owed.get(key, (0, 0))[0],
        on_order=row[19],
        arrived=row[20],
        overdue=owed.get(key, (0, 0))[1],
    )
