"""A customer who accounts for the tax: no tax on the bill, the words for it, and a valid e-invoice of category AE."""

from decimal import Decimal

import pytest

from shopcli.errors import BadInput, Refused
from shopcli.papers.bill import bill_text
from shopcli.papers.einvoice_cii import bill_cii
from shopcli.papers.einvoice_ubl import bill_ubl
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.commands import AddToBill, CloseCard, CreditInvoice, MakeOffer, SetReverseCharge
from shopcli.store.reads import made_offers
from shopcli.store.reads.bill_now import bill_now
from shopcli.store.reads.bills import bill_of_card
from shopcli.store.reads.ledger import ledger
from tests.conftest import Busy
from tests.papers.validators import broken
from tests.shop.test_closing import settle_everything

# Two numbers that check themselves: from memory.
OURS, THEIRS = "GB980780684", "DE136695976"


@pytest.fixture
def billed_to(busy_shop: Busy) -> Busy:
    shop = busy_shop.shop
    shop.settings = shop.settings._replace(vat_number=OURS, country="GB")
    busy_shop.do(SetReverseCharge(busy_shop.customer, THEIRS), "Dora")
    busy_shop.do(AddToBill(busy_shop.card, "sundry", "Rags", 350), "Dora")
    return busy_shop


def test_the_bill_charges_no_tax_says_why_and_is_valid(billed_to: Busy) -> None:
    assert bill_now(billed_to.shop, billed_to.card).due == Decimal("3.50")
    settle_everything(billed_to)
    billed_to.do(CloseCard(billed_to.card), "Dora")
    bill = bill_of_card(billed_to.shop, billed_to.card)
    assert [(g.category, g.percent, g.tax, g.reason) for g in bill.groups] == [
        ("AE", Decimal(0), Decimal(0), "Reverse charge")
    ]
    assert (bill.tax, bill.with_vat, bill.buyer.vat_number) == (Decimal(0), Decimal("3.50"), THEIRS)
    text = bill_text(bill, width=100)
    assert "Reverse charge: the customer accounts for the VAT." in text
    assert THEIRS in text
    # Code AE: UNTDID 5305; VATEX-EU-AE: code list VATEX of the European Commission.
    cii, ubl = bill_cii(bill), bill_ubl(bill)
    assert b"<ram:ExemptionReasonCode>VATEX-EU-AE<" in cii
    assert b"<cbc:TaxExemptionReasonCode>VATEX-EU-AE<" in ubl
    assert broken(cii) == []
    assert broken(ubl) == []


def test_a_sum_credited_on_it_has_no_tax_either_and_the_books_agree(billed_to: Busy) -> None:
    settle_everything(billed_to)
    billed_to.do(CloseCard(billed_to.card), "Dora")
    billed_to.do(CreditInvoice(billed_to.card, "goodwill", amount_minor=100), "Dora")
    today = billed_to.shop.local(billed_to.shop.at()).date()
    books = ledger(billed_to.shop, today, today)
    assert (books.tax, books.wrong) == (Decimal(0), ())
    assert bill_now(billed_to.shop, billed_to.card).due == Decimal("2.50")


def test_an_offer_to_such_a_customer_has_no_tax(billed_to: Busy) -> None:
    offer = billed_to.do(MakeOffer(billed_to.vehicle, ("points",)), "Dora").id  # type: ignore[attr-defined]
    paper = made_offers.paper_of(billed_to.shop, offer)
    assert paper.tax == 0
    assert paper.without_vat == paper.with_vat > 0
    assert "Reverse charge: the customer accounts for the VAT." in paper.notes


def test_it_ends_is_taken_back_and_wants_numbers(busy_shop: Busy) -> None:
    with pytest.raises(Refused, match="no VAT number"):
        busy_shop.shop.settings = busy_shop.shop.settings._replace(vat_number="")
        busy_shop.do(SetReverseCharge(busy_shop.customer, THEIRS), "Dora")
    busy_shop.shop.settings = busy_shop.shop.settings._replace(vat_number=OURS)
    with pytest.raises(BadInput):
        busy_shop.do(SetReverseCharge(busy_shop.customer, "12345"), "Dora")
    with pytest.raises(Refused):
        busy_shop.do(SetReverseCharge(busy_shop.customer, THEIRS), "Tom")
    busy_shop.do(AddToBill(busy_shop.card, "sundry", "Rags", 350), "Dora")
    busy_shop.do(SetReverseCharge(busy_shop.customer, THEIRS), "Dora")
    busy_shop.do(SetReverseCharge(busy_shop.customer), "Dora")
    assert bill_now(busy_shop.shop, busy_shop.card).due == Decimal("4.20")
    busy_shop.do(TakeBack(busy_shop.shop.fetch("SELECT MAX(id) FROM journal")[0][0]), "Dora")
    assert bill_now(busy_shop.shop, busy_shop.card).due == Decimal("3.50")
