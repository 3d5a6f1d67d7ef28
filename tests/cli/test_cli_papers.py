"""Papers by command: printed, written in several forms at once, refused with a way out."""

from pathlib import Path

import pytest

from shopcli.shop.commands import (
    CloseCard,
    LeaveOut,
    MakeOffer,
    TakePayment,
    TakeReading,
    Waive,
)
from shopcli.store.reads.bench import hindrances
from shopcli.store.reads.bills import bill_of_card
from tests.cli.conftest import Run
from tests.conftest import Busy
from tests.papers.figures import expected, of_pdf
from tests.papers.test_bench_sheet import read_pdf
from tests.papers.test_bill_paper import png
from tests.papers.test_papers_of_records import work


def test_a_summary_in_every_form(run: Run, tmp_path: Path) -> None:
    files = {form: tmp_path / f"summary.{form}" for form in ("text", "html", "pdf")}
    status, out, _ = run("paper", "summary", "1", *(w for f, p in files.items() for w in (f"--{f}", str(p))))
    assert status == 0
    assert out.count("Written: ") == 3
    assert "SUMMARY OF WORK" in files["text"].read_text(encoding="utf-8")
    assert files["html"].read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    pages, text = read_pdf(files["pdf"].read_bytes())
    assert pages >= 1
    assert "Ada Lark" in text


def test_the_story_of_a_vehicle(run: Run, busy_shop: Busy) -> None:
    task = busy_shop.task("points:gap-found")
    busy_shop.do(TakeReading(task.id, task.task.readings[0].key, "9 thou"))
    status, out, _ = run("paper", "history", "lrk 120")
    assert status == 0
    assert "VEHICLE HISTORY" in out
    assert "9 thou" in out
    assert "J00001" in out
    assert run("paper", "history", "nobody")[0] == 2


def test_a_receipt_before_and_after_the_invoice(run: Run, busy_shop: Busy) -> None:
    assert "no money was taken" in run("paper", "receipt", "1")[2]
    closed(busy_shop)
    due = bill_of_card(busy_shop.shop, busy_shop.card).due
    busy_shop.do(TakePayment(busy_shop.card, 1_000, "payment", "cash"), by="Dora")
    last = " ".join(run("paper", "receipt", "1")[1].split())
    assert "We received £10.00 as a payment" in last
    assert f"Left to pay £{due - 10}" in last
    assert "We received £50.00 as a deposit" in run("paper", "receipt", "1", "--which", "1")[1]
    assert run("paper", "receipt", "1", "--which", "3")[0] == 2


def test_an_offer(run: Run, busy_shop: Busy) -> None:
    made = busy_shop.do(MakeOffer(vehicle_id=busy_shop.vehicle, templates=("oil-change",)), by="Dora")
    assert made
    status, out, err = run("paper", "offer", "1")
    assert (status, err) == (0, "")
    assert "OFFER" in out
    assert "Signature:" in out
    assert run("paper", "offer", "99")[0] == 2


def test_the_shops_sign_and_locale(
    run: Run, busy_shop: Busy, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sign, settings, page = tmp_path / "sign.png", tmp_path / "settings.toml", tmp_path / "x.html"
    sign.write_bytes(png())
    settings.write_text(f'locale = "de_DE"\nlogo = "{sign}"\nshop_name = "Test Lane"\n', encoding="utf-8")
    monkeypatch.setenv("SHOPCLI_SETTINGS", str(settings))
    assert run("paper", "summary", "1", "--html", str(page))[0] == 0
    text = page.read_text(encoding="utf-8")
    assert '<html lang="de-DE">' in text
    assert "data:image/png;base64," in text
    assert "25. November 2026" in text
    settings.write_text('locale = "xx_YY"\n', encoding="utf-8")
    assert "no locale" in run("paper", "summary", "1")[2]
    settings.write_text('locale = "!"\n', encoding="utf-8")
    assert "is none" in run("paper", "summary", "1")[2]
    settings.write_text(f'logo = "{tmp_path / "none.png"}"\n', encoding="utf-8")
    assert run("paper", "summary", "1")[0] == 0, "text has no picture"
    assert "cannot be read" in run("paper", "summary", "1", "--html", str(page))[2]


def closed(busy: Busy) -> None:
    """Work on the card, take a deposit, and close it over whatever hinders."""
    work(busy)
    for _ in range(20):
        found = hindrances(busy.shop, busy.card)
        if not found:
            break
        for h in found:
            if h.waivable:
                busy.do(Waive(busy.card, h.key, "for this test"), by="Olive")
        for task in busy.view().tasks:
            if task.state == "open":
                busy.do(LeaveOut(task.id, "for this test"), by="Tom")
    busy.do(CloseCard(busy.card), by="Dora")


def test_an_invoice_that_was_issued(run: Run, busy_shop: Busy, tmp_path: Path) -> None:
    status, _, err = run("paper", "invoice", "1")
    assert status == 2
    assert "no invoice" in err
    closed(busy_shop)
    out = run("paper", "invoice", "1")[1]
    assert "INVOICE" in out
    assert "Deposit, card, 25 Nov 2026" in out
    pdf, cii = tmp_path / "x.pdf", tmp_path / "x.xml"
    assert run("paper", "invoice", "1", "--pdf", str(pdf))[0] == 0
    bill = bill_of_card(busy_shop.shop, busy_shop.card)
    assert of_pdf(pdf.read_bytes()) == expected(bill)
    assert bill.payments[0].amount == bill.paid
    status, _, err = run("paper", "invoice", "1", "--cii", str(cii))
    assert status == 2
    assert "vat_number" in err, "what the standard asks for and nobody has entered is named"
    assert not cii.exists()
