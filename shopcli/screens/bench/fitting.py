"""Parts at the bench: the list stands until Esc, each key is one act."""

import asyncio
import uuid
from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual.worker import WorkerFailed

from shopcli.errors import ShopError
from shopcli.present import on_shelf, qty
from shopcli.screens.bench.partslist import WAITING, PartsList
from shopcli.screens.bench.seeing import read_card
from shopcli.screens.bench.wording import is_of_task, parts_of, refusal
from shopcli.screens.dialogs import Choice
from shopcli.shop.amounts import from_minor
from shopcli.shop.command import Command
from shopcli.shop.part_commands import (
    FitInstead,
    MovePart,
    OldUnitBack,
    OrderShort,
    PartArrived,
    PartToTask,
    PutPart,
)
from shopcli.shop.typed_figures import in_thousandths
from shopcli.shop.views import PartLineView, TaskView
from shopcli.store.reads.desk import find_parts
from shopcli.store.shop import Shop

if TYPE_CHECKING:
    from shopcli.screens.bench.station import BenchScreen

MOST_STOCK = 1000
Stocked = tuple[int, str, str, int, int, str]


async def parts_at_task(bench: "BenchScreen", task: TaskView | None, chosen: int | None = None) -> None:
    """Show the parts until Esc, with what the last act answered."""
    said = ""
    while bench.view is not None:
        lines = parts_of(bench.view, task)
        answer = await bench.app.push_screen_wait(PartsList(lines, task, chosen, said=said))
        if answer is None:
            return
        verb, line_id = answer
        line = next((p for p in lines if p.id == line_id), None)
        chosen, said = line_id, ""
        try:
            command = await _command(bench, task, verb, line)
            if command is None:
                continue
            await act_and_show(bench, command)
        except ShopError as error:
            bench.tell_error(error)
            said = f"⊠ {refusal(error)}"
            continue
        said = bench.said.says
        chosen = _next_of(bench, task) or line_id


def _next_of(bench: "BenchScreen", task: TaskView | None) -> int | None:
    """Return the next part the task waits for."""
    lines = parts_of(bench.view, task) if bench.view else ()
    return next((p.id for p in lines if p.state in WAITING and is_of_task(p, task)), None)


async def part_scanned(bench: "BenchScreen", task: TaskView | None, number: str) -> None:
    """Give the task in hand a part by its number, and show the parts with it chosen."""
    if bench.view is None:
        return
    done = await act_and_show(bench, PartToTask(bench.view.id, number, task.id if task else None))
    await parts_at_task(bench, task, done)


async def act_and_show(bench: "BenchScreen", command: Command) -> int:
    """Do one thing and show the card as it is then; the list waits for it."""
    worker = bench.run_worker(_acting(bench, command), group="acts", exit_on_error=False)
    try:
        return await worker.wait()
    except WorkerFailed as failed:
        raise failed.error from failed


async def _acting(bench: "BenchScreen", command: Command) -> int:
    app = bench.desk_app
    done = await asyncio.wrap_future(
        app.queue.submit(app.shop.do, command, by=app.who.id, op=uuid.uuid4().hex)
    )
    if bench.view is not None:
        card_id = bench.view.id
        bench.take_in(await asyncio.to_thread(read_card, app.shop, card_id, app.orders.get(card_id)))
    bench.tell(done.said)
    return done.id


async def _command(
    bench: "BenchScreen", task: TaskView | None, verb: str, line: PartLineView | None
) -> Command | None:
    task_id = task.id if task else None
    if verb == "short" and bench.view is not None:
        return OrderShort(bench.view.id)
    if verb == "stock":
        return await _from_stock(bench, task_id)
    if verb == "own":
        return await _own(bench, task_id)
    if line is None:
        return None
    match verb:
        case "fitted":
            return await fit_line(bench, line, task_id)
        case "instead":
            return await _instead(bench, line, task_id)
        case "arrived":
            return PartArrived(line.id)
        case "old unit":
            return OldUnitBack(line.id, not line.old_unit_back)
        case _:
            return MovePart(line.id, verb)


