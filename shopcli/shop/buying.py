"""Orders to suppliers: drafted from what is needed, changed while they are drafted, sent, given up.

What an order is for is written on the cards' lines: they wait for the order's line, and are asked for anew when it
falls away.
"""

from collections.abc import Iterable

from sqlmodel import Session, select

from shopcli.cleantext import clean_note
from shopcli.errors import Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.buying_commands import AddToOrder, CancelOrder, ChangeOrderLine, DraftOrder, SendOrder
from shopcli.shop.cards import next_number
from shopcli.shop.common import get, key_of, reason_given, same_version, saved
from shopcli.shop.fetch import fetcher
from shopcli.shop.meanwhile import settle
from shopcli.shop.needs import Need, needs
from shopcli.shop.parts import iso_date, sane_money, sane_qty
from shopcli.shop.records import CardPart, OrderLine, Part, PurchaseOrder, Supplier
from shopcli.shop.states import PURCHASE_MOVES, PartState, PurchaseState, move
from shopcli.shop.suppliers import buy_from, due_after


def named(order: PurchaseOrder) -> str:
    """Return an order as it is spoken of."""
    return f"order {order.number}"


def step(order: PurchaseOrder, then: PurchaseState) -> None:
    """Move an order to another state.

    Raises
    ------
    Refused
        When it cannot come from where it is.
    """
    order.state = move(named(order), PURCHASE_MOVES, PurchaseState(order.state), then)


def lines_of(session: Session, order: PurchaseOrder) -> list[OrderLine]:
    """Return the lines of an order as they were put on."""
    return list(session.exec(select(OrderLine).where(OrderLine.order_id == order.id).order_by(OrderLine.id)))


def still_to_come(line: OrderLine) -> int:
    """Return how much of a line is still to come, in thousandths."""
    return 0 if line.closed_for else max(0, line.qty_milli - line.in_milli)


def waiting_for(session: Session, line: OrderLine) -> list[CardPart]:
    """Return the lines of cards that wait for an order's line, as they were put on."""
    wait = CardPart.order_line_id == line.id, CardPart.state == PartState.ON_ORDER
    return list(session.exec(select(CardPart).where(*wait).order_by(CardPart.id)))


def let_go(session: Session, line: OrderLine) -> int:
    """Have what waits for a line wait for no order any more: it is on the order list again. Return how many."""
    waiting = waiting_for(session, line)
    for card_part in waiting:
        card_part.order_line_id = None
        session.add(card_part)
    return len(waiting)


def _drafted(session: Session, act: Act, supplier: Supplier) -> PurchaseOrder:
    """Return the supplier's drafted order, a new one where there is none."""
    mine = PurchaseOrder.supplier_id == supplier.id, PurchaseOrder.state == PurchaseState.DRAFTED
    order = session.exec(select(PurchaseOrder).where(*mine).order_by(PurchaseOrder.id)).first()
    if order is not None:
        return order
    number = f"P{next_number(session, 'purchase order'):05d}"
    made = PurchaseOrder(
        number=number,
        supplier_id=key_of(supplier),
        state=PurchaseState.DRAFTED,
        made_by=act.by,
        made_at=act.at,
    )
    return saved(session, made)


def _put(session: Session, order: PurchaseOrder, part: Part | None, need: Need) -> OrderLine:
    """Put something on a drafted order; more of a part that stands on it already is added to its line."""
    if part is not None:
        there = OrderLine.order_id == order.id, OrderLine.part_id == part.id, OrderLine.closed_for == ""
        line = session.exec(select(OrderLine).where(*there)).first()
        if line is not None:
            line.qty_milli = sane_qty(line.qty_milli + need.qty_milli)
            session.add(line)
            return line
    made = OrderLine(
        order_id=key_of(order),
        part_id=None if part is None else part.id,
        number=need.number,
        description=need.name,
        qty_milli=sane_qty(need.qty_milli),
        unit=need.unit,
        cost_minor=need.cost_minor,
    )
    return saved(session, made)


def _chosen(found: Iterable[Need], supplier: Supplier, only: tuple[str, ...]) -> list[Need]:
    every = {need.key: need for need in found}
    if not only:
        chosen = [need for need in every.values() if need.supplier_id == supplier.id]
        if not chosen:
            raise Refused(
                f"nothing is to be ordered from {supplier.name}",
                hint="What is on its way is not ordered twice.",
            )
        return chosen
    missing = next((key for key in only if key not in every), None)
    if missing is not None:
        raise Refused(
            f"'{missing[:40]}' is not to be ordered",
            hint="It is there or on its way; look at the list again.",
        )
    return [every[key] for key in dict.fromkeys(only)]


def draft_order(session: Session, act: Act, cmd: DraftOrder) -> Change:
    """Put what is to be ordered on the supplier's drafted order; what it is for waits for it.

    Raises
    ------
    Refused
        When nothing is to be ordered, or something named is not.
    """
    supplier = get(session, Supplier, cmd.supplier_id, "supplier")
    chosen = _chosen(needs(fetcher(session)), supplier, cmd.only)
    order = _drafted(session, act, supplier)
    if note := clean_note(cmd.note, limit=400):
        order.note = note
        session.add(order)
    for need in chosen:
        part = None if need.part_id is None else get(session, Part, need.part_id, "part")
        line = _put(session, order, part, need)
        if part is not None and part.supplier_id is None:
            buy_from(part, supplier)
            session.add(part)
        for waiting in need.lines:
            card_part = get(session, CardPart, waiting.id, "part line")
            card_part.state, card_part.order_line_id = PartState.ON_ORDER, key_of(line)
            session.add(card_part)
    names = ", ".join(f"{n.qty_milli / 1000:g} {n.unit} {n.name}" for n in chosen)
    return Change(
        "purchase order",
        key_of(order),
        after={"needs": [n.key for n in chosen]},
        said=(f"Order {order.number}, {supplier.name}: {names}.",),
    )


