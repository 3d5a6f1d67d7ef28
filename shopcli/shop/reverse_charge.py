"""Customers who account for the tax themselves: their bills charge none, and say so.

Whether a supply may be billed so is for the shop and its accountant to know; here it is a mark on the customer, who has
to have a VAT number. Category AE of EN 16931-1 (rules BR-AE-01 to BR-AE-10).
"""

from sqlmodel import Session

from shopcli.cleantext import clean_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get
from shopcli.shop.doubts import doubts
from shopcli.shop.people_commands import SetReverseCharge
from shopcli.shop.records import Customer


def set_reverse_charge(session: Session, act: Act, cmd: SetReverseCharge) -> Change:
    """Mark a customer as one who accounts for the tax, by their VAT number; without one the mark is taken off.

    Raises
    ------
    Refused
        When the shop itself has no VAT number, or a mechanic asks.
    BadInput
        When the number cannot be one.
    """
    customer = get(session, Customer, cmd.customer_id, "customer")
    number = clean_line(cmd.vat_number, name="VAT number", limit=40).upper()
    if number and not act.settings.vat_number:
        raise Refused(
            "the shop has no VAT number: its bills have no tax to be reversed",
            hint="Write vat_number into the settings.",
        )
    if number and not number[:2].isalpha():
        raise BadInput(f"'{number}' is no VAT number", hint="It begins with the two letters of its country.")
    before = {"reverse_charge": customer.reverse_charge, "vat_number": customer.vat_number}
    customer.reverse_charge = bool(number)
    customer.vat_number = number or customer.vat_number
    session.add(customer)
    after = {"reverse_charge": customer.reverse_charge, "vat_number": customer.vat_number}
    words = (
        f"{customer.name}: reverse charge from the next bill on, VAT number {number}."
        if number
        else f"{customer.name}: billed with tax from the next bill on."
    )
    said = (words, *doubts(vat_number=number))
    return Change("customer", cmd.customer_id, None, before, after, said)
