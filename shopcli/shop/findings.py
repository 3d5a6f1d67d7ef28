"""Findings: what was seen and not mended outlives the paper it was written on, until it is done or declined."""

from sqlmodel import Session, select

from shopcli.cleantext import clean_line, clean_note, required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.bench_commands import AddFinding, SettleFinding
from shopcli.shop.common import get, key_of, reason_given, saved
from shopcli.shop.records import Card, Customer, Finding, Task, Vehicle
from shopcli.shop.states import FindingState, Severity


def add_finding(session: Session, act: Act, cmd: AddFinding) -> Change:
    """Write down a fault seen and not mended.

    Raises
    ------
    BadInput
        When place or fault is empty, or it is not said how bad it is.
    NotFound
        When the job it wants is not in the library; the hint gives the nearest.
    Refused
        When the card is over.
    """
    card = get(session, Card, cmd.card_id, "card")
    if card.state in {"closed", "void"}:
        raise Refused(f"card {card.number} is {card.state}", hint="Open a new card for the vehicle.")
    if cmd.severity not in set(Severity):
        raise BadInput(f"'{cmd.severity}' says nothing of how bad it is", hint="Write stop, soon or watch.")
    wanted = clean_line(cmd.wanted, name="job wanted", limit=80)
    if wanted:
        act.library.template(wanted)
    finding = Finding(
        vehicle_id=card.vehicle_id,
        card_id=cmd.card_id,
        task_id=cmd.task_id,
        place=required_line(cmd.place, name="place", limit=80),
        what=required_line(cmd.what, name="finding", limit=400),
        severity=cmd.severity,
        takes=clean_note(cmd.takes, limit=400),
        wanted=wanted,
        photo=clean_line(cmd.photo, name="path of the photo", limit=400),
        state=FindingState.OPEN,
        seen_by=act.by,
        seen_at=act.at,
    )
    key = key_of(saved(session, finding))
    return Change("finding", key, cmd.card_id, said=(f"Finding kept: {finding.what}.",))


def settle_finding(session: Session, act: Act, cmd: SettleFinding) -> Change:
    """Say a finding was done, or that the customer declined it: in their words, and with who said so.

    Raises
    ------
    BadInput
        When the state is neither done nor declined, or it is declined without a word.
    Refused
        When it is settled already, or a task on a card is there to do it.
    """
    finding = get(session, Finding, cmd.finding_id, "finding")
    if finding.state != FindingState.OPEN:
        raise Refused(f"that finding is {finding.state} already")
    if cmd.state not in {FindingState.DONE, FindingState.DECLINED}:
        raise BadInput(f"'{cmd.state}' is not a way to settle it", hint="Write done or declined.")
    said = f"Finding {cmd.state}: {finding.what}."
    if cmd.state == FindingState.DECLINED:
        finding.settled_for = reason_given(cmd.reason, "declining")
        finding.declined_by = clean_line(cmd.said_by, name="name", limit=80) or _owner(session, finding)
        said = f"Finding declined by {finding.declined_by}: {finding.what}."
    else:
        finding.settled_for = clean_line(cmd.reason, name="reason", limit=400)
    finding.state, finding.settled_by, finding.settled_at = cmd.state, act.by, act.at
    session.add(finding)
    return Change("finding", cmd.finding_id, finding.card_id, said=(said,))


def _owner(session: Session, finding: Finding) -> str:
    vehicle = get(session, Vehicle, finding.vehicle_id, "vehicle")
    return get(session, Customer, vehicle.customer_id, "customer").name


def put_right(session: Session, act: Act, task: Task) -> tuple[str, ...]:
    """Settle the finding a finished task was there for."""
    kind, _, number = task.key.partition(":")
    finding = session.get(Finding, int(number)) if kind == "finding" and number.isdigit() else None
    if finding is None or finding.state != FindingState.OPEN:
        return ()
    finding.state, finding.settled_by, finding.settled_at = FindingState.DONE, act.by, act.at
    finding.settled_for = f"task {key_of(task)}"
    session.add(finding)
    return (f"Finding put right: {finding.what}.",)


def take_back(session: Session, task: Task) -> None:
    """Undo what finishing a task settled: the finding is open again."""
    for finding in session.exec(select(Finding).where(Finding.settled_for == f"task {key_of(task)}")):
        finding.state, finding.settled_by, finding.settled_at, finding.settled_for = (
            FindingState.OPEN,
            None,
            None,
            "",
        )
        session.add(finding)
