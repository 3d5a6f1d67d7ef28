"""What a scanned code does: a card opens at the bench, a part goes to the task in hand, anything else is said."""

import asyncio
from typing import TYPE_CHECKING

from shopcli.codes import CARD, Code
from shopcli.columns import cut, shown
from shopcli.errors import ShopError

if TYPE_CHECKING:
    from shopcli.screens.app import ShopApp
    from shopcli.screens.bench.station import BenchScreen

TOLD_MOST = 60


async def do_scanned(app: "ShopApp", code: Code) -> None:
    """Do what a code says; what cannot be done is said where it was scanned."""
    try:
        if code.kind == CARD:
            await _card(app, code.number)
        else:
            await _part(app, code.number)
    except ShopError as error:
        title = f"Scanned: {cut(code.number, TOLD_MOST)}"
        words = shown(f"{error.message}\n{error.hint}".strip())
        app.notify(words, title=title, severity="error", timeout=12, markup=False)


async def _card(app: "ShopApp", number: str) -> None:
    from shopcli.store.reads.bench import card_id

    found = await asyncio.to_thread(card_id, app.shop, number)
    await _at_the_bench(app)
    app.open_card(found)


async def _part(app: "ShopApp", number: str) -> None:
    """Put the part on the card for the task in hand, and show the parts there so that one key fits it."""
    from shopcli.errors import Refused
    from shopcli.store.reads.desk import part_numbered

    found = await asyncio.to_thread(part_numbered, app.shop, number)
    if app.card_id is None:
        raise Refused("no card is in hand", hint="Scan the card first; then the part goes to its task.")
    await _at_the_bench(app)
    bench = _bench(app)
    if bench is not None:
        bench.part_scanned(found[1])


async def _at_the_bench(app: "ShopApp") -> None:
    if app.current_mode != "bench":
        await app.switch_mode("bench")
    await app.clear_away()


def _bench(app: "ShopApp") -> "BenchScreen | None":
    from shopcli.screens.bench.station import BenchScreen

    lowest = app.screen_stack[0]
    return lowest if isinstance(lowest, BenchScreen) else None
