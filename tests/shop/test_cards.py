"""Opening, adding to and moving cards."""

import pytest

from shopcli.errors import BadInput, NotFound, Refused, Stale
from shopcli.shop.commands import (
    AddCustomer,
    AddTemplates,
    AddVehicle,
    ChangeCard,
    ClockOff,
    ClockOn,
    FinishTask,
    MoveCard,
    OpenCard,
)
from shopcli.store.reads import bench, desk
from tests.conftest import Busy


def test_a_card_is_expanded_into_the_vehicles_own_numbers(busy_shop: Busy) -> None:
    gap = busy_shop.task("points:set-gap").task.spec("points_gap")
    assert gap is not None
    assert gap.provenance.kind == "demo"
    assert gap.limits.unit in {"mm", "thou"}
    assert busy_shop.view().number == "J00001"


def test_the_kit_finds_its_parts_in_stock(busy_shop: Busy) -> None:
    points = next(p for p in busy_shop.view().parts if p.description == "contact set")
    assert points.number == "T-002"
    assert points.in_stock == 2


def test_a_second_template_puts_nothing_on_twice(busy_shop: Busy) -> None:
    before = [t.task.key for t in busy_shop.view().tasks]
    busy_shop.do(AddTemplates(busy_shop.card, ("points", "plugs-leads")))
    after = [t.task.key for t in busy_shop.view().tasks]
    assert len(after) == len(set(after))
    assert set(before) < set(after)
    assert len([p for p in busy_shop.view().parts if p.description == "contact set"]) == 1


def test_a_template_that_does_not_apply_is_refused_with_the_fact(busy_shop: Busy) -> None:
    with pytest.raises(NotFound):
        busy_shop.do(OpenCard(busy_shop.vehicle, ("polish-the-moon",)))
    assert len(desk.open_cards(busy_shop.shop)) == 1


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"odometer": -1}, "odometer"),
        ({"odometer": 9_999_999}, "odometer"),
        ({"promised": "next week"}, "not a date"),
        ({"authority_minor": -5}, "authority"),
        ({"words": "x" * 5000}, "characters"),
    ],
)
def test_impossible_entries_are_refused_and_nothing_is_opened(
    busy_shop: Busy, change: dict, words: str
) -> None:
    with pytest.raises(BadInput, match=words):
        busy_shop.do(OpenCard(busy_shop.vehicle, ("points",), **change))
    assert busy_shop.shop.fetch("SELECT COUNT(*) FROM card") == [(1,)]
    assert busy_shop.shop.fetch("SELECT value FROM counter WHERE name = 'card'") == [(1,)]


def test_text_is_cleaned_at_the_border(busy_shop: Busy) -> None:
    key = busy_shop.do(OpenCard(busy_shop.vehicle, words="Won't start\x1b[2J [/oops] \u202eevil")).id
    assert bench.card(busy_shop.shop, key).words == "Won't start[2J [/oops] evil"


def test_work_takes_a_booked_card_in_hand(busy_shop: Busy) -> None:
    assert busy_shop.view().state == "booked"
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    assert busy_shop.view().state == "in hand"


def test_holding_needs_a_reason_and_stops_the_work(busy_shop: Busy) -> None:
    with pytest.raises(BadInput):
        busy_shop.do(MoveCard(busy_shop.card, "held"))
    busy_shop.do(MoveCard(busy_shop.card, "held", "waiting for a rotor arm"))
    with pytest.raises(Refused, match="rotor arm"):
        busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    assert desk.open_cards(busy_shop.shop)[0].holds == "waiting for a rotor arm"
    busy_shop.do(MoveCard(busy_shop.card, "in hand"))
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))


def test_a_card_with_work_on_it_cannot_be_voided(busy_shop: Busy) -> None:
    busy_shop.do(ClockOn(busy_shop.view().tasks[0].id))
    busy_shop.do(ClockOff())
    with pytest.raises(Refused, match="cannot be voided"):
        busy_shop.do(MoveCard(busy_shop.card, "void", "opened by mistake"))


