"""Examines a shop's records without the mapper: what does not hold, how many rows, and what would mend it.

Nothing is changed. Each check is one SQL text, the same on both engines, whose rows are what is wrong.
"""

from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from shopcli.shop.stock import OUT_OF_STEP
from shopcli.store.schema import HEAD, version
from shopcli.store.shop import Shop

FIXED = (
    "journal",
    "invoice",
    "credit_note",
    "payment",
    "offer",
    "stock_move",
    "price_change",
    "erasure",
    "erased_row",
)
RESTORE = "Restore the newest backup that passes this, and enter anew what came after it."
BY_HAND = (
    "Nothing mends it by itself: look at the card with its people, and correct by the acts meant for it."
)
RECKON = "Run: shopcli reckon-weeks"


class Wrong(NamedTuple):
    """Something that does not hold: what, in how many rows, the first of them, and what would mend it."""

    what: str
    rows: int
    first: str
    remedy: str


class Check(NamedTuple):
    """A promise of the records, and the rows that break it."""

    name: str
    promise: str
    sql: str
    remedy: str


def gaps(table: str, counter: str) -> str:
    """Return the SQL for numbers of a table that are missing, doubled or past their counter."""
    return f"""
SELECT '{counter}', COUNT(*), COUNT(DISTINCT number), COALESCE(MAX(number), 0),
       COALESCE((SELECT value FROM counter WHERE name = '{counter}'), 0) AS told FROM {table}
HAVING COUNT(*) <> COUNT(DISTINCT number) OR COUNT(*) <> COALESCE(MAX(number), 0)
    OR COALESCE(MAX(number), 0) <> COALESCE((SELECT value FROM counter WHERE name = '{counter}'), 0)"""


def unwritten(table: str, acts: str, name: str) -> str:
    """Return the SQL for rows of money without the journal's row of the act that made them."""
    return f"""
SELECT t.id, t.{name} FROM {table} t
WHERE NOT EXISTS (SELECT 1 FROM journal j WHERE j.card_id = t.card_id AND j.at = t.{name} AND j.act IN ({acts}))"""


# fmt: off
CHECKS = (
    Check("clock", "one clock a person", "SELECT person_id, COUNT(*) FROM clock_entry WHERE ended_at IS NULL GROUP BY person_id HAVING COUNT(*) > 1", BY_HAND),
    Check("clock", "a time ends after it began", "SELECT id, started_at, ended_at FROM clock_entry WHERE ended_at < started_at", "Correct the time: F9."),
    Check("clock", "a time is on a task of its card", "SELECT e.id, e.card_id, t.card_id FROM clock_entry e JOIN task t ON t.id = e.task_id WHERE t.card_id <> e.card_id", BY_HAND),
    Check("clock", "nobody is on two tasks at once", """
SELECT a.id, b.id FROM clock_entry a JOIN clock_entry b ON b.person_id = a.person_id AND b.id <> a.id
AND (b.started_at > a.started_at OR (b.started_at = a.started_at AND b.id > a.id))
WHERE b.started_at < a.ended_at AND COALESCE(b.ended_at, b.started_at + 1) > a.started_at""", "Correct the times: F9."),
    Check("card", "a closed card has its invoice", "SELECT c.id, c.number FROM card c LEFT JOIN invoice i ON i.card_id = c.id WHERE c.state = 'closed' AND i.id IS NULL", RESTORE),
    Check("card", "an invoice is of a closed card", "SELECT i.number, c.number, c.state FROM invoice i JOIN card c ON c.id = i.card_id WHERE c.state <> 'closed'", RESTORE),
    Check("card", "no clock runs on a closed card", "SELECT e.id, c.number FROM clock_entry e JOIN card c ON c.id = e.card_id WHERE e.ended_at IS NULL AND c.state IN ('closed', 'void')", "Correct the time: F9."),
    Check("card", "tasks of a card have places of their own", "SELECT card_id, position, COUNT(*) FROM task GROUP BY card_id, position HAVING COUNT(*) > 1", BY_HAND),
    Check("card", "a task belongs to the card of its tag", "SELECT g.id FROM tag g JOIN task t ON t.id = g.task_id WHERE t.card_id <> g.card_id", BY_HAND),
    Check("people", "the shop has an owner", "SELECT 0, 'nobody' WHERE NOT EXISTS (SELECT 1 FROM person WHERE active AND REPLACE(role, 'owner', '') <> role)", RESTORE),
    Check("people", "who left has no PIN", "SELECT p.id, p.name FROM pin n JOIN person p ON p.id = n.person_id WHERE NOT p.active", "Run: shopcli pin-clear NAME, as an owner."),
    Check("numbers", "invoices have no gap", gaps("invoice", "invoice"), RESTORE),
    Check("numbers", "credit notes have no gap", gaps("credit_note", "credit note"), RESTORE),
    Check("money", "net and tax are the whole of an invoice", "SELECT number, net_minor, vat_minor, gross_minor FROM invoice WHERE net_minor + vat_minor <> gross_minor", RESTORE),
    Check("money", "net and tax are the whole of a credit note", "SELECT number, net_minor, vat_minor, gross_minor FROM credit_note WHERE net_minor + vat_minor <> gross_minor", RESTORE),
    Check("money", "no more is credited than was invoiced", "SELECT i.number, i.gross_minor, SUM(c.gross_minor) FROM invoice i JOIN credit_note c ON c.invoice_id = i.id GROUP BY i.id, i.number, i.gross_minor HAVING SUM(c.gross_minor) > i.gross_minor", RESTORE),
    Check("money", "a reversal is the opposite of what it reverses", "SELECT p.id, p.amount_minor, r.amount_minor FROM payment p JOIN payment r ON r.id = p.reverses WHERE p.amount_minor <> -r.amount_minor", RESTORE),
    Check("journal", "every invoice was written down", unwritten("invoice", "'CloseCard'", "issued_at"), RESTORE),
    Check("journal", "what was taken back was done before", "SELECT u.id, u.undid FROM journal u LEFT JOIN journal j ON j.id = u.undid WHERE u.undid IS NOT NULL AND (j.id IS NULL OR j.id >= u.id)", RESTORE),
    Check("stock", "the shelf is the sum of its movements", OUT_OF_STEP, "Count the part: the count writes the difference down."),
)
# fmt: on


