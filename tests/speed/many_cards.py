"""A shop with many cards behind it: the demo's closed cards, their customers and their cars, over and over.

Copied inside the engine, so that a benchmark does not wait for the acts of twenty years.
"""

import sqlite3
from datetime import UTC, datetime
from pathlib import Path

from shopcli.store.demo import demo_shop

MORNING = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)
STEP = 1_000_000  # between the ids of one copy and the next
SHARED = {"person", "part", "counter", "journal", "alembic_version"}
NAMED_ONCE = {("card", "number"), ("vehicle", "registration")}


def many_cards(path: Path, cards: int) -> None:
    """Write a shop of about that many cards to `path`."""
    demo_shop(str(path), now=lambda: MORNING).close()
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA foreign_keys=OFF")
    closed = connection.execute("SELECT COUNT(*) FROM card WHERE state = 'closed'").fetchone()[0]
    copies = max(1, cards // closed)
    tables = [name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
    for table in tables:
        sql = _copying(connection, table)
        if sql:
            connection.execute(sql, (copies,))
    connection.commit()
    connection.execute("ANALYZE")
    connection.commit()
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()


def _copying(connection: sqlite3.Connection, table: str) -> str:
    """Return the statement that copies what belongs to closed cards, or nothing for what is shared."""
    columns = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
    points = {row[3]: row[2] for row in connection.execute(f"PRAGMA foreign_key_list({table})")}
    if table in SHARED or table.startswith("sqlite_") or "id" not in columns:
        return ""
    closed = "SELECT id FROM card WHERE state = 'closed'"
    only = {"card": "t.state = 'closed'", "vehicle": "1", "customer": "1", "vehicle_spec": "1"}.get(table)
    if only is None:
        if "card_id" not in columns:
            return ""
        only = f"t.card_id IN ({closed})"
    picked = ", ".join(_column(table, c, points) for c in columns)
    return (
        f"WITH RECURSIVE n(k) AS (SELECT 1 UNION ALL SELECT k + 1 FROM n WHERE k < ?) "
        f"INSERT INTO {table} ({', '.join(columns)}) SELECT {picked} FROM {table} t, n "
        f"WHERE t.id < {STEP} AND {only}"
    )


def _column(table: str, column: str, points: dict[str, str]) -> str:
    if column == "id" or (column in points and points[column] not in SHARED):
        return f"t.{column} + n.k * {STEP}"
    if (table, column) == ("invoice", "number"):
        return f"t.number + n.k * {STEP}"
    if (table, column) in NAMED_ONCE:
        return f"t.{column} || '-' || n.k"
    return f"t.{column}"
