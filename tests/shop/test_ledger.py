"""The books: every line is a document's, every sum agrees with it, and a document that was tampered with is found out."""

import csv
import io
import json
import sqlite3
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given

from shopcli.errors import BadInput
from shopcli.papers.ledger_csv import HEAD, ledger_csv
from shopcli.shop.accounts import KINDS
from shopcli.shop.amounts import ZERO
from shopcli.shop.bill import Bill
from shopcli.shop.commands import (
    AddCustomer,
    AddToBill,
    AddVehicle,
    CloseCard,
    CreditInvoice,
    GiveDiscount,
    OpenCard,
    Refund,
    ReversePayment,
    TakePayment,
)
from shopcli.shop.ledger import Document, Ledger, Sold, Taxed, lines_of, wrong_with
from shopcli.shop.settings import read_settings
from shopcli.store.reads.accounts import unsettled
from shopcli.store.reads.ledger import ledger
from tests.conftest import Busy
from tests.shop.test_any_card import bills
from tests.shop.test_closing import settle_everything

D = Decimal
BOOKS = (("labour", "4000"), ("sales", "4100"), ("fee", "4900"), ("rounding", "4990"), ("cash", "1000"))
NOVEMBER = (date(2026, 11, 1), date(2026, 11, 30))


@pytest.fixture
def billed(busy_shop: Busy) -> Busy:
    """A closed card: 25.00 of sundries at 20 % less 10 % of the whole, 54.85 passed on at 0 %, 20.00 paid before."""
    shop = busy_shop
    shop.shop.settings = shop.shop.settings._replace(accounts=BOOKS)
    shop.do(AddToBill(shop.card, "sundry", "Cleaning materials", 1_250, 2_000), "Dora")
    shop.do(AddToBill(shop.card, "fee", "Roadworthiness test fee", 5_485, vat="zero"), "Dora")
    shop.do(GiveDiscount(shop.card, "old customer", rate_hundredths=1_000), "Dora")
    settle_everything(shop)
    shop.do(TakePayment(shop.card, 2_000), "Dora")
    shop.do(CloseCard(shop.card), "Dora")
    return shop


def brief(books: Ledger) -> list[tuple[str, str, str, str, str, str]]:
    return [(x.document, x.account, x.what, str(x.net), str(x.tax), str(x.gross)) for x in books.lines]


def test_an_invoice_and_what_was_paid_before_it(billed: Busy) -> None:
    books = ledger(billed.shop, *NOVEMBER)
    assert brief(books) == [
        ("INV-000001", "4100", "sundry", "22.50", "4.50", "27.00"),  # 25.00 less 10 %
        ("INV-000001", "4900", "fee", "49.36", "0.00", "49.36"),  # 54.85 less 5.49
        ("R00001", "1000", "cash", "0.00", "0.00", "-20.00"),
    ]
    assert (books.opening, books.net, books.tax, books.taken, books.closing) == (
        ZERO,
        D("71.86"),
        D("4.50"),
        D("20.00"),
        D("56.36"),
    )
    assert [(r.rate, r.percent, r.net, r.tax) for r in books.rates] == [
        ("standard", 20, D("22.50"), D("4.50")),
        ("zero", 0, D("49.36"), ZERO),
    ]
    assert books.wrong == ()


def test_credit_notes_refunds_and_reversals_are_booked_the_other_way(billed: Busy) -> None:
    billed.do(CreditInvoice(billed.card, "wrong customer"), "Dora")
    billed.do(Refund(billed.card, 2_000, "credited"), "Dora")
    wrong = billed.do(TakePayment(billed.card, 999, "payment", "card", over="kept"), "Dora").id  # type: ignore[attr-defined]
    billed.do(ReversePayment(wrong, "another card's"), "Dora")
    books = ledger(billed.shop, *NOVEMBER)
    by_document: dict[str, Decimal] = {}
    for line in books.lines:
        by_document[line.document] = by_document.get(line.document, ZERO) + line.gross
    assert by_document == {
        "INV-000001": D("76.36"),
        "CN-000001": D("-76.36"),
        "R00001": D("-20.00"),
        "R00002": D("20.00"),
        "R00003": D("-9.99"),
        "R00004": D("9.99"),
    }
    assert (books.net, books.tax, books.taken, books.closing, books.wrong) == (ZERO, ZERO, ZERO, ZERO, ())
    assert all(r.net == r.tax == 0 for r in books.rates)


def test_customers_owe_what_their_invoices_and_deposits_say(billed: Busy) -> None:
    other = billed.do(AddCustomer("Bo Wren"), "Dora").id  # type: ignore[attr-defined]
    car = billed.do(AddVehicle(other, "WRN 9", "Wren"), "Dora").id  # type: ignore[attr-defined]
    card = billed.do(OpenCard(car, (), odometer=1), "Dora").id  # type: ignore[attr-defined]
    billed.do(TakePayment(card, 10_000), "Dora")
    closing = ledger(billed.shop, *NOVEMBER).closing
    assert closing == sum((one.due for one in unsettled(billed.shop)), ZERO) - D("100.00") == D("-43.64")


