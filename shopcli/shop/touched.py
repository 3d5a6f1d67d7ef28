"""What an act changes, row by row, seen while it happens: the journal keeps it, and taking an act back reads it.

Watching the session and not the rules means that no rule can forget to tell; what an act did not touch cannot
be brought back wrongly.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import event, inspect
from sqlmodel import Session

# The journal itself and the counters are moved by every act and are never taken back; what a PIN is told by is kept
# in its own row and nowhere else.
NEVER = frozenset({"journal", "counter", "pin"})
# Counts how often a record was written; it goes on counting when an act is taken back.
NOT_KEPT = frozenset({"version"})
LONGEST_KEPT = 400


@dataclass(frozen=True, slots=True)
class Row:
    """A record an act touched: what stood in it before and after.

    Without `was` the act made the record, without `now` it took it away. Of a record that is changed only the
    columns that changed are here.
    """

    table: str
    key: int
    was: Mapping[str, Any] | None
    now: Mapping[str, Any] | None

    @property
    def made(self) -> bool:
        """Whether the act made the record."""
        return self.was is None


def fingerprint(value: object) -> object:
    """Return a value as it is compared later: long texts by their digest, so that the journal stays small.

    Examples
    --------
    >>> fingerprint("16 thou"), str(fingerprint("x" * 1000))[:11]
    ('16 thou', 'sha256:44f8')
    """
    if isinstance(value, str) and len(value) > LONGEST_KEPT:
        return "sha256:" + hashlib.sha256(value.encode()).hexdigest()
    return value


@dataclass
class Touched:
    """The rows touched so far: first what stood there, last what stands there now."""

    was: dict[tuple[str, int], dict[str, Any] | None] = field(default_factory=dict)
    now: dict[tuple[str, int], dict[str, Any] | None] = field(default_factory=dict)

    def rows(self) -> tuple[Row, ...]:
        """Return what was changed in the end; what was set and set back is no change."""
        found = [_row(table, key, was, self.now[table, key]) for (table, key), was in self.was.items()]
        return tuple(row for row in found if row is not None)

    def before_flush(self, session: Session, _context: object, _instances: object) -> None:
        """Take down what stands in the records about to be written."""
        # The session keeps these in sets: in their own order two runs of the same acts write the same journal.
        for record in sorted(filter(_kept, session.dirty), key=_place):
            if session.is_modified(record):
                self._changed(record)
        for record in sorted(filter(_kept, session.deleted), key=_place):
            at = _place(record)
            self.was.setdefault(at, _image(record, committed=True))
            self.now[at] = None

    def after_flush(self, session: Session, _context: object) -> None:
        """Take down the records made, now that they have their ids."""
        for record in session.new:
            if _kept(record):
                at = _place(record)
                self.was.setdefault(at, None)
                self.now[at] = _image(record)

    def _changed(self, record: Any) -> None:
        at = _place(record)
        kept = self.was.setdefault(at, {})
        if kept is None:  # made by this very act
            self.now[at] = _image(record)
            return
        now = self.now.setdefault(at, {})
        state = inspect(record)
        for name in tuple(state.committed_state):
            history = state.attrs[name].history
            if history.deleted and name not in NOT_KEPT and now is not None:
                kept.setdefault(name, _plain(history.deleted[0]))
                now[name] = _plain(getattr(record, name))


def _row(table: str, key: int, was: dict[str, Any] | None, now: dict[str, Any] | None) -> Row | None:
    """Return what became of one record; of a changed one only what changed, of an unchanged one nothing."""
    if now is None:
        return None if was is None else Row(table, key, was, None)
    if was is None:
        return Row(table, key, None, {name: fingerprint(value) for name, value in now.items()})
    changed = sorted(name for name in now if was.get(name) != now[name])
    if not changed:
        return None
    before = {name: was.get(name) for name in changed}
    return Row(table, key, before, {name: fingerprint(now[name]) for name in changed})


def _kept(record: Any) -> bool:
    return hasattr(record, "__table__") and record.__table__.name not in NEVER and hasattr(record, "id")


def _place(record: Any) -> tuple[str, int]:
    return record.__table__.name, record.id


def _plain(value: Any) -> Any:
    return value if value is None or isinstance(value, bool | int | float) else str(value)


def _image(record: Any, *, committed: bool = False) -> dict[str, Any]:
    """Return every column of a record: as it stands in memory, or as it was when it was read."""
    state = inspect(record)
    image = {
        column.key: _plain(getattr(record, column.key))
        for column in state.mapper.column_attrs
        if column.key not in NOT_KEPT
    }
    for name in tuple(state.committed_state) if committed else ():
        history = state.attrs[name].history
        if name in image and history.deleted:
            image[name] = _plain(history.deleted[0])
    return image


@contextmanager
def watching(session: Session) -> Iterator[Touched]:
    """Watch a session while an act is carried out in it."""
    touched = Touched()
    event.listen(session, "before_flush", touched.before_flush)
    event.listen(session, "after_flush", touched.after_flush)
    try:
        yield touched
    finally:
        event.remove(session, "before_flush", touched.before_flush)
        event.remove(session, "after_flush", touched.after_flush)


def to_text(rows: tuple[Row, ...]) -> str:
    """Return rows as the journal keeps them."""
    if not rows:
        return ""
    listed = [[row.table, row.key, row.was, row.now] for row in rows]
    return json.dumps(listed, ensure_ascii=False, separators=(",", ":"))


def from_text(text: str) -> tuple[Row, ...]:
    """Return the rows the journal kept."""
    return tuple(Row(*row) for row in json.loads(text)) if text else ()
