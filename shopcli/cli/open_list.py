"""The list of open cards: asked for most often, so nothing is loaded for it that it does not print."""

from shopcli.cli.opening import shop_of
from shopcli.store.reads.open_cards import open_cards

TYPE_CHECKING = False
if TYPE_CHECKING:
    from argparse import Namespace


def list_cards(args: "Namespace") -> int:
    """Print open cards per customer and vehicle."""
    shop = shop_of(args)
    rows = open_cards(shop, " ".join(args.text))
    if args.json:
        from shopcli.cli.common import print_json

        print_json(rows)
        return 0
    from shopcli.papers.open_cards import open_cards_text

    print(open_cards_text(rows, shop.local(shop.at()).date(), plain=shop.settings.ascii_only), end="")
    return 0
