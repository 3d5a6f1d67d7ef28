"""Commands of the papers that leave the shop: printed, or written to files in the forms asked for."""

import sys
from argparse import Namespace
from collections.abc import Callable

from shopcli.cli.common import card_of, clean, shop_of, vehicle_of
from shopcli.cli.sheet import write_file
from shopcli.papers.of_records import (
    MACHINE_FORMS,
    Ready,
    credit_note_of,
    history_of,
    in_form,
    invoice_of,
    offer_of,
    purchase_of,
    receipt_of,
    summary_of,
)
from shopcli.store.shop import Shop

FORMS = ("text", "html", "pdf", *MACHINE_FORMS)


def summary(args: Namespace) -> int:
    """Print or write the summary of a card."""
    return _give(args, lambda shop: summary_of(shop, card_of(shop, args).id))


def invoice(args: Namespace) -> int:
    """Print or write the invoice of a card."""
    return _give(args, lambda shop: invoice_of(shop, card_of(shop, args).id))


def offer(args: Namespace) -> int:
    """Print or write an offer."""
    from shopcli.store.reads.made_offers import made_offer

    return _give(args, lambda shop: offer_of(shop, made_offer(shop, args.number).id))


def credit_note(args: Namespace) -> int:
    """Print or write a credit note."""
    return _give(args, lambda shop: credit_note_of(shop, args.number))


def receipt(args: Namespace) -> int:
    """Print or write the receipt of a payment."""
    return _give(args, lambda shop: receipt_of(shop, card_of(shop, args).id, args.which))


def history(args: Namespace) -> int:
    """Print or write the story of a vehicle."""
    return _give(args, lambda shop: history_of(shop, vehicle_of(shop, args.registration).id))


def statement(args: Namespace) -> int:
    """Print or write a customer's account between two days."""
    from datetime import date, timedelta

    from shopcli.papers.of_records import ready_statement
    from shopcli.shop.parts import iso_date
    from shopcli.store.reads import accounts

    def read(shop: Shop) -> Ready:
        last = date.fromisoformat(iso_date(args.to, "day")) if args.to else shop.local(shop.at()).date()
        first = (
            date.fromisoformat(iso_date(args.since, "day"))
            if args.since
            else last - timedelta(days=accounts.USUAL_DAYS)
        )
        return ready_statement(
            accounts.statement(shop, accounts.customer_named(shop, args.customer), first, last)
        )

    return _give(args, read)


def order(args: Namespace) -> int:
    """Print or write an order to a supplier."""
    return _give(args, lambda shop: purchase_of(shop, args.number))


def _give(args: Namespace, read: Callable[[Shop], Ready]) -> int:
    """Write every form asked for; without any, print it."""
    shop = shop_of(args)
    return give(shop, read(shop), args)


def give(shop: Shop, ready: Ready, args: Namespace) -> int:
    """Write a paper in every form asked for; without any, print it."""
    asked = [(form, name) for form in FORMS if (name := getattr(args, form, None))]
    for form, name in asked:
        made = in_form(shop, ready, form, plain=args.ascii)
        write_file(name, made.content)
        if made.lacking:
            print(clean(f"No font here has {made.lacking}; a question mark stands instead."), file=sys.stderr)
    if not asked:
        print(in_form(shop, ready, "text", plain=args.ascii).content.decode("utf-8"), end="")
    return 0
