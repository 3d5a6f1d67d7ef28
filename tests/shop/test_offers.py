"""Offers on real records: made once for good, answered once, an authority, a card opened from one."""

import sqlite3
from collections.abc import Callable
from datetime import date
from decimal import Decimal

import pytest

from shopcli.errors import BadInput, NotFound, Refused
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.commands import (
    AcceptOffer,
    AddFinding,
    AddVehicle,
    ChangeCard,
    DeclineOffer,
    DropPlanned,
    MakeOffer,
    MoveCard,
    OpenCard,
    OpenFromOffer,
    OutworkBack,
    SendPlanned,
)
from shopcli.shop.kept_json import from_json, to_json
from shopcli.shop.money import Net, total
from shopcli.shop.offer_view import OfferPaper, OfferReply
from shopcli.store.reads import bench
from shopcli.store.reads import made_offers as reads
from shopcli.store.reads.bill_now import bill_now
from shopcli.store.reads.prices import price_for
from shopcli.store.shop import Shop
from tests.conftest import SETTINGS, Busy, Clock, fill

JOBS = ("oil-change", "points")
COLUMNS = (
    "number, vehicle_id, customer_id, card_id, templates, words, made_at, made_by, valid_until, usual_min, most_min,"
    " net_minor, vat_minor, gross_minor, most_minor, body"
)


def offer(busy: Busy, **more: object) -> int:
    return busy.do(MakeOffer(busy.vehicle, JOBS, **more), "Dora").id  # type: ignore[arg-type,attr-defined]


def card_row(busy: Busy, card_id: int) -> tuple[object, ...]:
    sql = "SELECT authority_minor, authority_by, authority_how, authority_at, offer_id FROM card WHERE id = ?"
    return busy.shop.fetch(sql, (card_id,))[0]


def last_act(busy: Busy) -> int:
    return busy.shop.fetch("SELECT MAX(id) FROM journal")[0][0]


def test_an_offer_is_the_price_of_its_moment_and_adds_up(busy_shop: Busy) -> None:
    view = price_for(busy_shop.shop, JOBS, busy_shop.vehicle)
    first = offer(busy_shop, words="Before the summer")
    listed = reads.made_offers(busy_shop.shop)[0]
    assert (listed.number, listed.registration, listed.state(listed.made)) == ("OF00001", "LRK 120", "open")
    assert (listed.usual, listed.most) == (view.usual.with_vat, view.most.with_vat)
    assert (listed.valid_until - listed.made).days == SETTINGS.offer_days
    paper = reads.paper_of(busy_shop.shop, first)
    assert paper.words == "Before the summer"
    assert paper.buyer.name == "Ada Lark"
    assert paper.buyer.address == ("2 Proof Road", "Little Proof")
    assert paper.vehicle == "LRK 120, Lark 1200 1964"
    again = total(Net(line.net, line.percent, line.category, line.vat) for line in paper.lines)
    assert (again.with_vat, again.vat) == (paper.with_vat, paper.tax)
    assert paper.with_vat < (paper.with_vat_80 or 0)
    assert [j.title for j in paper.jobs] == [
        "Engine oil and filter: change",
        "Contact-breaker points: renew and set",
    ]


def test_numbers_have_no_gap_and_a_refused_offer_takes_none(busy_shop: Busy) -> None:
    offer(busy_shop)
    for bad in (
        MakeOffer(busy_shop.vehicle, ()),
        MakeOffer(busy_shop.vehicle, JOBS, extras=(("Chrome", 1000, "gift"),)),
        MakeOffer(busy_shop.vehicle, JOBS, days=400),
    ):
        with pytest.raises(BadInput):
            busy_shop.do(bad, "Dora")
    with pytest.raises(NotFound):
        busy_shop.do(MakeOffer(busy_shop.vehicle, ("no-such-job",)), "Dora")
    offer(busy_shop)
    assert [o.number for o in reads.made_offers(busy_shop.shop)] == ["OF00002", "OF00001"]


@pytest.mark.sqlite_only("the guards of a server are tried in tests/store/test_postgres.py")
def test_an_offer_cannot_be_changed_in_the_database_itself(busy_shop: Busy) -> None:
    key = offer(busy_shop)
    with sqlite3.connect(str(busy_shop.shop.place.file)) as raw:
        for sql in (
            "UPDATE offer SET most_minor = 1",
            "DELETE FROM offer",
            "REPLACE INTO offer SELECT * FROM offer",
            f"INSERT OR REPLACE INTO offer SELECT {key + 1}, {COLUMNS} FROM offer",
        ):
            with pytest.raises(sqlite3.IntegrityError, match="fixed for good"):
                raw.execute(sql)


