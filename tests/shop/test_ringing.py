"""Whom to ring: every reason on one list, and after a note the row goes, or moves to its day."""

from datetime import date
from decimal import Decimal

import pytest
from sqlmodel import Session

from shopcli.errors import NotFound
from shopcli.ring_words import NAMES, call_words, why_words
from shopcli.shop.call_views import KINDS, RingView
from shopcli.shop.commands import (
    ChangeCard,
    ClockOn,
    CloseCard,
    HandOver,
    MakeOffer,
    MovePart,
    NoteCall,
    OpenCard,
    PartArrived,
    TakePayment,
)
from shopcli.shop.records import Owed
from shopcli.store.reads.ringing import to_ring, whom_to_ring
from tests.conftest import Busy
from tests.shop.test_closing import settle_everything

TODAY = date(2026, 11, 25)


def matters(busy: Busy) -> dict[str, RingView]:
    return {row.kind: row for row in whom_to_ring(busy.shop)}


def said(busy: Busy, kind: str) -> str:
    row = matters(busy)[kind]
    today = busy.shop.local(busy.shop.at()).date()
    return f"{NAMES[kind]}: {why_words(row, today, 'GBP')}"


def note(busy: Busy, row: RingView, *words: str) -> None:
    busy.do(NoteCall(row.customer_id, row.key, *words, card_id=row.card_id), "Dora")


def test_a_quiet_shop_rings_nobody(busy_shop: Busy) -> None:
    assert whom_to_ring(busy_shop.shop) == ()


def test_before_the_authority_is_passed_and_again_when_it_is_another(busy_shop: Busy) -> None:
    view = busy_shop.view()
    busy_shop.do(ChangeCard(view.id, view.version, authority_minor=1_000, authority_by="Ada"), "Dora")
    row = matters(busy_shop)["authority"]
    assert (row.customer, row.phone, row.card) == ("Ada Lark", "01234 567890", "J00001")
    assert said(busy_shop, "authority").startswith("authority: heading for about £")
    assert said(busy_shop, "authority").endswith(", £10.00 was allowed")
    note(busy_shop, row, "Ada", "Only the oil then.")
    assert "authority" not in matters(busy_shop), "settled"
    view = busy_shop.view()
    busy_shop.do(ChangeCard(view.id, view.version, authority_minor=2_000, authority_by="Ada"), "Dora")
    again = matters(busy_shop)["authority"]
    assert again.last is None
    assert again.before is not None
    assert call_words(again.before) == "Wed 25 Nov 10:15, Ada: Only the oil then. (Dora)"


def test_nobody_reached_is_rung_again_on_its_day(busy_shop: Busy) -> None:
    view = busy_shop.view()
    busy_shop.do(ChangeCard(view.id, view.version, authority_minor=1_000, authority_by="Ada"), "Dora")
    note(busy_shop, matters(busy_shop)["authority"], "", "", "2026-11-26")
    row = matters(busy_shop)["authority"]
    assert row.later == date(2026, 11, 26)
    assert row.last is not None
    assert call_words(row.last) == "Wed 25 Nov 10:15, nobody reached; again Thu 26 Nov (Dora)"
    busy_shop.clock.forward(days=1)
    row = matters(busy_shop)["authority"]
    assert row.later is None


def test_a_ready_car_until_it_is_fetched(busy_shop: Busy) -> None:
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    assert said(busy_shop, "ready").startswith("ready: ready since Wed 25 Nov, not fetched: ")
    busy_shop.do(HandOver(busy_shop.card), "Dora")
    assert "ready" not in matters(busy_shop)


def test_a_car_that_came_again_was_fetched(busy_shop: Busy) -> None:
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    busy_shop.do(OpenCard(busy_shop.vehicle), "Dora")
    assert "ready" not in matters(busy_shop)


def test_unpaid_past_its_day_until_it_is_paid(busy_shop: Busy) -> None:
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    busy_shop.clock.forward(hours=1)
    from shopcli.shop.commands import ClockOff

    busy_shop.do(ClockOff())
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    busy_shop.clock.forward(days=14)
    assert "unpaid" not in matters(busy_shop), "the day itself is not past"
    busy_shop.clock.forward(days=1)
    row = matters(busy_shop)["unpaid"]
    # One hour at 60.00 with 20 % VAT, by the settings of the tests.
    assert row.amount == Decimal("72.00")
    assert said(busy_shop, "unpaid") == f"unpaid: invoice {row.text}: £72.00 was due Wed 9 Dec, 1 day past"
    busy_shop.do(TakePayment(busy_shop.card, 7_200, "payment", "card"), "Dora")
    assert "unpaid" not in matters(busy_shop)


def test_parts_that_came_while_the_car_is_not_here(busy_shop: Busy) -> None:
    parts = busy_shop.view().parts
    busy_shop.do(MovePart(parts[0].id, "on order"), "Dora")
    busy_shop.do(PartArrived(parts[0].id), "Dora")
    assert said(busy_shop, "parts") == f"parts here: came Wed 25 Nov: {parts[0].description}"
    busy_shop.clock.forward(hours=1)
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    assert "parts" not in matters(busy_shop), "somebody goes on with it"


def test_an_offer_that_waits(busy_shop: Busy) -> None:
    busy_shop.do(MakeOffer(busy_shop.vehicle, ("oil-change",)), "Dora")
    assert "waits for an answer, holds until Fri 25 Dec" in said(busy_shop, "offer")


def test_checks_due_soon_of_cars_that_are_not_here(busy_shop: Busy) -> None:
    task = busy_shop.view().tasks[0].id
    with Session(busy_shop.shop.engine) as session:
        session.add(
            Owed(
                vehicle_id=busy_shop.vehicle, card_id=busy_shop.card, task_id=task, title="Re-torque the head",
                before="date", due_date="2026-12-09", state="owed", promised_at=busy_shop.shop.at(),
            )
        )  # fmt: skip
        session.commit()
    assert "owed" not in matters(busy_shop), "the car is here"
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    busy_shop.do(HandOver(busy_shop.card), "Dora")
    assert said(busy_shop, "owed") == "check due: Re-torque the head, due Wed 9 Dec (card J00001)"
    note(busy_shop, matters(busy_shop)["owed"], "Ada", "Comes on Monday.", "2026-11-30")
    assert matters(busy_shop)["owed"].later == date(2026, 11, 30)


def test_a_matter_that_is_not_on_the_list_is_not_found(busy_shop: Busy) -> None:
    with pytest.raises(NotFound, match="ready:9"):
        to_ring(busy_shop.shop, "ready:9")


def test_every_kind_has_a_name() -> None:
    assert set(NAMES) == set(KINDS)
