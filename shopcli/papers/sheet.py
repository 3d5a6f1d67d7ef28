"""The bench sheet from the records to a file's content; one road for the bench, the summary and the command line."""

from shopcli.papers.bench_sheet import bench_sheet_text
from shopcli.papers.sheet_data import sheet_data
from shopcli.papers.sheet_pdf import bench_sheet_pdf
from shopcli.store.reads.sheet import card_to_print
from shopcli.store.shop import Shop
from shopcli.units import Preferences


def sheet_file(shop: Shop, card_id: int, kind: str, prefs: Preferences, *, plain: bool = False) -> bytes:
    """Return the bench sheet of a card as a file's content.

    Parameters
    ----------
    shop : Shop
        The shop.
    card_id : int
        The card.
    kind : str
        ``pdf`` or ``txt``.
    prefs : Preferences
        Units of the tools at this bench.
    plain : bool, optional
        Only ASCII signs in the text.
    """
    view, printed = card_to_print(shop, card_id)
    if kind == "pdf":
        return bench_sheet_pdf(sheet_data(view, prefs, shop_name=shop.settings.shop_name, printed=printed))
    return bench_sheet_text(view, prefs, plain=plain).encode("utf-8")