def test_outwork_and_fees_are_in_the_sum(busy_shop: Busy) -> None:
    plain = reads.paper_of(busy_shop.shop, offer(busy_shop))
    more = reads.paper_of(
        busy_shop.shop, offer(busy_shop, extras=(("Skim the head", 8000, "outwork"), ("Post", 500, "fee")))
    )
    assert more.without_vat - plain.without_vat == Decimal("85.00")
    assert more.with_vat - plain.with_vat == Decimal("102.00")  # VAT of 20 %
    only = busy_shop.do(
        MakeOffer(busy_shop.vehicle, (), extras=(("Recore the radiator", 20000, "outwork"),)), "Dora"
    )
    assert reads.paper_of(busy_shop.shop, only.id).with_vat_80 == Decimal("240.00")  # type: ignore[attr-defined]


def test_what_is_on_the_card_beside_its_jobs_is_said_not_to_be_in_the_price(busy_shop: Busy) -> None:
    seen = busy_shop.do(AddFinding(busy_shop.card, "front axle", "king pin worn", "soon"), "Tom").id  # type: ignore[attr-defined]
    card = busy_shop.do(OpenCard(busy_shop.vehicle, ("points",), take=(f"finding:{seen}",)), "Dora").id  # type: ignore[attr-defined]
    said = "Not in this price, though on the card: Put right: front axle, king pin worn."
    for on, there in ((card, True), (busy_shop.card, False), (None, False)):
        made = busy_shop.do(MakeOffer(busy_shop.vehicle, ("points",), card_id=on), "Dora")
        assert (said in made.said) == there  # type: ignore[attr-defined]
        assert (said in reads.paper_of(busy_shop.shop, made.id).notes) == there  # type: ignore[attr-defined]


def test_accepted_and_opened_the_card_has_jobs_and_authority(busy_shop: Busy) -> None:
    key = offer(busy_shop, words="Runs rough")
    with pytest.raises(Refused, match="not answered yet"):
        busy_shop.do(OpenFromOffer(key), "Dora")
    most = reads.made_offers(busy_shop.shop)[0].most
    busy_shop.clock.forward(minutes=9)
    at = busy_shop.shop.at()
    busy_shop.do(AcceptOffer(key, "Ada Lark", "phone"), "Dora")
    busy_shop.clock.forward(days=2)
    opened = busy_shop.do(OpenFromOffer(key, odometer=48_300, promised="2026-12-04"), "Dora").id  # type: ignore[attr-defined]
    assert card_row(busy_shop, opened) == (int(most * 100), "Ada Lark", "phone", at, key)
    assert busy_shop.shop.fetch("SELECT words, promised FROM card WHERE id = ?", (opened,)) == [
        ("Runs rough", "2026-12-04")
    ]
    names = busy_shop.shop.fetch("SELECT template FROM card_template WHERE card_id = ?", (opened,))
    assert {n for (n,) in names} == set(JOBS)
    assert reads.made_offers(busy_shop.shop, card_id=opened)[0].opened == "J00002"
    with pytest.raises(Refused, match="J00002 was opened"):
        busy_shop.do(OpenFromOffer(key), "Dora")


def test_an_answer_is_given_once_and_in_time(busy_shop: Busy) -> None:
    first, second, third = offer(busy_shop), offer(busy_shop), offer(busy_shop, days=3)
    busy_shop.do(DeclineOffer(first, "Ada Lark", "mail", "too dear"), "Dora")
    for command in (AcceptOffer(first, "Ada", "phone"), DeclineOffer(first, "Ada", "phone")):
        with pytest.raises(Refused, match="declined already"):
            busy_shop.do(command, "Dora")
    with pytest.raises(Refused, match="declined"):
        busy_shop.do(OpenFromOffer(first), "Dora")
    for bad in (
        AcceptOffer(second, " ", "phone"),
        AcceptOffer(second, "Ada", "pigeon"),
        AcceptOffer(second, "Ada", "phone", -1),
    ):
        with pytest.raises(BadInput):
            busy_shop.do(bad, "Dora")
    busy_shop.do(AcceptOffer(second, "Ada", "signed", 12_345), "Dora")
    busy_shop.clock.forward(days=4)
    with pytest.raises(Refused, match="held until 2026-11-28"):
        busy_shop.do(AcceptOffer(third, "Ada", "phone"), "Dora")
    found = {o.number: o for o in reads.made_offers(busy_shop.shop)}
    today = busy_shop.shop.local(busy_shop.shop.at()).date()
    assert [found[f"OF0000{n}"].state(today) for n in (1, 2, 3)] == ["declined", "accepted", "run out"]
    assert found["OF00002"].amount == Decimal("123.45")
    reply = OfferReply("declined", "Ada Lark", "mail", date(2026, 11, 25), None, "too dear")
    assert reads.paper_of(busy_shop.shop, first).reply == reply


