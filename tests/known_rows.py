"""Rows kept until they are written straight into the tables, and the lines of a bill as its body has them."""

import sqlite3
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

ZONE = ZoneInfo("Europe/London")
LABOUR, UNIT, VAT = 6_000, 6, 20  # pence an hour, minutes, per cent: those of the tests' settings
Line = dict[str, str]


class Rows:
    """Rows by table. What is not told of a row is nothing, as its table has it."""

    def __init__(self) -> None:
        self.rows: dict[str, list[tuple[object, ...]]] = {}
        self.columns: dict[str, tuple[str, ...]] = {}
        self.counts: dict[str, int] = {}

    def next(self, table: str) -> int:
        """Return the next id of a table."""
        self.counts[table] = self.counts.get(table, 0) + 1
        return self.counts[table]

    def add(self, table: str, **columns: object) -> int:
        """Keep a row under the next id, and return that."""
        key = self.next(table)
        self.keep(table, id=key, **columns)
        return key

    def keep(self, table: str, **columns: object) -> None:
        """Keep a row; what is not told of it is nothing, as its table has it."""
        assert self.columns.setdefault(table, tuple(columns)) == tuple(columns)
        self.rows.setdefault(table, []).append(tuple(columns.values()))

    def write(self, file: Path) -> None:
        """Write every row into an empty shop's records, and have the week reckoned anew at the next opening."""
        with sqlite3.connect(file) as connection:
            connection.execute("PRAGMA foreign_keys=OFF")
            connection.execute("PRAGMA synchronous=OFF")
            for table in self.rows:
                sql, filled = self.filled(connection, table)
                connection.executemany(sql, filled)
            connection.execute("DELETE FROM week_zone")
            connection.execute("ANALYZE")

    def filled(self, connection: sqlite3.Connection, table: str) -> tuple[str, Iterator[tuple[object, ...]]]:
        """Return the statement and the whole rows of a table."""
        names = self.columns[table]
        plain = _plain(connection, table, names)
        marks = ", ".join("?" * (len(names) + len(plain)))
        sql = f"INSERT INTO {table} ({', '.join((*names, *plain))}) VALUES ({marks})"
        return sql, ((*row, *plain.values()) for row in self.rows[table])


def _plain(connection: sqlite3.Connection, table: str, told: Sequence[str]) -> dict[str, object]:
    """Return the columns that may not be nothing and were not told, each with what stands for nothing there."""
    found: dict[str, object] = {}
    for _nth, name, kind, wanted, default, _key in connection.execute(f"PRAGMA table_info({table})"):
        if wanted and default is None and name not in told:
            plain = "" if "CHAR" in kind.upper() else False if kind == "BOOLEAN" else 0
            found[name] = 1 if name == "version" else plain
    return found


def line(key: str, kind: str, qty: str, unit: str, net: int) -> Line:
    """Return a line of a bill."""
    return {
        "id": key,
        "kind": kind,
        "qty": qty,
        "unit": unit,
        "net": pence(net),
        "allowance": "0",
        "charge": "0",
    }


def labour_line(task: int, seconds: int) -> Line:
    """Return the line of a task as it is billed, started units of six minutes; nothing for no unit."""
    units = -(-(seconds // 60) // UNIT)
    return (
        line(f"L{task}", "labour", f"{units * UNIT / 60:.1f}", "h", units * UNIT * LABOUR // 60)
        if units
        else {}
    )


def pence(amount: int) -> str:
    """Return pence as a bill writes them."""
    return f"{amount // 100}.{amount % 100:02d}"


def minor(text: str) -> int:
    """Return what a bill writes, in pence."""
    return int(text.replace(".", ""))


def week_of(seconds: int | None) -> str:
    """Return the ISO week of a moment in the shop's zone."""
    if seconds is None:
        return ""
    year, week, _day = datetime.fromtimestamp(seconds, ZONE).isocalendar()
    return f"{year}-W{week:02d}"
