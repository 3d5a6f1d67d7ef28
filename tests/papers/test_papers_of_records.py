"""From real records to paper: what the shop keeps is what the customer reads, and it adds up."""

import json
from decimal import Decimal

from shopcli.papers.forms import written
from shopcli.papers.offer import offer_paper
from shopcli.papers.render import bench_list_text, open_cards_text, summary_html, summary_text
from shopcli.present import display_width
from shopcli.shop.commands import (
    AcceptOffer,
    AddFinding,
    ClockOff,
    ClockOn,
    MakeOffer,
    MovePart,
    TakePayment,
    TakeReading,
    Waive,
)
from shopcli.store.reads.bench import hindrances
from shopcli.store.reads.desk import open_cards
from shopcli.store.reads.made_offers import paper_of
from shopcli.store.reads.summary import summary
from shopcli.units import IMPERIAL, Limits


def work(busy):
    busy.do(ClockOn(busy.view().tasks[0].id))
    busy.clock.forward(minutes=37)
    busy.do(ClockOff())
    task = next(t for t in busy.view().tasks if any("as found" in s.key for s in t.task.readings))
    slot = next(s for s in task.task.readings if "as found" in s.key)
    busy.do(TakeReading(task.id, slot.key, "9 thou"))
    busy.do(AddFinding(busy.card, "engine bay", "fuel hose perished", "stop", takes="1 m of hose"))
    for part in busy.view().parts:
        busy.do(MovePart(part.id, "fitted"))
    busy.do(TakePayment(busy.card, 5000, "deposit", "card"), by="Dora")


def test_the_summary_of_a_card_in_hand_adds_up_and_is_readable(busy_shop):
    work(busy_shop)
    view = summary(busy_shop.shop, busy_shop.card)
    text = summary_text(view)
    flat = " ".join(text.split())
    # 37 min are seven started units: 0.7 h at 60.00
    assert "0.7 h £60.00 42.00 20 %" in flat
    assert view.totals.paid == Decimal("50.00")
    assert "Deposit, card, Wed 25 Nov -£50.00" in flat
    assert "9 thou" in flat
    assert "Engine bay: fuel hose perished. It takes: 1 m of hose." in flat
    assert "This summary is not an invoice." in flat
    assert max(map(display_width, text.splitlines())) <= 80
    assert "£60.00" in summary_html(view)


def test_the_work_list_and_the_open_jobs_of_the_same_card(busy_shop):
    work(busy_shop)
    rows = open_cards(busy_shop.shop)
    jobs = open_cards_text(rows, busy_shop.clock().date())
    assert "Ada Lark, 01234 567890" in jobs
    assert "0 h 37 clocked" in jobs
    sheet = bench_list_text(busy_shop.view(), IMPERIAL)
    assert "9 thou (" in sheet
    assert "Runs roughly when warm." in sheet
    assert max(map(display_width, (jobs + sheet).splitlines())) <= 80


def test_a_summary_says_what_was_read_in_the_unit_it_is_judged_in_and_where_the_shop_is(busy_shop):
    work(busy_shop)
    shop = busy_shop.shop
    shop.settings = shop.settings._replace(city="Little Proof", post_code="ZZ9 9ZZ")
    task = next(
        t
        for t in busy_shop.view().tasks
        if any("as left" in s.key and s.spec == "points_gap" for s in t.task.readings)
    )
    slot = next(s for s in task.task.readings if "as left" in s.key and s.spec == "points_gap")
    busy_shop.do(TakeReading(task.id, slot.key, "0,4 mm"))
    for hindrance in hindrances(shop, busy_shop.card):
        if hindrance.key.startswith("price"):
            busy_shop.do(Waive(busy_shop.card, hindrance.key, "agreed"), by="Olive")
            break
    view = summary(shop, busy_shop.card)
    gap = next(r for r in view.readings if r.left)
    assert gap.limits.startswith("14 to 18 thou")
    assert gap.left == "0,4 mm (15.7 thou)"
    assert "thou (" not in gap.found, "typed in the unit of the limits, it is said once"
    limits = json.dumps(Limits.of("length", "mm", low=2.5).to_json())
    busy_shop.behind(
        "UPDATE reading SET typed = ?, unit = 'in', value = 0.002794, limits = ? WHERE typed = '0,4 mm'",
        '.11"',
        limits,
    )
    exact = next(r for r in summary(shop, busy_shop.card).readings if r.left)
    assert exact.left == '.11" (2.79 mm)', "no more exact than it was typed: 0.11 x 25.4 = 2.794"
    assert view.shop.address == ("1 Test Lane", "Little Proof", "ZZ9 9ZZ"), "the town is in it once"
    assert view.waived[0].endswith("(Olive, 25 Nov 2026)")
    assert view.authority == "up to 400.00 GBP, Ada Lark, by phone"
    busy_shop.behind("UPDATE card SET authority_minor = 900000 WHERE id = ?", busy_shop.card)
    assert summary(shop, busy_shop.card).authority.startswith("up to 9,000.00 GBP")


def test_the_answer_to_an_offer_is_written_as_the_offer_is(busy_shop):
    busy_shop.do(MakeOffer(busy_shop.vehicle, ("oil-change",)), by="Dora")
    number = 1
    assert "The work named here, up to £" in offer_text(busy_shop, number)
    busy_shop.do(AcceptOffer(number, "Ada Lark", "phone", amount_minor=123456), by="Dora")
    said = offer_text(busy_shop, number)
    assert "Accepted by Ada Lark on 25 November 2026 (phone), up to £1,234.56 with VAT." in said
    assert "Answer" in said.split("What it would take")[0], "with the facts at the head, not alone at the end"


def offer_text(busy, offer_id):
    view = paper_of(busy.shop, offer_id)
    made = written(lambda w, logo: offer_paper(view, w, logo), "text", currency="GBP")
    return " ".join(made.content.decode().split())
