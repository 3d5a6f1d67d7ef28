"""What hinders a hand-over, found by SQL over the card, so that the screen and the closing rule ask the same question."""

from collections.abc import Iterator
from datetime import UTC, datetime

from shopcli.shop.amounts import from_minor
from shopcli.shop.card_bill import card_bill
from shopcli.shop.fetching import Fetch
from shopcli.shop.owed_now import is_due
from shopcli.shop.settings import Settings
from shopcli.shop.views import Hindrance

TASKS = "SELECT id, title, state, second, second_by FROM task WHERE card_id = ? ORDER BY position"
TAGS = """
SELECT g.id, g.name, g.says, p.name, g.hung_at FROM tag g JOIN person p ON p.id = g.hung_by
WHERE g.vehicle_id = (SELECT vehicle_id FROM card WHERE id = ?) AND g.lifted_at IS NULL ORDER BY g.id"""
OWED = "SELECT id, title FROM owed WHERE card_id = ? AND state = 'owed' AND before = 'hand-over' ORDER BY id"
EARLIER_OWED = """
SELECT o.id, o.title, o.before, o.due_odometer, o.due_date, c.odometer, e.number FROM owed o
JOIN card c ON c.id = ? JOIN card e ON e.id = o.card_id
WHERE o.vehicle_id = c.vehicle_id AND o.card_id <> c.id AND o.state = 'owed'
AND (o.before <> 'hand-over' OR e.state IN ('closed', 'void')) ORDER BY o.id"""
READINGS = """
SELECT r.id, CASE WHEN r.label = '' THEN r.name ELSE r.name || ', ' || r.label END, r.phase, r.typed, r.standing, r.verdict, t.title FROM reading r JOIN task t ON t.id = r.task_id
WHERE r.card_id = ? AND r.struck_at IS NULL AND r.phase = 'as left' AND r.standing <> 'in'
AND t.state = 'done' ORDER BY t.position, r.id"""
CLOCKS = """
SELECT e.id, p.name, t.title FROM clock_entry e JOIN person p ON p.id = e.person_id JOIN task t ON t.id = e.task_id
WHERE e.card_id = ? AND e.ended_at IS NULL"""
PARTS = """
SELECT id, description, state FROM card_part
WHERE card_id = ? AND state IN ('wanted', 'on order') AND NOT optional ORDER BY id"""
UNPRICED = """
SELECT id, description FROM card_part
WHERE card_id = ? AND state = 'fitted' AND price_minor = 0 AND NOT customers_own ORDER BY id"""
OUTWORK = "SELECT id, what, who, sent FROM outwork WHERE card_id = ? AND back = '' ORDER BY id"
FINDINGS = "SELECT id, place, what FROM finding WHERE card_id = ? AND severity = 'stop' AND state = 'open' ORDER BY id"
CARD = "SELECT state, held_for, odometer, authority_minor, authority_by FROM card WHERE id = ?"


def _tasks(fetch: Fetch, card_id: int) -> Iterator[Hindrance]:
    for key, title, state, second, second_by in fetch(TASKS, (card_id,)):
        if state == "open":
            yield Hindrance(
                f"task:{key}",
                f"Not done: {title}",
                "",
                "task",
                key,
                False,
                "Do it, or leave it out with a reason.",
            )
        elif state == "done" and second and second_by is None:
            why = "wants a second pair of eyes"
            yield Hindrance(
                f"second:{key}",
                f"Not checked by a second person: {title}",
                why,
                "task",
                key,
                False,
                "Have a colleague sign.",
            )


def _conditions(fetch: Fetch, card_id: int, settings: Settings, at: int) -> Iterator[Hindrance]:
    zone = settings.tz()
    for key, name, says, by, hung_at in fetch(TAGS, (card_id,)):
        mend = "Do the task that lifts it, or lift it by hand with a reason."
        when = datetime.fromtimestamp(hung_at, UTC).astimezone(zone)
        why = f"{says} Hung by {by} on {when:%a %d %b %H:%M}."
        yield Hindrance(f"tag:{key}", f"Tag on the car: {name}", why, "tag", key, False, mend)
    today = datetime.fromtimestamp(at, UTC).astimezone(zone).date()
    for key, title in fetch(OWED, (card_id,)):
        mend = "Do the check, or waive it by name with a reason."
        yield Hindrance(f"owed:{key}", f"Check still owed: {title}", "", "owed", key, True, mend)
    for key, title, before, due_odometer, due_date, now, card in fetch(EARLIER_OWED, (card_id,)):
        if not is_due(before, due_odometer, due_date, now, today):
            continue
        mend = "Do the check, or waive it by name with a reason."
        due = " or ".join(filter(None, (f"at {due_odometer:,}" if due_odometer else "", due_date)))
        why = f"promised on card {card}" + (f", due {due}" if due else "")
        yield Hindrance(f"owed:{key}", f"Check still owed: {title}", why, "owed", key, True, mend)


