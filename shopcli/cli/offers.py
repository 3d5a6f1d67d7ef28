"""Commands about offers: made, listed, answered, a card opened from one. Printing one is a paper."""

from argparse import Namespace
from collections.abc import Iterable

from shopcli.cli.common import act, card_of, clean, minor, print_json, shop_of, table, vehicle_of
from shopcli.errors import BadInput
from shopcli.present import money
from shopcli.shop.offer_commands import AcceptOffer, DeclineOffer, MakeOffer, OpenFromOffer
from shopcli.store.reads.made_offers import made_offer, made_offers


def _extras(args: Namespace) -> Iterable[tuple[str, int, str]]:
    for kind in ("outwork", "sundry", "fee"):
        for text in getattr(args, kind):
            what, equals, price = text.rpartition("=")
            if not equals:
                raise BadInput(f"'{text[:40]}' has no price", hint=f"Write it like --{kind} 'Skim=85.00'.")
            yield what, minor(price, f"price of {what}"), kind


def make(args: Namespace) -> int:
    """Make an offer for a vehicle, or for more work on its open card."""
    shop = shop_of(args)
    card = card_of(shop, args) if args.card else None
    if card is None and not args.registration:
        raise BadInput("an offer for nothing", hint="Name a registration, or a card with --card.")
    vehicle_id = card.vehicle_id if card else vehicle_of(shop, args.registration).id
    act(
        args,
        MakeOffer(
            vehicle_id,
            tuple(args.templates),
            card.id if card else None,
            args.words,
            tuple(_extras(args)),
            args.days,
        ),
        shop,
    )
    return 0


def listed(args: Namespace) -> int:
    """List the offers, newest first."""
    shop = shop_of(args)
    vehicle_id = vehicle_of(shop, args.registration).id if args.registration else None
    views = made_offers(shop, vehicle_id=vehicle_id)
    today, currency = shop.local(shop.at()).date(), shop.settings.currency
    if args.open:
        views = tuple(v for v in views if v.state(today) == "open")
    if args.json:
        print_json(views)
        return 0
    rows = [
        (
            v.number,
            v.made,
            v.registration,
            v.customer,
            money(v.usual, currency),
            money(v.most, currency),
            v.state(today),
            v.valid_until,
            v.opened or v.card,
        )
        for v in views
    ]
    head = ("offer", "made", "vehicle", "customer", "about", "at most", "state", "until", "card")
    print(clean(table(head, rows, right=(4, 5))))
    return 0


def accept(args: Namespace) -> int:
    """Note that the customer said yes."""
    shop = shop_of(args)
    amount = minor(args.up_to, "sum") if args.up_to else None
    act(args, AcceptOffer(made_offer(shop, args.number).id, args.said_by, args.how, amount), shop)
    return 0


def decline(args: Namespace) -> int:
    """Note that the customer said no."""
    shop = shop_of(args)
    act(args, DeclineOffer(made_offer(shop, args.number).id, args.said_by, args.how, args.reason), shop)
    return 0


def open_card(args: Namespace) -> int:
    """Open the card of an accepted offer."""
    shop = shop_of(args)
    act(
        args,
        OpenFromOffer(
            made_offer(shop, args.number).id,
            args.words,
            args.odometer,
            args.left_with,
            args.promised,
            odometer_why=args.odometer_why,
        ),
        shop,
    )
    return 0
