"""An offer on paper, to print, to mail or to be signed: a PDF where the other papers of the screens go."""

from typing import TYPE_CHECKING

from shopcli.papers.filing import default_folder, free_path, paper_name, see_free, write_new
from shopcli.screens.asks import Asks

if TYPE_CHECKING:
    from shopcli.store.reads.made_offers import OfferView
    from shopcli.store.shop import Shop

SAVED = "saved"


def pdf_of(shop: "Shop", offer_id: int) -> bytes:
    """Return an offer as PDF."""
    from shopcli.papers.of_records import in_form, offer_of

    return in_form(shop, offer_of(shop, offer_id), "pdf").content


async def save_offer(screen: Asks, *, offer: "OfferView") -> None:
    """Ask where the paper goes and write it there; a browser is handed it instead."""
    shop = screen.desk_app.shop
    if screen.app.is_web:
        name = paper_name(offer.number, ".pdf", "offer")
        screen.hand_out(lambda: (name, pdf_of(shop, offer.id)))
        return
    value = str(free_path(default_folder(), offer.number, ".pdf", "offer"))
    where = await screen.ask_text("Save where?", value=value, check=see_free)
    if where is not None:
        path = see_free(where)
        screen.look(SAVED, lambda: write_new(path, pdf_of(shop, offer.id)))


def say_saved(screen: Asks, path: object) -> None:
    """Say where the paper lies."""
    screen.notify(f"Saved: {path}", timeout=12, markup=False)
