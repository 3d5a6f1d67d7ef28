"""From real records to paper: what the shop keeps is what the customer reads, and it adds up."""

from decimal import Decimal

from shopcli.papers.render import bench_list_text, open_cards_text, summary_html, summary_text
from shopcli.present import display_width
from shopcli.shop.commands import AddFinding, ClockOff, ClockOn, MovePart, TakePayment, TakeReading
from shopcli.store.reads.desk import open_cards
from shopcli.store.reads.summary import summary
from shopcli.units import IMPERIAL


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
