"""An offer on paper, to print, to mail or to be signed: a PDF where the other papers of the screens go."""

from typing import TYPE_CHECKING

from shopcli.screens.asks import Asks
from shopcli.screens.saving import save_paper

if TYPE_CHECKING:
    from shopcli.store.reads.made_offers import OfferView
    from shopcli.store.shop import Shop


def pdf_of(shop: "Shop", offer_id: int) -> bytes:
    """Return an offer as PDF."""
    from shopcli.papers.of_records import in_form, offer_of

    return in_form(shop, offer_of(shop, offer_id), "pdf").content


async def save_offer(screen: Asks, *, offer: "OfferView") -> None:
    """Ask where the paper goes and write it there; a browser is handed it instead."""
    shop = screen.desk_app.shop
    await save_paper(
        screen, number=offer.number, ending=".pdf", what="offer", content=lambda: pdf_of(shop, offer.id)
    )
