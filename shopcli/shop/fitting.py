"""Parts at the task: by their number, another one instead, what is short, what arrived, and the old unit of an exchange."""

from collections import Counter

from sqlmodel import Session, func, select

from shopcli.cleantext import required_line
from shopcli.errors import NotFound, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.buying import open_line
from shopcli.shop.common import get, key_of, open_for_work, person_name, reason_given, saved
from shopcli.shop.goods_in import take_in
from shopcli.shop.part_commands import FitInstead, OldUnitBack, OrderShort, PartArrived, PartToTask, PutPart
from shopcli.shop.parts import fit_line, line_for
from shopcli.shop.records import CardPart, Part, Task
from shopcli.shop.states import PART_MOVES, MoveWhy, PartState, move
from shopcli.shop.stock import move_stock

WAITING = (PartState.WANTED, PartState.ON_ORDER)


def _task_of(session: Session, card_id: int, task_id: int | None) -> int | None:
    if task_id is not None and get(session, Task, task_id, "task").card_id != card_id:
        raise Refused("that task is on another card", hint="Choose a task of this card.")
    return task_id


def part_to_task(session: Session, act: Act, cmd: PartToTask) -> Change:
    """Give a task a part by its number; where the card waits for that part already, no second line is put on.

    Raises
    ------
    NotFound
        When no part has that number.
    """
    number = required_line(cmd.number, name="part number", limit=60)
    part = session.exec(select(Part).where(func.lower(Part.number) == number.lower())).first()
    if part is None:
        raise NotFound(
            f"no part has the number '{number}'", hint="Write it into the stock, or put it on by its name."
        )
    open_for_work(session, cmd.card_id)
    task_id = _task_of(session, cmd.card_id, cmd.task_id)
    mine = (CardPart.card_id == cmd.card_id, CardPart.part_id == part.id)
    for line in session.exec(select(CardPart).where(*mine).order_by(CardPart.id)):
        if line.state in WAITING:
            before = {"task_id": line.task_id}
            line.task_id = line.task_id or task_id
            session.add(line)
            return Change(
                "part line", key_of(line), cmd.card_id, before, said=(f"{part.name} is on the card.",)
            )
    line = saved(session, line_for(act, cmd.card_id, part, PutPart(cmd.card_id, part.id, task_id=task_id)))
    return Change("part line", key_of(line), cmd.card_id, said=(f"On the card: {part.name}.",))


def fit_instead(session: Session, act: Act, cmd: FitInstead) -> Change:
    """Fit another part in place of a line that waits: the line is not used, the other one fitted, the reason kept.

    Raises
    ------
    Refused
        When the line is settled already, or the part put in its place is the same one.
    """
    line = get(session, CardPart, cmd.card_part_id, "part line")
    open_for_work(session, line.card_id)
    if line.state not in WAITING:
        raise Refused(
            f"{line.description} is {line.state}; nothing goes in its place", hint="Undo that first."
        )
    reason = reason_given(cmd.reason, "another part instead")
    part = get(session, Part, cmd.part_id, "part") if cmd.part_id else None
    if part is not None and part.id == line.part_id:
        raise Refused(f"{part.name} is that very part", hint="Fit it as it is.")
    before = {"state": line.state}
    line.state = move(line.description, PART_MOVES, PartState(line.state), PartState.NOT_USED)
    session.add(line)
    put = PutPart(
        line.card_id,
        cmd.part_id,
        cmd.description,
        line.qty_milli,
        cmd.cost_minor,
        cmd.price_minor,
        _task_of(session, line.card_id, cmd.task_id) or line.task_id,
        unit=line.unit,
    )
    other = line_for(act, line.card_id, part, put)
    other.instead_of, other.reason, other.state = key_of(line), reason, PartState.FITTED
    remarks = fit_line(session, act, other, cmd.serial)
    saved(session, other)
    said = f"{other.description}: fitted by {person_name(session, act.by)} instead of {line.description} ({reason})."
    return Change("part line", key_of(other), line.card_id, before, said=(said, *remarks))


