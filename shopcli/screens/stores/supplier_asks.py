"""Suppliers asked about: a new one by name and telephone, and what is known of one changed, one thing at a time."""

import asyncio
from typing import TYPE_CHECKING

from shopcli.screens.dialogs import Choice
from shopcli.shop.seen import over
from shopcli.shop.stock_commands import AddSupplier, ChangeSupplier
from shopcli.shop.stores_views import SupplierView
from shopcli.shop.typed_figures import read_whole
from shopcli.store.reads.stock import suppliers

if TYPE_CHECKING:
    from shopcli.screens.stores.page import StoresPage

FIELDS = (
    ("phone", "Telephone"),
    ("usual_days", "Usual days to deliver"),
    ("account", "Our account there"),
    ("email", "E-mail"),
    ("note", "Note"),
    ("name", "Name"),
)
MOST_DAYS = 400


async def new_supplier(page: "StoresPage") -> int | None:
    """Ask for a name and a telephone, write them down and return the id; None when it was left."""
    name = await page.ask_text("What is the supplier called?")
    if name is None:
        return None
    phone = await page.ask_text("Their telephone?", note="It may stay empty.", allow_empty=True)
    if phone is None:
        return None
    return (await page.act(AddSupplier(name, phone))).id


async def change_suppliers(page: "StoresPage") -> None:
    """Ask which supplier and what of it changes."""
    known = await asyncio.to_thread(suppliers, page.desk_app.shop)
    choices = [
        Choice(str(s.id), s.name, ", ".join(filter(None, (s.phone, s.account, f"{s.parts} parts"))))
        for s in known
    ]
    key = await page.ask_pick("Which supplier?", [*choices, Choice("new", "A new one", "write it down")])
    if key is None:
        return
    if key == "new":
        await new_supplier(page)
        return
    await _change(page, next(s for s in known if str(s.id) == key))


async def _change(page: "StoresPage", supplier: SupplierView) -> None:
    stands = {name: str(getattr(supplier, name) or "") for name, _label in FIELDS}
    choices = [Choice(name, label, stands[name] or "nothing written") for name, label in FIELDS]
    what = await page.ask_pick(f"What changes: {supplier.name}?", choices)
    if what is None:
        return
    label = dict(FIELDS)[what]
    days = what == "usual_days"
    text = await page.ask_text(
        f"{label}: {supplier.name}",
        value=stands[what],
        note="Days the shop is open, from the order to the goods." if days else "",
        check=(lambda typed: read_whole(typed, "days", 0, MOST_DAYS)) if days else None,
        allow_empty=what != "name",
    )
    if text is None:
        return
    value: object = (read_whole(text, "days", 0, MOST_DAYS) or 0) if days else text
    page.carry_out(over(supplier, ChangeSupplier(supplier.id, supplier.version, **{what: value})))  # type: ignore[arg-type]
