"""Taking an act back: what its rows were before is brought back, unless something was built on it since.

Nothing is swept away: readings, numbers and tags are struck as a later one would strike them, and the journal
keeps both the act and that it was taken back.
"""

import json
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Table
from sqlmodel import Session, SQLModel, select

from shopcli.errors import NotFound, Refused
from shopcli.shop import records
from shopcli.shop.act import Act, Change
from shopcli.shop.builds_on import QUESTIONS, Kept, later_touching
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.common import get
from shopcli.shop.fetch import fetcher
from shopcli.shop.inverses import ADDITIVE, FINAL, INVERSES, short
from shopcli.shop.records import Card, Journal, Person
from shopcli.shop.roles import see_may_do
from shopcli.shop.stock import contrary_move, price_before
from shopcli.shop.touched import Row, fingerprint, from_text
from shopcli.shop.undo_words import effects

WHY = "the act was taken back"
# Records that are struck by an act of their own kind stay, struck; every other one an act made goes with it.
STRUCK: dict[str, Callable[[Act], dict[str, object]]] = {
    "reading": lambda act: {"struck_at": act.at},
    "vehicle_spec": lambda act: {"replaced_at": act.at, "replaced_by": act.by, "replaced_for": WHY},
    "wish": lambda act: {"given_back_at": act.at, "given_back_by": act.by},
    "tag": lambda act: {"lifted_at": act.at, "lifted_by": act.by, "lifted_for": WHY},
    "purchase_order": lambda _act: {"state": "cancelled", "cancelled_for": WHY},
    "order_line": lambda _act: {"closed_for": WHY},
}
# Records that can neither go nor change are answered by one that says the contrary.
ANSWERED: dict[str, Callable[[Session, Act, Any], SQLModel | None]] = {
    "stock_move": contrary_move,
    "price_change": price_before,
}
# What happens after a card was closed changes nothing on its bill, and may be taken back there.
AFTER_CLOSING = frozenset({"HandOver", "NoteCall"})
# Keys of the closing check that a waiver may name a record by.
WAIVED_AS = {"finding": ("finding",), "owed": ("owed",), "card_part": ("part", "price"), "tag": ("tag",)}


def _classes() -> dict[str, type[SQLModel]]:
    found = {}
    for kind in vars(records).values():
        table = getattr(kind, "__table__", None)
        if isinstance(table, Table):
            found[table.name] = kind
    return found


def kept_act(session: Session, act_id: int) -> tuple[Journal, Kept]:
    """Return an act as the journal kept it.

    Raises
    ------
    NotFound
        When there is no such act.
    """
    row = session.get(Journal, act_id)
    if row is None:
        raise NotFound(f"there is no act {act_id} in the journal")
    kept = Kept(
        act_id,
        row.act,
        row.person_id or 0,
        row.at,
        row.card_id,
        row.subject_id,
        from_text(row.touched),
    )
    return row, kept


def words_of(session: Session, act: Act, act_id: int) -> str:
    """Return an act in words: what was answered to it, by whom and when."""
    row = get(session, Journal, act_id, "act")
    who = session.get(Person, row.person_id) if row.person_id else None
    when = datetime.fromtimestamp(row.at, UTC).astimezone(act.settings.tz())
    said = " ".join(json.loads(row.answer)[:1]) or short(row.act)
    return f"'{said.rstrip('.')}' by {who.name if who else 'nobody'} at {when:%H:%M}"


def see_may_be_taken_back(session: Session, act: Act, row: Journal) -> None:
    """Refuse what is final, what is another person's, an earlier day's, or taken back already.

    Raises
    ------
    Refused
        With what to do instead.
    """
    if final := FINAL.get(row.act):
        raise Refused(f"this cannot be taken back: {final.why}", hint=final.instead)
    if row.act not in INVERSES or not row.touched:
        raise Refused("this cannot be taken back", hint="Put it right by doing the contrary.")
    if row.person_id != act.by:
        raise Refused("that was somebody else's act", hint="They take it back themselves: F8, then u.")
    see_may_do(session, act.by, row.act)
    zone = act.settings.tz()
    if datetime.fromtimestamp(row.at, UTC).astimezone(zone).date() != act.today():
        raise Refused(
            "that was not done today; an act is taken back on its own day only",
            hint="Go to the task and press u there, or correct the time or the number with a reason.",
        )
    if session.exec(select(Journal.id).where(Journal.undid == row.id)).first():
        raise Refused("that was taken back already")


def _see_cards_open(session: Session, kept: Kept, rows: Sequence[tuple[Row, Any]]) -> None:
    cards = {kept.card_id} | {getattr(record, "card_id", None) for _row, record in rows}
    for card_id in cards - {None}:
        card = get(session, Card, int(card_id or 0), "card")
        if kept.act in AFTER_CLOSING:
            continue
        if card.state == "closed" or (card.state == "void" and kept.act != "MoveCard"):
            raise Refused(
                f"card {card.number} is {card.state}; nothing on it can change", hint="Open a new card."
            )
        if card.state == "held" and kept.act != "MoveCard":
            raise Refused(f"card {card.number} is held: {card.held_for}", hint="Take it in hand first.")


def _refuse_for(session: Session, act: Act, later: int | None) -> None:
    what = words_of(session, act, later) if later is not None else "something"
    raise Refused(f"{what} was built on it since", hint="Take that back first; nothing was changed.")