def _readings(fetch: Fetch, card_id: int) -> Iterator[Hindrance]:
    for key, label, phase, typed, standing, verdict, title in fetch(READINGS, (card_id,)):
        if standing == "unjudged":
            if verdict.endswith("no limits known"):
                continue
            what = f"Reading not judged: {title}, {label} {typed}"
            mend = "Confirm the number for this vehicle and take the reading again, or waive it."
        else:
            what = f"Reading out of limits {phase}: {title}, {label} {typed}"
            mend = "Set it right and take the reading again, or waive it with a reason."
        yield Hindrance(f"reading:{key}", what, verdict, "reading", key, True, mend)


def _loose_ends(fetch: Fetch, card_id: int) -> Iterator[Hindrance]:
    for key, name, title in fetch(CLOCKS, (card_id,)):
        yield Hindrance(
            f"clock:{key}", f"Clock still running: {name}", title, "clock", key, False, "Clock off."
        )
    for key, text, state in fetch(PARTS, (card_id,)):
        yield Hindrance(
            f"part:{key}", f"Part {state}: {text}", "", "part", key, False, "Fit it, or mark it not used."
        )
    for key, text in fetch(UNPRICED, (card_id,)):
        mend = "Give it a price, or waive it: it goes with the work."
        yield Hindrance(f"price:{key}", f"Part fitted without a price: {text}", "", "price", key, True, mend)
    for key, what, who, sent in fetch(OUTWORK, (card_id,)):
        title, mend = (
            (f"Outwork not back: {what}", "Enter it as back.")
            if sent
            else (f"Outwork not sent: {what}", "Send it out in the stores, or do without it.")
        )
        yield Hindrance(f"outwork:{key}", title, who, "outwork", key, False, mend)
    for key, place, what in fetch(FINDINGS, (card_id,)):
        mend = "Mend it, or waive it: the customer was told, by whom."
        yield Hindrance(
            f"finding:{key}", f"Finding marked stop: {place}: {what}", "", "finding", key, True, mend
        )


def _card(fetch: Fetch, card_id: int, settings: Settings, at: int) -> Iterator[Hindrance]:
    for state, held_for, odometer, authority, by in fetch(CARD, (card_id,)):
        if state == "held":
            yield Hindrance(
                "held", "The card is held", held_for, "card", card_id, False, "Take it in hand again."
            )
        if odometer is None:
            yield Hindrance(
                "odometer", "No odometer reading", "", "card", card_id, True, "Write it on the card."
            )
        if authority is not None:
            gross = card_bill(fetch, card_id, settings, at).totals.with_vat
            limit = from_minor(authority)
            if gross > limit:
                why = f"{gross} {settings.with_tax}; {by or 'the customer'} authorised {limit}"
                mend = "Ring the customer; raise the authority on the card, or waive it with who agreed."
                yield Hindrance(
                    "authority", "The bill goes past the authority", why, "card", card_id, True, mend
                )


def hindrances(fetch: Fetch, card_id: int, settings: Settings, at: int) -> tuple[Hindrance, ...]:
    """Return every reason the card cannot close now, most hurtful first; empty means it may.

    Waived ones are left out; the waiver names the hindrance's key.
    """
    waived = {row[0] for row in fetch("SELECT hindrance FROM waiver WHERE card_id = ?", (card_id,))}
    found = [
        *_conditions(fetch, card_id, settings, at),
        *_tasks(fetch, card_id),
        *_readings(fetch, card_id),
        *_loose_ends(fetch, card_id),
        *_card(fetch, card_id, settings, at),
    ]
    return tuple(h for h in found if h.key not in waived)
