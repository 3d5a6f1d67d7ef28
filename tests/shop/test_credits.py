"""Credit notes, discounts, fees and payments on real records: what is left, and what is fixed for good."""

import contextlib
import sqlite3
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput, NotFound, Refused
from shopcli.shop.amounts import ZERO
from shopcli.shop.balance import balance
from shopcli.shop.bill import Bill, BillGroup, BillLine
from shopcli.shop.card_bill import totals_of
from shopcli.shop.commands import (
    AddToBill,
    CloseCard,
    CreditInvoice,
    GiveDiscount,
    Refund,
    ReversePayment,
    TakeOffBill,
    TakePayment,
)
from shopcli.shop.credit_lines import Credited, by_lines, whole_rest
from shopcli.shop.discounts import off_the_whole
from shopcli.shop.kept_json import from_json
from shopcli.store.reads.bills import bill_of_card
from tests.conftest import Busy
from tests.papers.paper_bill import rich as a_bill
from tests.shop.test_closing import settle_everything
from tests.shop.test_discounts import fixed, lines_of_a_bill

D = Decimal


@pytest.fixture
def billed(busy_shop: Busy) -> Busy:
    """A closed card with a fee and a sundry on its bill: 25.00 at 20 % and 54.85 passed on."""
    busy_shop.do(AddToBill(busy_shop.card, "sundry", "Cleaning materials", 1_250, 2_000), "Dora")
    busy_shop.do(AddToBill(busy_shop.card, "fee", "Roadworthiness test fee", 5_485, vat="zero"), "Dora")
    settle_everything(busy_shop)
    busy_shop.do(TakePayment(busy_shop.card, 2_000), "Dora")
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    return busy_shop


def due(shop: Busy) -> Decimal:
    return balance(shop.shop.fetch, shop.card).due


def notes(shop: Busy) -> list[Bill]:
    return [
        from_json(Bill, body) for (body,) in shop.shop.fetch("SELECT body FROM credit_note ORDER BY id", ())
    ]


def test_an_invoice_is_a_whole_bill(billed: Busy) -> None:
    bill = bill_of_card(billed.shop, billed.card)
    kinds = {line.kind: line.net for line in bill.lines}
    assert kinds["sundry"] == D("25.00")
    assert kinds["fee"] == D("54.85")
    assert bill.number == "INV-000001"
    assert bill.seller.name == "Test Lane Motors"
    assert bill.paid == D("20.00")
    assert bill.due_by is not None
    assert (bill.due_by - bill.issued).days == 14
    assert bill.due == bill.with_vat - D("20.00") == due(billed)


def test_all_that_is_left_is_credited_once(billed: Busy) -> None:
    bill = bill_of_card(billed.shop, billed.card)
    billed.do(CreditInvoice(billed.card, "wrong customer"), "Dora")
    (note,) = notes(billed)
    assert (note.number, note.corrects, note.why) == ("CN-000001", bill.number, "wrong customer")
    assert (note.without_vat, note.tax, note.due) == (bill.without_vat, bill.tax, bill.with_vat)
    assert due(billed) == D("-20.00")
    with pytest.raises(Refused, match="nothing is left"):
        billed.do(CreditInvoice(billed.card, "again"), "Dora")
    billed.do(Refund(billed.card, 2_000, "credited"), "Dora")
    assert due(billed) == ZERO


def test_lines_and_parts_of_lines_are_credited_and_the_rest_later(billed: Busy) -> None:
    bill = bill_of_card(billed.shop, billed.card)
    sundry = next(line.id for line in bill.lines if line.kind == "sundry")
    billed.do(CreditInvoice(billed.card, "one was not used", ((sundry, 1_000),)), "Dora")
    assert notes(billed)[0].due == D("15.00")  # 12.50 and 20 %
    with pytest.raises(Refused, match="more than the 1 left"):
        billed.do(CreditInvoice(billed.card, "both", ((sundry, 2_000),)), "Dora")
    billed.do(CreditInvoice(billed.card, "the rest"), "Dora")
    assert sum((n.due for n in notes(billed)), ZERO) == bill.with_vat
    assert sum((n.without_vat for n in notes(billed)), ZERO) == bill.without_vat


