"""The counter: what a card keeps of the car, calls noted, a car handed over, and all of it taken back."""

import pytest

from shopcli.errors import BadInput, Refused
from shopcli.shop.commands import ChangeCard, CloseCard, HandOver, NoteCall, OpenCard, TakeBack
from tests.conftest import Busy, journal_after
from tests.shop.test_closing import settle_everything
from tests.shop.test_taking_back import last


def back(busy: Busy, by: str = "Dora") -> tuple[str, ...]:
    return busy.do(TakeBack(last(busy, by)), by).said  # type: ignore[attr-defined,no-any-return]


def test_a_card_keeps_keys_fuel_and_damage(busy_shop: Busy) -> None:
    busy_shop.card = busy_shop.do(
        OpenCard(busy_shop.vehicle, car_keys="two", fuel="a quarter", damage="scratch,\nleft door"), "Dora"
    ).id  # type: ignore[attr-defined]
    view = busy_shop.view()
    assert (view.car_keys, view.fuel, view.damage) == ("two", "a quarter", "scratch,\nleft door")
    busy_shop.do(ChangeCard(view.id, view.version, car_keys="one", fuel="empty"), "Dora")
    view = busy_shop.view()
    assert (view.car_keys, view.fuel, view.damage) == ("one", "empty", "scratch,\nleft door")
    assert "As before: the keys, the fuel." in back(busy_shop)
    assert busy_shop.view().car_keys == "two"


def test_an_authority_keeps_how_and_when_it_came(busy_shop: Busy) -> None:
    view = busy_shop.view()
    busy_shop.clock.forward(hours=1)
    command = ChangeCard(
        view.id, view.version, authority_minor=50_000, authority_by="Ada", authority_how="signed"
    )
    busy_shop.do(command, "Dora")
    view = busy_shop.view()
    assert (view.authority, view.authority_by, view.authority_how) == (500, "Ada", "signed")
    assert view.authority_at is not None
    assert view.authority_at.hour == 11


def test_a_call_is_noted_and_taken_back(busy_shop: Busy) -> None:
    note = NoteCall(busy_shop.customer, "ready:1", "Ada", "Comes on Friday.", "2026-11-27", busy_shop.card)
    assert busy_shop.do(note, "Dora").said == ("Call to Ada Lark noted: Ada reached.",)  # type: ignore[attr-defined]
    assert journal_after(busy_shop.shop, "NoteCall")[0]["said"] == "Comes on Friday."
    sql = "SELECT about, reached, said, next_on, card_id FROM call_note"
    assert busy_shop.shop.fetch(sql) == [("ready:1", "Ada", "Comes on Friday.", "2026-11-27", busy_shop.card)]
    assert "The note of the call goes." in back(busy_shop)
    assert busy_shop.shop.fetch(sql) == []


@pytest.mark.parametrize(
    ("note", "why"),
    [
        (("Ada", "", ""), "what was said"),
        (("", "", ""), "no day is named"),
        (("", "", "2026-11-24"), "past"),
        (("", "", "soon"), "not a date"),
    ],
)
def test_half_a_note_is_refused(busy_shop: Busy, note: tuple[str, str, str], why: str) -> None:
    with pytest.raises(BadInput, match=why):
        busy_shop.do(NoteCall(busy_shop.customer, "ready:1", *note), "Dora")


def test_a_car_goes_once_and_only_when_its_card_is_closed(busy_shop: Busy) -> None:
    with pytest.raises(Refused, match="not ready"):
        busy_shop.do(HandOver(busy_shop.card), "Dora")
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    assert busy_shop.view().handed is None
    said = busy_shop.do(HandOver(busy_shop.card, "her brother"), "Dora").said  # type: ignore[attr-defined]
    assert said == ("LRK 120 handed over to her brother.",)
    assert busy_shop.view().handed_to == "her brother"
    with pytest.raises(Refused, match="before"):
        busy_shop.do(HandOver(busy_shop.card), "Dora")
    assert "As before: not fetched yet." in back(busy_shop)
    assert busy_shop.view().handed is None
    busy_shop.do(HandOver(busy_shop.card), "Dora")
    assert busy_shop.view().handed_to == "Ada Lark"
