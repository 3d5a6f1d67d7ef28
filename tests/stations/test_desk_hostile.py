"""Whatever is in the records, every screen of the desk stands: no markup is read, no terminal driven, no width lost.

Text is cleaned where it enters; here it is written past that border, as an import or another program might.
"""

import sqlite3
from contextlib import closing
from datetime import date

import pytest
from textual.content import Content

from shopcli.columns import display_width
from shopcli.screens.desk import wording
from shopcli.screens.desk.closing import ClosingScreen
from shopcli.screens.desk.new_card import NewCardScreen
from shopcli.screens.desk.station import DeskScreen
from shopcli.screens.summary import SummaryScreen
from shopcli.screens.week.station import WeekScreen
from shopcli.shop.commands import AddOutwork
from shopcli.store.reads.desk import open_cards
from shopcli.store.shop import Shop
from tests.stations.build import HOSTILE, MIXED, MIXED_IDS, Story, press, seen, settle, story, write

pytestmark = pytest.mark.long

TODAY = date(2026, 11, 25)
COLUMNS = {
    "person": ("name",),
    "customer": ("name", "phone", "address"),
    "vehicle": ("make", "model"),
    "card": ("title", "words", "left_with", "authority_by", "held_for"),
    "task": ("title", "left_out_for", "note"),
    "tag": ("name", "says"),
    "owed": ("title",),
    "finding": ("place", "what", "takes"),
    "card_part": ("description",),
    "outwork": ("what", "who"),
    "reading": ("label", "typed", "verdict"),
}


@pytest.fixture(params=MIXED, ids=MIXED_IDS)
def spoilt(shop: Shop, request: pytest.FixtureRequest) -> tuple[Story, str]:
    """Return a shop with one hostile text in every column a person could have filled."""
    told = story(shop)
    told.do(AddOutwork(told.cards["ada"], "skim", "a firm"))
    text: str = request.param
    file = shop.place.file
    assert file is not None
    with closing(sqlite3.connect(file)) as records, records:
        for table, columns in COLUMNS.items():
            # Names stay apart from one another by their id; that is what the shop goes by, too.
            told_apart = ", ".join(f"{c} = ? || {'id' if c == 'name' else 2}" for c in columns)
            records.execute(f"UPDATE {table} SET {told_apart}", [text] * len(columns))
        records.execute("UPDATE vehicle SET registration = ? || id", (text[:40],))
        records.execute("UPDATE card SET number = ? || id", (text[:30],))
        records.execute("UPDATE card SET state = 'held' WHERE id = ?", (told.cards["ben"],))
    return told, text


def unharmed(app: object) -> None:
    """See that nothing of the text drove the screen."""
    picture = seen(app)  # type: ignore[arg-type]
    assert "\x1b" not in picture
    assert "\x00" not in picture
    assert "\u202e" not in picture


@pytest.mark.parametrize("size", [(80, 24)])
async def test_the_desk_and_what_opens_from_it(spoilt: tuple[Story, str], size: tuple[int, int]) -> None:
    told, text = spoilt
    app = told.app(_spoilt_name(told, "Dora"))
    async with app.run_test(size=size, notifications=True) as pilot:
        await settle(pilot)
        unharmed(app)
        if text.startswith("["):
            assert "[/o] [@click" in seen(app)
        await write(pilot, text[:60])
        unharmed(app)
        await press(pilot, "escape", "down", "f9", "escape", "f12")
        unharmed(app)
        await press(pilot, "escape")
        assert isinstance(app.screen, DeskScreen)
        await press(pilot, "f8")
        unharmed(app)
        await press(pilot, "escape", "f7")
        assert isinstance(app.screen, WeekScreen)
        unharmed(app)


async def test_the_closing_check_and_the_summary(spoilt: tuple[Story, str]) -> None:
    told, _text = spoilt
    app = told.app(_spoilt_name(told, "Dora"))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.push_screen(ClosingScreen(told.cards["ada"]))
        await settle(pilot)
        for _ in range(8):
            await press(pilot, "enter", "escape", "down")
            if not isinstance(app.screen, ClosingScreen):
                break
            unharmed(app)
        app.switch_mode("desk")
        app.push_screen(SummaryScreen(told.cards["ada"]))
        await settle(pilot)
        unharmed(app)
        await press(pilot, "f2", "escape", "f4", "f9")
        unharmed(app)


async def test_the_new_card(spoilt: tuple[Story, str]) -> None:
    told, text = spoilt
    app = told.app(_spoilt_name(told, "Dora"))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f2")
        await write(pilot, text[:20])
        await press(pilot, "enter", "enter")
        unharmed(app)
        for _ in range(17):
            await write(pilot, text)
            await press(pilot, "tab")
        await press(pilot, "f2")
        unharmed(app)
        assert isinstance(app.screen, NewCardScreen)
        await press(pilot, "escape")


@pytest.mark.parametrize("text", HOSTILE, ids=["markup", "right to left", "controls", "wide", "endless"])
@pytest.mark.parametrize("width", [60, 77, 118, 198])
def test_no_line_of_the_list_is_wider_than_the_list(shop: Shop, text: str, width: int) -> None:
    rows = tuple(
        row._replace(
            customer=text,
            phone=text,
            registration=text,
            vehicle=text,
            title=text,
            number=text,
            held_for=text,
            running=(text, text),
            open_tags=(text,),
        )
        for row in open_cards(story(shop).shop)
    )
    columns = wording.plan(width, rows)
    contents: list[Content] = [wording.head(columns)]
    for row in rows:
        contents.append(wording.customer_line(row, width))
        contents.append(wording.vehicle_line(row, width))
        contents.append(wording.card_lines(row, columns, TODAY))
    narrowest = wording.INDENT + 10 + wording.STATE + wording.PROMISE + wording.HOURS + wording.TASKS + 8
    for content in contents:
        for line in content.plain.split("\n"):
            assert display_width(line.rstrip()) <= max(width, narrowest)
            assert line.isprintable()


def _spoilt_name(told: Story, who: str) -> str:
    rows = told.shop.fetch("SELECT name FROM person WHERE id = ?", (told.people[who],))
    return str(rows[0][0])
