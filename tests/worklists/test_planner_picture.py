"""The day as rows: as wide as asked, plain where it must be, and true to the times."""

import pytest

from shopcli.columns import display_width
from shopcli.errors import BadInput
from shopcli.worklists.planner import Pin, PlanTask, picture, plan
from tests.worklists.planner_cases import shipped, shop_day

DRAIN = PlanTask("drain", "Drain the oil", 10, 30, "under the car")
POINTS = PlanTask("points", "Set the points", 25, 0, "engine bay")
FILL = PlanTask("fill", "Fill with oil", 20, 0, "engine bay", ("drain",))


def test_a_small_day():
    lines = picture(plan([POINTS, DRAIN, FILL]), width=60, ascii_only=True).splitlines()
    assert lines == [
        "person 1              ######=engine bay=====   #engine bay##",
        "draining: Drain the~        ...................",
        "                      0:00      0:15     0:30     0:45",
    ]


@pytest.mark.parametrize("width", [40, 80, 120])
@pytest.mark.parametrize("hands", [1, 2])
def test_no_line_is_wider_than_asked(width, hands):
    for done in (
        plan(shop_day(3, 40), hands=hands),
        plan(shipped("demo-lark-1200", "engine-service"), hands=hands),
    ):
        for plain in (False, True):
            shown = picture(done, width=width, ascii_only=plain)
            assert all(display_width(line) <= width for line in shown.splitlines())
            assert shown.isascii() or not plain
            assert sum(line.startswith("person") for line in shown.splitlines()) == hands


def test_places_in_any_script_keep_the_columns():
    tasks = [PlanTask("a", "A", 30, 0, "エンジンルーム"), PlanTask("b", "B", 30, 0, "bench")]
    line = picture(plan(tasks), width=60).splitlines()[0]
    assert "エンジンルーム" in line
    assert display_width(line) == 60


def test_the_axis_begins_with_the_day():
    shown = picture(plan([POINTS, DRAIN, FILL], start_min=8 * 60), width=80)
    assert shown.splitlines()[-1].split()[0] == "8:00"


def test_nothing_to_show():
    assert picture(plan([])) == "Nothing to do."
    with pytest.raises(BadInput):
        picture(plan([POINTS]), width=20)


def test_names_stand_before_the_rows_of_who_has_one():
    done = plan(shop_day(3, 20), hands=2)
    rows = picture(done, width=90, names=("Tom",)).splitlines()
    assert rows[0].startswith("Tom ")
    assert rows[1].startswith("person 2 ")


def test_the_longest_waits_stay_when_there_is_room_for_few():
    done = plan(shop_day(3, 40))
    longest = max(done.waits, key=lambda w: w.end_min - w.start_min)
    few, all_of_them = picture(done, waits=1).splitlines(), picture(done).splitlines()
    assert len(few) == 3
    assert len(few) < len(all_of_them)
    assert longest.says in few[1]


def test_a_wish_says_in_the_reasons_by_whom_and_after_what():
    tasks = [PlanTask("a", "Job a", 5), PlanTask("b", "Job b", 5)]
    done = plan(tasks, hands=2, pins=[Pin.by("a", 2, "Nell"), Pin.before("b", "a")])
    assert done.step("a").why == "by Nell, as asked"
    other = plan(tasks, pins=[Pin.before("b", "a")])
    assert other.step("a").why == 'after "Job b", as asked'
    assert other.step("b").why == 'before "Job a", as asked'
