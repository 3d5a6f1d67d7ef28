"""Starting: the application, and the demo with or without a terminal."""

import gc
import sys

from shopcli.cli.opening import shop_of, who
from shopcli.errors import BadInput
from shopcli.store.reads.people import unnamed_owner
from shopcli.store.shop import Shop

TYPE_CHECKING = False
if TYPE_CHECKING:
    from argparse import Namespace


def _run(shop: Shop, args: "Namespace") -> int:
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise BadInput(
            "the application needs a terminal",
            hint="Use the commands (shopcli --help), or: shopcli demo --plain",
        )
    gc.disable()  # nothing made while starting is rubbish; on again once the first picture stands
    from shopcli.screens.app import ShopApp

    app = ShopApp(shop, who(shop, args))
    app.is_first_start = unnamed_owner(shop) is not None
    # What is loaded by then stays: a search through it for rubbish would hold up a key.
    app.when_warm = gc.freeze
    app.run()
    shop.close()
    return app.return_code or 0


def application(args: "Namespace") -> int:
    """Start the terminal application on the shop's own records."""
    return _run(shop_of(args), args)


def demo(args: "Namespace") -> int:
    """Start on a fresh invented shop, or print what it holds."""
    from shopcli.store.demo import demo_file, demo_shop

    shop = demo_shop(args.keep or demo_file())
    if args.plain:
        from shopcli.cli.plain import print_tour

        print_tour(shop)
        return 0
    return _run(shop, args)