def add_to_order(session: Session, act: Act, cmd: AddToOrder) -> Change:
    """Put a stocked part on a supplier's drafted order by hand."""
    supplier = get(session, Supplier, cmd.supplier_id, "supplier")
    part = get(session, Part, cmd.part_id, "part")
    qty = sane_qty(cmd.qty_milli)
    order = _drafted(session, act, supplier)
    asked = Need(
        "", part.id, part.number, part.name, part.unit, qty, part.cost_minor, None, "", (), part.stock_milli
    )
    _put(session, order, part, asked)
    said = f"Order {order.number}, {supplier.name}: {qty / 1000:g} {part.unit} {part.name}."
    return Change("purchase order", key_of(order), said=(said,))


def open_line(session: Session, order_line_id: int) -> tuple[OrderLine, PurchaseOrder]:
    """Return a line and its order, both still open.

    Raises
    ------
    Refused
        When the order is over, or nothing more of the line is to come.
    """
    line = get(session, OrderLine, order_line_id, "order line")
    order = get(session, PurchaseOrder, line.order_id, "order")
    if order.state in {PurchaseState.IN, PurchaseState.CANCELLED}:
        raise Refused(f"{named(order)} is {order.state}", hint="Draft another one.")
    if line.closed_for:
        raise Refused(
            f"the rest of {line.description} is not coming: {line.closed_for}", hint="Order it again."
        )
    return line, order


def change_order_line(session: Session, act: Act, cmd: ChangeOrderLine) -> Change:
    """Change an order's line; taken off a draft, what it was for is on the order list again.

    Raises
    ------
    Refused
        When the order is over, or the quantity of a sent one would change.
    Stale
        When another terminal changed the line meanwhile.
    """
    line, order = open_line(session, cmd.order_line_id)
    if cmd.qty_milli is not None and order.state != PurchaseState.DRAFTED:
        raise Refused(
            f"{named(order)} is {order.state}; its quantities stand",
            hint="Put more on another order, or say that the rest is not coming.",
        )
    before = {"qty_milli": line.qty_milli, "cost_minor": line.cost_minor, "due": line.due}
    if cmd.due is not None:
        line.due = iso_date(cmd.due, "due date")
    if cmd.cost_minor is not None:
        line.cost_minor = sane_money(cmd.cost_minor, "cost")
    if cmd.qty_milli:
        line.qty_milli = sane_qty(cmd.qty_milli)
    if cmd.qty_milli == 0 and dict(cmd.seen).get("qty_milli") != line.qty_milli:
        same_version(line, cmd.version, line.description)
    settle(session, act, cmd, line, before, subject="order line", what=line.description)
    said = f"{line.description}: {line.qty_milli / 1000:g} {line.unit}" + (
        f", due {line.due}." if line.due else "."
    )
    if cmd.qty_milli == 0:
        line.closed_for = "taken off the order"
        let_go(session, line)
        said = f"{line.description} is off order {order.number}."
    session.add(line)
    session.flush()
    if cmd.qty_milli == 0 and not any(still_to_come(other) for other in lines_of(session, order)):
        step(order, PurchaseState.CANCELLED)
        order.cancelled_for = "nothing was left on it"
        session.add(order)
    return Change("order line", cmd.order_line_id, before=before, said=(said,))


def send(session: Session, act: Act, order: PurchaseOrder) -> None:
    """Mark an order as sent; lines without a due date get the supplier's usual one from today."""
    step(order, PurchaseState.SENT)
    order.sent_by, order.sent_at = act.by, act.at
    session.add(order)
    supplier = get(session, Supplier, order.supplier_id, "supplier")
    if supplier.usual_days:
        usual = due_after(act.settings, act.today(), supplier.usual_days).isoformat()
        for line in lines_of(session, order):
            line.due = line.due or usual
            session.add(line)


def send_order(session: Session, act: Act, cmd: SendOrder) -> Change:
    """Say that an order went to its supplier.

    Raises
    ------
    Refused
        When it was sent already, or nothing is on it.
    """
    order = get(session, PurchaseOrder, cmd.order_id, "order")
    if not any(still_to_come(line) for line in lines_of(session, order)):
        raise Refused(f"nothing is on {named(order)}", hint="Put something on it first.")
    send(session, act, order)
    dues = [line.due for line in lines_of(session, order) if still_to_come(line)]
    due = f", due {max(dues)}" if all(dues) else ""
    return Change("purchase order", cmd.order_id, said=(f"Order {order.number} is sent{due}.",))


def cancel_order(session: Session, _act: Act, cmd: CancelOrder) -> Change:
    """Give an order up; of one that is partly in, the rest.

    Raises
    ------
    BadInput
        Without a reason.
    Refused
        When it is over already.
    """
    order = get(session, PurchaseOrder, cmd.order_id, "order")
    reason = reason_given(cmd.reason, "giving an order up")
    partly = order.state == PurchaseState.PART_IN
    step(order, PurchaseState.IN if partly else PurchaseState.CANCELLED)
    order.cancelled_for = reason
    session.add(order)
    freed = 0
    for line in lines_of(session, order):
        if still_to_come(line):
            freed += let_go(session, line)
            line.closed_for = reason
            session.add(line)
    again = f" {freed} for cards to be ordered again." if freed else ""
    what = "the rest is given up" if partly else "given up"
    return Change("purchase order", cmd.order_id, said=(f"Order {order.number}: {what} ({reason}).{again}",))
