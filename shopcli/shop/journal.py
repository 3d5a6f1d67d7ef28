"""The journal: one row an act, written in the act's own transaction.

By SQL text: no rule looks at its row again, and through the mapper it took a sixth of the whole act.
"""

import json
from collections.abc import Mapping

from sqlmodel import Session

from shopcli.shop import asked
from shopcli.shop.act import Act, Change, Done
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.command import Command
from shopcli.shop.fetch import fetcher, writer
from shopcli.shop.inverses import is_kept
from shopcli.shop.touched import Row, to_text

INTO = """
INSERT INTO journal (op, at, person_id, act, subject, subject_id, card_id, before, after, answer, touched, asked, undid)
VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"""
ANSWERED = "SELECT subject_id, answer FROM journal WHERE op = ?"


def _text(values: Mapping[str, object]) -> str:
    return asked.as_json(values) if values else ""


def done_before(session: Session, op: str) -> Done | None:
    """Return the answer of an act already carried out under `op`, so that a repeat is not a second act."""
    rows = fetcher(session)(ANSWERED, (op,))
    return Done(rows[0][0] or 0, tuple(json.loads(rows[0][1]))) if rows else None


def write(session: Session, act: Act, command: Command, change: Change, rows: tuple[Row, ...] = ()) -> None:
    """Write the journal row of an act; what it touched is kept where it may be taken back."""
    name = type(command).__name__
    row = (
        act.op,
        act.at,
        act.by or None,
        name,
        change.subject,
        change.id,
        change.card_id,
        _text(change.before),
        _text(change.after or asked.told(command)),
        asked.as_json(change.said),
        to_text(rows) if is_kept(name) else "",
        asked.to_text(command) if is_kept(name) else "",
        command.act_id if isinstance(command, TakeBack) else None,
    )
    writer(session)(INTO, (row,))