def order_short(session: Session, act: Act, cmd: OrderShort) -> Change:
    """Put what is wanted and short on the order list; what is there already is not counted twice.

    Raises
    ------
    Refused
        When nothing is short.
    """
    del act
    open_for_work(session, cmd.card_id)
    task_id = _task_of(session, cmd.card_id, cmd.task_id)
    lines = session.exec(select(CardPart).where(CardPart.card_id == cmd.card_id).order_by(CardPart.id)).all()
    taken: Counter[int] = Counter()
    short: list[CardPart] = []
    for line in lines:
        if line.state != PartState.WANTED or line.customers_own:
            continue
        part = session.get(Part, line.part_id) if line.part_id else None
        there = part is not None and part.stock_milli - taken[key_of(part)] >= line.qty_milli
        if part is not None and there:
            taken[key_of(part)] += line.qty_milli
        elif not line.optional and (task_id is None or line.task_id in {None, task_id}):
            short.append(line)
    if not short:
        raise Refused("nothing that is wanted is short", hint="What is on the shelf can be fitted.")
    for line in short:
        line.state = PartState.ON_ORDER
        session.add(line)
    names = ", ".join(line.description for line in short)
    after = {"lines": [key_of(line) for line in short]}
    return Change("card", cmd.card_id, cmd.card_id, after=after, said=(f"On the order list: {names}.",))


def part_arrived(session: Session, act: Act, cmd: PartArrived) -> Change:
    """Note that a part on order is here; one that came with an order of ours is taken in against that order.

    Raises
    ------
    Refused
        When the part is not on order.
    """
    line = get(session, CardPart, cmd.card_part_id, "part line")
    if line.state != PartState.ON_ORDER:
        raise Refused(f"{line.description} is {line.state}, not on order", hint="Order it first, or fit it.")
    if line.order_line_id is not None:
        row, order = open_line(session, line.order_line_id)
        return take_in(session, act, row, order, line.qty_milli, over=True)
    open_for_work(session, line.card_id)
    line.state = move(line.description, PART_MOVES, PartState.ON_ORDER, PartState.WANTED)
    line.arrived_at = act.at
    session.add(line)
    part = session.get(Part, line.part_id) if line.part_id and not line.customers_own else None
    if part is not None:
        move_stock(session, act, part, line.qty_milli, MoveWhy.GOODS_IN, card_id=line.card_id)
    where = f" Bin {part.bin}." if part is not None and part.bin else ""
    return Change(
        "part line",
        cmd.card_part_id,
        line.card_id,
        {"state": "on order"},
        said=(f"Here: {line.description}.{where}",),
    )


def old_unit_back(session: Session, act: Act, cmd: OldUnitBack) -> Change:
    """Note that the old unit of an exchange went back; its surcharge is then no longer on the bill."""
    line = get(session, CardPart, cmd.card_part_id, "part line")
    open_for_work(session, line.card_id)
    if not line.surcharge_minor:
        raise Refused(f"{line.description} is no exchange unit", hint="It has no surcharge.")
    if line.state != PartState.FITTED:
        raise Refused(
            f"{line.description} is {line.state}", hint="The old unit goes back when the new one is fitted."
        )
    if (line.old_unit_back_at is not None) is cmd.back:
        raise Refused(f"the old unit of {line.description} is {'back' if cmd.back else 'not back'} already")
    before = {"old_unit_back_at": line.old_unit_back_at}
    line.old_unit_back_at, line.old_unit_back_by = (act.at, act.by) if cmd.back else (None, None)
    session.add(line)
    owed = "no surcharge is owed for it" if cmd.back else "its surcharge is owed again"
    return Change(
        "part line",
        cmd.card_part_id,
        line.card_id,
        before,
        said=(f"Old unit of {line.description}: {owed}.",),
    )
