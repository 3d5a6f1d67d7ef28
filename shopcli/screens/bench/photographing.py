"""Adding a photo at the bench: one of the newest that arrived, or by its path; of the task, of a finding, or of the car."""

import asyncio
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from shopcli.columns import shown
from shopcli.errors import BadInput
from shopcli.screens.dialogs import Choice
from shopcli.shop.views import CardView, TaskView
from shopcli.store.photos import Offered, keep_photo, newest

if TYPE_CHECKING:
    from shopcli.screens.bench.station import BenchScreen

MINUTE, HOUR, DAY = 60, 3600, 86400


def age(seconds: int) -> str:
    """Say how long ago, as one remembers it.

    Examples
    --------
    >>> age(30), age(300), age(7200), age(200_000)
    ('just now', '5 min ago', '2 h ago', '2 d ago')
    """
    if seconds < MINUTE:
        return "just now"
    if seconds < HOUR:
        return f"{seconds // MINUTE} min ago"
    return f"{seconds // HOUR} h ago" if seconds < DAY else f"{seconds // DAY} d ago"


def see_file(text: str) -> Path:
    """Return the file meant.

    Raises
    ------
    BadInput
        If there is none.
    """
    try:
        path = Path(text).expanduser()
        there = path.is_file()
    except (OSError, ValueError, RuntimeError) as error:
        raise BadInput("that is not a path", hint="Give folder and file.") from error
    if not there:
        raise BadInput("there is no such file", hint="Look at the path again.")
    return path


async def add_photo(bench: "BenchScreen", task: TaskView | None) -> None:
    """Ask for the file, what it shows and a caption; copy it and note it."""
    view = bench.view
    if view is None:
        return
    if bench.app.is_web:  # whoever sits there chooses no file of the machine that serves them
        bench.refuse("In a browser no photo is added: do it at the shop's own terminal.")
        return
    path = await _file(bench)
    of = await _of(bench, view, task) if path else None
    if path is None or of is None:
        return
    caption = await bench.ask_text("Caption", note="It may stay empty.", allow_empty=True)
    if caption is None:
        return
    kind, _, key = of.partition(":")
    app = bench.desk_app
    keep = partial(
        keep_photo,
        app.shop,
        path,
        by=app.who.id,
        card_id=view.id,
        number=view.number,
        task_id=int(key) if kind == "task" else None,
        finding_id=int(key) if kind == "finding" else None,
        caption=caption,
    )
    done = await asyncio.wrap_future(app.queue.submit(keep))
    bench.tell(done.said)


async def _file(bench: "BenchScreen") -> Path | None:
    shop = bench.desk_app.shop
    offered = await asyncio.to_thread(newest, shop)
    if offered:
        choices = [
            Choice(str(n), shown(one.path.name), _about(one, shop.at())) for n, one in enumerate(offered)
        ]
        choices += [Choice("path", "Another file", "type its path")]
        key = await bench.ask_pick("Which photo?", choices, note="The newest stands first.")
        if key != "path":
            return None if key is None else offered[int(key)].path
    note = "" if offered else "A folder named as photo_folder in the settings is looked into for new ones."
    text = await bench.ask_text(
        "Path of the photo", note=note, placeholder="~/Pictures/IMG_0001.jpg", check=see_file
    )
    return None if text is None else see_file(text)


def _about(one: Offered, now: int) -> str:
    return f"{age(max(0, now - one.at))}, {max(1, one.size >> 10)} kB"


async def _of(bench: "BenchScreen", view: CardView, task: TaskView | None) -> str | None:
    choices = [Choice(f"task:{task.id}", task.task.title, "of this task")] if task else []
    choices += [Choice(f"finding:{f.id}", f"{f.place}: {f.what}", "of this finding") for f in view.findings]
    choices += [Choice("car:", "The car", "neither task nor finding")]
    return await bench.ask_pick("A photo of what?", choices)
