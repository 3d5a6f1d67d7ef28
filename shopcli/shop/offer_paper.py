"""An offer put together whole, once, in the transaction that makes it; a paper printed later reads it and reckons nothing."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopcli.shop.bill import BillGroup, Party
from shopcli.shop.card_bill import line_of
from shopcli.shop.offer_view import UPTO, OfferJob, OfferPaper
from shopcli.shop.price_views import PriceView
from shopcli.shop.settings import Settings

PREFIX, FIGURES = "OF", 5
TENTH = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class About:
    """Whom an offer is for as it stands in the records, the groups of its tax, and what must be said of these."""

    number: int
    made: date
    valid_until: date
    buyer: Party
    card: str
    vehicle: str
    odometer: str
    words: str
    groups: tuple[BillGroup, ...]
    notes: tuple[str, ...] = ()


def offer_number(number: int) -> str:
    """Write the number of an offer.

    Examples
    --------
    >>> offer_number(12)
    'OF00012'
    """
    return f"{PREFIX}{number:0{FIGURES}d}"


def offer_paper(settings: Settings, price: PriceView, about: About) -> OfferPaper:
    """Return what an offer says."""
    return OfferPaper(
        number=offer_number(about.number),
        made=about.made,
        valid_until=about.valid_until,
        currency=price.currency,
        seller=seller(settings),
        buyer=about.buyer,
        card=about.card,
        vehicle=about.vehicle,
        odometer=about.odometer,
        words=about.words,
        jobs=tuple(OfferJob(j.title, tenths(j.usual_min), tenths(j.most_min)) for j in price.jobs),
        hours=tenths(price.usual_min),
        hours_80=tenths(price.most_min),
        lines=tuple(line_of(line) for line in price.lines),
        allowances=(),
        groups=about.groups,
        line_net=price.usual.line_net,
        without_vat=price.usual.without_vat,
        tax=price.usual.vat,
        with_vat=price.usual.with_vat,
        with_vat_80=price.most.with_vat,
        allows=_allows(settings.tax_word),
        notes=(*price.notes, *about.notes),
        terms=settings.terms,
        tax_word=settings.tax_word,
    )


def tenths(minutes: float) -> Decimal:
    """Return minutes as hours to a tenth.

    Examples
    --------
    >>> tenths(100)
    Decimal('1.7')
    """
    return (Decimal(round(minutes)) / 60).quantize(TENTH)


def seller(settings: Settings) -> Party:
    """Return the shop as a party."""
    return Party(
        settings.shop_name,
        settings.address,
        settings.city,
        settings.post_code,
        settings.country,
        settings.vat_number,
        settings.tax_number,
        phone=settings.phone,
        email=settings.email,
    )


def car_words(registration: str, make: str, model: str, year: int | None) -> str:
    """Return a vehicle as papers name it.

    Examples
    --------
    >>> car_words("ABC 123", "Marque", "Model", 1964), car_words("ABC 123", "", "", None)
    ('ABC 123, Marque Model 1964', 'ABC 123')
    """
    what = " ".join(str(x) for x in (make, model, year) if x)
    return f"{registration}, {what}" if what else registration


def _allows(tax_word: str) -> tuple[str, ...]:
    return (
        f"The work named here, up to {UPTO} with {tax_word}.",
        "Before anything goes beyond that sum, or other work is begun, we ask again.",
    )
