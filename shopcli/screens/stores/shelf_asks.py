"""What is asked about a part on the shelf: a new one, a count, a change, an order by hand, what became of some of it."""

from typing import TYPE_CHECKING

from shopcli.present import amount, qty
from shopcli.screens.dialogs import Choice
from shopcli.screens.stores.typing import how_many, needed_quantity, what_sum, which_supplier, why
from shopcli.shop.buying_commands import AddToOrder, SendBack
from shopcli.shop.part_commands import AddPart, ChangePart
from shopcli.shop.seen import over
from shopcli.shop.stock_commands import CorrectStock, CountStock
from shopcli.shop.stores_views import StockView
from shopcli.shop.typed_figures import read_quantity, read_sum

if TYPE_CHECKING:
    from shopcli.screens.stores.page import StoresPage

BACK, GONE, FOUND = "back", "gone", "found"


async def new_part(page: "StoresPage") -> None:
    """Ask for number, name, cost, how many are there and where it lies; the rest is changed later."""
    number = await page.ask_text("The part's number?", note="As on its label; a scanner types it too.")
    if number is None:
        return
    name = await page.ask_text("What is it?", placeholder="as it shall stand on the bill")
    if name is None:
        return
    cost = await what_sum(
        page, "What does one cost?", note=f"It is {page.without_tax}; the shop's markup makes the price."
    )
    if cost is None:
        return
    there = await how_many(page, "How many are there?")
    if there is None:
        return
    place = await page.ask_text("Where does it lie?", note="The bin; it may stay empty.", allow_empty=True)
    if place is None:
        return
    key = (await page.act(AddPart(number, name, cost, stock_milli=there, bin=place))).id
    page.choose_next(str(key))


async def count(page: "StoresPage", part: StockView) -> None:
    """Ask how many lie there."""
    note = f"{qty(part.stock)} {part.unit} are written. Bin {part.bin or '-'}."
    counted = await how_many(page, f"How many are there: {part.name}?", note=note)
    if counted is not None:
        page.carry_out(CountStock(((part.id, counted),)))


FIELDS = (
    ("bin", "Bin"),
    ("supplier", "Supplier"),
    ("reorder_milli", "Order again at"),
    ("pack_milli", "Comes in packs of"),
    ("cost_minor", "Cost"),
    ("price_minor", "Price"),
    ("surcharge_minor", "Exchange surcharge"),
    ("wants_serial", "Serial number wanted"),
    ("name", "Name"),
)


def _stands(part: StockView) -> dict[str, str]:
    return {
        "bin": part.bin,
        "supplier": part.supplier,
        "reorder_milli": qty(part.reorder).replace(",", ""),
        "pack_milli": qty(part.pack).replace(",", ""),
        "cost_minor": amount(part.cost).replace(",", ""),
        "price_minor": amount(part.price).replace(",", ""),
        "surcharge_minor": amount(part.surcharge).replace(",", ""),
        "wants_serial": "yes" if part.wants_serial else "no",
        "name": part.name,
    }


async def change(page: "StoresPage", part: StockView) -> None:
    """Ask what of a part changes, with what it is now."""
    stands = _stands(part)
    choices = [Choice(name, label, stands[name] or "nothing written") for name, label in FIELDS]
    what = await page.ask_pick(f"What changes: {part.name}?", choices)
    value = None if what is None else await _new_value(page, part, what, stands[what])
    if what is not None and value is not None:
        page.carry_out(over(part, ChangePart(part.id, part.version, **{what: value})))  # type: ignore[arg-type]


async def _new_value(page: "StoresPage", part: StockView, what: str, now: str) -> object:
    """Return the new value, None where the question was left."""
    label = dict(FIELDS)[what]
    if what == "wants_serial":
        return not part.wants_serial
    if what == "supplier":
        key = await which_supplier(page, f"Who is {part.name} bought from?", first=part.supplier_id)
        return None if key is None else await _name_of(page, key)
    if what.endswith("_minor"):
        text = await page.ask_text(
            f"{label}: {part.name}",
            value=now,
            note=f"For one, {page.without_tax}.",
            check=read_sum,
            offered=True,
        )
        return None if text is None else read_sum(text)
    if what.endswith("_milli"):
        text = await page.ask_text(
            f"{label}: {part.name}", value=now, note=f"In {part.unit}.", check=needed_quantity, offered=True
        )
        return None if text is None else read_quantity(text)
    return await page.ask_text(f"{label}: {part.name}", value=now, allow_empty=what == "bin")


async def _name_of(page: "StoresPage", supplier_id: int) -> str:
    import asyncio

    from shopcli.store.reads.stock import suppliers

    known = await asyncio.to_thread(suppliers, page.desk_app.shop)
    return next(s.name for s in known if s.id == supplier_id)


async def order(page: "StoresPage", part: StockView) -> None:
    """Ask how many are ordered, and from whom where nobody is known."""
    note = f"{qty(part.stock)} {part.unit} there, {qty(part.coming)} coming. It comes in packs of {qty(part.pack)}."
    milli = await how_many(page, f"How many are ordered: {part.name}?", part.pack, note=note)
    if milli is None:
        return
    supplier = part.supplier_id
    if supplier is None:
        supplier = await which_supplier(page, f"From whom: {part.name}?")
    if supplier is not None:
        page.carry_out(AddToOrder(supplier, part.id, milli))


async def other(page: "StoresPage", part: StockView) -> None:
    """Ask what became of some of a part, how many, and why."""
    what = await page.ask_pick(
        f"What became of it: {part.name}?",
        [
            Choice(BACK, "Goes back to the supplier", "a credit is to come"),
            Choice(GONE, "Broken, lost or used up", "fewer are there"),
            Choice(FOUND, "Found", "more are there"),
        ],
        note=f"{qty(part.stock)} {part.unit} are written.",
    )
    if what is None:
        return
    milli = await how_many(
        page, f"How many: {part.name}?", note=f"{qty(part.stock)} {part.unit} are written."
    )
    if milli is None:
        return
    reason = await why(page, "Why does it go back?" if what == BACK else "What happened?")
    if reason is None:
        return
    if what != BACK:
        page.carry_out(CorrectStock(part.id, milli if what == FOUND else -milli, reason))
        return
    supplier = part.supplier_id
    if supplier is None:
        supplier = await which_supplier(page, "To whom does it go back?")
    if supplier is None:
        return
    whole = part.cost * milli / 1000
    credit = await what_sum(
        page, "What credit is to come?", whole, note=f"For all of it, {page.without_tax}; 0 for none."
    )
    if credit is not None:
        page.carry_out(SendBack(part.id, milli, reason, credit, supplier))