def test_a_day_is_the_shops_own_and_days_follow_one_another(billed: Busy) -> None:
    """Money taken at 23:30 and, in the shop's zone, at half past midnight: two days, whatever the clock in UTC says."""
    billed.clock.at = billed.clock.at.replace(
        month=7, day=1, year=2027, hour=22, minute=30
    )  # 23:30 in summer
    billed.do(TakePayment(billed.card, 1_000, "payment"), "Dora")
    billed.clock.forward(hours=1)
    billed.do(TakePayment(billed.card, 500, "payment"), "Dora")
    first, second = (ledger(billed.shop, day, day) for day in (date(2027, 7, 1), date(2027, 7, 2)))
    assert [x.gross for x in first.lines] == [D("-10.00")]
    assert [x.gross for x in second.lines] == [D("-5.00")]
    assert first.opening == D("56.36")
    assert first.closing == second.opening == D("46.36")
    assert second.closing == D("41.36")
    with pytest.raises(BadInput, match="from 2027-07-02"):
        ledger(billed.shop, date(2027, 7, 2), date(2027, 7, 1))


def document(bill: Bill) -> Document:
    return Document(
        bill.issued,
        bill.kind,
        bill.number,
        bill.card,
        1,
        bill.buyer.name,
        tuple(Sold(x.kind, x.category, x.percent, x.net) for x in bill.lines),
        tuple(Taxed(g.vat, g.category, g.percent, g.basis, g.tax) for g in bill.groups),
        bill.rounding,
        bill.without_vat,
        bill.tax,
        bill.with_vat + bill.rounding,
    )


@given(bills())
def test_the_lines_of_any_bill_are_the_bill_to_the_cent(bill: Bill) -> None:
    for kind in ("invoice", "credit note"):
        doc = document(replace(bill, kind=kind))
        lines = tuple(lines_of(doc, BOOKS))
        assert tuple(wrong_with(lines, [doc], [], ZERO, doc.sign * doc.gross)) == ()
        for g in bill.groups:
            own = [x for x in lines if (x.category, x.percent) == (g.category, g.percent)]
            assert sum((x.net for x in own), ZERO) == doc.sign * g.basis
            assert sum((x.tax for x in own), ZERO) == doc.sign * g.tax
        assert all(x.gross == x.net + x.tax for x in lines)


@pytest.mark.sqlite_only("takes a guard off by its name there")
def test_a_document_changed_behind_the_programs_back_is_found_out(billed: Busy) -> None:
    file = billed.shop.place.file
    assert file is not None
    with sqlite3.connect(file) as connection:
        connection.execute("DROP TRIGGER invoice_no_update")
        connection.execute("UPDATE invoice SET vat_minor = vat_minor + 1")
    (said,) = ledger(billed.shop, *NOVEMBER).wrong
    assert said == "invoice INV-000001: the tax booked is 4.50, on the document it is 4.51"


def test_an_invoice_of_before_bills_were_kept_whole_is_booked_too(billed: Busy) -> None:
    other = billed.do(OpenCard(billed.vehicle, (), odometer=48_300), "Dora").id  # type: ignore[attr-defined]
    body = {
        "lines": [{"kind": "labour", "category": "S", "percent": "20", "net": "42.00"}],
        "groups": [{"vat": "standard", "category": "S", "percent": "20", "basis": "42.00", "tax": "8.40"}],
    }
    billed.behind(
        "INSERT INTO invoice (number, card_id, issued_at, issued_by, net_minor, vat_minor, gross_minor, due_minor,"
        " labour_minutes, labour_minor, parts_minor, parts_cost_minor, week, body)"
        " VALUES (2, ?, ?, 1, 4200, 840, 5040, 5040, 42, 4200, 0, 0, '2026-W48', ?)",
        other,
        billed.shop.at(),
        json.dumps(body),
    )
    books = ledger(billed.shop, *NOVEMBER)
    (line,) = [x for x in books.lines if x.document == "2"]
    assert (line.account, line.customer, line.net, line.tax) == ("4000", "Ada Lark", D("42.00"), D("8.40"))
    assert books.wrong == ()


def test_the_table_is_rfc_4180_and_no_cell_is_a_formula(billed: Busy) -> None:
    books = ledger(billed.shop, *NOVEMBER)
    nasty = '=HYPERLINK("http://x";"click"), the\r\nsecond "Ada"'
    told = replace(
        books, lines=tuple(replace(x, customer=nasty, account="+41", what="@x") for x in books.lines)
    )
    text = ledger_csv(told)
    assert text.endswith("\r\n")
    head, *rows = csv.reader(io.StringIO(text, newline=""), strict=True)
    assert tuple(head) == HEAD
    assert len(rows) == len(books.lines)
    for row, line in zip(rows, books.lines, strict=True):
        cells = dict(zip(HEAD, row, strict=True))
        assert cells["customer"] == f"'{nasty}"
        assert (cells["account"], cells["what"]) == ("'+41", "'@x")
        assert (D(cells["net"]), D(cells["tax"]), D(cells["gross"])) == (line.net, line.tax, line.gross)
        for name, cell in cells.items():
            assert not cell.startswith(("=", "+", "@", "\t", "\r")), name
            assert not cell.startswith("-") or name in {"net", "tax", "gross"}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("accounts = 4000", "wants a table"),
        ("[accounts]\nlabour = 4000", "wants a table"),
        ("[accounts]\npetrol = '4000'", "nothing is booked under"),
    ],
)
def test_accounts_nobody_could_book_to(text: str, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        read_settings(text)


def test_every_kind_and_method_may_have_an_account() -> None:
    names = (*KINDS, "sales", "payments", "rounding", "shells")
    written = "\n".join(f'{name} = "1"' for name in names)
    settings = read_settings(f'payment_methods = ["shells"]\n[accounts]\n{written}')
    assert dict(settings.accounts) == dict.fromkeys(names, "1")
