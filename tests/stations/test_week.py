"""The week on the screen: figures of the records, each opening to its rows; periods; pictures."""

import pytest
from textual.pilot import Pilot

from shopcli.screens.bench.station import BenchScreen
from shopcli.screens.week.opened import OpenedScreen
from shopcli.screens.week.plot import SIGNS, ChartPlot
from shopcli.screens.week.station import LENGTHS, WeekScreen
from shopcli.shop.commands import ClockOn
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, quiet, seen, settle, still
from tests.stations.week_help import row, slow_points, told_week


@pytest.fixture
def told(shop: Shop) -> Story:
    return told_week(shop)


async def test_the_first_page_says_the_week_in_figures(told: Story) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 50), notifications=True) as pilot:
        await press(pilot, "f7")
        picture = seen(app)
    assert "2026-W48, now" in picture
    # Opened: Ada's on Monday and the Corvane on Tuesday; closed: the Hallam; nothing was handed over: those three and Ben's
    # stand here, with the wipers' that was closed on 3 November.
    assert row(picture, "cards opened  ")[0] == "2"
    assert row(picture, "cards closed  ")[0] == "1"
    # Clocked: Tom 50 + 70 min, Nell three times 40. Sold: three times 40 min in started units of 6 min are 2.1 h.
    assert row(picture, "hours clocked on cards")[0] == "4:00"
    assert row(picture, "sold of clocked")[:2] == ["52", "%"]
    # Invoiced without VAT: 2.1 h at 60.00 and 3 L of oil at 4.50 + 30 %, 126.00 + 17.55.
    assert row(picture, "invoiced, without VAT")[0] == "£143.55"
    assert "On Monday" in picture


async def test_each_page_has_its_key_and_its_tables(told: Story) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 50), notifications=True) as pilot:
        await press(pilot, "f7")
        for key, words in (
            ("2", "Where cards wait"),
            ("3", "Paid, clocked, sold"),
            ("4", "What came of it"),
            ("5", "Clocked against listed"),
            ("6", "Cars that came back"),
            ("7", "When all that is booked in is done"),
            ("1", "On Monday"),
        ):
            await press(pilot, key)
            picture = seen(app)
            assert words in picture
            assert f"[{key} " in picture


async def test_what_is_the_owners_is_shown_to_the_owner_alone(told: Story) -> None:
    app = told.app("Tom")
    async with app.run_test(size=(120, 50), notifications=True) as pilot:
        await press(pilot, "f7")
        picture = seen(app)
        assert "£" not in picture
        assert "4 Money" not in picture
        await press(pilot, "4")
        assert "for the owner" in seen(app)


async def test_a_figure_opens_to_its_rows_and_a_row_to_its_card(told: Story) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "2", "enter")
        assert isinstance(app.screen, OpenedScreen)
        assert "in all" in seen(app)
        await press(pilot, "escape")
        assert isinstance(app.screen, WeekScreen)
        await press(pilot, *["pagedown"] * 5, "enter")
        assert isinstance(app.screen, OpenedScreen)
        picture = seen(app)
        assert "2 in all" in picture  # opened in this week
        await press(pilot, "enter")
        assert isinstance(app.screen, BenchScreen)


