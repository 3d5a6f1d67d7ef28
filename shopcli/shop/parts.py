"""Parts on cards, from wanted to fitted. Stock moves when a part is fitted, not before."""

from datetime import date

from sqlmodel import Session, select

from shopcli.cleantext import clean_line, required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.amounts import from_minor
from shopcli.shop.common import get, key_of, open_for_work, person_name, saved
from shopcli.shop.meanwhile import settle
from shopcli.shop.money import markup
from shopcli.shop.part_commands import MovePart, PricePart, PutPart
from shopcli.shop.records import CardPart, OrderLine, Part, PurchaseOrder
from shopcli.shop.states import PART_MOVES, MoveWhy, PartState, move
from shopcli.shop.stock import move_stock

MOST_MILLI = 1_000_000
MOST_MINOR = 100_000_000


def sane_money(minor: int | None, name: str) -> int:
    """Return an amount in minor units, refusing what no shop means."""
    if minor is None or not 0 <= minor <= MOST_MINOR:
        raise BadInput(f"the {name} is out of reach", hint="Between 0 and 1,000,000.00.")
    return minor


def sane_qty(milli: int) -> int:
    """Return a quantity in thousandths, refusing nothing, less than nothing and a lorry load."""
    if not 0 < milli <= MOST_MILLI:
        raise BadInput("the quantity must be above 0 and at most 1000")
    return milli


def iso_date(text: str, name: str) -> str:
    """Return a date as ISO text, or empty.

    Raises
    ------
    BadInput
        When it is not a date.
    """
    if not text:
        return ""
    try:
        return date.fromisoformat(text).isoformat()
    except ValueError as error:
        raise BadInput(
            f"the {name} '{clean_line(text)[:40]}' is not a date", hint="Write it like 2026-12-04."
        ) from error


def part_for_kit(session: Session, name: str) -> Part | None:
    """Return the stocked part a kit line means: by number, or by the kit's name for it."""
    by_number = session.exec(select(Part).where(Part.number == name)).first()
    return by_number or session.exec(select(Part).where(Part.name == name).order_by(Part.number)).first()


def line_for(act: Act, card_id: int, part: Part | None, cmd: PutPart) -> CardPart:
    """Return the card's line for a part, priced now."""
    price = cmd.price_minor
    if price is None:
        price = part.price_minor if part else markup(cmd.cost_minor, act.settings.markup)
    return CardPart(
        card_id=card_id,
        task_id=cmd.task_id,
        part_id=part.id if part else None,
        description=part.name if part else required_line(cmd.description, name="part", limit=120),
        qty_milli=sane_qty(cmd.qty_milli),
        unit=part.unit if part else clean_line(cmd.unit, limit=8) or "pc",
        cost_minor=part.cost_minor if part else sane_money(cmd.cost_minor, "cost"),
        price_minor=0 if cmd.customers_own else sane_money(price, "price"),
        surcharge_minor=part.surcharge_minor if part and not cmd.customers_own else 0,
        vat=part.vat if part else "standard",
        customers_own=cmd.customers_own,
        state=PartState.WANTED,
    )


def put_part(session: Session, act: Act, cmd: PutPart) -> Change:
    """Put a part on a card."""
    open_for_work(session, cmd.card_id)
    part = get(session, Part, cmd.part_id, "part") if cmd.part_id else None
    line = saved(session, line_for(act, cmd.card_id, part, cmd))
    return Change("part line", key_of(line), cmd.card_id, said=(f"On the card: {line.description}.",))


def _stock(session: Session, act: Act, line: CardPart, sign: int) -> tuple[str, ...]:
    if line.part_id is None or line.customers_own:
        return ()
    part = get(session, Part, line.part_id, "part")
    why = MoveWhy.FITTED if sign < 0 else MoveWhy.RETURNED
    move_stock(session, act, part, sign * line.qty_milli, why, card_id=line.card_id)
    if part.stock_milli < 0:
        return (
            f"More than the stock knew of: {part.name} stands at {part.stock_milli / 1000:g} now. Count it.",
        )
    if sign < 0 and part.reorder_milli and part.stock_milli <= part.reorder_milli:
        return (f"{part.name}: {part.stock_milli / 1000:g} left, at the reorder point.",)
    return ()


