"""Customers as invoices want them, and numbers that check themselves."""

import pytest

from shopcli.errors import BadInput, Stale
from shopcli.shop.commands import AddCustomer, ChangeCustomer
from shopcli.shop.doubts import doubts
from tests.conftest import Busy


def test_a_customer_is_changed_whole_and_a_slip_in_a_number_is_told(busy_shop: Busy) -> None:
    told = {"city": "Little Proof", "post_code": "XX1 1XX", "country": "de", "vat_number": "de136695977"}
    said = busy_shop.do(ChangeCustomer(busy_shop.customer, 1, "Ada Lark", **told), "Dora").said
    # the number with the right last figure, 6, is the example of the German federal tax office's own check (from memory)
    assert said == ("Ada Lark changed.", "The VAT number DE136695977 does not check: look for a slip.")
    rows = busy_shop.shop.fetch(
        "SELECT city, post_code, country FROM customer WHERE id = ?", (busy_shop.customer,)
    )
    assert rows == [("Little Proof", "XX1 1XX", "DE")]
    with pytest.raises(Stale):
        busy_shop.do(ChangeCustomer(busy_shop.customer, 1, "Ada Lark"), "Dora")
    with pytest.raises(BadInput, match="country"):
        busy_shop.do(AddCustomer("Bea", country="4"), "Dora")


def test_no_number_is_no_doubt_and_a_country_without_a_check_neither() -> None:
    assert doubts() == ()
    assert doubts(vat_number="DE136695976") == ()
    assert doubts(vat_number="ZZ12345") == ()
    assert doubts(vat_number="12") != ()
