"""What an e-invoice cannot do without: said in our words with where to enter it, before a receiver's machine refuses it.

The rules are those of EN 16931-1, named by their numbers; the sums are the calculator's and checked elsewhere.
"""

from collections.abc import Iterator

from shopcli.errors import Refused
from shopcli.papers.bill_adds_up import check_bill
from shopcli.papers.einvoice_codes import CREDIT_NOTE, NO_TAX, OUT_OF_SCOPE, WITH_REASON
from shopcli.shop.bill import Bill
from shopcli.shop.taxwords import is_sales_tax

KNOWN = frozenset({"S", "Z", "E", "AE", "K", "G", "O", "L", "M"})
LETTERS_OF_COUNTRY, LETTERS_OF_CURRENCY = 2, 3
SETTINGS, CUSTOMER = "in the settings", "with the customer"


class NotComplete(Refused):
    """An e-invoice lacks something the standard asks for."""

    title = "The e-invoice is not complete"


def check_einvoice(bill: Bill) -> None:
    """Refuse a bill that would not be a valid e-invoice.

    Raises
    ------
    NotComplete
        Naming the first things that are missing.
    DoesNotAddUp
        If the figures contradict one another.
    """
    check_bill(bill)
    wrong = list(lacking(bill))
    if wrong:
        raise NotComplete(
            f"{bill.kind} {bill.number}: " + "; ".join(wrong[:4]),
            hint="What the settings and the customer say counts from the next invoice on; print this one as PDF.",
        )


def lacking(bill: Bill) -> Iterator[str]:
    """Yield what a bill lacks, each with the rule that asks for it."""
    if is_sales_tax(bill.tax_word):
        yield "the standard knows VAT, not sales tax: the paper and its PDF are the bill"
    if not bill.lines:
        yield "there is no line (BR-16)"
    if not (
        bill.currency.isascii() and bill.currency.isalpha() and len(bill.currency) == LETTERS_OF_CURRENCY
    ):
        yield f"'{bill.currency}' is no currency of ISO 4217 (BR-05)"
    yield from _parties(bill)
    yield from _categories(bill)
    if bill.kind == CREDIT_NOTE:
        if not bill.corrects:
            yield "the invoice it answers is not named (BR-55)"
    elif bill.due > 0 and not (bill.due_by or bill.terms):
        yield f"a day it is due by, or terms, {SETTINGS} (BR-CO-25)"


def _parties(bill: Bill) -> Iterator[str]:
    seller, buyer = bill.seller, bill.buyer
    if not seller.name.strip():
        yield f"the shop's name, {SETTINGS} (BR-06)"
    if not buyer.name.strip():
        yield f"a name, {CUSTOMER} (BR-07)"
    for party, where, rule in ((seller, SETTINGS, "BR-09"), (buyer, CUSTOMER, "BR-11")):
        country = party.country
        if not (country.isascii() and country.isalpha() and len(country) == LETTERS_OF_COUNTRY):
            yield f"a country of two letters, {where} ({rule})"
    out_of_scope = {g.category for g in bill.groups} == {OUT_OF_SCOPE}
    if out_of_scope and not seller.tax_number:
        yield f"a tax_number, {SETTINGS}: outside the scope of VAT the VAT number may not stand (BR-O-02, BR-CO-26)"
    if not out_of_scope and not seller.vat_number:
        yield f"the shop's vat_number, {SETTINGS} (BR-CO-26, BR-S-02)"
    for party, where in ((seller, SETTINGS), (buyer, CUSTOMER)):
        if party.vat_number and not party.vat_number[:2].isalpha():
            yield f"the VAT number begins with two letters of a country, {where} (BR-CO-09)"


def _categories(bill: Bill) -> Iterator[str]:
    found = {g.category for g in bill.groups}
    for category in sorted(found - KNOWN):
        yield f"'{category}' is no category of VAT (UNTDID 5305)"
    if OUT_OF_SCOPE in found and len(found) > 1:
        yield "what is outside the scope of VAT may not stand beside what is not (BR-O-11)"
    for group in bill.groups:
        if group.category in NO_TAX and group.percent:
            yield f"{group.vat}: category {group.category} has no per cent (BR-{group.category}-05)"
        if group.category == "S" and not group.percent:
            yield f"{group.vat}: category S at no per cent (BR-S-05)"
        if group.category in WITH_REASON and not group.reason.strip():
            yield f"{group.vat}: a reason why no VAT is charged (BR-{group.category}-10)"
    if found & {"AE", "K"} and not bill.buyer.vat_number:
        yield f"the buyer's VAT number, {CUSTOMER} (BR-AE-02, BR-IC-02)"
    if "K" in found and bill.supplied is None:
        yield "the day it was handed over (BR-IC-11)"