def test_only_the_closing_check_closes(busy_shop: Busy) -> None:
    for state in ("closed", "checked"):
        with pytest.raises(Refused):
            busy_shop.do(MoveCard(busy_shop.card, state))


def test_a_change_over_somebody_elses_change_is_refused(busy_shop: Busy) -> None:
    version = busy_shop.view().version
    busy_shop.do(ChangeCard(busy_shop.card, version, odometer=48_220), "Dora")
    with pytest.raises(Stale):
        busy_shop.do(ChangeCard(busy_shop.card, version, odometer=48_300), "Olive")
    assert busy_shop.view().odometer == 48_220


def test_a_registration_is_known_once(busy_shop: Busy) -> None:
    with pytest.raises(Refused, match="already known"):
        busy_shop.do(AddVehicle(busy_shop.customer, " lrk  120 ", "Lark"))


@pytest.mark.parametrize("text", ["lrk", "ADA", "lark 1964", "j00001", "oil"])
def test_the_desk_narrows_by_any_word(busy_shop: Busy, text: str) -> None:
    words = text.replace("1964", "1200")
    assert len(desk.open_cards(busy_shop.shop, words)) == 1
    assert desk.open_cards(busy_shop.shop, words + " nobody") == ()


def test_wildcards_are_taken_literally(busy_shop: Busy) -> None:
    assert desk.open_cards(busy_shop.shop, "%") == ()
    assert desk.open_cards(busy_shop.shop, "_") == ()


@pytest.mark.parametrize("words", ["sump dry", "strainer", "points gap", "567890", "lark drain"])
def test_open_cards_are_found_by_tag_task_and_telephone(busy_shop: Busy, words: str) -> None:
    busy_shop.do(FinishTask(busy_shop.task("oil-change:drain").id, "not measured"))
    assert desk.open_cards(busy_shop.shop)[0].open_tags
    assert [row.id for row in desk.open_cards(busy_shop.shop, words)] == [busy_shop.card]
    assert desk.open_cards(busy_shop.shop, f"{words} nobody") == ()


def test_who_is_called_so_stands_before_whose_task_says_so(busy_shop: Busy) -> None:
    """Zoe Drain is looked for by her name; Ada, whose sump is to be drained, comes first in the alphabet."""
    shop = busy_shop.shop
    customer = busy_shop.do(AddCustomer("Zoe Drain"), "Dora").id  # type: ignore[attr-defined]
    car = AddVehicle(customer, "ZD 1", "Lark", "1200", 1964, sheet="demo-lark-1200")
    vehicle = busy_shop.do(car, "Dora").id  # type: ignore[attr-defined]
    card = busy_shop.do(OpenCard(vehicle, ("points",), odometer=1), "Dora").id  # type: ignore[attr-defined]
    assert [row.id for row in desk.open_cards(shop, "drain")] == [card, busy_shop.card]
    assert [row.id for row in desk.open_cards(shop)] == [busy_shop.card, card]
    assert desk.open_cards(shop, "dr") == desk.open_cards(shop, "zoe")  # too short to be asked of every task


def test_the_end_of_a_cards_number_opens_that_card(busy_shop: Busy) -> None:
    """Aaron comes first in the alphabet, and the figures stand in his telephone number too."""
    shop, do = busy_shop.shop, busy_shop.do
    customer = do(AddCustomer("Aaron Bell", "01632 000 001"), "Dora").id  # type: ignore[attr-defined]
    vehicle = do(AddVehicle(customer, "AB 2", "Lark", sheet="demo-lark-1200"), "Dora").id  # type: ignore[attr-defined]
    card = do(OpenCard(vehicle, ("points",), odometer=1), "Dora").id  # type: ignore[attr-defined]
    assert [row.id for row in desk.open_cards(shop, "001")] == [busy_shop.card, card]
    assert [row.id for row in desk.open_cards(shop, "01")] == [busy_shop.card]  # too short for telephones
