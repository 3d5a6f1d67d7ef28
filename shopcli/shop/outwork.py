"""Work sent out: what, to whom, when it is due back and whom to ring; and what it came to."""

from sqlmodel import Session

from shopcli.cleantext import clean_line, required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.amounts import from_minor
from shopcli.shop.common import get, key_of, open_for_work, reason_given, saved
from shopcli.shop.meanwhile import settle
from shopcli.shop.part_commands import AddOutwork, ChangeOutwork, DropPlanned, OutworkBack, SendPlanned
from shopcli.shop.parts import iso_date, sane_money
from shopcli.shop.records import Outwork


def _see_order_of_days(first: str, then: str, what: str) -> None:
    if first and then and then < first:
        raise BadInput(f"{what} on {then}, before it was sent on {first}", hint="Look at the dates again.")


def add_outwork(session: Session, act: Act, cmd: AddOutwork) -> Change:
    """Send work out.

    Raises
    ------
    BadInput
        When it would be due before it was sent.
    """
    open_for_work(session, cmd.card_id)
    sent = iso_date(cmd.sent, "date sent") or act.today().isoformat()
    due = iso_date(cmd.due, "date due")
    _see_order_of_days(sent, due, "due back")
    row = Outwork(
        card_id=cmd.card_id,
        what=required_line(cmd.what, name="outwork"),
        who=required_line(cmd.who, name="firm", limit=80),
        cost_minor=sane_money(cmd.cost_minor, "cost"),
        price_minor=sane_money(cmd.price_minor, "price"),
        sent=sent,
        due=due,
        ring=clean_line(cmd.ring, limit=80),
    )
    return Change("outwork", key_of(saved(session, row)), cmd.card_id, said=(f"Sent out: {row.what}.",))


def plan_outwork(session: Session, act: Act, card_id: int, what: str, price_minor: int, vat: str) -> str:
    """Put work on a card that an accepted offer has sent out; it has no firm and no day yet. Return what is said."""
    row = Outwork(card_id=card_id, what=what, who="", price_minor=price_minor, vat=vat)
    saved(session, row)
    return f"To be sent out: {what}, {from_minor(price_minor)} {act.settings.without_tax}."


def _planned(session: Session, outwork_id: int) -> Outwork:
    row = get(session, Outwork, outwork_id, "outwork")
    open_for_work(session, row.card_id)
    if row.sent or row.back:
        said = f"was sent on {row.sent}" if row.sent else "was done without"
        raise Refused(f"{row.what} {said}", hint="Only what is planned and not sent yet.")
    return row


def send_planned(session: Session, act: Act, cmd: SendPlanned) -> Change:
    """Send planned work out.

    Raises
    ------
    BadInput
        When no firm is named, or it would be due before it was sent.
    Refused
        When it was sent or dropped already.
    """
    row = _planned(session, cmd.outwork_id)
    row.who = required_line(cmd.who, name="firm", limit=80)
    row.sent = iso_date(cmd.sent, "date sent") or act.today().isoformat()
    row.due, row.ring = iso_date(cmd.due, "date due"), clean_line(cmd.ring, limit=80)
    _see_order_of_days(row.sent, row.due, "due back")
    session.add(row)
    return Change("outwork", cmd.outwork_id, row.card_id, said=(f"Sent out: {row.what}, to {row.who}.",))


def drop_planned(session: Session, act: Act, cmd: DropPlanned) -> Change:
    """Do without planned work, with a reason: it is neither sent nor billed.

    Raises
    ------
    BadInput
        When no reason is given.
    Refused
        When it was sent or dropped already.
    """
    row = _planned(session, cmd.outwork_id)
    reason = reason_given(cmd.reason, "doing without it")
    before = {"price_minor": row.price_minor}
    row.back, row.price_minor, row.cost_minor = act.today().isoformat(), 0, 0
    session.add(row)
    after = {"dropped": reason}
    return Change(
        "outwork", cmd.outwork_id, row.card_id, before, after, (f"Done without: {row.what} ({reason}).",)
    )


def change_outwork(session: Session, act: Act, cmd: ChangeOutwork) -> Change:
    """Change what is known of work that is out: another due date, another price, whom to ring.

    Raises
    ------
    Refused
        When it is back already and only its price may still change.
    Stale
        When another terminal changed it meanwhile.
    """
    row = get(session, Outwork, cmd.outwork_id, "outwork")
    open_for_work(session, row.card_id)
    if row.back and cmd.due is not None:
        raise Refused(f"{row.what} is back since {row.back}", hint="Only its cost and price can change now.")
    wanted: dict[str, object] = {
        "due": None if cmd.due is None else iso_date(cmd.due, "date due"),
        "cost_minor": None if cmd.cost_minor is None else sane_money(cmd.cost_minor, "cost"),
        "price_minor": None if cmd.price_minor is None else sane_money(cmd.price_minor, "price"),
        "ring": None if cmd.ring is None else clean_line(cmd.ring, limit=80),
    }
    changes = {name: value for name, value in wanted.items() if value is not None}
    before = {name: getattr(row, name) for name in changes}
    for name, value in changes.items():
        setattr(row, name, value)
    settle(session, act, cmd, row, before, subject="outwork", what=row.what)
    changes = {name: getattr(row, name) for name in changes}
    if row.sent:
        _see_order_of_days(row.sent, row.due, "due back")
    session.add(row)
    return Change("outwork", cmd.outwork_id, row.card_id, before, changes, (f"{row.what} changed.",))


def outwork_back(session: Session, act: Act, cmd: OutworkBack) -> Change:
    """Outwork came back.

    Raises
    ------
    BadInput
        When it would have come back before it was sent.
    Refused
        When it is back already.
    """
    row = get(session, Outwork, cmd.outwork_id, "outwork")
    open_for_work(session, row.card_id)
    if row.back:
        raise Refused(f"{row.what} is back since {row.back}", hint="Change its price where that was wrong.")
    if not row.sent:
        raise Refused(f"{row.what} was not sent yet", hint="Send it first, or say that it is done without.")
    row.back = iso_date(cmd.back, "date back") or act.today().isoformat()
    _see_order_of_days(row.sent, row.back, "back")
    if cmd.cost_minor is not None:
        row.cost_minor = sane_money(cmd.cost_minor, "cost")
    if cmd.price_minor is not None:
        row.price_minor = sane_money(cmd.price_minor, "price")
    session.add(row)
    return Change("outwork", cmd.outwork_id, row.card_id, said=(f"Back: {row.what}.",))
