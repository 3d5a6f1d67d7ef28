"""Days somebody was not here: what is paid in the week is the shop's hours less these. The owner notes them."""

from datetime import date

from sqlmodel import Session, col, select

from shopcli.cleantext import clean_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.absence_commands import NoteAbsence, WithdrawAbsence
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, person_name, saved
from shopcli.shop.hours import FARTHEST_DAYS
from shopcli.shop.parts import iso_date
from shopcli.shop.records import Absence, Person

DAY_MINUTES = 24 * 60


def note_absence(session: Session, act: Act, cmd: NoteAbsence) -> Change:
    """Note an absence.

    Raises
    ------
    BadInput
        When the days are none, run backwards or over more than a year, or the minutes are no part of a day.
    Refused
        When who asks is not the owner, or some of the days are noted already.
    """
    person = get(session, Person, cmd.person_id, "person")
    first = iso_date(clean_line(cmd.first, limit=20), "first day")
    last = iso_date(clean_line(cmd.last, limit=20), "last day") or first
    if not first or not 0 <= (date.fromisoformat(last) - date.fromisoformat(first)).days <= FARTHEST_DAYS:
        raise BadInput(
            "those are no days to be away", hint="Write the first day, then the last, within a year."
        )
    if cmd.minutes is not None and not 1 <= cmd.minutes < DAY_MINUTES:
        raise BadInput(f"{cmd.minutes} minutes of a day", hint="1 to 1439, or nothing for whole days.")
    _see_free(session, person.name, cmd.person_id, first, last)
    row = saved(
        session,
        Absence(
            person_id=cmd.person_id,
            first=first,
            last=last,
            minutes=cmd.minutes,
            why=clean_line(cmd.why, name="reason", limit=120),
            noted_by=act.by,
            noted_at=act.at,
        ),
    )
    days = first if first == last else f"{first} to {last}"
    return Change("absence", key_of(row), said=(f"{person.name} is noted as away: {days}.",))


def _see_free(session: Session, name: str, person_id: int, first: str, last: str) -> None:
    query = select(Absence).where(
        Absence.person_id == person_id,
        col(Absence.withdrawn_at).is_(None),
        Absence.first <= last,
        Absence.last >= first,
    )
    other = session.exec(query).first()
    if other is not None:
        raise Refused(
            f"{name} is noted as away already: {other.first} to {other.last}", hint="Withdraw that one first."
        )


def withdraw_absence(session: Session, act: Act, cmd: WithdrawAbsence) -> Change:
    """Say that an absence was none; it stays in the records, withdrawn.

    Raises
    ------
    NotFound
        When there is no such absence.
    Refused
        When who asks is not the owner, or it was withdrawn before.
    """
    row = get(session, Absence, cmd.absence_id, "absence")
    if row.withdrawn_at is not None:
        raise Refused("that absence was withdrawn before")
    row.withdrawn_at, row.withdrawn_by = act.at, act.by
    session.add(row)
    said = f"{person_name(session, row.person_id)} was not away: {row.first} to {row.last}."
    return Change("absence", cmd.absence_id, said=(said,))
