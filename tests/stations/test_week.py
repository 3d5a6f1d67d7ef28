"""The week on the screen: figures of the records, each opening to its rows; periods; a time taken over; papers and tables."""

import csv
import json
from pathlib import Path

import pytest
from hypothesis import given
from textual.pilot import Pilot

from shopcli.papers.charts import Bars, Series
from shopcli.screens.bench.station import BenchScreen
from shopcli.screens.week.opened import OpenedScreen
from shopcli.screens.week.plot import SIGNS, ChartPlot
from shopcli.screens.week.rows import Figures, layout, rows_of
from shopcli.screens.week.station import LENGTHS, WeekScreen
from shopcli.shop.commands import ClockOn
from shopcli.store.shop import Shop
from tests.hostile_text import harmless, short, too_wide
from tests.papers.week_seen import seen as seen_week
from tests.stations.build import Story, press, quiet, seen, settle, still
from tests.stations.week_help import row, told_week


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


# Taking over, papers and tables ------------------------------------------------------------------------------


def slow_points(told: Story) -> None:
    """Close ten cards on which the points took twice their listed time."""
    from sqlmodel import Session, select

    from shopcli.shop.commands import OpenCard
    from shopcli.shop.records import Card, ClockEntry, Task
    from shopcli.shop.week_keeping import reckon_anew

    ((car,),) = told.shop.fetch("SELECT vehicle_id FROM card WHERE id = ?", (told.cards["ada"],))
    cards = [told.do(OpenCard(car, ("points",), odometer=48_300), by="Dora").id for _ in range(10)]
    at = told.shop.at() - 5 * 86_400
    with Session(told.shop.engine) as session:
        for nth, key in enumerate(cards):
            start = at
            for task in session.exec(select(Task).where(Task.card_id == key)):
                task.state, took = "done", task.minutes * (115 + nth)
                session.add(
                    ClockEntry(
                        person_id=told.people["Nell"],
                        card_id=key,
                        task_id=task.id,
                        started_at=start,
                        ended_at=start + took,
                    )
                )
                start += took
            card = session.get(Card, key)
            card.state, card.closed_at, card.closed_week = "closed", at, "2026-W47"
        session.flush()
        reckon_anew(session, told.shop.settings.zone, told.shop.settings.tz())
        session.commit()


async def test_a_time_is_taken_over_with_one_key_and_back_with_another(told: Story) -> None:
    slow_points(told)
    app = told.app("Olive")
    listed = told.shop.library.template("points")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "5")
        assert "! longer, × 2.00" in seen(app)
        await press(pilot, "t")
        now = told.shop.library.template("points")
        assert sum(t.minutes for t in now.tasks) == 2 * sum(t.minutes for t in listed.tasks)
        assert told.shop.fetch("SELECT template, per_mille, cases FROM own_time") == [("points", 2000, 10)]
        picture = seen(app)
        assert "leave it" in picture
        assert "! longer" not in picture
        await press(pilot, "t")
        assert "t takes over a time" in seen(app)
        await press(pilot, "u")
        assert "! longer, × 2.00" in seen(app)
    assert told.shop.library.template("points") == listed


async def test_paper_and_tables_are_written_where_the_shop_keeps_its_papers(
    told: Story, tmp_path: Path
) -> None:

    told.shop.settings = told.shop.settings._replace(papers_folder=str(tmp_path / "papers"))
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "p", "x")
        assert "files are in" in seen(app)
    folder = tmp_path / "papers"
    assert (folder / "2026-W48-report.pdf").read_bytes().startswith(b"%PDF")
    data = json.loads((folder / "2026-W48-report.json").read_text())
    rows = list(csv.DictReader((folder / "2026-W48-flow-weeks.csv").read_text().splitlines()))
    assert [(r["week"], r["opened"], r["closed"]) for r in rows][-1] == ("2026-W48", "2", "1")
    assert data["tables"]["flow-weeks"][-1]["opened"] == 2
    assert not list(folder.glob("*-2.*"))


# Laying out --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("width", [78, 118, 198])
def test_tables_hold_their_columns_and_keep_to_the_room(width: int) -> None:
    from shopcli.columns import display_width
    from shopcli.papers.week.pen import screen_pen
    from shopcli.papers.week.report import report_of
    from shopcli.screens.week.rows import drawn

    for page in report_of(seen_week(), screen_pen("GBP")).pages:
        for _key, one in rows_of(page, width):
            text = "".join(piece for piece, _style in drawn(one, width, -1))
            assert display_width(text) <= width, text
            if isinstance(one, Figures) and width >= 118:
                assert all(
                    cell.said in text
                    for n, cell in enumerate(one.line.cells)
                    if n in one.laid.columns and one.sheet.heads[n].right
                )


def test_rows_are_named_each_by_its_own_key() -> None:
    from shopcli.papers.week.pen import screen_pen
    from shopcli.papers.week.report import report_of

    for page in report_of(seen_week(), screen_pen("GBP")).pages:
        keys = [key for key, _row in rows_of(page, 100) if key]
        assert len(keys) == len(set(keys))


def test_spare_columns_go_first_where_room_is_short() -> None:
    from shopcli.papers.week.pen import screen_pen
    from shopcli.papers.week.report import report_of

    times = report_of(seen_week(), screen_pen("GBP")).page("times").sheets[0]
    assert len(layout(times, 160).columns) == len(times.heads)
    assert len(layout(times, 78).columns) < len(times.heads)


def test_no_name_of_a_figure_is_cut_where_room_is_short() -> None:
    from dataclasses import replace
    from decimal import Decimal

    from shopcli.papers.week.pen import screen_pen
    from shopcli.papers.week.report import report_of

    dear = seen_week()
    dear = replace(dear, money=replace(dear.money, labour_cost=Decimal(129_900)))
    figures = report_of(dear, screen_pen("GBP")).page("front").sheets[1]
    laid = layout(figures, 76)
    assert laid.widths[0] >= max(len(line.cells[0].said) for line in figures.lines)
    assert len(layout(figures, 118).columns) == len(figures.heads)


def test_a_chart_without_values_draws_nothing() -> None:
    assert Bars("t", (), (Series("a", ()),)).names == ()


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


async def test_who_was_away_is_noted_with_one_key_and_withdrawn(told: Story) -> None:
    from shopcli.store.reads.absences import absences

    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "3", "a", *"nell", "enter")
        await press(pilot, *"24.11. 90 min dentist")
        assert "Tuesday 24 November 2026, 90 min of each, dentist" in seen(app)
        await press(pilot, "enter")
        (noted,) = absences(told.shop)
        assert (noted.person, str(noted.first), noted.minutes, noted.why) == (
            "Nell",
            "2026-11-24",
            90,
            "dentist",
        )
        await press(pilot, "a", *"dentist", "enter")
        assert absences(told.shop) == ()
    app = told.app("Tom")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "a")
        assert "for the owner" in seen(app)


@given(short, short)
def test_no_text_of_a_person_drives_the_terminal_or_leaves_its_columns(title: str, why: str) -> None:
    from dataclasses import replace

    from shopcli.papers.week.pen import screen_pen
    from shopcli.papers.week.report import report_of
    from shopcli.screens.week.rows import drawn
    from tests.papers.week_seen import cards, flow

    odd = replace(flow(), cards=tuple(replace(card, title=title, held_for=why) for card in cards(2)))
    page = report_of(seen_week(flow=odd), screen_pen("GBP")).page("flow")
    for _key, one in rows_of(page, 78):
        text = "".join(piece for piece, _style in drawn(one, 78, 4))
        assert harmless(text)
        assert not too_wide(text, 78)