def test_more_work_on_a_card_is_put_there_and_raises_the_authority(busy_shop: Busy) -> None:
    key = busy_shop.do(MakeOffer(busy_shop.vehicle, ("plugs-leads",), busy_shop.card), "Dora").id  # type: ignore[attr-defined]
    tasks = len(busy_shop.view().tasks)
    busy_shop.do(AcceptOffer(key, "Ada Lark", "in person", 9_000), "Dora")
    assert len(busy_shop.view().tasks) > tasks
    assert card_row(busy_shop, busy_shop.card)[:3] == (49_000, "Ada Lark", "in person")
    with pytest.raises(Refused, match="for a card that is open"):
        busy_shop.do(OpenFromOffer(key), "Dora")
    busy_shop.do(TakeBack(last_act(busy_shop)), "Dora")
    assert len(busy_shop.view().tasks) == tasks
    assert card_row(busy_shop, busy_shop.card)[:2] == (40_000, "Ada Lark, by phone")


def test_an_offer_for_the_jobs_of_a_card_is_its_authority(busy_shop: Busy) -> None:
    key = busy_shop.do(MakeOffer(busy_shop.vehicle, JOBS, busy_shop.card), "Dora").id  # type: ignore[attr-defined]
    tasks = len(busy_shop.view().tasks)
    busy_shop.do(AcceptOffer(key, "Ada Lark", "phone", 33_000), "Dora")
    assert len(busy_shop.view().tasks) == tasks
    assert card_row(busy_shop, busy_shop.card)[0] == 33_000


def test_no_offer_for_a_card_that_is_void_or_another_cars(busy_shop: Busy) -> None:
    other = busy_shop.do(AddVehicle(busy_shop.customer, "ABC 1", "Lark"), "Dora").id  # type: ignore[attr-defined]
    with pytest.raises(Refused, match="not of ABC 1"):
        busy_shop.do(MakeOffer(other, JOBS, busy_shop.card), "Dora")
    busy_shop.do(MoveCard(busy_shop.card, "void", "typed twice"), "Dora")
    with pytest.raises(Refused, match="void"):
        busy_shop.do(MakeOffer(busy_shop.vehicle, JOBS, busy_shop.card), "Dora")


def test_a_yes_is_taken_back_until_a_card_was_opened_from_it(busy_shop: Busy) -> None:
    key = offer(busy_shop)
    with pytest.raises(Refused, match="keeps its number"):
        busy_shop.do(TakeBack(last_act(busy_shop)), "Dora")
    busy_shop.do(AcceptOffer(key, "Ada", "phone"), "Dora")
    accepted = last_act(busy_shop)
    busy_shop.do(TakeBack(accepted), "Dora")
    assert reads.made_offers(busy_shop.shop)[0].answer == ""
    busy_shop.do(AcceptOffer(key, "Ada", "phone"), "Dora")
    accepted = last_act(busy_shop)
    busy_shop.do(OpenFromOffer(key), "Dora")
    with pytest.raises(Refused, match="built on it since"):
        busy_shop.do(TakeBack(accepted), "Dora")


def test_what_was_written_on_an_offer_outlives_prices_and_names(
    make_shop: Callable[..., Shop], clock: Clock
) -> None:
    busy = fill(make_shop(now=clock), clock)
    before = reads.paper_of(busy.shop, offer(busy))
    busy.shop.settings = SETTINGS._replace(labour_minor=9_900, shop_name="Another")
    assert reads.paper_of(busy.shop, 1) == before
    assert from_json(OfferPaper, to_json(before)) == before


