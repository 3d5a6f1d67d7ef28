"""The parts of the task pane without a terminal: cells, grid, scale, trend; any text, any room."""

from collections.abc import Callable
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.columns import display_width
from shopcli.screens.bench.cells import cell_beside, group_of, next_key, other_phase, slot_named
from shopcli.screens.bench.gridlines import GridCell, grid_lines
from shopcli.screens.bench.inhand import InHand
from shopcli.screens.bench.numberwords import figures_of
from shopcli.screens.bench.scalelines import OnScale, scale_lines
from shopcli.screens.bench.sharing import Wishes, share
from shopcli.screens.bench.tasklines import ReadingLines
from shopcli.screens.bench.taskparts import number_scale, readings
from shopcli.screens.bench.trendwords import BURNING, KEEPS_ON, past, warning_words, way_words
from shopcli.screens.widgets.lines import BLANK, Line, width_of_line, wrapped
from shopcli.shop.commands import TakeReading
from shopcli.shop.earlier import EarlierView, Memory
from shopcli.shop.views import TaskView
from shopcli.store.shop import Shop
from shopcli.units import IMPERIAL, METRIC, Limits, Preferences
from shopcli.workings.trend import trend
from shopcli.worklists.engine_plan import plan
from shopcli.worklists.model import Provenance, ReadingSlot, Spec, Task, VehicleFacts
from shopcli.worklists.places import Place, places
from tests.conftest import Busy, Clock
from tests.stations.bench_help import bench_shop

FOUR = ("1", "2", "3", "4")
VALVES = tuple(f"{c} {k}" for c in FOUR for k in ("inlet", "exhaust"))
FLAT = VehicleFacts(cylinders=FOUR, layout="flat four", valves=VALVES, other=(("banks", "1-2/3-4"),))
GAP = Spec(
    "gap", "gap", Limits.of("length", "thou", low=5, nominal=6, high=7), "cold", Provenance("demo"), "s"
)
AT = datetime(2026, 11, 25, tzinfo=UTC)


def text(line: Line) -> str:
    return "".join(piece for piece, _ in line)


def slots(*phases: str) -> tuple[ReadingSlot, ...]:
    return tuple(
        ReadingSlot(f"clearance@{v}|{p}", "clearance", f"valve {v}", p, "gap", "length", "thou")
        for v in VALVES
        for p in phases
    )


def task_view(*phases: str, more: tuple[ReadingSlot, ...] = ()) -> TaskView:
    task = Task("v:m", "v", "1", "Measure", "engine", specs=(GAP,), readings=(*slots(*phases), *more))
    return TaskView(1, 1, "open", task, (), 0, (), "", None, "", "", "", (), 1)


def earlier(
    year: int, thou: float, slot: str = "clearance@3 exhaust|as found", odometer: int | None = None
) -> EarlierView:
    when = datetime(year, 11, 25, tzinfo=UTC)
    return EarlierView(
        f"J{year}", when, odometer, "v:m", slot, "gap", thou * 2.54e-5, "thou", "length", f"{thou:g}", "in"
    )


# Cells ------------------------------------------------------------------------------------------------


def test_enter_goes_on_in_the_order_of_doing() -> None:
    view = task_view("as found", "as left")
    keys, taken = [], set()
    key = ""
    for _ in range(16):
        key = next_key(view, taken, key)
        taken.add(key)
        keys.append(key)
    assert keys[0] == "clearance@1 inlet|as found"
    assert keys[8] == "clearance@1 inlet|as left", "all as found come first"
    assert len(set(keys)) == 16
    assert next_key(view, taken, keys[2]) == keys[3], "all taken: on to the one behind"


def test_after_a_leap_it_goes_on_from_there_and_comes_back() -> None:
    view = task_view("as found")
    order = [s.key for s in view.task.readings]
    assert next_key(view, {order[4]}, order[4]) == order[5]
    assert next_key(view, set(order[4:]), order[7]) == order[0]


