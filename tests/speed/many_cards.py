"""A shop with many cards behind it: the demo's closed cards, their customers and their cars, over and over.

Copied inside the engine, so that a benchmark does not wait for the acts of twenty years.
"""

import sqlite3
from collections.abc import Collection
from datetime import UTC, datetime
from pathlib import Path

from shopcli.store.demo import demo_shop

MORNING = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)
STEP = 1_000_000  # between the ids of one copy and the next
SHARED = {"journal"}
NAMED_ONCE = {("card", "number"), ("vehicle", "registration")}
LISTED = ("card", "customer", "vehicle", "task", "clock_entry", "tag", "owed", "card_part")
LONG = {("task", "frozen")}


def many_cards(path: Path, cards: int, *, listed_only: bool = False) -> None:
    """Write a shop of about that many cards to `path`; `listed_only` copies no more of each than a list of cards reads."""
    demo_shop(str(path), now=lambda: MORNING).close()
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA foreign_keys=OFF")
    connection.execute("PRAGMA synchronous=OFF")
    closed = connection.execute("SELECT COUNT(*) FROM card WHERE state = 'closed'").fetchone()[0]
    copies = max(1, cards // closed)
    of_cards = _of_cards(connection)
    if listed_only:
        of_cards = {table: only for table, only in of_cards.items() if table in LISTED}
    put_back = _put_aside(connection, of_cards) if listed_only else ()
    for table, only in of_cards.items():
        connection.execute(_copying(connection, table, only, of_cards, left_empty=listed_only), (copies,))
    connection.commit()
    for sql in put_back:
        connection.execute(sql)
    connection.execute("ANALYZE")
    connection.commit()
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()


def _put_aside(connection: sqlite3.Connection, tables: Collection[str]) -> tuple[str, ...]:
    """Drop what would follow every row of these tables, and return what makes it again: at the end it is quicker."""
    marks = ", ".join("?" * len(tables))
    held = "SELECT type, name, sql FROM sqlite_master WHERE type IN ('index', 'trigger') AND sql IS NOT NULL"
    found = connection.execute(f"{held} AND tbl_name IN ({marks})", tuple(tables)).fetchall()
    for kind, name, _sql in found:
        connection.execute(f'DROP {kind} "{name}"')
    return tuple(sql for _kind, _name, sql in found)


def _of_cards(connection: sqlite3.Connection) -> dict[str, str]:
    """Return the tables in which something belongs to a card, and which of their rows to a closed one."""
    closed = "SELECT id FROM card WHERE state = 'closed'"
    found = {"card": "t.state = 'closed'", "vehicle": "1", "customer": "1", "vehicle_spec": "1"}
    for (table,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall():
        columns = {row[1] for row in connection.execute(f"PRAGMA table_info({table})")}
        if {"id", "card_id"} <= columns and table not in SHARED:
            found.setdefault(table, f"t.card_id IN ({closed})")
    return found


def _copying(
    connection: sqlite3.Connection, table: str, only: str, of_cards: Collection[str], *, left_empty: bool
) -> str:
    """Return the statement that copies those rows; what belongs to no card is shared by all copies."""
    columns = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
    points = {row[3] for row in connection.execute(f"PRAGMA foreign_key_list({table})") if row[2] in of_cards}
    picked = ", ".join(
        "''" if left_empty and (table, c) in LONG else _column(table, c, points) for c in columns
    )
    return (
        f"WITH RECURSIVE n(k) AS (SELECT 1 UNION ALL SELECT k + 1 FROM n WHERE k < ?) "
        f"INSERT INTO {table} ({', '.join(columns)}) SELECT {picked} FROM {table} t, n "
        f"WHERE t.id < {STEP} AND {only}"
    )


def _column(table: str, column: str, points: Collection[str]) -> str:
    if column == "id" or column in points:
        return f"t.{column} + n.k * {STEP}"
    if (table, column) == ("invoice", "number"):
        return f"t.number + n.k * {STEP}"
    if (table, column) in NAMED_ONCE:
        return f"t.{column} || '-' || n.k"
    return f"t.{column}"
