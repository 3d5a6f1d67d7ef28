"""Goods in: counted against a line of an order, to the shelf, and to the cards that wait, which go on when nothing is missing."""

from sqlmodel import Session, col, select

from shopcli.errors import BadInput
from shopcli.shop.act import Act, Change
from shopcli.shop.amounts import from_minor
from shopcli.shop.buying import let_go, lines_of, open_line, send, step, still_to_come
from shopcli.shop.buying_commands import GoodsIn, NotComing
from shopcli.shop.common import get, key_of, reason_given
from shopcli.shop.money import markup
from shopcli.shop.parts import sane_money, sane_qty
from shopcli.shop.records import Card, CardPart, OrderLine, Part, PurchaseOrder, Vehicle
from shopcli.shop.states import CardState, MoveWhy, PartState, PurchaseState
from shopcli.shop.stock import move_stock, note_price


def goods_in(session: Session, act: Act, cmd: GoodsIn) -> Change:
    """Take goods in against a line of an order.

    Raises
    ------
    BadInput
        When more came than is still to come and nobody said that this is meant.
    Refused
        When the order is over, or the rest of the line is not coming.
    """
    line, order = open_line(session, cmd.order_line_id)
    return take_in(session, act, line, order, sane_qty(cmd.qty_milli), cmd.cost_minor, over=cmd.over)


def _see_it_was_ordered(line: OrderLine, qty_milli: int, *, over: bool) -> str:
    rest = still_to_come(line)
    if qty_milli <= rest:
        return ""
    what = f"{qty_milli / 1000:g} {line.unit} {line.description} came, {rest / 1000:g} were to come"
    if not over:
        raise BadInput(
            what, hint="Count again; if so many really came, say that it is more than was ordered."
        )
    return f"{what}: {(qty_milli - rest) / 1000:g} more than ordered."


def take_in(
    session: Session,
    act: Act,
    line: OrderLine,
    order: PurchaseOrder,
    qty_milli: int,
    cost_minor: int | None = None,
    *,
    over: bool = False,
) -> Change:
    """Take goods in against an open line; an order that was only drafted is noted as sent, for it plainly was."""
    more = _see_it_was_ordered(line, qty_milli, over=over)
    said = [f"In: {qty_milli / 1000:g} {line.unit} {line.description}, order {order.number}."]
    said += [more] if more else []
    if order.state == PurchaseState.DRAFTED:
        send(session, act, order)
        said.append("It was not marked as sent; it is now.")
    before = {"in_milli": line.in_milli, "cost_minor": line.cost_minor, "state": order.state}
    line.in_milli += qty_milli
    if cost_minor is not None:
        said += _cost(session, act, line, sane_money(cost_minor, "cost"))
    session.add(line)
    part = None if line.part_id is None else get(session, Part, line.part_id, "part")
    if part is not None:
        move_stock(session, act, part, qty_milli, MoveWhy.GOODS_IN, order_line_id=key_of(line))
    given = _give_out(session, act, line, part)
    said += [_here(session, card_part, part) for card_part in given]
    if not given and part is not None and part.bin:
        said.append(f"To bin {part.bin}.")
    settle(session, order)
    after = {"qty_milli": qty_milli, "over": bool(more)}
    # What came for one card alone stands among what was done on that card, too.
    cards = {card_part.card_id for card_part in given}
    only = cards.pop() if len(cards) == 1 else None
    return Change("order line", key_of(line), only, before, after, tuple(said))


def settle(session: Session, order: PurchaseOrder) -> None:
    """Move a sent order on: partly in, or all in when nothing more is to come."""
    session.flush()
    lines = lines_of(session, order)
    if not any(still_to_come(line) for line in lines):
        came = any(line.in_milli for line in lines)
        step(
            order,
            PurchaseState.IN if came or order.state == PurchaseState.PART_IN else PurchaseState.CANCELLED,
        )
    elif order.state == PurchaseState.SENT and any(line.in_milli for line in lines):
        step(order, PurchaseState.PART_IN)
    session.add(order)


