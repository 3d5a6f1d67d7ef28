"""Papers of what stands in the records: read, built with the shop's locale and sign, and put into the form asked for."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from shopcli.errors import BadInput
from shopcli.papers.as_pdf import Set
from shopcli.papers.blocks import Logo
from shopcli.papers.forms import FORMS, Build, written
from shopcli.papers.logo import read_logo
from shopcli.shop.bill import Bill
from shopcli.shop.paper_views import StatementView
from shopcli.store.shop import Shop

MACHINE_FORMS = ("cii", "ubl", "facturx")


@dataclass(frozen=True, slots=True)
class Ready:
    """A paper that only wants a form; a bill has also those for machines."""

    build: Build
    currency: str
    bill: Bill | None = None


def invoice_of(shop: Shop, card_id: int) -> Ready:
    """Return the paper of a card's invoice as it was issued."""
    from shopcli.store.reads.bills import bill_of_card

    return ready_bill(bill_of_card(shop, card_id))


def credit_note_of(shop: Shop, number: str) -> Ready:
    """Return the paper of a credit note as it was issued."""
    from shopcli.store.reads.bills import credit_note

    return ready_bill(credit_note(shop, number))


def ready_bill(bill: Bill) -> Ready:
    """Return the paper of an invoice or a credit note."""
    from shopcli.papers.bill_paper import bill_paper

    return Ready(lambda w, logo: bill_paper(bill, w, logo), bill.currency, bill)


def offer_of(shop: Shop, offer_id: int) -> Ready:
    """Return the paper of an offer as it was made."""
    from shopcli.papers.offer import offer_paper
    from shopcli.store.reads.made_offers import paper_of

    view = paper_of(shop, offer_id)
    return Ready(lambda w, logo: offer_paper(view, w, logo), view.currency)


def summary_of(shop: Shop, card_id: int) -> Ready:
    """Return the paper of a card's summary."""
    from shopcli.papers.summary_paper import summary_paper
    from shopcli.store.reads.summary import summary

    view = summary(shop, card_id)
    return Ready(lambda w, logo: summary_paper(view, w, logo), view.currency)


def receipt_of(shop: Shop, card_id: int, which: int = 0) -> Ready:
    """Return the receipt of a payment on a card, the last where none is said."""
    from shopcli.papers.receipt import receipt_paper
    from shopcli.store.reads.receipts import receipt

    view = receipt(shop, card_id, which)
    return Ready(lambda w, logo: receipt_paper(view, w, logo), view.currency)


def ready_statement(view: StatementView) -> Ready:
    """Return the paper of a statement."""
    from shopcli.papers.statement import statement_paper

    return Ready(lambda w, logo: statement_paper(view, w, logo), view.currency)


def history_of(shop: Shop, vehicle_id: int) -> Ready:
    """Return the paper of a vehicle's story."""
    from shopcli.papers.history import history_paper
    from shopcli.store.reads.history import history

    view = history(shop, vehicle_id)
    return Ready(lambda w, logo: history_paper(view, w, logo), shop.settings.currency)


def purchase_of(shop: Shop, number: str) -> Ready:
    """Return the paper of an order to a supplier."""
    from shopcli.papers.purchase_paper import purchase_paper
    from shopcli.store.reads.buying import purchase
    from shopcli.store.reads.parties import shop_party

    view, buyer = purchase(shop, number), shop_party(shop)
    word = shop.settings.tax_word
    return Ready(lambda w, logo: purchase_paper(view, buyer, w, logo, tax_word=word), shop.settings.currency)


def in_form(shop: Shop, ready: Ready, form: str, *, plain: bool = False) -> Set:
    """Return a paper in one of the `FORMS`, or a bill in one of the `MACHINE_FORMS`.

    Raises
    ------
    BadInput
        If there is no such form of it, or the settings' locale or logo cannot be used.
    NotComplete
        If the standard of e-invoices asks for something the bill does not have.
    """
    locale = shop.settings.locale
    if form in FORMS:
        logo = None if form == "text" else shops_logo(shop)
        return written(
            ready.build,
            form,
            currency=ready.currency,
            locale=locale,
            logo=logo,
            plain=plain or shop.settings.ascii_only,
        )
    if ready.bill is None:
        raise BadInput("only an invoice or a credit note has a form for machines")
    if form == "facturx":
        from shopcli.papers.facturx_pdf import bill_facturx

        return bill_facturx(ready.bill, locale=locale, logo=shops_logo(shop))
    return Set(_machine(form)(ready.bill))


def _machine(form: str) -> Callable[[Bill], bytes]:
    from shopcli.papers.einvoice_cii import bill_cii
    from shopcli.papers.einvoice_ubl import bill_ubl

    return bill_cii if form == "cii" else bill_ubl


def shops_logo(shop: Shop) -> Logo | None:
    """Return the shop's sign, None where the settings name none."""
    return read_logo(Path(shop.settings.logo).expanduser()) if shop.settings.logo else None
