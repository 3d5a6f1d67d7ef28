"""What the week is read from follows every act, is told anew from the journal, and keeps the edges of its rules."""

import sqlite3
from datetime import timedelta

import pytest

from shopcli.shop.commands import (
    AddCustomer,
    AddTemplates,
    AddVehicle,
    ClockOff,
    ClockOn,
    CloseCard,
    HandOver,
    MoveCard,
    OpenCard,
    TakeBack,
)
from shopcli.shop.week_check import out_of_step
from shopcli.store.reads.week_bounds import this_week
from shopcli.store.reads.week_flow import card_ages, flow
from shopcli.store.reads.week_hours import hours
from shopcli.store.reads.week_quality import quality
from tests.conftest import Busy
from tests.shop.test_closing import settle_everything

STAYS = "SELECT nth, state, waits, why, started_at, ended_at FROM card_stay WHERE card_id = ? ORDER BY nth"


def step(busy: Busy) -> tuple[str, ...]:
    return out_of_step(busy.shop.fetch, busy.shop.settings.tz())


def last_act(busy: Busy) -> int:
    return int(busy.shop.fetch("SELECT MAX(id) FROM journal")[0][0])


def through_the_shop(busy: Busy) -> None:
    """Take the card through the shop: booked, in hand, held twice, one of these taken back, closed, fetched."""
    busy.clock.forward(hours=3)
    busy.do(MoveCard(busy.card, "in hand"), "Dora")
    busy.clock.forward(hours=1)
    busy.do(MoveCard(busy.card, "held", "waiting for the condenser", for_parts=True), "Dora")
    busy.clock.forward(hours=5)
    busy.do(MoveCard(busy.card, "in hand"), "Dora")
    busy.do(MoveCard(busy.card, "held", "Ada to say"), "Dora")
    busy.clock.forward(minutes=5)
    busy.do(TakeBack(last_act(busy)), "Dora")
    assert step(busy) == ()
    settle_everything(busy)
    busy.clock.forward(hours=1)
    busy.do(CloseCard(busy.card), "Dora")
    assert step(busy) == ()
    busy.clock.forward(hours=2)
    busy.do(HandOver(busy.card), "Dora")


def test_how_a_card_stood_is_kept_with_each_act(busy_shop: Busy) -> None:
    opened = busy_shop.shop.at()
    through_the_shop(busy_shop)
    assert step(busy_shop) == ()
    rows = busy_shop.shop.fetch(STAYS, (busy_shop.card,))
    told = [(state, waits) for _n, state, waits, *_ in rows]
    assert told == [
        ("booked", "bay"),
        ("in hand", ""),
        ("held", "parts"),
        ("in hand", ""),
        ("held", "other"),
        ("in hand", ""),
        ("closed", "fetching"),
    ]
    assert rows[0][4] == opened
    assert rows[2][5] - rows[2][4] == 5 * 3600
    assert rows[-1][5] == busy_shop.shop.at()
    seen = flow(busy_shop.shop, this_week(busy_shop.shop))
    assert (seen.opened, seen.closed, seen.left, seen.in_shop) == (1, 1, 1, 0)
    assert {w.why: w.seconds for w in seen.waiting}["parts"] == 5 * 3600


def test_the_journal_tells_it_anew(busy_shop: Busy) -> None:
    through_the_shop(busy_shop)
    kept = busy_shop.shop.fetch(STAYS, (busy_shop.card,))
    with sqlite3.connect(str(busy_shop.shop.place.file)) as connection:
        connection.execute("DELETE FROM card_stay")
    assert step(busy_shop) == (f"card {busy_shop.view().number}: its stays do not begin when it was opened",)
    busy_shop.shop.reckon_weeks()
    assert busy_shop.shop.fetch(STAYS, (busy_shop.card,)) == kept
    assert step(busy_shop) == ()


def test_a_void_card_stands_here_no_more(busy_shop: Busy) -> None:
    busy_shop.clock.forward(hours=1)
    busy_shop.do(MoveCard(busy_shop.card, "void", "opened twice"), "Dora")
    assert card_ages(busy_shop.shop) == ()
    assert step(busy_shop) == ()
    assert flow(busy_shop.shop, this_week(busy_shop.shop)).opened == 0


def test_time_taken_back_is_in_no_sum(busy_shop: Busy) -> None:
    week = this_week(busy_shop.shop)
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    busy_shop.clock.forward(minutes=20)
    assert hours(busy_shop.shop, week).running_s == hours(busy_shop.shop, week).total.clocked_s == 1_200
    busy_shop.do(ClockOff())
    assert (hours(busy_shop.shop, week).running_s, hours(busy_shop.shop, week).total.clocked_s) == (0, 1_200)
    busy_shop.do(TakeBack(last_act(busy_shop)))
    assert busy_shop.shop.fetch("SELECT COUNT(*) FROM day_hours") == [(0,)]
    assert hours(busy_shop.shop, week).running_s == 1_200


def car_comes_again(busy: Busy, unit: str, days: int, driven: int, jobs: tuple[str, ...]) -> int:
    """Close a card for the points of a car of its own, open another later, and return how many comebacks there are."""
    customer = busy.shop.do(AddCustomer("Ben Fell"), by=busy.people["Dora"]).id
    car = AddVehicle(customer, "BEN 1", "Lark", "1200", 1964, sheet="demo-lark-1200", distance_unit=unit)
    vehicle = busy.shop.do(car, by=busy.people["Dora"]).id
    busy.card = busy.shop.do(OpenCard(vehicle, ("points",), odometer=10_000), by=busy.people["Dora"]).id
    settle_everything(busy)
    busy.do(CloseCard(busy.card), "Dora")
    busy.clock.at += timedelta(days=days)
    busy.do(OpenCard(vehicle, jobs, odometer=10_000 + driven), "Dora")
    return len(quality(busy.shop, this_week(busy.shop)).comebacks)


def test_a_service_after_a_service_is_told_from_a_fault(busy_shop: Busy) -> None:
    assert car_comes_again(busy_shop, "mi", 30, 900, ("engine-service",)) == 1
    (again,) = quality(busy_shop.shop, this_week(busy_shop.shop)).comebacks
    assert (again.system, again.planned) == ("ignition", True)
    busy_shop.do(AddTemplates(busy_shop.card + 1, ("timing-strobe",)), "Dora")
    (again,) = quality(busy_shop.shop, this_week(busy_shop.shop)).comebacks
    assert (again.system, again.planned) == ("ignition", False)


@pytest.mark.parametrize(
    ("unit", "days", "driven", "jobs", "comes"),
    [
        ("mi", 90, 3_000, ("points",), 1),
        ("mi", 91, 3_000, ("points",), 0),
        ("mi", 90, 3_001, ("points",), 0),
        ("km", 90, 4_828, ("points",), 1),
        ("km", 90, 4_830, ("points",), 0),
        ("mi", 5, 20, ("oil-change",), 0),
    ],
)
def test_what_is_a_comeback(
    busy_shop: Busy, unit: str, days: int, driven: int, jobs: tuple[str, ...], comes: int
) -> None:
    # 3,000 miles are 4,828.03 km (an international mile is 1.609344 km, NIST SP 811, appendix B.8).
    assert car_comes_again(busy_shop, unit, days, driven, jobs) == comes