def examine(shop: Shop) -> tuple[Wrong, ...]:
    """Return everything that does not hold; empty when all does."""
    return tuple(_all(shop))


def _all(shop: Shop) -> Iterator[Wrong]:
    yield from _schema(shop)
    yield from _references(shop)
    for check in CHECKS:
        rows = shop.fetch(check.sql)
        if rows:
            yield Wrong(f"{check.name}: {check.promise}", len(rows), _told(rows[0]), check.remedy)
    yield from _books(shop)
    yield from _weeks(shop)


def _told(row: tuple[object, ...]) -> str:
    return ", ".join(str(cell)[:40] for cell in row)


def _schema(shop: Shop) -> Iterator[Wrong]:
    found = version(shop.place)
    if found != HEAD:
        yield Wrong(
            "schema: the version of this program", 1, str(found), "Start the program once: it brings them up."
        )
    if shop.place.file:
        said = [str(row[0]) for row in shop.fetch("PRAGMA integrity_check(100)")]
        if said != ["ok"]:
            yield Wrong("file: every page is whole", len(said), said[0][:200], RESTORE)
        guards = {str(row[0]) for row in shop.fetch("SELECT name FROM sqlite_master WHERE type = 'trigger'")}
        wanted = {f"{table}_no_{act}" for table in FIXED for act in ("update", "delete", "replace")}
    else:
        guards = {str(row[0]) for row in shop.fetch("SELECT tgname FROM pg_trigger WHERE NOT tgisinternal")}
        wanted = {f"{table}_fixed" for table in FIXED}
    missing = sorted(wanted - guards)
    if missing:
        yield Wrong("schema: what is issued is fixed for good", len(missing), ", ".join(missing), RESTORE)


def _references(shop: Shop) -> Iterator[Wrong]:
    """A reference that leads nowhere; the engine is not asked, since it may have been switched off."""
    from shopcli.store.whole.tables import in_order

    for table in (ordered.table for ordered in in_order()):
        for key in sorted(table.foreign_keys, key=lambda key: key.parent.name):
            column, target = key.parent.name, key.column.table.name
            rows = shop.fetch(
                f"SELECT t.{column} FROM {table.name} t LEFT JOIN {target} o ON o.id = t.{column} "
                f"WHERE t.{column} IS NOT NULL AND o.id IS NULL"
            )
            if rows:
                yield Wrong(
                    f"reference: {table.name}.{column} to {target}", len(rows), _told(rows[0]), RESTORE
                )


def _books(shop: Shop) -> Iterator[Wrong]:
    from shopcli.store.reads.ledger import ledger

    last = max(shop.local(shop.at()).date(), date(1970, 1, 2))
    wrong = ledger(shop, date(1970, 1, 2), last).wrong
    if wrong:
        yield Wrong("money: the books agree with the documents", len(wrong), wrong[0], RESTORE)


def _weeks(shop: Shop) -> Iterator[Wrong]:
    from shopcli.shop.week_check import out_of_step

    wrong = out_of_step(shop.fetch, shop.settings.tz())
    if wrong:
        yield Wrong("week: hours and stays are those of the records", len(wrong), wrong[0], RECKON)
