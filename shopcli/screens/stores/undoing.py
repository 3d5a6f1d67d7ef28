"""Taking back on the stores: what one did last there and what taking it back does, said before anything is changed."""

import asyncio
from typing import TYPE_CHECKING

from shopcli.screens.bench.undo import UndoScreen
from shopcli.shop.clock_commands import TakeBack
from shopcli.store.reads.stores_acts import last_store_acts

if TYPE_CHECKING:
    from shopcli.screens.stores.page import StoresPage


async def undo(page: "StoresPage") -> None:
    """Take back one's last acts on the stores, as many as are said yes to."""
    app = page.desk_app
    acts = await asyncio.to_thread(last_store_acts, app.shop, app.who.id)
    if not acts:
        page.tell(f"{app.who.name} did nothing on the stores today that could be taken back.")
        return
    count = await app.push_screen_wait(UndoScreen(acts))
    for act in acts[: count or 0]:
        page.carry_out(TakeBack(act.id))
