"""What jobs are said to cost before a card is opened is what the card says it will cost: one calculation, to the penny."""

from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcli.price_words import money_block
from shopcli.shop.commands import (
    AddOutwork,
    AddPart,
    AddToBill,
    ClockOff,
    ClockOn,
    GiveDiscount,
    LeaveOut,
    MovePart,
    OpenCard,
    PutPart,
    SetReverseCharge,
)
from shopcli.shop.settings import Settings
from shopcli.store.reads.ahead import ahead, authority_of
from shopcli.store.reads.bill_now import bill_now
from shopcli.store.reads.prices import price_for
from tests.conftest import SETTINGS, Busy
from tests.shop.test_price_and_promise import finish
from tests.shop.test_reverse_charge import OURS, THEIRS

JOBS = ("valve-clearances", "points", "oil-change")
SHOPS = st.builds(
    Settings()._replace,
    labour_minor=st.integers(1, 20_000),
    labour_unit_minutes=st.sampled_from((1, 6, 10, 15)),
    labour_rounding=st.sampled_from(("up", "nearest")),
    sundries_percent=st.decimals(0, 12, places=1),
    sundries_most_minor=st.integers(0, 3_000),
    labour_vat=st.sampled_from([rate.name for rate in SETTINGS.vat_rates]),
)


def of_card(busy: Busy, jobs: tuple[str, ...]) -> int:
    return busy.do(OpenCard(busy.vehicle, jobs, odometer=50_000, authority_minor=1), "Dora").id  # type: ignore[attr-defined]


@pytest.mark.parametrize("reverse", [False, True])
def test_before_and_on_the_card_the_same(busy_shop: Busy, *, reverse: bool) -> None:
    shop = busy_shop.shop
    shop.settings = shop.settings._replace(vat_number=OURS, country="GB")
    if reverse:
        busy_shop.do(SetReverseCharge(busy_shop.customer, THEIRS), "Dora")
    busy_shop.clock.forward(minutes=1)
    finish(busy_shop, busy_shop.card, 1.4)
    cards = {jobs: of_card(busy_shop, jobs) for jobs in (JOBS, JOBS[1:], JOBS[:1])}

    @settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
    @given(SHOPS)
    def agree(how: Settings) -> None:
        shop.settings = how._replace(vat_rates=SETTINGS.vat_rates, vat_number=OURS)
        listed = ahead(shop).authorities
        for jobs, card in cards.items():
            price = price_for(shop, jobs, busy_shop.vehicle)
            view = authority_of(shop, card)
            assert view is not None
            assert (view.usual, view.most) == (price.usual.with_vat, price.most.with_vat)
            assert listed[card] == view  # and no other card in the list changes it
            assert not reverse or price.usual.vat == price.most.vat == 0
            new = price_for(shop, jobs, sheet="demo-lark-1200", customer_id=busy_shop.customer)
            assert (new.usual, new.most) == (
                price.usual,
                price.most,
            )  # another car of theirs, not written down

    agree()


def test_what_is_taken_off_is_taken_off_what_is_to_come_too(busy_shop: Busy) -> None:
    """A tenth off the whole, on outwork known beforehand and on the work that is still to be done."""
    whole = price_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    card = of_card(busy_shop, JOBS)
    busy_shop.do(GiveDiscount(card, "a good customer", rate_hundredths=1_000), "Olive")
    view = authority_of(busy_shop.shop, card)
    assert view is not None
    assert view.usual == pytest.approx(whole.usual.with_vat * Decimal("0.9"), abs=Decimal("0.02"))


def test_nothing_to_come_is_the_bill_as_it_stands(busy_shop: Busy) -> None:
    shop = busy_shop.shop
    shop.settings = shop.settings._replace(sundries_percent=Decimal(3), sundries_most_minor=100)
    first, *rest = busy_shop.view().tasks
    for task in rest:
        busy_shop.do(LeaveOut(task.id, "not wanted"))
    for part in busy_shop.view().parts:
        busy_shop.do(MovePart(part.id, "not used"))
    busy_shop.do(AddToBill(busy_shop.card, "sundry", "Rags", 350), "Dora")
    busy_shop.do(AddOutwork(busy_shop.card, "Chrome", "Fell & Co", price_minor=10_000), "Dora")
    busy_shop.do(ClockOn(first.id))
    busy_shop.clock.forward(hours=30)
    busy_shop.do(ClockOff())
    view = authority_of(shop, busy_shop.card)
    assert view is not None
    assert view.spent == view.usual == view.most == bill_now(shop, busy_shop.card).due


def test_a_surcharge_is_told_beside_the_sum_as_before_the_card(busy_shop: Busy) -> None:
    before = authority_of(busy_shop.shop, busy_shop.card)
    part = AddPart("T-077", "dynamo", 1, price_minor=10_000, surcharge_minor=4_000)
    part_id = busy_shop.do(part, "Dora").id  # type: ignore[attr-defined]
    busy_shop.do(PutPart(busy_shop.card, part_id, "", 1_000), "Dora")
    after = authority_of(busy_shop.shop, busy_shop.card)
    assert before is not None
    assert after is not None
    assert (after.usual - before.usual, after.surcharges) == (Decimal(120), Decimal(48))
    assert any("exchange" in text for text, _kind in money_block(after, "GBP").lines)
