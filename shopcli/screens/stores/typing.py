"""Questions every page of the stores asks the same way: how many, at what sum, from whom, until when, why."""

import asyncio
from typing import TYPE_CHECKING

from shopcli.errors import BadInput
from shopcli.present import amount, qty
from shopcli.screens.desk.dates import WAYS, in_words, read_date
from shopcli.screens.dialogs import Choice
from shopcli.shop.typed_figures import Figure, read_quantity, read_sum
from shopcli.store.reads.stock import suppliers

if TYPE_CHECKING:
    from shopcli.screens.stores.page import StoresPage

NEW = "new"


def needed_quantity(text: str) -> int:
    """Return how many in thousandths; nothing typed is no answer here.

    Raises
    ------
    BadInput
        When nothing is typed, or no number.
    """
    milli = read_quantity(text)
    if milli is None:
        raise BadInput("how many?", hint="Write it like 4 or 2.5.")
    return milli


async def how_many(
    page: "StoresPage", question: str, value: Figure | None = None, *, note: str = ""
) -> int | None:
    """Ask for a quantity in thousandths; None when it was left."""
    text = await page.ask_text(
        question,
        value="" if value is None else qty(value).replace(",", ""),
        note=note,
        check=needed_quantity,
        offered=True,
    )
    return None if text is None else needed_quantity(text)


async def what_sum(
    page: "StoresPage", question: str, value: Figure | None = None, *, note: str = ""
) -> int | None:
    """Ask for a sum in minor units; an empty answer is 0, None that it was left."""
    text = await page.ask_text(
        question,
        value="" if value is None else amount(value).replace(",", ""),
        note=note or f"For one, {page.without_tax}.",
        check=read_sum,
        allow_empty=True,
        offered=True,
    )
    return None if text is None else read_sum(text) or 0


async def what_day(page: "StoresPage", question: str, value: str = "") -> str | None:
    """Ask for a day ahead as ISO text, empty where none is known; None when it was left."""
    today = page.today
    text = await page.ask_text(
        question,
        value=value,
        placeholder=WAYS,
        note="It may stay empty.",
        check=lambda typed: read_date(typed, today),
        understood=lambda typed: in_words(day, today) if (day := read_date(typed, today)) else "",
        allow_empty=True,
    )
    if text is None:
        return None
    day = read_date(text, today)
    return day.isoformat() if day else ""


async def why(page: "StoresPage", question: str, *, note: str = "It stays readable.") -> str | None:
    """Ask for a reason."""
    return await page.ask_text(question, note=note, placeholder="in a few words")


async def which_supplier(page: "StoresPage", question: str, *, first: int | None = None) -> int | None:
    """Ask for a supplier, one that is not known yet is written down on the way; `first` stands on top."""
    known = await asyncio.to_thread(suppliers, page.desk_app.shop)
    ordered = sorted(known, key=lambda s: s.id != first)
    choices = [
        Choice(str(s.id), s.name, ", ".join(filter(None, (s.phone, f"{s.parts} parts")))) for s in ordered
    ]
    key = await page.ask_pick(question, [*choices, Choice(NEW, "Another one", "not written down yet")])
    if key != NEW:
        return None if key is None else int(key)
    from shopcli.screens.stores.supplier_asks import new_supplier

    return await new_supplier(page)
