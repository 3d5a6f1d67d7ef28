"""A card's bill put together whole at the moment it is issued: who, what, how much, on which terms."""

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from typing import Protocol

from sqlmodel import Session, select

from shopcli.shop.act import Act
from shopcli.shop.amounts import from_minor
from shopcli.shop.bill import Bill, BillGroup, BillPayment, Party
from shopcli.shop.bill_numbers import bill_number
from shopcli.shop.card_bill import CardBill
from shopcli.shop.common import get
from shopcli.shop.money import VatGroup
from shopcli.shop.offer_paper import car_words, seller
from shopcli.shop.records import Card, Customer, Offer, Payment, Vehicle
from shopcli.shop.settings import Settings

# Categories of EN 16931 in which nothing is charged for a reason that must be said (BR-E-10, BR-AE-10, BR-O-10 …).
WANT_REASON = {
    "E": "Exempt from tax",
    "AE": "Reverse charge",
    "K": "Supply within the EU",
    "G": "Export",
    "O": "Outside the scope of tax",
}
REVERSE = "Reverse charge: the customer accounts for the {tax}."
PASSED_ON = "A fee is passed on here without {tax}. How it stands in your own books, ask your accountant."
ROUNDING_RULE = "Each line, each allowance and the tax of each rate are rounded half-up to two decimals; all else is an exact sum."


class Billed(Protocol):
    """Anything with a kind and a VAT category: a line of a bill or of an offer."""

    @property
    def kind(self) -> str: ...  # noqa: D102
    @property
    def category(self) -> str: ...  # noqa: D102


def bill(session: Session, act: Act, card: Card, number: int, now: CardBill) -> Bill:
    """Return the invoice of a card that closes now."""
    settings, vehicle = act.settings, get(session, Vehicle, card.vehicle_id, "vehicle")
    today = act.today()
    t = now.totals
    return Bill(
        kind="invoice",
        number=bill_number(settings.invoice_prefix, number),
        issued=today,
        due_by=today + timedelta(days=settings.terms_days),
        supplied=today,
        currency=settings.currency,
        seller=seller(settings),
        buyer=buyer(get(session, Customer, card.customer_id, "customer"), settings),
        card=card.number,
        vehicle=car_words(vehicle.registration, vehicle.make, vehicle.model, vehicle.year),
        odometer="" if card.odometer is None else f"{card.odometer:,} {vehicle.distance_unit}",
        order=_order(session, card),
        lines=now.lines,
        allowances=now.allowances,
        groups=groups_of(t.groups, settings),
        payments=tuple(_payments(session, card, settings)),
        line_net=t.line_net,
        allowance_sum=t.allowances,
        charge_sum=t.charges,
        without_vat=t.without_vat,
        tax=t.vat,
        with_vat=t.with_vat,
        paid=t.paid,
        rounding=t.rounding,
        due=t.due,
        notes=notes_of(now.lines, settings.tax_word),
        terms=settings.terms or terms_in_words(settings.terms_days),
        iban=settings.iban,
        bic=settings.bic,
        account_name=settings.account_name,
        tax_word=settings.tax_word,
        rounding_rule=ROUNDING_RULE,
    )


def terms_in_words(days: int) -> str:
    """Say when an invoice is to be paid.

    Examples
    --------
    >>> terms_in_words(14)
    'To be paid within 14 days.'
    """
    if not days:
        return "To be paid when the car is fetched."
    return f"To be paid within {days} day{'s' if days > 1 else ''}."


def groups_of(groups: Iterable[VatGroup], settings: Settings) -> tuple[BillGroup, ...]:
    """Return the groups of tax with the reason where nothing is charged."""
    reasons = {(r.category, r.percent): r.reason for r in settings.vat_rates}
    return tuple(
        BillGroup(
            g.vat,
            g.category,
            g.percent,
            g.basis,
            g.tax,
            reasons.get((g.category, g.percent), "") or WANT_REASON[g.category]
            if g.category in WANT_REASON
            else "",
        )
        for g in groups
    )


def notes_of(lines: Iterable[Billed], tax_word: str) -> tuple[str, ...]:
    """Return what must be said beneath a bill or an offer of such lines."""
    found = {(line.kind, line.category) for line in lines}
    said = [REVERSE] if any(category == "AE" for _kind, category in found) else []
    said += [PASSED_ON] if found & {("fee", "E"), ("fee", "O")} else []
    return tuple(words.format(tax=tax_word) for words in said)


def buyer(customer: Customer, settings: Settings) -> Party:
    """Return a customer as a party; without a country of their own they are in the shop's."""
    return Party(
        customer.name,
        tuple(filter(None, (line.strip() for line in customer.address.split("\n")))),
        city=customer.city,
        post_code=customer.post_code,
        country=customer.country or settings.country,
        vat_number=customer.vat_number,
        phone=customer.phone,
        email=customer.email,
    )


def _order(session: Session, card: Card) -> str:
    offer = session.get(Offer, card.offer_id) if card.offer_id else None
    from shopcli.shop.offer_paper import offer_number

    return offer_number(offer.number) if offer else ""


def _payments(session: Session, card: Card, settings: Settings) -> Iterable[BillPayment]:
    for row in session.exec(select(Payment).where(Payment.card_id == card.id).order_by("id")):
        yield BillPayment(row.kind, from_minor(row.amount_minor), row.method, day_of(row.at, settings))


def day_of(at: int, settings: Settings) -> date:
    """Return the day in the shop's zone."""
    return datetime.fromtimestamp(at, UTC).astimezone(settings.tz()).date()
