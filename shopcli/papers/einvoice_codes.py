"""Our words in the codes of EN 16931: units, kinds of document, ways to pay, categories of VAT.

Sources: EN 16931-1 and the code lists it names as published by the European Commission (UN/ECE Recommendation
20 for units, UNTDID 1001, 4461, 5189, 5305 and 7161 for the rest).
"""

from decimal import Decimal

from shopcli.shop.amounts import EXACT, rounded
from shopcli.shop.bill import Bill, BillLine

PROFILE = "urn:cen.eu:en16931:2017"  # BT-24
CREDIT_NOTE = "credit note"
TYPES = {"invoice": "380", CREDIT_NOTE: "381"}  # BT-3, UNTDID 1001
# UN/ECE Recommendation 20, by the word on our bills.
UNITS = {
    "h": "HUR",
    "min": "MIN",
    "day": "DAY",
    "pc": "C62",
    "set": "SET",
    "pair": "PR",
    "l": "LTR",
    "ml": "MLT",
    "m": "MTR",
    "cm": "CMT",
    "mm": "MMT",
    "m²": "MTK",
    "kg": "KGM",
    "g": "GRM",
    "km": "KMT",
    "mi": "SMI",
    "ft": "FOT",
    "in": "INH",
}
PIECE = "C62"
DISCOUNT, CHARGE = ("95", "Discount"), ("ZZZ", "Charge")  # UNTDID 5189 and 7161, with the word for it
OBJECT = "130"  # UNTDID 1001: the invoiced object, which is our card
SEPA, TRANSFER, UNDEFINED = "58", "30", "1"  # UNTDID 4461
NO_TAX = frozenset({"E", "AE", "K", "G", "O", "Z"})  # categories at no per cent
WITH_REASON = frozenset({"E", "AE", "K", "G", "O"})  # BR-E-10, BR-AE-10, BR-IC-10, BR-G-10, BR-O-10
OUT_OF_SCOPE = "O"
# BT-121: why no tax is charged, by category; from the code list VATEX of the European Commission.
REASON_CODES = {"AE": "VATEX-EU-AE"}


def unit_code(word: str) -> str:
    """Return the code of a unit; a word that has none counts pieces.

    Examples
    --------
    >>> unit_code("h"), unit_code("L"), unit_code("tin")
    ('HUR', 'LTR', 'C62')
    """
    return UNITS.get(word) or UNITS.get(word.casefold(), PIECE)


def unit_said(word: str) -> str:
    """Return the word of a unit no code says, to be told in words beside the line."""
    return "" if not word or word in UNITS or word.casefold() in UNITS else f"Unit: {word}"


def payment_means(bill: Bill) -> str:
    """Return how a bill is to be paid, BT-81: to the account where there is one.

    A SEPA credit transfer is one in euros (Regulation (EU) No 260/2012, article 1).
    """
    if not bill.iban:
        return UNDEFINED
    return SEPA if bill.currency == "EUR" else TRANSFER


def terms(bill: Bill) -> str:
    """Return the words about paying, BT-20; a credit note has some in any case, since it has no due date."""
    if bill.terms or bill.kind != CREDIT_NOTE:
        return bill.terms
    return "Set against the invoice it answers; nothing is to be paid."


def notes(bill: Bill) -> tuple[str, ...]:
    """Return what else is said, BT-22: why it was written, which car, and the notes of the paper."""
    odometer = f", odometer {bill.odometer}" if bill.odometer else ""
    car = f"Vehicle: {bill.vehicle}{odometer}" if bill.vehicle else ""
    return tuple(filter(None, (bill.why, car, *bill.notes, bill.rounding_rule)))


def gross(line: BillLine) -> Decimal:
    """Return what a line comes to before anything is taken off, BT-137."""
    return rounded(EXACT.divide(EXACT.multiply(line.qty, line.price), Decimal(line.base_qty)))
