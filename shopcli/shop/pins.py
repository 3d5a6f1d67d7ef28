"""PINs: who may set one, and how a wrong one is answered. A wrong try stays in the records, whatever terminal it was at."""

from datetime import UTC, datetime

from sqlmodel import Session

from shopcli.errors import Refused, ShopError
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get
from shopcli.shop.pin_commands import ClearPin, SetPin, SignIn
from shopcli.shop.pin_hash import see_form
from shopcli.shop.records import Person, Pin
from shopcli.shop.rights import is_owner

FREE_TRIES = 5
FIRST_LOCK_S, LONGEST_LOCK_S = 60, 900


def locked_s(wrong_tries: int) -> int:
    """Return for how long after the last of so many wrong tries none is taken, [s].

    Examples
    --------
    >>> [locked_s(tries) for tries in (0, 4, 5, 6, 8, 9, 5000)]
    [0, 0, 60, 120, 480, 900, 900]
    """
    doubled = min(wrong_tries - FREE_TRIES, 10)
    return 0 if doubled < 0 else min(LONGEST_LOCK_S, FIRST_LOCK_S << doubled)


def _tried(session: Session, act: Act, person: Person, row: Pin, pin: str) -> tuple[ShopError | None, bool]:
    """Try a PIN; return the refusal, None when it is right, and whether it counts as a wrong try."""
    # After the clock was put back the wait begins anew, so that it ends, and not too early.
    row.tried_at = min(row.tried_at, act.at)
    session.add(row)
    until = row.tried_at + locked_s(row.wrong_tries)
    if row.wrong_tries >= FREE_TRIES and act.at < until:
        return _locked(act, person, row.wrong_tries, until), False
    if act.hasher.fits(row.hash, pin):
        row.wrong_tries = 0
        if act.hasher.outdated(row.hash):
            row.hash = act.hasher.made(pin)
        return None, False
    row.wrong_tries += 1
    row.tried_at = act.at
    wait = locked_s(row.wrong_tries)
    if wait:
        return _locked(act, person, row.wrong_tries, act.at + wait), True
    left = FREE_TRIES - row.wrong_tries
    tries = "one more try" if left == 1 else f"{left} more tries"
    return Refused(
        f"that is not {person.name}'s PIN", hint=f"{tries.capitalize()} before it is locked."
    ), True


def _locked(act: Act, person: Person, wrong: int, until: int) -> Refused:
    at = datetime.fromtimestamp(until, UTC).astimezone(act.settings.tz())
    return Refused(
        f"{person.name}'s PIN was wrong {wrong} times and is locked until {at:%H:%M:%S}",
        hint="Try again then; an owner can set another one.",
    )


def _refused(person_id: int, refusal: ShopError, *, counts: bool) -> Change:
    """Return a refusal that stays in the records; of a locked PIN every further try says nothing new."""
    return Change("person", person_id, after={"wrong_pin": person_id}, refusal=refusal, unwritten=not counts)


def sign_in(session: Session, act: Act, cmd: SignIn) -> Change:
    """Let somebody in who knows their PIN.

    Raises
    ------
    Refused
        When they have none, or no longer work here; a wrong PIN is counted and refused.
    """
    person = get(session, Person, cmd.person_id, "person")
    row = session.get(Pin, cmd.person_id)
    if row is None:
        raise Refused(f"{person.name} has no PIN", hint="One is set at the shop's own terminal: F8, then F2.")
    refusal, counts = _tried(session, act, person, row, cmd.pin)
    if refusal is not None:
        return _refused(cmd.person_id, refusal, counts=counts)
    return Change("person", cmd.person_id, unwritten=True)


def _see_may(session: Session, act: Act, person: Person, row: Pin | None, old: str) -> Change | None:
    """See that who acts may change a PIN; return the refusal of a wrong old one.

    Raises
    ------
    Refused
        When it is somebody else's and who acts is no owner.
    """
    if act.by != person.id:
        if not is_owner(get(session, Person, act.by, "person").role):
            raise Refused(f"that is {person.name}'s PIN", hint=f"{person.name} sets it, or an owner does.")
        return None
    if row is None:
        return None
    refusal, counts = _tried(session, act, person, row, old)
    return None if refusal is None else _refused(act.by, refusal, counts=counts)


def set_pin(session: Session, act: Act, cmd: SetPin) -> Change:
    """Give somebody a PIN, in place of the one they have.

    Raises
    ------
    BadInput
        When it is not 4 to 12 figures.
    Refused
        When it is somebody else's and who acts is no owner; a wrong old one is counted and refused.
    """
    see_form(cmd.pin)
    person, row = get(session, Person, cmd.person_id, "person"), session.get(Pin, cmd.person_id)
    if not person.active:
        raise Refused(f"{person.name} no longer works here")
    wrong = _see_may(session, act, person, row, cmd.old)
    if wrong is not None:
        return wrong
    made = Pin(
        person_id=cmd.person_id,
        hash=act.hasher.made(cmd.pin),
        set_at=act.at,
        set_by=act.by,
        wrong_tries=0,
        tried_at=0,
    )
    session.merge(made)
    return Change(
        "person",
        cmd.person_id,
        after={"pin": "set"},
        said=(f"{person.name}'s PIN is set: asked from now on.",),
    )


def clear_pin(session: Session, act: Act, cmd: ClearPin) -> Change:
    """Take somebody's PIN away.

    Raises
    ------
    Refused
        When there is none, or it is somebody else's and who acts is no owner; a wrong old one is counted and refused.
    """
    person, row = get(session, Person, cmd.person_id, "person"), session.get(Pin, cmd.person_id)
    if row is None:
        raise Refused(f"{person.name} has no PIN")
    wrong = _see_may(session, act, person, row, cmd.old)
    if wrong is not None:
        return wrong
    session.delete(row)
    said = f"{person.name} has no PIN any more: whoever chooses the name is taken for {person.name}."
    return Change("person", cmd.person_id, after={"pin": "none"}, said=(said,))