def _see_nothing_built_on_it(session: Session, act: Act, kept: Kept, rows: Sequence[tuple[Row, Any]]) -> None:
    fetch = fetcher(session)
    question = INVERSES[kept.act].seen_by
    if question and (later := QUESTIONS[question](fetch, kept)) is not None:
        _refuse_for(session, act, later)
    for row, record in rows:
        if record is None or not _stands(row, record):
            _refuse_for(session, act, later_touching(fetch, kept, [(row.table, row.key)]))
    _see_nothing_refers(session, act, kept)


def _stands(row: Row, record: Any) -> bool:
    for name, value in (row.now or {}).items():
        if (row.table, name) in ADDITIVE or not hasattr(record, name) or _side_effect(row, name):
            continue
        now = getattr(record, name)
        plain = now if now is None or isinstance(now, bool | int | float) else str(now)
        if fingerprint(plain) != value:
            return False
    return True


def _side_effect(row: Row, name: str) -> bool:
    """Whether a column moves along with whatever is done: a booked or checked card is in hand from the first act on."""
    return row.table == "card" and not row.made and name in {"state", "checked_at", "checked_by"}


def _see_nothing_refers(session: Session, act: Act, kept: Kept) -> None:
    """Refuse while a record made later hangs on one that would go."""
    fetch, mine = fetcher(session), {(r.table, r.key) for r in kept.rows}
    for row in kept.rows:
        if not row.made or row.table in STRUCK:
            continue
        for table in SQLModel.metadata.tables.values():
            for foreign in table.foreign_keys:
                if foreign.column.table.name != row.table or foreign.parent.table.name == "journal":
                    continue
                sql = f"SELECT id FROM {table.name} WHERE {foreign.parent.name} = ?"
                others = [(table.name, k) for (k,) in fetch(sql, (row.key,)) if (table.name, k) not in mine]
                if others:
                    _refuse_for(session, act, later_touching(fetch, kept, others))
        for kind in WAIVED_AS.get(row.table, ()):
            sql = "SELECT id FROM waiver WHERE hindrance = ?"
            waivers = [("waiver", key) for (key,) in fetch(sql, (f"{kind}:{row.key}",))]
            if waivers:
                _refuse_for(session, act, later_touching(fetch, kept, waivers))


def _bring_back(session: Session, act: Act, kept: Kept, rows: Sequence[tuple[Row, Any]]) -> None:
    """Bring the rows back: first what was made goes, then what was changed or gone comes again.

    One open clock a person, one standing number a name: the database holds that at every moment.
    """
    for row, record in rows:
        if row.made:
            _unmake(session, act, row, record)
    session.flush()
    stays_in_hand = kept.act != "MoveCard" and _others_since(session, kept)
    for row, record in rows:
        if not row.made:
            session.add(_as_it_was(row, record, stays_in_hand=stays_in_hand))
    session.flush()


def _unmake(session: Session, act: Act, row: Row, record: Any) -> None:
    if row.table in ANSWERED:
        answer = ANSWERED[row.table](session, act, record)
        if answer is not None:
            session.add(answer)
        return
    strike = STRUCK.get(row.table)
    if strike is None:
        session.delete(record)
        return
    for name, value in strike(act).items():
        setattr(record, name, value)
    session.add(record)


def _as_it_was(row: Row, record: Any, *, stays_in_hand: bool) -> Any:
    was = dict(row.was or {})
    if row.now is None:
        image = was if record is None else {**was, "id": None}  # its id may be taken by now
        return _classes()[row.table](**image)
    for name, value in was.items():
        if stays_in_hand and _side_effect(row, name):
            continue
        if (row.table, name) in ADDITIVE:
            setattr(record, name, getattr(record, name) - row.now[name] + (value or 0))
        else:
            setattr(record, name, value)
    return record


def _others_since(session: Session, kept: Kept) -> bool:
    """Whether the card was worked on since by acts that stand: then it stays in hand."""
    fetch = fetcher(session)
    return bool(
        fetch(
            "SELECT 1 FROM journal j WHERE j.card_id = ? AND j.id > ? AND j.undid IS NULL AND j.touched <> ''"
            " AND NOT EXISTS (SELECT 1 FROM journal u WHERE u.undid = j.id) LIMIT 1",
            (kept.card_id, kept.id),
        )
    )


def take_back(session: Session, act: Act, cmd: TakeBack) -> Change:
    """Take an act of today back.

    Raises
    ------
    Refused
        When it is final, not one's own, not of today, taken back already, or something was built on it since.
    """
    journal, kept = kept_act(session, cmd.act_id)
    see_may_be_taken_back(session, act, journal)
    classes = _classes()
    rows = [(row, session.get(classes[row.table], row.key)) for row in kept.rows]
    gone = [(row, record) for row, record in rows if row.now is not None]
    _see_cards_open(session, kept, [(r, x) for r, x in rows if x is not None])
    _see_nothing_built_on_it(session, act, kept, gone)
    said = effects(fetcher(session), kept.rows, act.settings.tz(), act.at)
    what = " ".join(json.loads(journal.answer)[:1]) or short(kept.act)
    _bring_back(session, act, kept, rows)
    before = {"act": kept.act, "at": kept.at, "said": what}
    return Change(
        "act",
        cmd.act_id,
        kept.card_id,
        before,
        {"taken_back": cmd.act_id, "effects": list(said)},
        (f"Taken back: {what}", *said),
    )
