"""What is asked about work sent out: from which card, what, to whom, until when; and what it came to."""

import asyncio
from typing import TYPE_CHECKING

from shopcli.present import amount, day
from shopcli.screens.dialogs import Choice
from shopcli.screens.stores.typing import what_day, what_sum
from shopcli.shop.part_commands import AddOutwork, ChangeOutwork, DropPlanned, OutworkBack, SendPlanned
from shopcli.shop.seen import over
from shopcli.shop.stores_views import OutworkView
from shopcli.store.reads.desk import open_cards

if TYPE_CHECKING:
    from shopcli.screens.stores.page import StoresPage


async def came_back(page: "StoresPage", one: OutworkView) -> None:
    """Ask what it cost and is sold for; Enter twice keeps both."""
    note = f"{one.who}, {one.card} {one.registration}, {page.without_tax}."
    cost = await what_sum(page, f"What did it cost: {one.what}?", one.cost, note=note)
    if cost is None:
        return
    price = await what_sum(page, f"What is it sold for: {one.what}?", one.price, note=note)
    if price is not None:
        page.carry_out(OutworkBack(one.id, "", cost, price))


async def goes(page: "StoresPage", one: OutworkView) -> None:
    """Ask whether planned work goes out now, and to whom; or why it is done without."""
    note = f"{one.card} {one.registration}, sold for {amount(one.price)} as offered, {page.without_tax}."
    choices = [
        Choice("send", "It goes out now"),
        Choice("drop", "It is done without", "it goes off the bill"),
    ]
    way = await page.ask_pick(f"Planned: {one.what}", choices, note=note)
    if way == "drop":
        why = await page.ask_text("Why is it done without?", placeholder="in a few words")
        if why is not None:
            page.carry_out(DropPlanned(one.id, why))
    elif way == "send":
        who = await page.ask_text("Who does it?", placeholder="the firm")
        due = None if who is None else await what_day(page, "When is it due back?")
        if who is not None and due is not None:
            page.carry_out(SendPlanned(one.id, who, due))


async def send(page: "StoresPage") -> None:
    """Ask from which card, what, to whom, at what price and until when."""
    rows = await asyncio.to_thread(open_cards, page.desk_app.shop)
    choices = [Choice(str(r.id), f"{r.number}  {r.registration}  {r.customer}", r.title) for r in rows]
    if not choices:
        page.tell("No card is open.")
        return
    card = await page.ask_pick("From which card?", choices)
    if card is None:
        return
    what = await page.ask_text("What is to be done?", placeholder="as it shall stand on the bill")
    if what is None:
        return
    who = await page.ask_text("Who does it?", placeholder="the firm")
    if who is None:
        return
    price = await what_sum(
        page, "What is it sold for?", note=f"It is {page.without_tax}; it may stay empty until it is back."
    )
    if price is None:
        return
    due = await what_day(page, "When is it due back?")
    if due is not None:
        page.carry_out(AddOutwork(int(card), what, who, price_minor=price, due=due))


async def change(page: "StoresPage", one: OutworkView) -> None:
    """Ask what changes."""
    choices = [
        Choice("due", "Due date", day(one.due)),
        Choice("ring", "Whom to ring", one.ring or "nobody written"),
        Choice("cost", "Cost", amount(one.cost)),
        Choice("price", "Price", amount(one.price)),
    ]
    what = await page.ask_pick(f"What changes: {one.what}?", choices)
    if what == "due":
        due = await what_day(page, f"When is it due back: {one.what}?")
        if due is not None:
            page.carry_out(over(one, ChangeOutwork(one.id, one.version, due=due)))
    elif what == "ring":
        ring = await page.ask_text(
            "Whom to ring?", value=one.ring, note="A name, a number.", allow_empty=True
        )
        if ring is not None:
            page.carry_out(over(one, ChangeOutwork(one.id, one.version, ring=ring)))
    elif what in {"cost", "price"}:
        now = one.cost if what == "cost" else one.price
        sum_minor = await what_sum(
            page, f"{what.capitalize()}: {one.what}?", now, note=f"It is {page.without_tax}."
        )
        if sum_minor is not None:
            changed = {"cost": over(one, ChangeOutwork(one.id, one.version, cost_minor=sum_minor)),
                       "price": over(one, ChangeOutwork(one.id, one.version, price_minor=sum_minor))}  # fmt: skip
            page.carry_out(changed[what])
