"""The weeks on the screen: the figures of the read side, the current week said in a word, bars that can be compared."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from shopcli.screens.week.plot import SIGNS, WeekPlot, top_of
from shopcli.screens.week.station import WeekScreen
from shopcli.screens.week.wording import Weeks, table
from shopcli.shop.commands import ClockOn, CloseCard
from shopcli.shop.views import WeekRow
from shopcli.shop.week_sums import sold_percent
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, quiet, seen, settle, story


@pytest.fixture
def told(shop: Shop) -> Story:
    filled = story(shop)
    filled.do(CloseCard(filled.cards["hallam"]), by="Olive")
    return filled


async def test_thirteen_weeks_with_the_current_one_said(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f7")
        picture = seen(app)
    assert "2026-W36 31 Aug" in picture
    now = next(
        line for line in picture.split("\n") if "2026-W48" in line and "now" in line and "Week" not in line
    )
    # Opened: Ada's on Monday and the Corvane on Tuesday; closed: the Hallam; left in the shop: those two and Ben's.
    # Clocked: Tom 50 + 70 min, Nell three times 40. Sold: three times 40 min in started units of 6 min are 2.1 h.
    # Invoiced without VAT: 2.1 h at 60.00 and 3 L of oil at 4.50 + 30 %, 126.00 + 17.55.
    assert " ".join(now.split()) == "2026-W48 23 Nov now 2 1 3 4:00 2:06 53 % £143.55"
    assert "13 weeks" in picture
    assert "cards opened" in picture


async def test_left_and_right_move_by_weeks_and_never_into_the_future(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        heads = []
        for key in (
            "f7",
            "right",
            "left",
            "left",
            "pageup",
            "pagedown",
            "right",
            "pageup",
            "home",
            "pagedown",
        ):
            await press(pilot, key)
            heads.append(seen(app).split("\n")[0].split("to ")[1][:8])
    assert (
        heads
        == ["2026-W48"] * 2
        + ["2026-W47", "2026-W46", "2026-W33", "2026-W46", "2026-W47", "2026-W34"]
        + ["2026-W48"] * 2
    )


async def test_space_switches_between_cards_and_hours(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "space")
        assert "hours clocked" in seen(app)
        await press(pilot, "space")
        assert "cards closed" in seen(app)


@pytest.mark.parametrize(("size", "there"), [((80, 24), True), ((80, 20), False), ((200, 50), True)])
async def test_the_bars_take_what_room_is_left(told: Story, size: tuple[int, int], there: bool) -> None:
    app = told.app()
    async with app.run_test(size=size, notifications=True) as pilot:
        await press(pilot, "f7")
        plot = app.screen.query_one(WeekPlot)
        picture = seen(app)
        assert ("cards opened" in picture) is there
        assert ("W48" in picture.split("13 weeks")[1]) is there
        assert plot.size.height > 3 or not there
        assert "13 weeks" in picture


async def test_bars_are_as_wide_as_one_another_and_never_a_bar_for_nothing(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7")
        lowest = [line for line in seen(app).split("\n") if SIGNS[0] in line][-1]
    first, second = SIGNS
    # Opened in W45, W47 and W48 (one, two, two); closed in W45 and W48 (one, one).
    assert [len(run) for run in lowest.replace(second, " ").split() if first in run] == [3, 3, 3]
    assert [len(run) for run in lowest.replace(first, " ").split() if second in run] == [3, 3]


async def test_a_running_clock_counts_when_it_is_looked_at_again(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f7")
        told.do(ClockOn(told.task("ada", "oil:fill")), by="Nell")
        told.shop.now.forward(hours=1)  # type: ignore[attr-defined]
        await press(pilot, "f5", "f7")
        assert "6:00" in seen(app)


async def test_the_weeks_of_an_empty_shop(shop: Shop) -> None:
    app = Story(quiet(shop), {}).app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f7", "space", "left")
        await settle(pilot)
        assert isinstance(app.screen, WeekScreen)
        assert "2026-W47" in seen(app)


async def test_the_theme_may_change_under_the_bars(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7")
        for theme in ("textual-light", "ansi-dark", "nord"):
            app.theme = theme
            await settle(pilot)
            assert SIGNS[0] * 3 in seen(app)


ROW = WeekRow("2026-W48", date(2026, 11, 23), 10, 12, 104, 360_000, Decimal("99.5"), Decimal("12345.60"))


@pytest.mark.parametrize("width", [60, 78, 118, 198])
def test_the_table_holds_its_columns(width: int) -> None:
    lines = table(Weeks((replace(ROW, week="2026-W47"), ROW), "2026-W48"), "GBP", width).plain.split("\n")
    assert len({len(line) for line in lines}) == 1
    assert len(lines[0]) <= max(width, 78)
    for cell in ("104", "100:00", "99:30", "100 %", "£12,345.60", "23 Nov now"):
        assert cell in lines[2]


def test_a_share_of_nothing_is_no_number() -> None:
    assert sold_percent(Decimal(0), 0) is None
    assert sold_percent(Decimal("1.005"), 3600) == 101
    idle = replace(ROW, clocked_seconds=0)
    assert "%" not in table(Weeks((idle,), ""), "GBP", 78).plain.split("\n")[1]


@pytest.mark.parametrize(
    ("values", "top"), [((), 4), ((4.0,), 4), ((4.1,), 6), ((11,), 20), ((1000.5,), 2000)]
)
def test_the_scale_ends_on_a_round_figure(values: tuple[float, ...], top: int) -> None:
    assert top_of(values) == top
