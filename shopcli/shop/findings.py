"""Findings: what was seen and not mended outlives the paper it was written on."""

from sqlmodel import Session

from shopcli.cleantext import clean_note, required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.commands import AddFinding, SettleFinding
from shopcli.shop.common import get, key_of, reason_given, saved
from shopcli.shop.records import Card, Finding
from shopcli.shop.states import FindingState, Severity


def add_finding(session: Session, act: Act, cmd: AddFinding) -> Change:
    """Write down a fault seen and not mended."""
    card = get(session, Card, cmd.card_id, "card")
    if card.state in {"closed", "void"}:
        raise Refused(f"card {card.number} is {card.state}", hint="Open a new card for the vehicle.")
    if cmd.severity not in set(Severity):
        raise BadInput(f"'{cmd.severity}' says nothing of how bad it is", hint="Write stop, soon or watch.")
    finding = Finding(
        vehicle_id=card.vehicle_id,
        card_id=cmd.card_id,
        task_id=cmd.task_id,
        place=required_line(cmd.place, name="place", limit=80),
        what=required_line(cmd.what, name="finding", limit=400),
        severity=cmd.severity,
        takes=clean_note(cmd.takes, limit=400),
        state=FindingState.OPEN,
        seen_by=act.by,
        seen_at=act.at,
    )
    key = key_of(saved(session, finding))
    return Change("finding", key, cmd.card_id, said=(f"Finding kept: {finding.what}.",))


def settle_finding(session: Session, act: Act, cmd: SettleFinding) -> Change:
    """Say a finding was done, or that the customer declined it (with their words)."""
    finding = get(session, Finding, cmd.finding_id, "finding")
    if finding.state != FindingState.OPEN:
        raise Refused(f"that finding is {finding.state} already")
    if cmd.state not in {FindingState.DONE, FindingState.DECLINED}:
        raise BadInput(f"'{cmd.state}' is not a way to settle it", hint="Write done or declined.")
    finding.settled_for = (
        reason_given(cmd.reason, "declining") if cmd.state == FindingState.DECLINED else cmd.reason
    )
    finding.state, finding.settled_by, finding.settled_at = cmd.state, act.by, act.at
    session.add(finding)
    return Change("finding", cmd.finding_id, finding.card_id, said=(f"Finding {cmd.state}: {finding.what}.",))
