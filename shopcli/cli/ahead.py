"""Commands that look ahead: what jobs would cost, when they could be ready, cards against their authority."""

from argparse import Namespace

from shopcli.cli.common import clean, print_json, shop_of, table, vehicle_known
from shopcli.errors import BadInput
from shopcli.present import money
from shopcli.shop.parts import iso_date
from shopcli.store.reads.bench import card_id
from shopcli.store.shop import Shop


def _vehicle(shop: Shop, args: Namespace) -> int | None:
    """Return the vehicle named; None for one not written down, whose sheet has to be named then."""
    known = vehicle_known(shop, args.registration) if args.registration else None
    if known is None and not args.sheet:
        raise BadInput(
            f"{args.registration or 'the vehicle'} is not known", hint="Name its spec sheet: --sheet NAME."
        )
    return known.id if known else None


def cost(args: Namespace) -> int:
    """Print what jobs would cost on a vehicle, with the range."""
    from shopcli.price_words import as_text, price_blocks
    from shopcli.store.reads.prices import price_for

    shop = shop_of(args)
    view = price_for(shop, tuple(args.templates), _vehicle(shop, args), sheet=args.sheet)
    if args.json:
        print_json(view)
    else:
        print(clean(as_text(price_blocks(view))), end="")
    return 0


def promise(args: Namespace) -> int:
    """Print when a card, or jobs on a vehicle, could be ready."""
    from datetime import date

    from shopcli.price_words import as_text, promise_blocks
    from shopcli.store.reads.promises import promise_for, promise_of

    shop = shop_of(args)
    wanted = date.fromisoformat(iso_date(args.wanted, "date")) if args.wanted else None
    if args.card:
        view = promise_of(shop, card_id(shop, args.card), wanted)
    else:
        view = promise_for(shop, tuple(args.templates), _vehicle(shop, args), sheet=args.sheet, wanted=wanted)
    if args.json:
        print_json(view)
    else:
        print(clean(as_text(promise_blocks(view))), end="")
    return 0


def authority(args: Namespace) -> int:
    """List open cards with an authority; status 1 when one is past it or heading there."""
    from shopcli.store.reads.ahead import ahead

    shop = shop_of(args)
    views = sorted(ahead(shop).authorities.values(), key=lambda view: view.number)
    if args.json:
        print_json(views)
    else:
        currency = shop.settings.currency
        rows = [
            (
                v.number,
                *(money(x, currency) for x in (v.spent, v.usual, v.most, v.authority or v.spent)),
                v.level,
            )
            for v in views
        ]
        print(table(("card", "spent", "usual", "most", "allowed", ""), rows, right=(1, 2, 3, 4)))
    return int(any(v.level in {"passed", "will pass"} for v in views))