def test_goodwill_is_a_sum_at_a_rate_never_more_than_is_left_of_it(billed: Busy) -> None:
    billed.do(CreditInvoice(billed.card, "goodwill", amount_minor=1_000, vat="standard"), "Dora")
    assert (notes(billed)[0].without_vat, notes(billed)[0].tax) == (D("10.00"), D("2.00"))
    with pytest.raises(Refused, match=r"54\.85 left"):
        billed.do(CreditInvoice(billed.card, "goodwill", amount_minor=5_500, vat="zero"), "Dora")
    billed.do(CreditInvoice(billed.card, "the rest"), "Dora")
    bill = bill_of_card(billed.shop, billed.card)
    assert sum((n.due for n in notes(billed)), ZERO) == bill.with_vat


def test_who_may_and_what_cannot_be(billed: Busy) -> None:
    with pytest.raises(Refused, match="for the desk or the owner"):
        billed.do(CreditInvoice(billed.card, "goodwill"), "Tom")
    with pytest.raises(BadInput, match="reason"):
        billed.do(CreditInvoice(billed.card, " "), "Dora")
    with pytest.raises(BadInput, match="not on it"):
        billed.do(CreditInvoice(billed.card, "so", (("L999", 0),)), "Dora")
    with pytest.raises(Refused, match="in the customer's favour"):
        billed.do(Refund(billed.card, 1, "so"), "Dora")
    with pytest.raises(BadInput, match="no way the shop takes money"):
        billed.do(TakePayment(billed.card, 1, "payment", "shells"), "Dora")


@pytest.mark.sqlite_only("the guards of a server are tried in tests/store/test_postgres.py")
@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE credit_note SET gross_minor = 0",
        "DELETE FROM credit_note",
        "INSERT OR REPLACE INTO credit_note SELECT * FROM credit_note",
        "UPDATE payment SET amount_minor = 0",
        "DELETE FROM payment",
        "INSERT OR REPLACE INTO payment SELECT * FROM payment",
        "UPDATE invoice SET gross_minor = 0",
        "DELETE FROM invoice",
        "INSERT OR REPLACE INTO invoice SELECT * FROM invoice",
        "DELETE FROM journal",
        "UPDATE journal SET act = 'X'",
        "INSERT OR REPLACE INTO journal SELECT * FROM journal",
    ],
)
def test_the_database_itself_refuses_to_change_what_is_issued(billed: Busy, sql: str) -> None:
    billed.do(CreditInvoice(billed.card, "goodwill", amount_minor=1_000), "Dora")
    file = billed.shop.place.file
    assert file is not None
    with sqlite3.connect(file) as connection, pytest.raises(sqlite3.IntegrityError, match="fixed"):
        connection.execute(sql)


def test_a_payment_entered_wrongly_is_answered_by_its_opposite(billed: Busy) -> None:
    before = due(billed)
    paid = billed.do(TakePayment(billed.card, 4_999, "payment", "card"), "Dora")
    billed.do(ReversePayment(paid.id, "another card's"), "Dora")  # type: ignore[attr-defined]
    assert due(billed) == before
    with pytest.raises(Refused, match="already"):
        billed.do(ReversePayment(paid.id, "again"), "Dora")  # type: ignore[attr-defined]


def test_more_than_is_due_is_not_taken_without_a_word_about_the_rest(billed: Busy) -> None:
    owed = int(due(billed) * 100)
    with pytest.raises(Refused, match=r"is 5\.00 more than the .* due") as refused:
        billed.do(TakePayment(billed.card, owed + 500, "payment", "card"), "Dora")
    assert "change given back" in refused.value.hint
    with pytest.raises(Refused):
        billed.do(TakePayment(billed.card, owed + 500, "payment", "card", over="perhaps"), "Dora")
    assert due(billed) * 100 == owed


def test_what_is_kept_over_stands_in_the_customers_favour(billed: Busy) -> None:
    over = int(due(billed) * 100) + 500
    said = billed.do(TakePayment(billed.card, over, "payment", "card", over="kept"), "Dora").said  # type: ignore[attr-defined]
    assert said[-1] == "5.00 is kept in the customer's favour."
    assert due(billed) == D("-5.00")
    with pytest.raises(Refused, match="nothing is due"):
        billed.do(TakePayment(billed.card, 100, "payment", over="change"), "Dora")
    billed.do(Refund(billed.card, 500, "wanted it after all", "cash"), "Dora")
    assert due(billed) == 0


