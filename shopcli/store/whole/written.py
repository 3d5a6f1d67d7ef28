"""A whole shop as lines of JSON: one row a line, the version first, the count and a digest of all lines last.

The same records give the same lines on either engine, so two shops are equal when their files are. What the database
keeps by itself (the words one finds by) is not written: it comes back with the rows. Photos are files beside the
records and are copied as files.
"""

import hashlib
import json
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from itertools import chain
from typing import Any

from sqlalchemy import Connection, create_engine, event, insert, select, text, update

from shopcli.errors import BadInput, Refused
from shopcli.store.engine import open_engine
from shopcli.store.place import Place
from shopcli.store.schema import HEAD, bring_up
from shopcli.store.trouble import told
from shopcli.store.whole.tables import Ordered, in_order

FORM = 1
AT_ONCE = 1000


def lines(place: Place) -> Iterator[str]:
    """Yield the lines of a shop's records as they are at one moment, each without its end of line."""
    with told(), _one_moment(place) as connection:
        yield from ending(_rows(connection))


def ending(rows: Iterable[str]) -> Iterator[str]:
    """Yield a head, the rows, and what proves them complete."""
    digest = hashlib.sha256()
    count = -1  # the head is no row
    head = json.dumps({"records": {"form": FORM, "version": HEAD}})
    for line in chain((head,), rows):
        digest.update(line.encode() + b"\n")
        count += 1
        yield line
    yield json.dumps({"end": {"rows": count, "sha256": digest.hexdigest()}})


@contextmanager
def _one_moment(place: Place) -> Iterator[Connection]:
    """Open a connection to which nothing changes while it reads."""
    if place.file is None:
        engine = create_engine(place.url, isolation_level="REPEATABLE READ")
    else:
        engine = create_engine(place.url)

        @event.listens_for(engine, "begin")
        def _on_begin(connection: Any) -> None:
            connection.exec_driver_sql("BEGIN")

    try:
        with engine.connect() as connection:
            yield connection
    finally:
        engine.dispose()


def _rows(connection: Connection) -> Iterator[str]:
    for ordered in in_order():
        table = ordered.table
        chosen = select(table).order_by(*table.primary_key.columns)
        for row in connection.execution_options(yield_per=AT_ONCE).execute(chosen).mappings():
            yield json.dumps({table.name: dict(row)}, ensure_ascii=False)


def read_in(place: Place, source: Iterable[str]) -> int:
    """Read lines into a place without records, all or nothing, and return how many rows there are.

    Raises
    ------
    BadInput
        When the lines are of another version, damaged or not complete; nothing was written then.
    Refused
        When there are records already.
    StoreTrouble
        When the place cannot be written.
    """
    bring_up(place)
    with told():
        engine = open_engine(place)
        try:
            with engine.begin() as connection:
                _must_be_empty(connection)
                count = _Reading(connection).all(source)
                _after(connection)
                return count
        finally:
            engine.dispose()


def _must_be_empty(connection: Connection) -> None:
    for ordered in in_order():
        if connection.execute(select(text("1")).select_from(ordered.table).limit(1)).first():
            raise Refused(
                f"there are records already ({ordered.table.name}): a shop is read into an empty place only",
                hint="Name a new file with --db, or an empty database.",
            )


class _Reading:
    """Takes lines one after the other and writes many rows at once."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._tables = {ordered.table.name: ordered for ordered in in_order()}
        self._kept: list[dict[str, object]] = []
        self._of = ""
        self._later: list[tuple[Ordered, dict[str, object]]] = []

    def all(self, source: Iterable[str]) -> int:
        """Write every row, and prove that none is missing or changed."""
        digest, number = hashlib.sha256(), 0
        for number, raw in enumerate(source, 1):
            line = raw.rstrip("\r\n")
            said = _object(line, number)
            if "end" in said:
                wanted = {"rows": number - 2, "sha256": digest.hexdigest()}
                if said["end"] != wanted:
                    raise BadInput(
                        f"the file is damaged: it says {said['end']!r} and holds {wanted!r}",
                        hint="Take another copy; nothing was read in.",
                    )
                self._write()
                self._fill_in()
                return number - 2
            digest.update(line.encode() + b"\n")
            if number == 1:
                _must_be_ours(said)
            else:
                self._take(said, number)
        raise BadInput(
            f"the file ends too early, after {number} lines",
            hint="Take another copy; nothing was read in.",
        )

    def _take(self, said: dict[str, Any], number: int) -> None:
        name, row = next(iter(said.items()), ("", None))
        ordered = self._tables.get(name)
        if len(said) != 1 or ordered is None or not isinstance(row, dict):
            raise BadInput(f"line {number} holds no row of the records: {name[:40]!r}")
        if set(row) != set(ordered.table.columns.keys()):
            odd = sorted(set(row) ^ set(ordered.table.columns.keys()))
            raise BadInput(f"line {number} has other columns than {name} has: {', '.join(odd)[:80]}")
        if name != self._of or len(self._kept) == AT_ONCE:
            self._write()
            self._of = name
        later = {column: row[column] for column in ordered.waiting if row[column] is not None}
        later |= {c: row[c] for c in ordered.own if row[c] is not None and row[c] > row["id"]}
        if later:
            self._later.append((ordered, {"id": row["id"], **later}))
            row = {**row, **dict.fromkeys(later)}
        self._kept.append(row)

    def _write(self) -> None:
        if self._kept:
            self._connection.execute(insert(self._tables[self._of].table), self._kept)
            self._kept = []

    def _fill_in(self) -> None:
        for ordered, columns in self._later:
            key = columns.pop("id")
            # The bare table: the mapper would count the change of a version nobody made.
            table = ordered.table
            self._connection.execute(update(table).where(table.c.id == key).values(columns))


def _object(line: str, number: int) -> dict[str, Any]:
    try:
        said = json.loads(line)
    except ValueError:
        raise BadInput(f"line {number} is no line of a written-out shop") from None
    if not isinstance(said, dict):
        raise BadInput(f"line {number} is no line of a written-out shop")
    return said


def _must_be_ours(said: dict[str, Any]) -> None:
    head = said.get("records")
    if not isinstance(head, dict) or "version" not in head:
        raise BadInput("this is not a shop written out by this program")
    if (head.get("form"), head["version"]) != (FORM, HEAD):
        raise BadInput(
            f"the file was written by another version ({head['version']}); this program reads {HEAD}",
            hint="Write it out anew with this version of the program.",
        )


def _after(connection: Connection) -> None:
    """A server gives the next key from a counter of its own, which has to stand behind the keys read in."""
    if connection.dialect.name == "sqlite":
        return
    for ordered in in_order():
        table = ordered.table
        if "id" in table.c:
            connection.execute(
                text(
                    f"SELECT setval(pg_get_serial_sequence('{table.name}', 'id'), "
                    f"GREATEST((SELECT COALESCE(MAX(id), 0) FROM {table.name}), 1), "
                    f"EXISTS (SELECT 1 FROM {table.name}))"
                )
            )