def test_arrows_move_over_the_engine() -> None:
    view = task_view("as found")
    key = "clearance@1 exhaust|as found"
    assert cell_beside(view, key, FLAT, 1, 0) == "clearance@3 inlet|as found", "across the crank"
    assert cell_beside(view, key, FLAT, 0, 1) == "clearance@2 exhaust|as found"
    assert cell_beside(view, key, FLAT, 0, -1) == key, "there is nothing above"


def test_arrows_leave_the_grid_for_the_readings_beside_it() -> None:
    view = task_view(
        "as found", more=(ReadingSlot("idle|as found", "idle", "", "as found", "", "rotation", "rpm"),)
    )
    last = "clearance@4 exhaust|as found"
    assert cell_beside(view, last, FLAT, 1, 0) == "idle|as found"
    assert cell_beside(view, last, FLAT, 0, 1) == "idle|as found"
    assert cell_beside(view, "idle|as found", FLAT, -1, 0) == last


def test_the_other_column_is_at_the_same_place() -> None:
    view = task_view("as found", "as left")
    assert other_phase(view, "clearance@2 inlet|as found") == "clearance@2 inlet|as left"
    assert other_phase(view, "clearance@2 inlet|as left") == "clearance@2 inlet|as found"
    assert other_phase(task_view("as found"), "clearance@2 inlet|as found") == ""


def test_a_reading_that_stands_alone_is_no_grid() -> None:
    view = task_view("as found", more=(ReadingSlot("idle|as found", "idle", "", "as found"),))
    assert group_of(view, slot_named(view, "idle|as found"), FLAT) is None
    found = group_of(view, view.task.readings[0], FLAT)
    assert found is not None
    assert len(found.slots) == 8


# The grid ---------------------------------------------------------------------------------------------


def test_the_flat_four_has_its_crank_in_the_middle() -> None:
    cells = {v: GridCell("6", "✓", "") for v in VALVES} | {
        "3 exhaust": GridCell("3", "▾", "", "5 ↘", chosen=True)
    }
    drawn = grid_lines(plan(places("valve", FLAT), FLAT), cells, 78, roomy=True)
    rows = [text(line) for line in drawn.lines]
    assert all("║" in row for row in rows)
    assert "▸ 3 ▾" in rows[drawn.at]
    assert "5 ↘" in rows[drawn.at + 1]
    assert "exhaust" in rows[0], "headings are not cut"


def test_too_narrow_for_both_banks_they_stand_one_above_the_other() -> None:
    drawn = grid_lines(plan(places("valve", FLAT), FLAT), {}, 30, roomy=False)
    assert any("crank" in text(line) for line in drawn.lines)
    assert sum(text(line).count("·") for line in drawn.lines) == 8


NAMES = st.lists(st.text(min_size=1, max_size=10), min_size=1, max_size=12, unique=True)
WORDS = st.text(max_size=30).filter(str.isprintable)


@settings(max_examples=60)
@given(
    NAMES,
    st.sampled_from(["cylinder {0}", "valve {0}", "{0} wheel", "wheel nut {0}", "{0}"]),
    WORDS,
    WORDS,
    st.integers(20, 160),
    st.booleans(),
)
def test_every_figure_is_in_the_grid_and_nothing_over_its_edge(
    names: list[str], label: str, figure: str, before: str, width: int, roomy: bool
) -> None:
    spots = tuple(Place(n, label.format(n)) for n in names)
    cells = {n: GridCell(figure, "▾", "bold", before, chosen=i == 0) for i, n in enumerate(names)}
    drawn = grid_lines(plan(spots), cells, width, roomy=roomy)
    assert sum(text(line).count("▾") for line in drawn.lines) >= len(names)
    assert sum(text(line).count("▸") for line in drawn.lines) >= 1
    widest = max(width_of_line(line) for line in drawn.lines)
    side = max((display_width(s) for b in plan(spots).blocks for s in b.sides), default=0)
    assert widest <= max(width, side + 30), "only row names wider than the terminal may run over"


# The scale --------------------------------------------------------------------------------------------


