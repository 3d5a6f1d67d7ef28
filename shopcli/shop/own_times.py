"""How long jobs take here: taken over from what was clocked, used wherever a job is expanded or priced from then on."""

from sqlmodel import Session, col, select

from shopcli.cleantext import clean_note
from shopcli.errors import BadInput, Refused, Stale
from shopcli.shop.act import Act, Change
from shopcli.shop.common import key_of, saved
from shopcli.shop.own_time_commands import SetOwnTime
from shopcli.shop.records import OwnTime
from shopcli.shop.sheets import touched
from shopcli.worklists.with_times import WHOLE

LEAST, MOST = 100, 10_000


def set_own_time(session: Session, act: Act, cmd: SetOwnTime) -> Change:
    """List a job at another time than its template does.

    Raises
    ------
    BadInput
        When the factor is out of reason.
    NotFound
        When no such template is there.
    Refused
        When it is listed so already, or who asks is not the owner.
    Stale
        When another terminal changed it since.
    """
    if not LEAST <= cmd.per_mille <= MOST:
        raise BadInput(
            f"{cmd.per_mille / WHOLE:g} times the listed time",
            hint=f"From {LEAST / WHOLE:g} to {MOST // WHOLE} times.",
        )
    title = act.library.template(cmd.template).title
    there = session.exec(
        select(OwnTime).where(OwnTime.template == cmd.template, col(OwnTime.replaced_at).is_(None))
    ).first()
    now = there.per_mille if there else WHOLE
    if cmd.before is not None and cmd.before != now:
        raise Stale(f"the expected time of '{title}' was changed meanwhile", hint="Look again, then decide.")
    if now == cmd.per_mille:
        raise Refused(f"'{title}' is listed so already", hint="Nothing has to be changed.")
    if there is not None:
        there.replaced_at, there.replaced_by = act.at, act.by
        session.add(there)
        session.flush()
    row = OwnTime(
        template=cmd.template,
        per_mille=cmd.per_mille,
        cases=max(0, cmd.cases),
        why=clean_note(cmd.why, name="reason", limit=200),
        set_by=act.by,
        set_at=act.at,
    )
    key = key_of(saved(session, row))
    touched(session)
    way = (
        "as its template says"
        if cmd.per_mille == WHOLE
        else f"at {cmd.per_mille / WHOLE:g} times its template"
    )
    said = f"'{title}' is listed {way} from now on."
    return Change("own_time", key, before={"per_mille": now}, said=(said,))