def _cost(session: Session, act: Act, line: OrderLine, cost: int) -> list[str]:
    """Note another cost: on the part with its past, and on the cards' lines that are not fitted yet."""
    if cost == line.cost_minor:
        return []
    was, line.cost_minor = line.cost_minor, cost
    said = [f"It cost {from_minor(cost)} instead of {from_minor(was)}."]
    for card_part in session.exec(select(CardPart).where(CardPart.order_line_id == line.id)):
        if card_part.state == PartState.ON_ORDER:
            card_part.cost_minor = cost
            # Only what had no price yet gets one: a price somebody was told stands.
            card_part.price_minor = card_part.price_minor or markup(cost, act.settings.markup)
            session.add(card_part)
    part = None if line.part_id is None else get(session, Part, line.part_id, "part")
    if part is not None and part.cost_minor != cost:
        part.cost_minor = cost
        note_price(session, act, part, "goods came in at another cost", key_of(line))
        usual = markup(cost, act.settings.markup)
        if usual != part.price_minor:
            said.append(
                f"It still sells at {from_minor(part.price_minor)}; your markup would make it {from_minor(usual)}."
            )
    return said


def _waiting(session: Session, line: OrderLine) -> list[CardPart]:
    """Return the cards' lines goods of an order's line are for: those it was ordered for, then any that wait for none."""
    on_order = select(CardPart).where(CardPart.state == PartState.ON_ORDER)
    mine = list(session.exec(on_order.where(CardPart.order_line_id == line.id).order_by(CardPart.id)))
    if line.part_id is None:
        return mine
    loose = (
        CardPart.part_id == line.part_id,
        col(CardPart.order_line_id).is_(None),
        col(CardPart.customers_own).is_(False),
    )
    return mine + list(session.exec(on_order.where(*loose).order_by(CardPart.id)))


def _give_out(session: Session, act: Act, line: OrderLine, part: Part | None) -> list[CardPart]:
    """Give what came to the cards that wait for it, whole lines in their order; the rest lies on the shelf."""
    # What came earlier and was too little for a whole line of a card lies there still.
    left = line.in_milli - sum(c.qty_milli for c in _came_with(session, line))
    if part is not None:
        left = min(left, part.stock_milli)
    given = []
    for card_part in _waiting(session, line):
        if card_part.qty_milli > left:
            continue
        left -= card_part.qty_milli
        card_part.state, card_part.arrived_at = PartState.WANTED, act.at
        card_part.order_line_id = key_of(line)
        session.add(card_part)
        given.append(card_part)
    return given


def _came_with(session: Session, line: OrderLine) -> list[CardPart]:
    came = CardPart.order_line_id == line.id, CardPart.state != PartState.ON_ORDER
    return list(session.exec(select(CardPart).where(*came)))


def _here(session: Session, card_part: CardPart, part: Part | None) -> str:
    """Say for which card something came; a card held for its parts goes on when the last of them is here."""
    session.flush()
    card = get(session, Card, card_part.card_id, "card")
    vehicle = get(session, Vehicle, card.vehicle_id, "vehicle")
    missing = CardPart.card_id == card.id, CardPart.state == PartState.ON_ORDER
    others = len(session.exec(select(CardPart.id).where(*missing)).all())
    where = f" Bin {part.bin}." if part is not None and part.bin else ""
    rest = f"{others} more on order for it." if others else "Nothing more is on order for it."
    if not others and card.state == CardState.HELD and card.waits_for_parts:
        card.state, card.held_for, card.waits_for_parts = CardState.IN_HAND, "", False
        session.add(card)
        rest = "All its parts are here: it is in hand again."
    return f"For {card.number}, {vehicle.registration}: {card_part.description}.{where} {rest}"


def not_coming(session: Session, _act: Act, cmd: NotComing) -> Change:
    """Note that the rest of a line is not coming; what waits for it is on the order list again.

    Raises
    ------
    BadInput
        Without a reason.
    Refused
        When the order is over, or nothing of the line is to come.
    """
    line, order = open_line(session, cmd.order_line_id)
    reason = reason_given(cmd.reason, "what is not coming")
    rest = still_to_come(line)
    before = {"closed_for": line.closed_for, "state": order.state}
    line.closed_for = reason
    session.add(line)
    freed = let_go(session, line)
    settle(session, order)
    again = " It is to be ordered again." if freed else ""
    said = f"{rest / 1000:g} {line.unit} {line.description} not coming ({reason}).{again}"
    return Change("order line", cmd.order_line_id, before=before, said=(said,))
