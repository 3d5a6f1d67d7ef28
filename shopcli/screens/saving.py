"""A paper saved from a screen: where it goes is asked, a browser is handed it instead."""

from collections.abc import Callable
from pathlib import Path

from shopcli.papers.filing import default_folder, free_path, paper_name, see_free, write_new
from shopcli.screens.asks import Asks

SAVED = "saved"


async def ask_where(screen: Asks, number: str, ending: str, what: str) -> Path | None:
    """Ask for a file that is not there yet; None when it was left."""
    value = str(free_path(default_folder(), number, ending, what))
    where = await screen.ask_text("Save where?", value=value, check=see_free)
    return None if where is None else see_free(where)


async def save_paper(
    screen: Asks, *, number: str, ending: str, what: str, content: Callable[[], str | bytes]
) -> None:
    """Ask where the paper goes and write it there, in a thread; the screen hears of it as `SAVED`."""
    if screen.app.is_web:
        name = paper_name(number, ending, what)
        screen.hand_out(lambda: (name, content()))
        return
    path = await ask_where(screen, number, ending, what)
    if path is not None:
        screen.look(SAVED, lambda: write_new(path, content()))


def say_saved(screen: Asks, path: object) -> None:
    """Say where the paper lies."""
    screen.notify(f"Saved: {path}", timeout=12, markup=False)