async def fit_line(bench: "BenchScreen", line: PartLineView, task_id: int | None) -> Command | None:
    """Return the act that fits a part, after what has to be asked; None when the question was left."""
    verb, many = await _as_many_as_are_here(bench, line)
    if verb != "fitted":
        return MovePart(line.id, verb) if verb else None
    serial = await _serial(bench, line.description) if line.wants_serial and not line.serial else ""
    return None if serial is None else MovePart(line.id, "fitted", task_id, serial, many)


async def _as_many_as_are_here(bench: "BenchScreen", line: PartLineView) -> tuple[str, int | None]:
    """Return what becomes of a line and how many are fitted, [thousandths]; asked where the shelf holds fewer."""
    here = line.in_stock
    if line.state not in WAITING or line.customers_own or here is None or here >= line.qty:
        return "fitted", None
    wanted, there = qty(line.qty), qty(here) if here > 0 else "0"
    some = Choice("some", f"Fit {there}, order the rest", "what is missing goes on the order list")
    order = [Choice("on order", "Order it", "none is fitted yet")] if line.state == "wanted" else []
    choices = [some] if here > 0 else order
    note = "the stock is wrong then, and says less than nothing until it is counted"
    choices.append(Choice("all", f"Fit {wanted} all the same: they are here", note))
    question = f"{line.description}: {wanted} {line.unit} wanted, {on_shelf(here, line.unit)} in stock"
    answer = await bench.ask_pick(question, choices, preset=False)
    if answer == "some":
        return "fitted", in_thousandths(here)
    return {"all": "fitted", "on order": "on order"}.get(answer or "", ""), None


async def _serial(bench: "BenchScreen", name: str) -> str | None:
    return await bench.ask_text(
        f"Serial number: {name}", note="As it is stamped on it; 'none' where nothing is."
    )


async def _instead(bench: "BenchScreen", line: PartLineView, task_id: int | None) -> Command | None:
    stocked = await _stock(bench.desk_app.shop)
    choices = [Choice("", "Not from stock", "say what it is"), *_choices(stocked, without=line.part_id)]
    key = await bench.ask_pick(f"What is fitted instead of {line.description}?", choices)
    if key is None:
        return None
    description = (
        "" if key else await bench.ask_text("What is it?", placeholder="as it shall stand on the bill")
    )
    if description is None:
        return None
    reason = await bench.ask_text(
        "Why instead?", note=f"Instead of {line.description}. It is kept with the card."
    )
    if reason is None:
        return None
    return FitInstead(line.id, reason, int(key) if key else None, description, task_id=task_id)


async def _from_stock(bench: "BenchScreen", task_id: int | None) -> Command | None:
    stocked = await _stock(bench.desk_app.shop)
    if not stocked or bench.view is None:
        bench.refuse("No part is in stock yet.")
        return None
    key = await bench.ask_pick("Which part?", _choices(stocked))
    number = next((s[1] for s in stocked if str(s[0]) == key), None)
    return None if number is None else PartToTask(bench.view.id, number, task_id)


async def _own(bench: "BenchScreen", task_id: int | None) -> Command | None:
    what = await bench.ask_text("What did the customer bring?", note="It is fitted, and not billed.")
    if what is None or bench.view is None:
        return None
    return PutPart(bench.view.id, None, what, task_id=task_id, customers_own=True)


async def _stock(shop: Shop) -> Sequence[Stocked]:
    return await asyncio.to_thread(find_parts, shop, "", MOST_STOCK)


def _choices(stocked: Sequence[Stocked], without: int | None = None) -> list[Choice]:
    return [
        Choice(str(key), name, f"{number}, {on_shelf(from_minor(stock) / 10, unit)} in stock")
        for key, number, name, _price, stock, unit in stocked
        if key != without
    ]
