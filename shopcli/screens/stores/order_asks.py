"""What is asked about an order: how many came, everything as ordered, another due date, why something is given up."""

from typing import TYPE_CHECKING

from shopcli.present import qty
from shopcli.screens.dialogs import Choice, Confirm
from shopcli.screens.stores.typing import how_many, needed_quantity, what_day, what_sum, why
from shopcli.shop.buying_commands import CancelOrder, ChangeOrderLine, GoodsIn, NotComing
from shopcli.shop.seen import over
from shopcli.shop.stores_views import OrderLineView, PurchaseView
from shopcli.shop.typed_figures import in_thousandths, same_sum
from shopcli.store.reads.stock import thousandths

if TYPE_CHECKING:
    from shopcli.screens.stores.page import StoresPage


async def goods_in(page: "StoresPage", line: OrderLineView) -> None:
    """Ask how many came and what one cost; more than was ordered is asked about again."""
    cards = f" For {', '.join(line.cards)}." if line.cards else ""
    note = f"{qty(line.rest)} {line.unit} are to come.{cards} Enter takes them all in."
    milli = await how_many(page, f"How many came: {line.name}?", line.rest, note=note)
    if milli is None:
        return
    more = milli > in_thousandths(line.rest)
    if more:
        question = f"{qty(line.rest)} were to come, {qty(thousandths(milli))} came?"
        sure = await page.app.push_screen_wait(
            Confirm(question, note="y: so many really came. n: count them again.")
        )
        if not sure:
            return
    cost = await what_sum(
        page, f"What did one cost: {line.name}?", line.cost, note=f"As on their bill, {page.without_tax}."
    )
    if cost is not None:
        page.carry_out(GoodsIn(line.id, milli, None if same_sum(cost, line.cost) else cost, over=more))


async def all_in(page: "StoresPage", order: PurchaseView) -> None:
    """Take all in that is still to come, at the cost expected, once it is said yes to."""
    lines = [line for line in order.lines if line.rest]
    told = ", ".join(f"{qty(line.rest)} {line.unit} {line.name}" for line in lines)
    if await page.app.push_screen_wait(Confirm(f"Is all of order {order.number} here?", note=told)):
        for line in lines:
            page.carry_out(GoodsIn(line.id, in_thousandths(line.rest)))


async def change(page: "StoresPage", order: PurchaseView, line: OrderLineView) -> None:
    """Ask what of a line changes."""
    drafted = order.state == "drafted"
    choices = [Choice("due", "Due date", f"now {line.due.isoformat() if line.due else 'not known'}")]
    choices += [Choice("qty", "How many", f"now {qty(line.qty)} {line.unit}")] if drafted else []
    choices += [Choice("cost", "Expected cost of one")]
    choices += [Choice("off", "Take it off the order", "it is to be ordered again")] if drafted else []
    what = await page.ask_pick(f"What changes: {line.name}?", choices)
    if what == "due":
        due = await what_day(page, f"When is it due: {line.name}?")
        if due is not None:
            page.carry_out(over(line, ChangeOrderLine(line.id, line.version, due=due)))
    elif what == "qty":
        text = await page.ask_text(
            f"How many: {line.name}?", value=qty(line.qty), check=needed_quantity, offered=True
        )
        if text is not None:
            page.carry_out(
                over(line, ChangeOrderLine(line.id, line.version, qty_milli=needed_quantity(text)))
            )
    elif what == "cost":
        cost = await what_sum(page, f"What is one expected to cost: {line.name}?", line.cost)
        if cost is not None:
            page.carry_out(over(line, ChangeOrderLine(line.id, line.version, cost_minor=cost)))
    elif what == "off":
        page.carry_out(over(line, ChangeOrderLine(line.id, line.version, qty_milli=0)))


async def not_coming(page: "StoresPage", line: OrderLineView) -> None:
    """Ask why the rest is not coming."""
    reason = await why(
        page, f"Why does the rest not come: {line.name}?", note="What waits for it is to be ordered again."
    )
    if reason is not None:
        page.carry_out(NotComing(line.id, reason))


async def cancel(page: "StoresPage", order: PurchaseView) -> None:
    """Ask why an order is given up."""
    reason = await why(
        page, f"Why is order {order.number} given up?", note="What waits for it is to be ordered again."
    )
    if reason is not None:
        page.carry_out(CancelOrder(order.id, reason))
