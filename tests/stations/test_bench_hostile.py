"""Text from people and files is shown, never obeyed: odd strings through every widget and question of the bench."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from shopcli.shop.commands import (
    AddCustomer,
    AddFinding,
    AddPart,
    AddPerson,
    AddVehicle,
    ClockOn,
    FinishTask,
    OpenCard,
)
from shopcli.store.reads import people
from shopcli.store.shop import Shop
from shopcli.worklists.load import load_library
from tests.conftest import Busy, Clock
from tests.stations.bench_help import LARGE, MIDDLE, SMALL, standing

pytestmark = pytest.mark.long

HOSTILE = (
    "[/oops] [bold]x[/bold] [@click=app.quit]out[/] 5 [imp] gal",
    "\u202eleft to right\u202c שלום עולם 車検 e\u0301\u0301\u0301",
    "a" * 115,
    "$text-error {{ 7 * 7 }} %s {0} \\[/",
)

TASKS = """
title = {text}
system = "engine"
kit = [{{ part = {part}, qty = 1 }}]
[[task]]
id = "one"
title = {text}
say = {say}
readings = [{{ name = {name}, spec = "odd_gap", when = ["as found", "as left"] }}]
minutes = 5
place = {text}
hangs = ["odd"]
cautions = ["odd"]
second = true
owes = [{{ check = "later", title = {text} }}]
[[task]]
id = "two"
title = {text}
acts = ["start"]
after = ["one"]
"""
SHEET = """
title = {text}
[spec.odd_gap]
label = {text}
low = 14
high = 18
unit = "thou"
state = {text}
from = "handbook"
document = {text}
page = {text}
note = {text}
"""


def hostile_shop(make_shop: Callable[..., Shop], clock: Clock, folder: Path, text: str) -> Busy:
    words = json.dumps(text)
    plain = text.replace("{{", "").replace("}}", "")
    for name in ("tasks", "sheets"):
        (folder / name).mkdir()
    filled = TASKS.format(
        text=json.dumps(plain), part=words, name=json.dumps(plain[:60]), say=json.dumps(plain)
    )
    (folder / "tasks" / "odd.toml").write_text(filled, encoding="utf-8")
    (folder / "sheets" / "odd.toml").write_text(SHEET.format(text=words), encoding="utf-8")
    (folder / "cautions.toml").write_text(f"[caution.odd]\ntext = {words}\n", encoding="utf-8")
    (folder / "tags.toml").write_text(f'[tag.odd]\nsays = {words}\nbars = ["start"]\n', encoding="utf-8")
    shop = make_shop(now=clock)
    shop.library = load_library(folder, with_shipped=False)
    assert not shop.library.problems
    who = {p.name: p.id for p in people.people(shop)}
    short = text[:38]
    with shop.many() as run:
        odd = run.do(AddPerson(short, "mechanic", "imperial"), by=who["Olive"]).id
        customer = run.do(AddCustomer(text, short), by=odd).id
        vehicle = run.do(AddVehicle(customer, text[:12], short, short, 1960, sheet="odd"), by=odd).id
        run.do(AddPart("X-1", text[:70], 100, stock_milli=1000, bin=text[:18]), by=odd)
        card = run.do(OpenCard(vehicle, ("odd",), title=text, words=text), by=odd).id
    busy = Busy(shop, clock, who | {"odd": odd}, customer, vehicle, card)
    busy.do(ClockOn(busy.task("odd:one").id), by="odd")
    busy.do(AddFinding(card, text[:70], text, "soon", text), by="odd")
    return busy


MARKUP, BIDI, LONG, FIELDS = HOSTILE
TINY = (40, 12)


@pytest.mark.parametrize(
    ("size", "text"),
    [(SMALL, LONG), (MIDDLE, FIELDS), (LARGE, MARKUP), (TINY, BIDI)],
)
async def test_shown_not_obeyed(
    make_shop: Callable[..., Shop], clock: Clock, tmp_path: Path, text: str, size: tuple[int, int]
) -> None:
    busy = hostile_shop(make_shop, clock, tmp_path, text)
    who = next(p.name for p in people.people(busy.shop) if p.id == busy.people["odd"])
    async with standing(busy, who=who, size=size) as here:
        await here.press("d", "escape")  # refused: a reading is missing; the question for a note goes
        for keys in (("f", "escape"), ("s", "escape"), ("t", "escape"), ("n", "escape"), ("o", "escape")):
            await here.press(*keys)
        await here.press("6", "tab", "right", "down", "escape", "tab", "g", "right", "down", "escape")
        busy.do(FinishTask(busy.task("odd:one").id, text), by="odd")
        here.bench.read_again()
        await here.settle()
        for keys in (("v", "escape"), ("u", "escape"), ("t", "escape"), ("j", "d"), ("i",), ("pagedown",)):
            await here.press(*keys)
        assert busy.task("odd:two").state == "open"
        assert here.app.is_running
        marked = "[bold]x[/bold]"
        if marked in text and size == LARGE:
            assert marked in here.words(), "shown as it was typed"
