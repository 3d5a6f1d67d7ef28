"""What goes on a bill besides work, parts and outwork, and what is taken off it."""

from sqlmodel import Session, select

from shopcli.cleantext import required_line
from shopcli.errors import BadInput, NotFound, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.amounts import from_minor
from shopcli.shop.common import get, key_of, open_for_work, reason_given, saved
from shopcli.shop.fetch import fetcher
from shopcli.shop.money_commands import AddToBill, DropDiscount, GiveDiscount, TakeOffBill
from shopcli.shop.parts import sane_money
from shopcli.shop.pricing import bill_lines
from shopcli.shop.records import BillItem, Discount

KINDS = ("sundry", "fee")
MOST_MILLI = 10_000_000
WHOLE = 10_000  # hundredths of a per cent


def add_to_bill(session: Session, act: Act, cmd: AddToBill) -> Change:
    """Put a sundry or a fee on the bill of an open card.

    Raises
    ------
    BadInput
        On another kind, a quantity or price that cannot be, or a rate the settings do not have.
    Refused
        When the card is held or closed.
    """
    card = open_for_work(session, cmd.card_id)
    if cmd.kind not in KINDS:
        raise BadInput(f"'{cmd.kind}' does not go on a bill by hand", hint="Write sundry or fee.")
    if not cmd.qty_milli or abs(cmd.qty_milli) > MOST_MILLI:
        raise BadInput("the quantity cannot be", hint="More than nothing, below 10,000.")
    row = saved(
        session,
        BillItem(
            card_id=key_of(card),
            kind=cmd.kind,
            description=required_line(cmd.description, name="what it is for", limit=120),
            qty_milli=cmd.qty_milli,
            price_minor=sane_money(cmd.price_minor, "price"),
            vat=act.settings.vat(cmd.vat or act.settings.labour_vat).name,
            added_by=act.by,
            added_at=act.at,
        ),
    )
    said = f"On the bill: {row.description}, {from_minor(row.price_minor)}."
    return Change("bill_item", key_of(row), cmd.card_id, said=(said,))


def take_off_bill(session: Session, act: Act, cmd: TakeOffBill) -> Change:
    """Take a sundry or fee off the bill, with any discount on it."""
    row = get(session, BillItem, cmd.item_id, "line of that kind")
    open_for_work(session, row.card_id)
    if row.removed_at is not None:
        raise Refused(f"{row.description} is off the bill already")
    row.removed_at = act.at
    session.add(row)
    for one in _standing(session, row.card_id, f"I{key_of(row)}"):
        one.removed_at = act.at
        session.add(one)
    return Change("bill_item", cmd.item_id, row.card_id, said=(f"Off the bill: {row.description}.",))


def _standing(session: Session, card_id: int, line: str) -> list[Discount]:
    sql = select(Discount).where(
        Discount.card_id == card_id,
        Discount.line == line,
        Discount.removed_at == None,  # noqa: E711 - SQL asks for it
    )
    return list(session.exec(sql))


def give_discount(session: Session, act: Act, cmd: GiveDiscount) -> Change:
    """Take something off a line or the whole; one discount a line, the last one counts.

    Raises
    ------
    BadInput
        When there is no reason, or the sum or the per cent cannot be.
    NotFound
        When the bill has no such line.
    Refused
        When the card is held or closed, or a mechanic gives it.
    """
    card = open_for_work(session, cmd.card_id)
    if (cmd.amount_minor is None) == (cmd.rate_hundredths is None):
        raise BadInput("a discount is a sum or a per cent", hint="Write 10 or 5%.")
    if cmd.amount_minor is not None and sane_money(cmd.amount_minor, "discount") == 0:
        raise BadInput("a discount of nothing")
    if cmd.rate_hundredths is not None and not 0 < cmd.rate_hundredths <= WHOLE:
        raise BadInput("the per cent is not above 0 and up to 100")
    reason = reason_given(cmd.reason, "a discount")
    if cmd.line:
        if cmd.charge:
            raise BadInput("a charge goes on the whole bill", hint="Put a sundry on the bill instead.")
        lines = bill_lines(fetcher(session), cmd.card_id, act.settings, act.at)
        if all(line.id != cmd.line for line in lines):
            raise NotFound(
                f"card {card.number}'s bill has no line '{cmd.line[:20]}'",
                hint="It has: " + ", ".join(line.id for line in lines) + ".",
            )
        for one in _standing(session, cmd.card_id, cmd.line):
            one.removed_at = act.at
            session.add(one)
    row = saved(
        session,
        Discount(
            card_id=cmd.card_id,
            line=cmd.line,
            charge=cmd.charge,
            amount_minor=cmd.amount_minor,
            rate_hundredths=cmd.rate_hundredths,
            reason=reason,
            given_by=act.by,
            given_at=act.at,
        ),
    )
    what = (
        f"{(cmd.rate_hundredths or 0) / 100:g} %"
        if cmd.amount_minor is None
        else from_minor(cmd.amount_minor)
    )
    where = f"line {cmd.line}" if cmd.line else "the whole bill"
    said = f"{what} put on {where}: {reason}." if cmd.charge else f"{what} off {where}: {reason}."
    return Change("discount", key_of(row), cmd.card_id, said=(said,))


def drop_discount(session: Session, act: Act, cmd: DropDiscount) -> Change:
    """Take a discount back."""
    row = get(session, Discount, cmd.discount_id, "discount")
    open_for_work(session, row.card_id)
    if row.removed_at is not None:
        raise Refused("that discount was taken back already")
    row.removed_at = act.at
    session.add(row)
    return Change("discount", cmd.discount_id, row.card_id, said=(f"Not given any more: {row.reason}.",))
