"""The Monday list: each rule, the order, and that it is short. Limits are common practice, no source."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from shopcli.shop.week_to_do import (
    KINDS,
    Day,
    Overdue,
    came_back,
    late,
    listed,
    loses,
    tools_late,
    unclocked,
    unpaid,
    waiting,
    worst,
)
from shopcli.shop.week_views import (
    DAY_S,
    Actuals,
    CardAge,
    Case,
    Comeback,
    Earning,
    HoursLine,
    Noticed,
    ToDo,
)
from shopcli.workings.listed_times import against

TODAY = date(2026, 11, 27)
DAY = Day(8 * 3600, Decimal(480), 0.75)
CARD = CardAge(1, "J1", "A 1", "Ada", "Points", "held", "", "parts", None, TODAY, 0, 3 * DAY_S, ())


def test_cards_that_wait_weigh_their_days() -> None:
    cards = [CARD, replace(CARD, since_s=9 * DAY_S), replace(CARD, waits="", since_s=99 * DAY_S)]
    assert list(waiting(cards)) == [ToDo("parts", "waiting:parts", 2, 12.0, days=9)]


def test_a_booked_card_may_stand_a_week() -> None:
    cards = [replace(CARD, waits="bay", since_s=d * DAY_S) for d in (6, 7, 10)]
    assert list(waiting(cards)) == [ToDo("bay", "waiting:bay", 1, 3.0, days=10)]


def test_promises_that_passed() -> None:
    cards = [
        replace(CARD, promised=date(2026, 11, 20)),
        replace(CARD, promised=TODAY),
        replace(CARD, promised=date(2026, 11, 1), state="closed"),
    ]
    assert list(late(cards, TODAY)) == [ToDo("late", "late", 1, 7.0, days=7)]
    assert list(late(cards[1:], TODAY)) == []


def test_money_long_overdue_weighs_as_days_of_labour() -> None:
    (line,) = unpaid([Overdue(31, Decimal(960)), Overdue(30, Decimal(9_999))], DAY)
    assert (line.count, line.weight, line.days, line.amount) == (1, 2.0, 31, Decimal(960))


def test_a_job_listed_wrongly_says_its_factor() -> None:
    cases = tuple(Case(n, f"J{n}", "A 1", "2026-W47", "", 60.0, 5_400) for n in range(10))
    job = Actuals("points", "Points", "ignition", 1000, cases)
    held = against([case.ratio for case in cases])
    (line,) = listed([(job, held)], frozenset({"2026-W47"}), DAY)
    # Ten jobs took half an hour more than listed each: five hours of an eight-hour day.
    assert (line.factor, line.count, line.weight, line.name) == (1.5, 10, 0.625, "Points")
    assert list(listed([(job, against([1.0] * 10))], frozenset(), DAY)) == []


def test_what_loses_and_what_comes_back() -> None:
    earning = Earning("points", "Points", "ignition", 4, 0, 0, Decimal(100), Decimal(340), Decimal(-240))
    (line,) = loses([earning, replace(earning, margin=Decimal(1)), replace(earning, margin=None)], DAY)
    assert (line.weight, line.amount) == (0.5, Decimal(-240))
    back = Comeback(2, "J2", "A 1", "brakes", "", TODAY, 1, "J1", "", 3, None)
    assert [x.count for x in came_back([back, back, replace(back, system="fuel")])] == [2]


def test_tools_and_unclocked_time() -> None:
    tool = Noticed(None, "", "", "wrench 3", "late", "", date(2026, 11, 13))
    assert list(tools_late([tool], TODAY)) == [ToDo("tools", "tools", 1, 1.0, days=14)]
    assert list(tools_late([], TODAY)) == []
    people = [HoursLine("2", "Tom", 40 * 3600, 14 * 3600, 0), HoursLine("3", "Nell", 40 * 3600, 30 * 3600, 0)]
    (line,) = unclocked([*people, HoursLine("1", "Olive", None, 60, 0)], DAY)
    assert (line.name, line.weight, line.factor) == ("Tom", 2.0, 0.35)


@given(st.lists(st.tuples(st.sampled_from(KINDS), st.floats(0, 50), st.integers(0, 9)), max_size=30))
def test_the_list_is_short_worst_first_and_names_each_kind_once(drawn: list[tuple[str, float, int]]) -> None:
    lines = [ToDo(kind, f"{kind}:{key}", 1, weight) for kind, weight, key in drawn]
    found = worst(lines)
    assert len(found) <= 5
    assert [x.weight for x in found] == sorted((x.weight for x in found), reverse=True)
    assert len({x.kind for x in found}) == len(found)
    assert all(x.weight >= 1 for x in found)
    left = {x.kind for x in lines if x.weight >= 1} - {x.kind for x in found}
    assert not left or len(found) == 5
    assert found == worst(reversed(lines))
