"""The week when it is opened: the figures of the period before all the rest, in the lines in which they stay."""

from threading import Event

import pytest

from shopcli.papers.week.reading import glancing, see, standing
from shopcli.screens.remembered import remember, remembered
from shopcli.screens.week import room, station
from shopcli.screens.week.looking import Read, glance, read
from shopcli.screens.week.rows import drawn, rows_of
from shopcli.screens.widgets.long_list import LongList
from shopcli.store.reads.week_bounds import this_week
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, seen, settle, until
from tests.stations.week_help import height, told_week

LINES = ("In figures", "cards handed over", "half stayed", "On Monday", "hours clocked on cards")


@pytest.fixture
def told(shop: Shop) -> Story:
    return told_week(shop)


@pytest.mark.parametrize("role", ["owner", "mechanic"])
def test_what_was_read_for_a_first_look_is_as_when_all_is_read_at_once(told: Story, role: str) -> None:
    week = this_week(told.shop)
    for period in (week, week.before):
        first = glancing(told.shop)
        see(told.shop, period, role, first)
        assert see(told.shop, period, role, standing(told.shop, role, first)) == see(told.shop, period, role)


def test_what_was_read_for_a_first_look_is_not_read_again(
    told: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []
    fetch = Shop.fetch

    def watched(self: Shop, sql: str, params: tuple[object, ...] = ()) -> object:
        asked.append(sql)
        return fetch(self, sql, params)

    monkeypatch.setattr(Shop, "fetch", watched)
    week = this_week(told.shop)
    first = glance(told.shop, week, "owner", plain=False)
    glanced = len(asked)
    read(told.shop, week, "owner", first.stands, plain=False)
    rest, asked[:] = len(asked) - glanced, []
    read(told.shop, week, "owner", None, plain=False)
    assert glanced + rest == len(asked)


def test_the_figures_of_a_first_look_are_those_of_the_whole_page(told: Story) -> None:
    week = this_week(told.shop)
    early, late = (
        [drawn(line, 118, -1) for _key, line in rows_of(one.report.pages[0], 118)]
        for one in (glance(told.shop, week, "owner", plain=False), _whole(told.shop))
    )
    heads = [next(n for n, line in enumerate(lines) if "In figures" in str(line)) for lines in (early, late)]
    differ = [str(a) for a, b in zip(early[heads[0] :], late[heads[1] :], strict=True) if a != b]
    assert len(differ) == 1
    assert "last car likely done by" in differ[0]
    assert "…" in differ[0]


def _whole(shop: Shop) -> Read:
    return read(shop, this_week(shop), "owner", None, plain=False)


async def test_the_figures_stand_first_and_stay_where_they_are_and_no_key_is_lost(
    told: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 50), notifications=True) as pilot:
        await press(pilot, "f7")
        before, columns = [height(app, begins) for begins in LINES], app.screen.query_one(LongList).columns
    line = before[2] - before[1]
    # How many lines what to do took is kept for the next start.
    assert remembered(room.NAME) == [columns, round((before[0] - before[3]) / line) - 1]

    let_go = Event()

    def late(*given: object, **more: object) -> Read:
        let_go.wait(5)
        return read(*given, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(station, "read", late)
    app = told.app("Olive")
    async with app.run_test(size=(120, 50), notifications=True) as pilot:
        await pilot.press("f7")
        await until(pilot, lambda: "cards handed over" in seen(app))
        assert "Reading the records" in seen(app)
        assert "7 Ahead" in seen(app)
        assert [height(app, begins) for begins in LINES] == before
        await pilot.press("down", "2")
        let_go.set()
        await settle(pilot)
        assert "[2 Flow]" in seen(app)  # asked for while the rest was read
        await press(pilot, "1")
        assert "Reading the records" not in seen(app)
        assert [height(app, begins) for begins in LINES] == before


def test_the_lines_of_what_to_do_are_few_enough_whatever_was_kept() -> None:
    assert room.remembered_lines_to_do(116) == room.FIRST
    room.remember_lines_to_do(116, 15)
    assert room.remembered_lines_to_do(116) == 15
    assert room.remembered_lines_to_do(76) == room.FIRST  # it was counted in another width
    for odd in ([116, 100_000], [116, -3], [116], [], "many"):
        remember(room.NAME, odd)  # type: ignore[arg-type]
        assert room.remembered_lines_to_do(116) == room.FIRST