def test_the_figures_of_the_scale_are_those_of_the_sentence() -> None:
    lines = scale_lines(GAP, METRIC, (), 70)
    found = figures_of(GAP.limits.text_in("mm"))
    assert f" {found.low} ├" in text(lines[0])
    assert f"┤ {found.high} mm" in text(lines[0])


def test_each_reading_says_how_far_out_it_is() -> None:
    marks = (OnScale("found", 3 * 2.54e-5, "3 thou", "thou"), OnScale("left", 6 * 2.54e-5, "6 thou", "thou"))
    rows = [text(line) for line in scale_lines(GAP, IMPERIAL, marks, 78)]
    assert "▲ found 3 thou ▾ low by 2 thou" in rows[1]
    assert "▲ left 6 thou ✓" in rows[1]


def test_a_number_of_practice_judges_nothing_on_its_scale() -> None:
    unsure = Spec("gap", "gap", GAP.limits, "", Provenance("practice"), "s")
    rows = scale_lines(unsure, IMPERIAL, (OnScale("found", 3 * 2.54e-5, "3 thou", "thou"),), 78)
    assert "▾" not in text(rows[1])


def test_a_unit_that_runs_backwards_has_no_scale() -> None:
    thirst = Spec("t", "t", Limits.of("fuel use", "L/100km", high=12), "", Provenance("demo"), "s")
    assert scale_lines(thirst, Preferences((("fuel use", "mpg_imp"),)), (), 78) == []
    assert "12" in text(scale_lines(thirst, Preferences((("fuel use", "L/100km"),)), (), 78)[0])


@settings(max_examples=60)
@given(
    st.sampled_from([(5, 6, 7), (None, 6, None), (5, None, None), (None, None, 7), (5, None, 7)]),
    st.lists(st.floats(-100, 1000), max_size=4),
    WORDS,
    st.integers(1, 140),
    st.booleans(),
)
def test_the_scale_of_any_limits_keeps_to_its_room(
    figures: tuple[int | None, ...], values: list[float], said: str, width: int, metric: bool
) -> None:
    limits = Limits.of("length", "thou", *figures)
    spec = Spec("gap", "gap", limits, "", Provenance("demo"), "s")
    marks = tuple(OnScale("found", v * 2.54e-5, said, "thou") for v in values)
    for line in scale_lines(spec, METRIC if metric else IMPERIAL, marks, width):
        assert width_of_line(line) <= width


# The trend --------------------------------------------------------------------------------------------


def told(*visits: EarlierView, now: float | None) -> str:
    view = task_view("as found")
    slot = slot_named(view, "clearance@3 exhaust|as found")
    assert slot is not None
    found = past(Memory(FLAT, visits), view.task, slot, "thou", "mi", (now, AT.timestamp()))
    return f"{found.sentence()} {found.warning}".strip()


def test_two_visits_are_a_difference() -> None:
    assert told(earlier(2025, 6, odometer=61_230), now=4 * 2.54e-5) == (
        "last time 6 thou (Tue 25 Nov 2025, 61,230 mi) ↘ 2 thou tighter since"
    )


def test_three_visits_are_a_line_and_a_valve_that_keeps_tightening_is_said() -> None:
    said = told(earlier(2024, 8), earlier(2025, 6), now=4 * 2.54e-5)
    assert "↘ tightening 2 thou a year over 3 visits" in said
    assert said.endswith(BURNING)


def test_nothing_read_yet_tells_only_what_was() -> None:
    assert told(earlier(2025, 6), now=None) == "last time 6 thou (Tue 25 Nov 2025)"
    assert told(now=None) == ""
    before = told(earlier(2024, 8), earlier(2025, 6), now=None)
    assert "2 thou tighter than the time before" in before


def test_another_place_and_another_phase_are_no_past_of_this_one() -> None:
    other = earlier(2025, 9, "clearance@2 exhaust|as found")
    left = earlier(2025, 6, "clearance@3 exhaust|as left")
    assert told(other, left, now=None) == ""