def test_an_authority_by_hand_keeps_how_and_when(busy_shop: Busy) -> None:
    version = busy_shop.view().version
    at = busy_shop.shop.at()
    busy_shop.do(
        ChangeCard(busy_shop.card, version, authority_minor=50_000, authority_by="Ada", authority_how="mail"),
        "Dora",
    )
    assert card_row(busy_shop, busy_shop.card) == (50_000, "Ada", "mail", at, None)


def test_an_offer_nobody_made(busy_shop: Busy) -> None:
    for text in ("", "OF", "77", "9" * 30):
        with pytest.raises(NotFound):
            reads.made_offer(busy_shop.shop, text)
    with pytest.raises(NotFound):
        reads.paper_of(busy_shop.shop, 5)


EXTRAS = (("Skim the head", 8_000, "outwork"), ("Post", 500, "fee"))


def planned(busy: Busy, card: int) -> list[tuple[object, ...]]:
    return busy.shop.fetch(
        "SELECT what, who, sent, back, price_minor FROM outwork WHERE card_id = ? ORDER BY id", (card,)
    )


def test_outwork_of_an_accepted_offer_is_planned_on_the_card_once(busy_shop: Busy) -> None:
    number = busy_shop.do(MakeOffer(busy_shop.vehicle, (), extras=EXTRAS, card_id=busy_shop.card), "Dora").id  # type: ignore[attr-defined]
    assert planned(busy_shop, busy_shop.card) == []
    said = busy_shop.do(AcceptOffer(number, "Ada", "phone"), "Dora").said  # type: ignore[attr-defined]
    assert "To be sent out: Skim the head, 80.00 without VAT." in said
    assert planned(busy_shop, busy_shop.card) == [("Skim the head", "", "", "", 8_000)]
    with pytest.raises(Refused, match="accepted already"):
        busy_shop.do(AcceptOffer(number, "Ada", "phone"), "Dora")
    lines = {line.description: line.net for line in bill_now(busy_shop.shop, busy_shop.card).lines}
    assert (lines["Skim the head"], lines["Post"]) == (Decimal("80.00"), Decimal("5.00"))
    assert [h.what for h in bench.hindrances(busy_shop.shop, busy_shop.card) if h.where == "outwork"] == [
        "Outwork not sent: Skim the head"
    ]
    busy_shop.do(TakeBack(last_act(busy_shop)), "Dora")
    assert planned(busy_shop, busy_shop.card) == []


def test_a_card_opened_from_an_offer_has_its_outwork_which_goes_out_and_comes_back(busy_shop: Busy) -> None:
    number = offer(busy_shop, extras=EXTRAS)
    busy_shop.do(AcceptOffer(number, "Ada", "phone"), "Dora")
    card = busy_shop.do(OpenFromOffer(number), "Dora").id  # type: ignore[attr-defined]
    (key,) = busy_shop.shop.fetch("SELECT id FROM outwork WHERE card_id = ?", (card,))[0]
    with pytest.raises(Refused, match="not sent yet"):
        busy_shop.do(OutworkBack(key, ""), "Dora")
    busy_shop.do(SendPlanned(key, "Fell & Co", due="2026-12-04"), "Dora")
    with pytest.raises(Refused, match="was sent"):
        busy_shop.do(DropPlanned(key, "no"), "Dora")
    busy_shop.do(OutworkBack(key, "", cost_minor=5_000), "Dora")
    assert planned(busy_shop, card) == [("Skim the head", "Fell & Co", "2026-11-25", "2026-11-25", 8_000)]


def test_what_is_done_without_is_neither_billed_nor_in_the_way(busy_shop: Busy) -> None:
    number = offer(busy_shop, extras=EXTRAS)
    busy_shop.do(AcceptOffer(number, "Ada", "phone"), "Dora")
    card = busy_shop.do(OpenFromOffer(number), "Dora").id  # type: ignore[attr-defined]
    (key,) = busy_shop.shop.fetch("SELECT id FROM outwork WHERE card_id = ?", (card,))[0]
    with pytest.raises(BadInput):
        busy_shop.do(DropPlanned(key, " "), "Dora")
    busy_shop.do(DropPlanned(key, "the head is true"), "Dora")
    assert [line.description for line in bill_now(busy_shop.shop, card).lines] == ["Post"]
    assert not [h for h in bench.hindrances(busy_shop.shop, card) if h.where == "outwork"]
    busy_shop.do(TakeBack(last_act(busy_shop)), "Dora")
    assert planned(busy_shop, card) == [("Skim the head", "", "", "", 8_000)]
