"""Readings and numbers at the bench: typed as read, understood aloud, judged only by a number somebody stands for."""

from collections.abc import Callable

import pytest
from textual.widgets import Input

from shopcli.screens.bench.entrywords import Words
from shopcli.screens.bench.inview import ASKED
from shopcli.screens.dialogs import Confirm
from shopcli.shop.commands import FinishTask, TakeReading
from shopcli.store.shop import Shop
from tests.conftest import Busy, Clock
from tests.stations.bench_help import LARGE, MIDDLE, SMALL, Standing, bench_shop, standing


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    return bench_shop(make_shop, clock)


def answer(here: Standing) -> str:
    return here.bench.query_one("#entry-answer", Words).says


def kept(here: Standing) -> list[tuple[object, ...]]:
    return here.rows("SELECT slot, typed, unit, standing FROM reading WHERE struck_at IS NULL ORDER BY id")


# 0.15 mm = 5.9 thou; the test sheet prints 5 to 7 thou and 0.13 to 0.18 mm: invented numbers.
@pytest.mark.parametrize(
    ("typed", "said", "unit"),
    [
        ("6 thou", "= 6 thou, ✓ in limits", "thou"),
        ('.006"', "= 0.006 in = 6 thou, ✓ in limits", "in"),
        ("0,15 mm", "= 0.15 mm = 5.9 thou, ✓ in limits", "mm"),
        ("4", "= 4 thou, ▾ low by 1 thou (limit 5 thou)", "thou"),
        ("0.2mm", "= 0.2 mm = 7.9 thou, ▴ high by 0.02 mm (limit 0.18 mm)", "mm"),
    ],
)
async def test_typed_as_read(busy: Busy, typed: str, said: str, unit: str) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        await here.type(typed, enter=False)
        assert here.bench.query_one(Input).value == typed, "the first figure is in the field already"
        assert answer(here) == said
        await here.press("enter")
        ((slot, text, in_unit, standing_),) = kept(here)
        assert (slot, text, in_unit) == ("clearance@1 inlet|as found", typed, unit)
        assert standing_ == ("in" if "✓" in said else "low" if "▾" in said else "high")
        assert said.split(", ")[1][2:] in here.says


async def test_nothing_moves_while_a_reading_is_typed(busy: Busy) -> None:
    """What stands above the field keeps its place and its size: the large figures do not jump, and little is sent."""
    async with standing(busy, size=SMALL) as here:
        panes = [here.bench.query_one(f"#{name}") for name in ("list", "task", "clock", "brief", "open")]
        for size in (SMALL, MIDDLE, LARGE):
            await here.pilot.resize_terminal(*size)
            await here.settle()
            for key in ("measure", "torque", "open-up"):  # several readings, one reading, none
                await here.go(key)
                before = [pane.region for pane in panes]
                for text in ("4", " Nm", "?"):
                    await here.type(text, enter=False)
                    assert [pane.region for pane in panes] == before, (size, key, text)
                    assert key == "torque" or "Esc" in here.words()  # there the words fill the room
                await here.press("escape")
                assert [pane.region for pane in panes] == before, (size, key)


async def test_a_bare_figure_is_in_the_unit_that_stands_large(busy: Busy) -> None:
    async with standing(busy, who="Nell") as here:
        await here.go("measure")
        await here.type("0,15", enter=False)
        assert answer(here) == "= 0.15 mm, ✓ in limits"
        await here.press("enter")
        assert kept(here) == [("clearance@1 inlet|as found", "0,15", "mm", "in")]
        assert "0,15 ✓" in here.words(), "the unit stands in the heading of the grid"


@pytest.mark.parametrize("size", [SMALL, (120, 40)])
async def test_valves_are_typed_one_after_the_other(busy: Busy, size: tuple[int, int]) -> None:
    async with standing(busy, size=size) as here:
        await here.go("measure")
        for figure in ("6", "8", "4", "9"):
            await here.type(figure)
        assert [(row[0], row[1]) for row in kept(here)] == [
            ("clearance@1 inlet|as found", "6"),
            ("clearance@1 exhaust|as found", "8"),
            ("clearance@2 inlet|as found", "4"),
            ("clearance@2 exhaust|as found", "9"),
        ]
        assert not here.bench.entry.is_open
        grid = [line for line in here.words().splitlines() if "inlet " in line or "exhaust " in line]
        assert any("6 ✓" in line and "4 ▾" in line for line in grid), "inlets in one row"
        assert any("8 ✓" in line and "9 ▴" in line for line in grid), "exhausts in the other"


