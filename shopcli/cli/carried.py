"""Commands for what earlier visits left: list it, take it on, write down that it is declined."""

from argparse import Namespace

from shopcli.cli.common import act, card_of, clean, print_json, shop_of, vehicle_of
from shopcli.errors import BadInput
from shopcli.screens.desk.carried_words import carried_note, carried_title
from shopcli.shop.bench_commands import SettleFinding, SettleOwed
from shopcli.shop.card_commands import TakeOn
from shopcli.store.reads import desk


def carried(args: Namespace) -> int:
    """List what a vehicle brings along: its findings, and the checks promised for it."""
    shop = shop_of(args)
    vehicle = vehicle_of(shop, args.registration)
    found = desk.carried(shop, vehicle.id, args.odometer)
    if args.json:
        print_json(found)
        return 0
    for one in found:
        print(clean(f"{one.key:<12} {carried_title(one)}"))
        print(clean(f"{'':<12} {carried_note(one, vehicle.distance_unit)}"))
    if not found:
        print(f"Nothing is open from earlier visits of {vehicle.registration}.")
    return 0


def take(args: Namespace) -> int:
    """Take on an open card what earlier visits left."""
    shop = shop_of(args)
    act(args, TakeOn(card_of(shop, args).id, tuple(args.what)), shop)
    return 0


def decline(args: Namespace) -> int:
    """Write down that the customer does not want something carried over."""
    kind, _, number = args.what.partition(":")
    if kind not in {"finding", "owed"} or not (number.isascii() and number.isdigit()):
        raise BadInput(
            f"'{args.what[:40]}' names nothing carried over", hint="Write it like finding:3 or owed:5."
        )
    if kind == "finding":
        act(args, SettleFinding(int(number), "declined", args.words, args.said_by))
    else:
        words = f"{args.said_by}: {args.words}" if args.said_by else args.words
        act(args, SettleOwed(int(number), "waived", words))
    return 0