def fit_line(session: Session, act: Act, line: CardPart, serial: str) -> tuple[str, ...]:
    """Note that a line is fitted, by whom and when, and take it from stock; return what to say of it.

    Raises
    ------
    Refused
        When the part wants its serial number and has none.
    """
    line.serial = clean_line(serial, name="serial number", limit=60) or line.serial
    part = session.get(Part, line.part_id) if line.part_id else None
    if part is not None and part.wants_serial and not line.serial:
        raise Refused(
            f"{line.description} wants its serial number",
            hint="Type what is stamped on it; where nothing is, write 'none'.",
        )
    line.fitted_by, line.fitted_at = act.by, act.at
    said = _stock(session, act, line, -1)
    if line.surcharge_minor and not line.customers_own:
        owed = from_minor(line.surcharge_minor)
        said = (*said, f"Exchange: {owed} surcharge is owed until the old unit goes back.")
    return said


def _no_longer_waits(session: Session, line: CardPart) -> tuple[str, ...]:
    """Have a line wait for no order any more; say where the goods will go that were ordered for it."""
    row = session.get(OrderLine, line.order_line_id) if line.order_line_id else None
    line.order_line_id = None
    if row is None:
        return ()
    order = get(session, PurchaseOrder, row.order_id, "order")
    return (f"It stays on order {order.number}: what comes lies on the shelf then.",)


def _rest_on_order(session: Session, line: CardPart, qty_milli: int | None) -> tuple[str, ...]:
    """Cut a line down to as many as are fitted; the others go on the order list. Say so."""
    if qty_milli is None or sane_qty(qty_milli) == line.qty_milli:
        return ()
    rest = line.qty_milli - qty_milli
    if rest < 0:
        raise BadInput(
            f"only {line.qty_milli / 1000:g} {line.unit} of {line.description} are wanted",
            hint="Put more on the card first.",
        )
    kept = line.model_dump(exclude={"id", "version", "qty_milli", "state"})
    session.add(CardPart(**kept, qty_milli=rest, state=PartState.ON_ORDER))
    line.qty_milli = qty_milli
    return (f"{qty_milli / 1000:g} fitted, {rest / 1000:g} on the order list.",)


def move_part(session: Session, act: Act, cmd: MovePart) -> Change:
    """Move a part line; fitting takes it from stock, taking back or returning puts it there.

    Raises
    ------
    BadInput
        When there is no such state, or more are to be fitted than the line has.
    Refused
        When the line cannot come from where it is to there, or its serial number is missing.
    """
    line = get(session, CardPart, cmd.card_part_id, "part line")
    open_for_work(session, line.card_id)
    if cmd.state not in set(PartState):
        raise BadInput(f"'{cmd.state}' is no state of a part", hint="One of: " + ", ".join(PartState) + ".")
    before, then = PartState(line.state), PartState(cmd.state)
    line.state = move(line.description, PART_MOVES, before, then)
    said: tuple[str, ...] = ()
    if then is PartState.FITTED:
        rest = _rest_on_order(session, line, cmd.qty_milli)
        line.task_id = cmd.task_id or line.task_id
        said = (*rest, *fit_line(session, act, line, cmd.serial))
    elif before is PartState.FITTED:
        line.fitted_by = line.fitted_at = None
        said = _stock(session, act, line, +1)
    if then is PartState.NOT_USED:
        line.reason = clean_line(cmd.reason, name="reason", limit=400)
    if before is PartState.ON_ORDER:
        said = (*said, *_no_longer_waits(session, line))
    session.add(line)
    who = f" by {person_name(session, act.by)}" if then is PartState.FITTED else ""
    was = {"state": str(before)}
    return Change(
        "part line", cmd.card_part_id, line.card_id, was, said=(f"{line.description}: {then}{who}.", *said)
    )


def price_part(session: Session, act: Act, cmd: PricePart) -> Change:
    """Give a part on a card its price; one the customer brought has none."""
    line = get(session, CardPart, cmd.card_part_id, "part line")
    open_for_work(session, line.card_id)
    if line.customers_own:
        raise Refused(f"{line.description} is the customer's own; it has no price")
    before = {"price_minor": line.price_minor, "cost_minor": line.cost_minor}
    line.price_minor = sane_money(cmd.price_minor, "price")
    if cmd.cost_minor is not None:
        line.cost_minor = sane_money(cmd.cost_minor, "cost")
    settle(session, act, cmd, line, before, subject="part line", what=line.description)
    session.add(line)
    said = f"{line.description}: {from_minor(line.price_minor)} a {line.unit}."
    return Change("part line", cmd.card_part_id, line.card_id, before, said=(said,))