@pytest.mark.parametrize(
    ("name", "values", "words"),
    [
        ("tread depth", (8.0, 6.0, 4.0), "wearing 2 mm a year over 3 visits"),
        ("compression", (4.0, 4.0), "steady over 2 visits"),
        ("points gap", (0.3, 0.4), "0.1 mm wider since"),
        ("oil pressure", (6.0, 5.0, 4.0), "falling 1 mm a year over 3 visits"),
    ],
)
def test_words_of_the_way(name: str, values: tuple[float, ...], words: str) -> None:
    found = trend([365.25 * i for i in range(len(values))], [v / 1000 for v in values], 1e-5)
    assert found is not None
    assert way_words(found, name, "mm") == words


def test_only_a_clearance_that_closes_burns() -> None:
    falling = trend([0, 400, 800], [3.0, 2.0, 1.0], 0.1)
    rising = trend([0, 400, 800], [1.0, 2.0, 3.0], 0.1)
    assert falling is not None
    assert rising is not None
    assert warning_words(falling, "clearance") == BURNING
    assert warning_words(rising, "clearance") == KEEPS_ON
    assert warning_words(falling, "pad thickness") == KEEPS_ON


# All of it --------------------------------------------------------------------------------------------


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    return bench_shop(make_shop, clock)


def test_left_stands_above_what_was_found(busy: Busy) -> None:
    gap = busy.task("bench-test:measure")
    busy.do(TakeReading(gap.id, "clearance@1 inlet|as found", "3 thou"))
    view = busy.view()
    hand = InHand(view, busy.task("bench-test:measure"), IMPERIAL, at=AT.timestamp())
    lines = [text(line) for line in readings(hand, 78, 2).within(40)]
    assert any("3 ▾" in line for line in lines)
    assert lines[0].startswith("clearance, as found · thou")
    assert number_scale(hand, 78), "the next one has a scale"


@settings(max_examples=40, deadline=None)
@given(WORDS, st.integers(1, 120), st.sampled_from([0, 1, 2]))
def test_whatever_is_typed_is_drawn(typing: str, width: int, roomy: int) -> None:
    from shopcli.shop.views import CardView

    task = task_view("as found", "as left")
    view = CardView(1, "J1", "in hand", "", "", "", "", 1, "", "", 1, "", "", "mi", None, None, "", None, AT, None, 0, 1,
                    (), (task,), (), (), (), ())  # fmt: skip
    memory = Memory(FLAT, (earlier(2024, 8), earlier(2025, 6)))
    hand = InHand(
        view,
        task,
        IMPERIAL,
        slot="clearance@3 exhaust|as found",
        typing=typing,
        memory=memory,
        at=AT.timestamp(),
    )
    assert readings(hand, width, roomy).within(30)
    number_scale(hand, width)


def test_where_a_warning_is_cut_off_it_is_to_be_seen() -> None:
    rows, must = (
        (BLANK,) * 4,
        tuple(wrapped("a valve that does so is burning, s writes it down", 30, first="! ")),
    )
    laid = ReadingLines((), rows, 0, (), must)
    assert text(laid.within(5)[-1]) == "! a valve that does so …"
    assert text(laid.within(6)[-1]) == text(must[-1])
    assert laid.within(4) == list(rows)


@pytest.mark.parametrize("rows", range(8, 15))
def test_where_the_text_is_cut_caution_and_reading_stay_before_the_scale(rows: int) -> None:
    line: Line = (("x", ""),)
    asked = ReadingLines((line,), ((("asked", ""),),), 0, ())

    def number(_rows: int, _least: int) -> list[Line]:
        return [line] * 5

    wishes = Wishes(lambda _tight: 12, lambda _roomy: asked, number, number, number, [line] * 2, cautions=2)
    shares = share(rows, wishes)
    assert shares.rows() <= rows
    assert (("asked", ""),) in shares.readings
    assert shares.more
    scale = len(shares.numbers) > 5
    assert scale == (rows >= 11)
    assert shares.text >= 2 if rows > 8 else shares.text == 1