def test_of_change_given_back_only_what_was_due_is_taken_and_the_row_says_so(billed: Busy) -> None:
    owed = int(due(billed) * 100)
    done = billed.do(TakePayment(billed.card, owed + 500, "payment", "cash", over="change"), "Dora")
    assert done.said[1:] == (f"{(owed + 500) / 100:.2f} given, 5.00 change.", "Paid in full.")  # type: ignore[attr-defined]
    row = billed.shop.fetch("SELECT amount_minor, reason FROM payment ORDER BY id DESC LIMIT 1")
    assert row == [(owed, f"{(owed + 500) / 100:.2f} given, 5.00 change")]
    assert due(billed) == 0


def test_discounts_are_reasoned_and_the_last_on_a_line_counts(busy_shop: Busy) -> None:
    shop = busy_shop
    item = shop.do(AddToBill(shop.card, "sundry", "Wax", 10_000), "Dora").id  # type: ignore[attr-defined]
    shop.do(GiveDiscount(shop.card, "long wait", f"I{item}", rate_hundredths=1_000), "Dora")
    shop.do(GiveDiscount(shop.card, "longer wait", f"I{item}", rate_hundredths=2_000), "Dora")
    shop.do(GiveDiscount(shop.card, "old customer", amount_minor=1_000), "Dora")
    settle_everything(shop)
    shop.do(CloseCard(shop.card), "Dora")
    bill = bill_of_card(shop.shop, shop.card)
    (wax,) = [line for line in bill.lines if line.id == f"I{item}"]
    assert (wax.net, wax.allowance, wax.allowance_percent) == (D("80.00"), D("20.00"), D(20))
    assert bill.allowance_sum == D("10.00")
    assert bill.without_vat == bill.line_net - D("10.00")


def test_what_cannot_be_taken_off(busy_shop: Busy) -> None:
    shop = busy_shop
    with pytest.raises(NotFound, match="no line"):
        shop.do(GiveDiscount(shop.card, "so", "I999", amount_minor=1), "Dora")
    with pytest.raises(BadInput, match="a sum or a per cent"):
        shop.do(GiveDiscount(shop.card, "so"), "Dora")
    with pytest.raises(Refused, match="for the desk"):
        shop.do(GiveDiscount(shop.card, "so", amount_minor=100), "Tom")
    with pytest.raises(BadInput, match="no VAT rate"):
        shop.do(AddToBill(shop.card, "fee", "Test", 100, vat="luxury"), "Dora")
    item = shop.do(AddToBill(shop.card, "fee", "Test", 100), "Dora").id  # type: ignore[attr-defined]
    shop.do(TakeOffBill(item), "Dora")
    with pytest.raises(Refused, match="already"):
        shop.do(TakeOffBill(item), "Dora")


def _bill(lines: tuple[BillLine, ...], off: int) -> Bill:
    allowances = off_the_whole([fixed(off)] if off else [], lines)
    t = totals_of(lines, allowances, ZERO)
    return replace(
        a_bill(),
        lines=lines,
        allowances=allowances,
        groups=tuple(BillGroup(g.vat, g.category, g.percent, g.basis, g.tax) for g in t.groups),
        without_vat=t.without_vat,
        with_vat=t.with_vat,
        rounding=t.rounding,
        due=t.due,
    )


@given(lines_of_a_bill, st.integers(0, 30_000), st.lists(st.integers(0, 11), max_size=6))
def test_notes_by_lines_and_then_the_rest_are_the_invoice_to_the_cent(
    lines: tuple[BillLine, ...], off: int, picks: list[int]
) -> None:
    bill = _bill(lines, off)
    if bill.with_vat <= 0:
        return
    earlier: list[Bill] = []
    for pick in dict.fromkeys(picks):
        if pick < len(bill.lines):
            try:
                made = by_lines(bill, earlier, ((bill.lines[pick].id, 0),))
            except Refused:
                continue  # nothing of it is left, or it is worth nothing
            earlier.append(_as_note(bill, made))
    with contextlib.suppress(Refused):
        earlier.append(_as_note(bill, whole_rest(bill, earlier)))
    assert sum((n.due for n in earlier), ZERO) == bill.with_vat
    assert sum((n.without_vat for n in earlier), ZERO) == bill.without_vat


def _as_note(bill: Bill, made: Credited) -> Bill:
    t = made.totals
    return replace(
        bill,
        kind="credit note",
        lines=made.lines,
        allowances=made.allowances,
        groups=tuple(BillGroup(g.vat, g.category, g.percent, g.basis, g.tax) for g in t.groups),
        without_vat=t.without_vat,
        with_vat=t.with_vat,
        due=t.due,
    )
