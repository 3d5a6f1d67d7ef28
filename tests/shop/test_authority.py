"""A card against what the customer allowed, told ahead: by hand-made sums, on real records."""

from decimal import Decimal

import pytest

from shopcli.shop.authority import FAR
from shopcli.shop.commands import (
    AddOutwork,
    ChangeCard,
    ClockOff,
    ClockOn,
    LeaveOut,
    MovePart,
    PricePart,
    PutPart,
)
from shopcli.store.reads.ahead import ahead, authority_of
from tests.conftest import Busy

PENNIES = 100


def allow(busy: Busy, pounds: float) -> None:
    busy.do(ChangeCard(busy.card, busy.view().version, authority_minor=round(pounds * PENNIES)), "Dora")


def only(busy: Busy, *keys: str) -> None:
    """Leave every other task out, and every part."""
    for task in busy.view().tasks:
        if task.task.key not in keys:
            busy.do(LeaveOut(task.id, "not wanted"))
    for part in busy.view().parts:
        busy.do(MovePart(part.id, "not used"))


def said(busy: Busy, key: str) -> str:
    return " ".join(busy.do(ClockOn(busy.task(key).id)).said)  # type: ignore[attr-defined]


def test_spent_and_what_is_to_come_with_vat(busy_shop: Busy) -> None:
    only(busy_shop, "points:set-gap", "oil-change:drain")
    allow(busy_shop, 10_000)  # nothing was clocked yet: the listed time
    minutes = sum(busy_shop.task(k).task.minutes for k in ("points:set-gap", "oil-change:drain"))
    view = authority_of(busy_shop.shop, busy_shop.card)
    assert view is not None
    assert (view.spent, view.level) == (Decimal(0), "")
    assert view.usual == Decimal(minutes) * Decimal("1.20")  # 60 an hour is 1 a minute, and 20 % VAT
    busy_shop.do(PutPart(busy_shop.card, None, "cable", 2_000, cost_minor=100, price_minor=500), "Dora")
    busy_shop.do(AddOutwork(busy_shop.card, "Chrome", "Fell & Co", price_minor=10_000), "Dora")
    busy_shop.do(ClockOn(busy_shop.task("oil-change:drain").id))
    busy_shop.clock.forward(minutes=12)
    busy_shop.do(ClockOff())
    view = authority_of(busy_shop.shop, busy_shop.card)
    assert view is not None
    assert view.spent == Decimal("134.40")  # 100.00 outwork and two units of six minutes, 12.00, with VAT
    # Draining is over its time; the gap is still to be set, the cable to be fitted: 10.00 with VAT.
    left = busy_shop.task("points:set-gap").task.minutes
    assert view.usual == Decimal("134.40") + Decimal("12.00") + Decimal(left) * Decimal("1.20")


def test_it_grows_louder_the_nearer_it_comes(busy_shop: Busy) -> None:
    only(busy_shop, *(t.task.key for t in busy_shop.view().tasks))
    allow(busy_shop, 10_000)
    far = authority_of(busy_shop.shop, busy_shop.card)
    assert far is not None
    levels = {}
    for pounds in (float(far.usual) * FAR + 1, float(far.usual) * 1.2, float(far.usual) * 0.9):
        allow(busy_shop, pounds)
        view = authority_of(busy_shop.shop, busy_shop.card)
        assert view is not None
        assert view.usual <= view.most
        levels[pounds] = view.level
    assert list(levels.values()) == ["", "may pass", "will pass"]
    allow(busy_shop, 5)
    busy_shop.do(ClockOn(busy_shop.task("points:set-gap").id))
    busy_shop.clock.forward(minutes=30)
    view = authority_of(busy_shop.shop, busy_shop.card)
    assert view is not None
    assert (view.level, view.spent) == ("passed", Decimal("36.00"))


def test_at_the_bench_it_is_told_before_the_task_passes_it(busy_shop: Busy) -> None:
    only(busy_shop, "points:set-gap", "points:fit-points")
    minutes = busy_shop.task("points:set-gap").task.minutes
    allow(busy_shop, minutes * 1.2 * FAR + 1)
    assert said(busy_shop, "points:set-gap") == "Clock running on 'Set the points gap'."
    busy_shop.do(ClockOff())
    allow(busy_shop, minutes * 1.2 * 0.5)
    assert said(busy_shop, "points:set-gap").endswith("was allowed. Tell the desk first.")
    busy_shop.clock.forward(minutes=40)
    assert "Past the authority: 50.40 is spent" in said(busy_shop, "points:fit-points")


def test_a_dear_part_of_the_task_counts(busy_shop: Busy) -> None:
    only(busy_shop, "points:set-gap")
    allow(busy_shop, 300)
    task = busy_shop.task("points:set-gap").id
    put = PutPart(busy_shop.card, None, "distributor", 1_000, cost_minor=1, price_minor=1, task_id=task)
    line = busy_shop.do(put, "Dora").id  # type: ignore[attr-defined]
    assert "allowed" not in said(busy_shop, "points:set-gap")
    busy_shop.do(ClockOff())
    busy_shop.do(PricePart(line, 29_000), "Dora")
    assert "takes the bill to about 3" in said(busy_shop, "points:set-gap")


def test_an_hour_that_goes_into_no_whole_pennies_a_minute(busy_shop: Busy) -> None:
    busy_shop.shop.settings = busy_shop.shop.settings._replace(labour_minor=6235)
    only(busy_shop, "points:set-gap")
    minutes = busy_shop.task("points:set-gap").task.minutes
    allow(busy_shop, minutes * 1.2)
    assert authority_of(busy_shop.shop, busy_shop.card) is not None
    assert "takes the bill to about" in said(busy_shop, "points:set-gap")


@pytest.mark.parametrize("limit", [None, 0])
def test_no_limit_written_is_not_a_limit_of_nothing(busy_shop: Busy, limit: int | None) -> None:
    busy_shop.behind("UPDATE card SET authority_minor = ?", limit)
    found = ahead(busy_shop.shop).authorities
    if limit is None:
        assert found == {}
        assert "allowed" not in said(busy_shop, "points:set-gap")
    else:
        assert found[busy_shop.card].level == "will pass"


def test_promises_at_risk_are_told_with_them(busy_shop: Busy) -> None:
    assert ahead(busy_shop.shop).late == {}
    busy_shop.do(ChangeCard(busy_shop.card, busy_shop.view().version, promised="2026-11-24"), "Dora")
    assert ahead(busy_shop.shop).late[busy_shop.card].promised.isoformat() == "2026-11-24"