async def test_quick_hands_do_not_overwrite(busy: Busy) -> None:
    """Eight keys without waiting for any answer fill four places, not one."""
    async with standing(busy) as here:
        await here.go("measure")
        await here.pilot.press("6", "enter", "8", "enter", "6", "enter", "8", "enter")
        await here.settle()
        assert len(kept(here)) == 4
        assert here.rows("SELECT COUNT(*) FROM reading") == [(4,)]


async def test_as_found_comes_before_as_left(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("set-gap")
        await here.type("12 thou")
        await here.type("16 thou")
        assert [(row[0], row[1]) for row in kept(here)] == [
            ("points gap|as found", "12 thou"),
            ("points gap|as left", "16 thou"),
        ]
        await here.press("d")
        assert busy.task("bench-test:set-gap").state == "done"


async def test_a_wrong_unit_stays_in_the_field(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        await here.type("6 Nm")
        assert here.bench.entry.is_open
        assert here.bench.query_one(Input).value == "6 Nm"
        assert answer(here).startswith("Wrong unit:")
        assert not kept(here)
        await here.press("backspace", "backspace", "t", "h", "o", "u", "enter")
        assert kept(here) == [("clearance@1 inlet|as found", "6 thou", "thou", "in")]


async def test_an_unclear_unit_offers_its_choices(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("torque")
        await here.type("30 lb")
        assert here.bench.entry.is_open
        assert "Which one?" in answer(here)
        assert "lbf·ft" in answer(here)


@pytest.mark.parametrize("keys", [("escape",), ("enter", "escape"), ("d", "k", "u", "escape")])
async def test_esc_keeps_nothing(busy: Busy, keys: tuple[str, ...]) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        await here.press("r")
        assert here.bench.entry.is_open
        await here.press(*keys)
        assert not here.bench.entry.is_open
        assert not kept(here)
        assert busy.task("bench-test:measure").state == "open"
        await here.press("j")
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == "bench-test:set-gap", "the keys act again"


async def test_another_reading_is_chosen_with_the_arrows(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        await here.pilot.press("r", "right", "7")
        await here.press("enter")
        assert kept(here) == [("clearance@2 inlet|as found", "7", "thou", "in")]


async def test_a_second_reading_takes_the_place_of_the_first(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("torque")
        await here.type("41 Nm")
        await here.press("r")
        assert "Taken as 41 Nm; Enter asks" in here.bench.query_one("#entry-question", Words).says
        await here.type("42 Nm")
        assert isinstance(here.app.screen, Confirm)
        assert "torque, as left, stands as 41 Nm. Put 42 Nm in its place?" in here.words()
        assert here.says == ASKED, "no key of the bench is spoken of meanwhile"
        await here.press("escape")
        assert here.bench.query_one(Input).value == "42 Nm", "what was typed is still there"
        assert [row[1] for row in kept(here)] == ["41 Nm"]
        await here.press("enter", "y")
        assert [row[1] for row in kept(here)] == ["42 Nm"]


async def test_one_figure_too_many_overwrites_nothing_silently(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        for figure in ("6", "8", "6", "8"):
            await here.type(figure)
        await here.type("7")
        assert "valve 1 inlet, as found, stands as 6 thou. Put 7 thou in" in here.words()
        await here.press("n", "escape")
        assert [row[1] for row in kept(here)] == ["6", "8", "6", "8"]


async def test_what_is_next_is_where_the_arrow_stands(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        await here.press("r", "right")
        await here.type("6")  # the place on the right first
        assert here.says.startswith("clearance, valve 2 inlet")
        await here.press("m", "m")
        assert here.bench.in_hand is not None
        hand = here.bench.hand(here.bench.view, here.bench.in_hand)  # type: ignore[arg-type]
        slot = hand.next_slot()
        assert slot is not None
        here.bench.said.clear()
        assert here.says.startswith(f"Next: {slot.label}, as found.")
        assert slot.label != "valve 1 inlet", "it goes on behind the one taken last"


async def test_a_task_without_readings_says_so(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("r")
        assert here.says.startswith("'Take the cover off' takes no reading. d says it is done")
        await here.press("d", "i")
        await here.type("7 thou")
        assert "is done and takes no reading. u opens it again. Nothing was put down." in here.says


async def test_a_figure_typed_where_none_is_taken_is_swallowed_whole(busy: Busy) -> None:
    """`5 thou` opened the tags with its t, and the next figure became the reason for lifting one by hand."""
    busy.do(FinishTask(busy.task("bench-test:open-up").id))  # hangs the tag
    async with standing(busy) as here:
        await here.go("close-up")
        await here.type("5 thou", enter=False)
        assert here.app.screen is here.bench
        assert here.bench.query_one(Input).value == "5 thou"
        assert "takes no reading" in here.words()
        await here.press("enter")
        assert not here.bench.entry.is_open
        assert here.says.startswith("'Refit the cover' takes no reading. d says it is done, c is the clock")
        assert here.says.endswith("Nothing was put down.")
        await here.type("7 thou", enter=False)
        await here.press("escape")
        assert busy.view().tags
        assert not kept(here)
        assert busy.task("bench-test:close-up").state == "open"


async def test_practice_cannot_judge_until_confirmed(busy: Busy) -> None:
    async with standing(busy, who="Nell") as here:
        await here.go("set-gap")
        assert "! common practice, no source: to be confirmed (n)" in here.words()
        await here.type("0.40 mm", enter=False)
        assert answer(here) == "= 0.4 mm, not judged: confirm the number first (n)"
        await here.press("enter")
        assert kept(here)[0][3] == "unjudged"
        await here.press("n", "enter", "enter")
        await here.type("Twin owner's handbook")
        await here.type("31")
        assert "points gap: kept for TWN 2." in here.says
        await here.press("j", "i")
        shown = here.words()
        assert "handbook: Twin owner's handbook, page 31" in shown.replace("\n", " ")
        assert "to be confirmed" not in shown
        assert "taken before the number was confirmed" in " ".join(shown.split())
        await here.type("0.40 mm")
        assert kept(here)[-1][3] == "in"
        (spec,) = here.rows("SELECT spec FROM vehicle_spec")
        assert "Nell" in str(spec[0])


async def test_a_missing_number_is_asked_for_and_entered(busy: Busy) -> None:
    async with standing(busy, who="Nell") as here:
        await here.go("pump")
        assert "no number is known for this vehicle. n enters it" in " ".join(here.words().split())
        await here.press("n")
        await here.type("12 to 13")
        assert "Add one of" in here.words(), "no unit, so it is not taken"
        await here.type(" mm")
        await here.press("enter")
        await here.type("Twin workshop manual")
        await here.press("enter")
        await here.type("12,4 mm")
        assert kept(here) == [("depth|as left", "12,4 mm", "mm", "in")]


async def test_low_and_high_are_typed_as_printed(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("set-gap")
        await here.press("n", "down", "enter")
        await here.type('.014" to .018"')
        await here.type("plate")
        await here.type("13 thou", enter=False)
        assert "▾ low by 0.001 in" in answer(here) or "▾ low by 1 thou" in answer(here)


async def test_the_document_is_remembered(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("pump")
        for page in ("7", "8"):  # the same entry twice would be one
            await here.press("n")
            if here.rows("SELECT id FROM vehicle_spec"):
                await here.press("enter")
            else:
                await here.type("12 mm")
            await here.press("enter")
            if not here.rows("SELECT id FROM vehicle_spec"):
                await here.type("Twin manual")
            else:
                await here.press("enter")
            await here.type(page)
        specs = here.rows("SELECT spec FROM vehicle_spec")
        assert len(specs) == 2
        assert all("Twin manual" in str(spec[0]) for spec in specs)


async def test_a_task_without_a_number_says_so(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("n")
        assert here.says == "'Take the cover off' has no number."


async def test_a_reading_from_another_terminal_moves_the_next_on(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        task = busy.task("bench-test:measure").id
        busy.do(TakeReading(task, "clearance@1 inlet|as found", "6 thou"), by="Nell")
        here.bench.read_again()
        await here.settle()
        await here.type("8 thou")
        assert [row[0] for row in kept(here)] == [
            "clearance@1 inlet|as found",
            "clearance@1 exhaust|as found",
        ]


async def test_done_elsewhere_while_typing_is_refused_not_lost(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("torque")
        await here.type("41 Nm", enter=False)
        busy.do(FinishTask(busy.task("bench-test:torque").id, "by feel"), by="Nell")
        here.bench.read_again()
        await here.settle()
        assert here.bench.query_one(Input).value == "41 Nm", "reading again does not take the typing away"


async def test_out_of_limits_never_wears_a_tick(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("torque")
        await here.type("60 Nm")
        assert here.says.startswith("torque, as left: out of limits, high by 15 N·m")
        assert "! torque, as left: out of limits" in here.words()
        await here.press("d")
        assert isinstance(here.app.screen, Confirm)
        assert "Reading out of limits: torque 60 Nm, high by" in here.words()
        await here.press("enter", "escape")
        assert busy.task("bench-test:torque").state == "open"
        await here.press("d", "y")
        assert busy.task("bench-test:torque").state == "done"
        assert here.says.startswith("Done, out of limits: Tighten the head bolts.")
        assert "! Done, out of limits" in here.words()
        await here.go("torque")
        listed = " ".join(here.words().split())
        assert "! done, out of limits, by Tom" in listed
        assert "✓ done by Tom" not in listed
        assert "bolts (out of" in listed


async def test_in_limits_is_done_without_a_question(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("torque")
        await here.type("42 Nm")
        assert "✓ torque, as left: in limits" in here.words()
        await here.press("d")
        assert busy.task("bench-test:torque").state == "done"
        assert "✓ Done: Tighten the head bolts." in here.words()


async def test_a_figure_meant_in_another_unit_is_asked_about(busy: Busy) -> None:
    """0.15 stands for millimetres where thou are shown, but nobody guesses."""
    async with standing(busy) as here:
        await here.go("measure")
        await here.type("0.15")
        assert here.bench.entry.is_open
        assert (
            "Which one? 0.15 thou is far from 5 to 7 thou, aim for 6 thou; 0.15 mm would be near"
            in answer(here)
        )
        assert "0.15 mm or 0.15 thou" in answer(here)
        assert not kept(here)
        await here.press("m", "m", "enter")
        assert kept(here) == [("clearance@1 inlet|as found", "0.15mm", "mm", "in")]
        await here.type("0.15 thou")
        assert kept(here)[1][1:] == ("0.15 thou", "thou", "low"), "with its unit it is taken at its word"


# Limits of the test sheet are 5 to 7 thou, an invented number.
async def test_a_slip_of_the_hand_is_asked_about_and_another_figure_begins_anew(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        await here.type("666 thou")
        assert answer(here).startswith("666 thou is 95 times 7 thou: a slip?")
        assert kept(here) == []
        await here.type("6 thou")
        assert [row[1] for row in kept(here)] == ["6 thou"], "nothing was tacked on to what was refused"


async def test_a_slip_is_written_down_when_it_is_meant(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        await here.type("666 thou")
        await here.press("enter")
        assert [row[1] for row in kept(here)] == ["666 thou"]


async def test_a_unit_is_added_to_what_was_asked_about(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        await here.type("0.15")
        assert "is far from" in answer(here)
        await here.type(" mm")
        assert [row[1] for row in kept(here)] == ["0.15 mm"]


async def test_what_was_refused_is_mended_by_taking_signs_away(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        await here.type("66 thoo")
        assert kept(here) == []
        await here.press("backspace", "backspace", "backspace", "backspace", "backspace", "backspace")
        await here.type(" thou")
        assert [row[1] for row in kept(here)] == ["6 thou"]
