"""What goes back to a supplier: parts that were not wanted, old units of exchanges; and the credit that is to come for it."""

from sqlmodel import Session, select

from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.amounts import from_minor
from shopcli.shop.buying_commands import CreditCame, SendBack, SendOldUnit
from shopcli.shop.common import get, key_of, reason_given, saved
from shopcli.shop.parts import sane_money, sane_qty
from shopcli.shop.records import Card, CardPart, Part, SentBack, Supplier
from shopcli.shop.states import CardState, MoveWhy
from shopcli.shop.stock import move_stock

PART, OLD_UNIT = "part", "old unit"


def _supplier_id(session: Session, wanted: int | None, part: Part | None) -> int | None:
    if wanted is not None:
        return key_of(get(session, Supplier, wanted, "supplier"))
    return None if part is None else part.supplier_id


def _credit_words(minor: int) -> str:
    return f"a credit of {from_minor(minor)} is to come" if minor else "no credit is expected"


def send_back(session: Session, act: Act, cmd: SendBack) -> Change:
    """Send a part from the shelf back to its supplier.

    Raises
    ------
    BadInput
        Without a reason, or without a supplier.
    Refused
        When not so many lie on the shelf.
    """
    part = get(session, Part, cmd.part_id, "part")
    qty = sane_qty(cmd.qty_milli)
    reason = reason_given(cmd.reason, "sending a part back")
    supplier_id = _supplier_id(session, cmd.supplier_id, part)
    if supplier_id is None:
        raise BadInput(f"no supplier of {part.name} is known", hint="Say to whom it goes back.")
    if qty > part.stock_milli:
        raise Refused(
            f"{part.stock_milli / 1000:g} {part.unit} {part.name} on the shelf, {qty / 1000:g} would go back",
            hint="Count the shelf first.",
        )
    supplier = get(session, Supplier, supplier_id, "supplier")
    move_stock(session, act, part, -qty, MoveWhy.RETURNED, note=f"to {supplier.name}: {reason}")
    row = SentBack(
        kind=PART,
        supplier_id=supplier_id,
        part_id=part.id,
        description=part.name,
        qty_milli=qty,
        unit=part.unit,
        credit_minor=sane_money(cmd.credit_minor, "credit"),
        reason=reason,
        sent_by=act.by,
        at=act.at,
    )
    said = (
        f"Back to {supplier.name}: {qty / 1000:g} {part.unit} {part.name}; {_credit_words(row.credit_minor)}."
    )
    return Change("sent back", key_of(saved(session, row)), said=(said,))


def send_old_unit(session: Session, act: Act, cmd: SendOldUnit) -> Change:
    """Send the old unit of an exchange to the supplier, once it is here.

    One that came after its card was closed is sent all the same; that its surcharge was billed is said.

    Raises
    ------
    Refused
        When it is no exchange, its old unit is not here, or it was sent already.
    """
    line = get(session, CardPart, cmd.card_part_id, "part line")
    if not line.surcharge_minor:
        raise Refused(f"{line.description} is no exchange unit", hint="It has no surcharge.")
    card = get(session, Card, line.card_id, "card")
    billed = line.old_unit_back_at is None and card.state == CardState.CLOSED
    if line.old_unit_back_at is None and not billed:
        raise Refused(f"the old unit of {line.description} is not here", hint="Note first that it came back.")
    if session.exec(select(SentBack.id).where(SentBack.card_part_id == line.id)).first():
        raise Refused(f"the old unit of {line.description} was sent already")
    part = session.get(Part, line.part_id) if line.part_id else None
    supplier_id = _supplier_id(session, cmd.supplier_id, part)
    supplier = session.get(Supplier, supplier_id) if supplier_id else None
    row = SentBack(
        kind=OLD_UNIT,
        supplier_id=supplier_id,
        part_id=line.part_id,
        card_part_id=line.id,
        description=line.description,
        qty_milli=line.qty_milli,
        unit=line.unit,
        credit_minor=line.surcharge_minor * line.qty_milli // 1000,
        sent_by=act.by,
        at=act.at,
    )
    to = supplier.name if supplier else "its supplier"
    said = [f"Old unit of {line.description} to {to}; {_credit_words(row.credit_minor)}."]
    if billed:
        said.append(f"Its surcharge was billed on card {card.number}: the customer is owed a credit note.")
    return Change("sent back", key_of(saved(session, row)), said=tuple(said))


def credit_came(session: Session, act: Act, cmd: CreditCame) -> Change:
    """Note the credit a supplier gave for what went back.

    Raises
    ------
    Refused
        When it came already.
    """
    row = get(session, SentBack, cmd.sent_back_id, "thing sent back")
    if row.credited_at is not None:
        raise Refused(f"the credit for {row.description} came already")
    row.credited_minor = sane_money(cmd.credit_minor, "credit")
    row.credited_at, row.credited_by = act.at, act.by
    session.add(row)
    said = [f"Credit for {row.description}: {from_minor(row.credited_minor)}."]
    if row.credited_minor != row.credit_minor:
        said.append(f"{from_minor(row.credit_minor)} was expected.")
    return Change("sent back", cmd.sent_back_id, said=tuple(said))
