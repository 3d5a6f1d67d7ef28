"""A shop's own keys, what the palette finds, and the look a terminal remembers."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.command import CommandPalette
from textual.pilot import Pilot
from textual.widgets._toast import Toast

from shopcli.cli import main
from shopcli.screens.acts import ACTS
from shopcli.screens.bench.station import BenchScreen
from shopcli.screens.keymap import TAKEN, keys_in_force, sound
from shopcli.screens.remembered import remember_theme, remembered_theme
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.workings.panel import WorkingsPanel
from shopcli.shop.settings import read_settings
from shopcli.store.reads.anything import found_cards, found_tasks
from shopcli.store.shop import Shop
from tests.stations.build import MIXED, press, seen, settle, story, write

IDS = [act.id for act in ACTS]


@pytest.mark.parametrize("act", ACTS, ids=lambda act: act.id)
def test_our_own_keys_are_sound(act) -> None:
    assert sound({act.id: act.keys}) == ({act.id: act.keys}, [])


@pytest.mark.parametrize(
    ("choice", "says"),
    [
        ({"bench.clok": "z"}, "did you mean 'bench.clock'"),
        ({"bench.clock": "d"}, "bench.clock and bench.done both want d"),
        ({"app.desk": "d"}, "both want d"),
        ({"bench.clock": "ctrl+i"}, "stands for Tab"),
        ({"bench.clock": "big_end"}, "is no key"),
        ({"bench.clock": " , "}, "has no key"),
        ({"bench.clock": "5"}, "figures are readings"),
    ],
)
def test_a_choice_that_cannot_be_is_named_and_left(choice: dict[str, str], says: str) -> None:
    taken, (complaint,) = sound(choice)
    assert taken == {}
    assert says in complaint


@given(st.dictionaries(st.sampled_from(IDS) | st.text(max_size=9), st.text("adz5,+ctrlshif[ ", max_size=9)))
def test_whatever_is_chosen_no_two_acts_of_a_station_come_to_share_a_key(choice: dict[str, str]) -> None:
    taken, complaints = sound(choice)
    assert len(taken) + len(complaints) == len(choice)
    assert sound(taken) == (taken, [])
    for keys in keys_in_force(taken).values():
        assert not set(keys.split(",")) & set(TAKEN)


async def test_the_shop_s_own_key_works_and_a_bad_one_is_said(shop: Shop) -> None:
    told = story(shop)
    shop.settings = shop.settings._replace(keys=(("desk.new_card", "ctrl+g"), ("desk.clok", "z")))
    async with told.app().run_test(size=(120, 40), notifications=True) as pilot:
        await settle(pilot)
        assert "no act is called 'desk.clok'" in seen(pilot.app)
        for size in ((120, 40), (80, 24)):
            await pilot.resize_terminal(*size)
            await settle(pilot)
            keys = pilot.app.screen.query_one(KeyBar).region
            assert max(toast.region.bottom for toast in pilot.app.screen.query(Toast)) == keys.y, (
                "covers no key"
            )
        assert keys.height > 1
        await press(pilot, "ctrl+g")
        assert type(pilot.app.screen).__name__ == "NewCardScreen"


def test_settings_take_a_table_of_keys() -> None:
    assert read_settings('[keys]\n"bench.clock" = "z"').keys == (("bench.clock", "z"),)
    with pytest.raises(Exception, match="keys wants a table"):
        read_settings('keys = "z"')


def test_the_shell_lists_keys_and_refuses_bad_ones(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "s.toml"
    file.write_text('[keys]\n"bench.clock" = "z"\n"desk.clok" = "z"\n', encoding="utf-8")
    assert main(["keys", "--settings", str(file)]) == 1
    out, err = capsys.readouterr()
    line = next(line for line in out.splitlines() if line.startswith("bench.clock "))
    assert line.split()[1] == "z"
    assert "desk.clok" in err


async def _find(pilot: Pilot[None], text: str) -> None:
    await pilot.press("ctrl+p")
    await write(pilot, text)
    palette = pilot.app.screen
    assert isinstance(palette, CommandPalette)
    for _ in range(50):
        await pilot.pause(0.02)
        if palette.query_one("CommandList").option_count and not palette._show_busy:
            break
    await pilot.press("enter")
    await settle(pilot)


async def test_the_palette_opens_a_card_a_task_and_a_sum(shop: Shop) -> None:
    told = story(shop)
    async with told.app("Tom").run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        await _find(pilot, "LRK 120")
        assert isinstance(pilot.app.screen, BenchScreen)
        assert pilot.app.card_id == told.cards["ada"]
        task = next(t for t in pilot.app.screen.view.tasks if t.task.key == "points:gap")
        await _find(pilot, task.task.title)
        assert pilot.app.screen.chosen == task.id
        await _find(pilot, "dwell in percent")
        assert isinstance(pilot.app.screen, WorkingsPanel)


@pytest.mark.parametrize("text", MIXED[:2])
async def test_the_palette_shows_what_people_typed(shop: Shop, text: str) -> None:
    told = story(shop)
    with closing(sqlite3.connect(str(shop.place.file))) as records, records:
        records.execute("UPDATE card SET title = ?", (text,))
        records.execute("UPDATE vehicle SET make = ?", (text,))
    async with told.app("Tom").run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        await pilot.press("ctrl+p")
        await write(pilot, "LRK")
        for _ in range(50):
            await pilot.pause(0.02)
            if "LRK 120" in seen(pilot.app).split("LRK", 1)[-1]:
                break
        assert isinstance(pilot.app.screen, CommandPalette)


def test_cards_and_tasks_are_found_by_words_number_and_registration(shop: Shop) -> None:
    told = story(shop)
    ada = told.cards["ada"]
    assert [c.id for c in found_cards(shop, "lrk")] == [ada]
    assert [c.id for c in found_cards(shop, "Sump")] == [ada], "a tag hangs on that car"
    assert told.cards["ben"] in [c.id for c in found_cards(shop, "held")]
    assert found_cards(shop, "%%%") == found_cards(shop, "___") == ()
    number = shop.fetch("SELECT number FROM card WHERE id = ?", (told.cards["wipers"],))[0][0]
    assert told.cards["wipers"] in [c.id for c in found_cards(shop, number.removeprefix("J").lstrip("0"))]
    assert [t.title for t in found_tasks(shop, ada, "points gap")]
    assert found_tasks(shop, ada, "no such task") == ()


async def test_a_chosen_theme_is_there_at_the_next_start(shop: Shop) -> None:
    told = story(shop)
    async with told.app().run_test() as pilot:
        pilot.app.theme = "clear-light"
        await settle(pilot)
    assert remembered_theme() == "clear-light"
    async with told.app().run_test() as pilot:
        assert pilot.app.theme == "clear-light"
    remember_theme("no such theme")
    async with told.app().run_test() as pilot:
        assert pilot.app.theme in pilot.app.available_themes
