"""The first start of a shop: whose it is. What is done is written down under a name, so the owner gets one first."""

import asyncio
from typing import TYPE_CHECKING

from shopcli.cleantext import required_line
from shopcli.errors import ShopError
from shopcli.screens.askpin import done, new_pin
from shopcli.screens.careful import tell
from shopcli.screens.dialogs import AskText
from shopcli.shop.people_commands import ChangePerson
from shopcli.shop.pin_commands import SetPin
from shopcli.store.reads.people import unnamed_owner

if TYPE_CHECKING:
    from shopcli.screens.signing import SigningApp

LONGEST_NAME = 60
WHY = "You are its owner: what you do is written down under your name, and you take on the others (F8, F2)."
PIN = "Esc: none for now, the name alone will do. F8, then F2, sets one at any time."


async def ask_whose(app: "SigningApp") -> None:
    """Ask for the owner's name and a PIN, where nobody has said yet whose shop it is; Esc asks again at the next start."""
    try:
        await _ask(app)
    except ShopError as error:
        tell(app, error)


async def _ask(app: "SigningApp") -> None:
    owner = await asyncio.to_thread(unnamed_owner, app.shop)
    if owner is None:
        return
    question = AskText(
        "Whose shop is this?",
        note=WHY,
        placeholder="your name",
        check=lambda text: required_line(text, name="name", limit=LONGEST_NAME),
    )
    name = await app.push_screen_wait(question)
    if name is None:
        return
    await done(app, ChangePerson(owner.id, owner.version, name, owner.role), owner.id)
    app.stand_here(owner.id, anew=True)
    pin = await new_pin(app, name, PIN)
    if pin is not None:
        await done(app, SetPin(owner.id, pin), owner.id)
