"""The journal: one row an act, written in the act's own transaction."""

import json
from collections.abc import Mapping

from sqlmodel import Session, select

from shopcli.shop import asked
from shopcli.shop.act import Act, Change, Done
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.command import Command
from shopcli.shop.inverses import is_kept
from shopcli.shop.records import Journal
from shopcli.shop.touched import Row, to_text


def _text(values: Mapping[str, object]) -> str:
    return asked.as_json(values) if values else ""


def done_before(session: Session, op: str) -> Done | None:
    """Return the answer of an act already carried out under `op`, so that a repeat is not a second act."""
    row = session.exec(select(Journal).where(Journal.op == op)).first()
    return None if row is None else Done(row.subject_id or 0, tuple(json.loads(row.answer)))


def write(session: Session, act: Act, command: Command, change: Change, rows: tuple[Row, ...] = ()) -> None:
    """Write the journal row of an act; what it touched is kept where it may be taken back."""
    name = type(command).__name__
    session.add(
        Journal(
            op=act.op,
            at=act.at,
            person_id=act.by or None,
            act=name,
            subject=change.subject,
            subject_id=change.id,
            card_id=change.card_id,
            before=_text(change.before),
            after=_text(change.after or asked.told(command)),
            answer=asked.as_json(change.said),
            touched=to_text(rows) if is_kept(name) else "",
            asked=asked.to_text(command) if is_kept(name) else "",
            undid=command.act_id if isinstance(command, TakeBack) else None,
        )
    )
