"""The memory of a vehicle: earlier readings of the same place, from real records."""

from collections.abc import Callable

import pytest

from shopcli.shop.commands import MoveCard, OpenCard, StrikeReading, TakeReading
from shopcli.shop.earlier import found_on_card, same_before, way_of
from shopcli.store.reads import bench
from shopcli.store.reads.earlier import earlier_readings, memory
from shopcli.store.shop import Shop
from shopcli.worklists.library import Library
from tests.conftest import Busy, Clock
from tests.stations.bench_help import bench_shop

YEAR = 365
FOUND = "clearance@1 exhaust|as found"


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    return bench_shop(make_shop, clock)


def again(busy: Busy, clock: Clock, odometer: int = 13_000) -> int:
    """Open the next card of the same car a year later."""
    clock.forward(days=YEAR)
    command = OpenCard(busy.vehicle, ("bench-test",), odometer=odometer)
    return busy.do(command, by="Dora").id  # type: ignore[attr-defined]


def read(busy: Busy, card: int, step: str, slot: str, typed: str) -> int:
    task = next(t for t in bench.card(busy.shop, card).tasks if t.task.key == f"bench-test:{step}")
    return busy.do(TakeReading(task.id, slot, typed)).id  # type: ignore[attr-defined]


def test_last_year_is_remembered_with_date_and_odometer(busy: Busy, clock: Clock) -> None:
    read(busy, busy.card, "measure", FOUND, "8 thou")
    card = again(busy, clock)
    (one,) = earlier_readings(busy.shop, card)
    assert (one.typed, one.spec, one.odometer, one.at.year) == ("8 thou", "twin_exhaust", 12_345, 2026)
    assert earlier_readings(busy.shop, busy.card) == (), "what came later is no memory"


def test_struck_and_void_are_forgotten(busy: Busy, clock: Clock) -> None:
    wrong = read(busy, busy.card, "measure", FOUND, "80 thou")
    busy.do(StrikeReading(wrong))
    second = again(busy, clock)
    read(busy, second, "measure", FOUND, "7 thou")
    busy.do(MoveCard(second, "void", "opened twice"), by="Dora")
    assert earlier_readings(busy.shop, again(busy, clock)) == ()


def test_the_visits_of_one_valve_and_the_line_through_them(busy: Busy, clock: Clock) -> None:
    for card, typed in ((busy.card, "8 thou"), (None, "7 thou"), (None, "6 thou")):
        key = card or again(busy, clock)
        read(busy, key, "measure", FOUND, typed)
        read(busy, key, "measure", "clearance@1 inlet|as found", "6 thou")
    card = again(busy, clock)
    known = memory(busy.shop, card)
    task = next(t for t in bench.card(busy.shop, card).tasks if t.task.key == "bench-test:measure").task
    slot = next(s for s in task.readings if s.key == FOUND)
    before = same_before(known, task, slot)
    assert [one.typed for one in before] == ["8 thou", "7 thou", "6 thou"]
    found = way_of(before, 5 * 2.54e-5, clock.at.timestamp(), "thou")
    assert found is not None
    assert (found.visits, found.way, found.keeps) == (4, -1, True)
    assert found.per_year == pytest.approx(-2.54e-5, rel=1e-2)
    inlet = next(s for s in task.readings if s.key == "clearance@1 inlet|as found")
    steady = way_of(same_before(known, task, inlet), None, 0, "thou")
    assert steady is not None
    assert steady.way == 0


def test_the_last_of_two_on_one_card_counts(busy: Busy, clock: Clock) -> None:
    read(busy, busy.card, "measure", FOUND, "9 thou")
    read(busy, busy.card, "measure", FOUND, "8 thou")
    card = again(busy, clock)
    task = next(t for t in bench.card(busy.shop, card).tasks if t.task.key == "bench-test:measure").task
    slot = next(s for s in task.readings if s.key == FOUND)
    assert [one.typed for one in same_before(memory(busy.shop, card), task, slot)] == ["8 thou"]


def test_the_facts_of_the_vehicle_come_along(busy: Busy) -> None:
    facts = memory(busy.shop, busy.card).facts
    assert facts is not None
    assert facts.cylinders == ("1", "2")


def test_a_vehicle_whose_sheet_has_gone_has_no_facts(busy: Busy) -> None:
    busy.shop.library = Library()
    assert memory(busy.shop, busy.card).facts is None


def test_found_on_the_card_by_another_step(busy: Busy) -> None:
    read(busy, busy.card, "set-gap", "points gap|as found", "0.3 mm")
    view = busy.view()
    left = next(s for t in view.tasks for s in t.task.readings if s.key == "points gap|as left")
    found = found_on_card(view.tasks, left)
    assert found is not None
    assert found.typed == "0.3 mm"