async def test_a_bar_opens_by_key_and_by_click(told: Story) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "b")
        assert "[2 Flow]" in seen(app)
        assert "▸W48" in seen(app)
        await press(pilot, "enter")
        assert "2 in all" in seen(app)
        await press(pilot, "escape", "1")
        plot = app.screen.query_one(ChartPlot)
        await pilot.click(ChartPlot, offset=(5 + (plot.size.width - 5) // 13 * 11 + 2, plot.size.height - 4))
        await settle(pilot)
        assert isinstance(app.screen, OpenedScreen)
        assert "Fri 20 Nov" in seen(app)


async def test_left_and_right_choose_a_figure_of_the_row(told: Story) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "3", "right")
        screen = app.screen
        assert isinstance(screen, WeekScreen)
        await press(pilot, "enter")
        assert "4:00" in seen(app).split("in all")[1]
        await press(pilot, "escape", "left", "left", "left", "enter")
        assert isinstance(app.screen, OpenedScreen)


async def test_periods_go_back_and_on_and_never_into_the_future(told: Story) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        heads = []
        for key in ("f7", "l", "e", "space", "e", "home"):
            await press(pilot, key)
            heads.append(seen(app).split("\n")[0].split("Week")[1].split("Olive")[0].strip())
            screen = app.screen
            assert isinstance(screen, WeekScreen)
            if len(heads) == 1:
                # Behind what was opened is read what the next key may ask for: the period before and the next longer one.
                read = screen._read
                assert read
                assert {p for p in screen._next_periods() if p not in read.stands.periods} == set()
    assert heads == [
        "2026-W48, now",
        "2026-W48, now",
        "2026-W47",
        "2026-W44 to 2026-W47",
        "2026-W40 to 2026-W43",
        "2026-W45 to 2026-W48, now",
    ]
    assert LENGTHS == (1, 4, 13, 52)


async def test_bars_are_as_wide_as_one_another_and_never_a_bar_for_nothing(told: Story) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7")
        lowest = [line for line in seen(app).split("\n") if SIGNS[0] * 2 in line and "cards" not in line][-1]
    first, second = SIGNS
    lowest = lowest.split("%")[0] if "%" in lowest else lowest
    # Opened in W45, W47 and W48 (one, two, two); closed in W45 and W48 (one, one).
    assert len({len(run) for run in lowest.replace(second, " ").split() if first in run}) == 1
    assert len([run for run in lowest.replace(second, " ").split() if first in run]) == 3
    assert len([run for run in lowest.replace(first, " ").split() if second in run]) == 2


@pytest.mark.parametrize(("size", "there"), [((80, 20), False), ((200, 50), True)])
async def test_the_picture_takes_no_room_where_there_is_none(
    told: Story, size: tuple[int, int], there: bool
) -> None:
    app = told.app("Olive")
    async with app.run_test(size=size, notifications=True) as pilot:
        await press(pilot, "f7")
        plot = app.screen.query_one(ChartPlot)
        assert (f"{SIGNS[0] * 2} cards opened" in seen(app)) is there
        assert (plot.size.height > 3) is there
        assert "On Monday" in seen(app)


async def test_a_running_clock_counts_when_it_is_looked_at_again(told: Story) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 50), notifications=True) as pilot:
        await press(pilot, "f7")
        told.do(ClockOn(told.task("ada", "oil:fill")), by="Nell")
        told.shop.now.forward(hours=1)  # type: ignore[attr-defined]
        await press(pilot, "f5", "f7")
        assert row(seen(app), "hours clocked on cards")[0] == "6:00"


async def test_the_week_of_an_empty_shop_on_every_page(shop: Shop) -> None:
    app = Story(quiet(shop), {}).app("Olive")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f7", "space", "e", "5", "7", "enter", "escape")
        assert "2026-W41 to 2026-W44" in seen(app)


@pytest.mark.long
async def test_the_theme_may_change_under_the_bars(told: Story) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7")
        for theme in ("textual-light", "ansi-dark"):
            app.theme = theme
            await settle(pilot)
            assert SIGNS[0] * 2 in seen(app)


# Pictures ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("keys", "size"),
    [
        (("3",), (120, 40)),
        (("4",), (80, 24)),
        (("5",), (120, 40)),
        (("2", "enter"), (80, 24)),
    ],
    ids=["hours", "money", "times", "rows"],
)
def test_pages_look(told: Story, snap_compare, keys: tuple[str, ...], size: tuple[int, int]) -> None:
    if "5" in keys:
        slow_points(told)

    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f7", *keys)
        await still(pilot)

    assert snap_compare(told.app("Olive"), terminal_size=size, run_before=stand)
