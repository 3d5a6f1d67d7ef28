"""What an editing rule does with what was seen: puts both people's changes together, or refuses with both values."""

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from sqlmodel import Session

from shopcli.clash import ChangedMeanwhile, Clash
from shopcli.errors import Stale
from shopcli.present import clock_time, moment
from shopcli.shop.act import Act
from shopcli.shop.command import Command
from shopcli.shop.fetch import fetcher
from shopcli.shop.seen import TOGETHER, WORDS, in_words, stored
from shopcli.shop.touched import from_text

LOOKED_AT = 200
DONE_TO_IT = """
SELECT j.at, COALESCE(p.name, ''), j.before, j.after, j.touched FROM journal j LEFT JOIN person p ON p.id = j.person_id
WHERE j.subject_id = ? AND j.subject = ? ORDER BY j.id DESC LIMIT ?"""
FOLLOWS = frozenset({"authority_at"})  # set by the rule beside what is asked for


def settle(
    session: Session,
    act: Act,
    cmd: Command,
    row: Any,
    before: Mapping[str, object],
    *,
    subject: str,
    what: str,
) -> None:
    """See that a record's new values, already set, undo nothing somebody else did since they were seen.

    `before` holds what stood there when the rule began. What was only seen and not changed is left as the others have
    it.

    Raises
    ------
    ChangedMeanwhile
        When somebody else gave one of the fields another value.
    Stale
        When they may have, but nothing says what was seen.
    """
    seen = dict(getattr(cmd, "seen", ()))
    if getattr(cmd, "version", row.version) == row.version and not (seen and not hasattr(cmd, "version")):
        return
    mine = {name: getattr(row, name) for name in before}
    changed = [name for name, value in mine.items() if stored(value) != stored(before[name])]
    if hasattr(cmd, "version") and any(name not in seen for name in changed if name not in FOLLOWS):
        raise Stale(
            f"{what} was changed at another terminal while you were writing",
            hint="Look at it again; what you typed is still in the form.",
        )
    moved = {name for name in seen if name in before and stored(before[name]) != seen[name]}
    group = {name for names in TOGETHER if names & moved for name in names}
    clashing = []
    for name in changed:
        if name in seen and stored(mine[name]) == seen[name] and name not in group:
            setattr(row, name, before[name])
        elif name in moved or (name in group and name not in FOLLOWS):
            clashing.append(name)
    if clashing:
        with session.no_autoflush:
            session.expire(row)
            clashes = [
                _clash(session, act, row, subject, name, mine[name], before[name]) for name in clashing
            ]
        raise ChangedMeanwhile(what, clashes)


def _clash(
    session: Session, act: Act, row: Any, subject: str, name: str, mine: object, theirs: object
) -> Clash:
    zone, currency = act.settings.tz(), act.settings.currency
    who, at = _by(session, row, subject, name)
    then = datetime.fromtimestamp(at, UTC)
    today = then.astimezone(zone).date() == act.today()
    return Clash(
        name,
        WORDS.get(name, name.replace("_", " ")),
        in_words(name, mine, currency, zone),
        in_words(name, theirs, currency, zone),
        who,
        (clock_time(then, zone) if today else moment(then, zone)) if at else "",
        stored(theirs),
    )


def _by(session: Session, row: Any, subject: str, name: str) -> tuple[str, int]:
    """Return who gave a field the value it has, and when; no name where the journal does not say."""
    for at, who, before, after, touched in fetcher(session)(DONE_TO_IT, (row.id, subject, LOOKED_AT)):
        kept = [r for r in from_text(touched) if (r.table, r.key) == (row.__table__.name, row.id)]
        if any(name in (r.was or {}) for r in kept):
            return str(who), int(at)
        was, then = _read(before), _read(after)
        if not kept and name in was and (name not in then or was[name] != then[name]):
            return str(who), int(at)
    return "", 0


def _read(text: str) -> dict[str, object]:
    found = json.loads(text) if text else {}
    return found if isinstance(found, dict) else {}
