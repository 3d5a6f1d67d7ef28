"""Commands of parts at the task and of the stock: what is short, what arrived, another one instead, old units."""

from argparse import Namespace

from shopcli.cli.common import act, card_of, minor, shop_of, task_id_of
from shopcli.cli.parts import line_named, milli
from shopcli.errors import BadInput
from shopcli.shop.part_commands import (
    AddPart,
    ChangePart,
    FitInstead,
    MovePart,
    OldUnitBack,
    OrderShort,
    PartArrived,
    PartToTask,
)
from shopcli.store.reads.desk import part_numbered


def order_short(args: Namespace) -> int:
    """Put what is short on the order list."""
    shop = shop_of(args)
    card = card_of(shop, args)
    act(args, OrderShort(card.id, task_id_of(card, args.task)), shop)
    return 0


def put(args: Namespace) -> int:
    """Give a card, or one of its tasks, a part by its number."""
    shop = shop_of(args)
    card = card_of(shop, args)
    act(args, PartToTask(card.id, args.number, task_id_of(card, args.task)), shop)
    return 0


def arrived(args: Namespace) -> int:
    """Say a part on order is here."""
    shop = shop_of(args)
    act(args, PartArrived(line_named(card_of(shop, args), args.part, "on order").id), shop)
    return 0


def returned(args: Namespace) -> int:
    """Say a fitted part came off again and goes back."""
    shop = shop_of(args)
    act(args, MovePart(line_named(card_of(shop, args), args.part, "fitted").id, "returned"), shop)
    return 0


def old_unit(args: Namespace) -> int:
    """Say the old unit of an exchange went back."""
    shop = shop_of(args)
    line = line_named(card_of(shop, args), args.part, "fitted")
    act(args, OldUnitBack(line.id, not args.not_back), shop)
    return 0


def instead(args: Namespace) -> int:
    """Fit another part in place of one of the card."""
    shop = shop_of(args)
    card = card_of(shop, args)
    line = line_named(card, args.part, "wanted")
    if bool(args.number) == bool(args.what):
        raise BadInput("which part goes in its place?", hint="Give --number from stock, or --what it is.")
    command = FitInstead(
        line.id,
        args.reason,
        part_numbered(shop, args.number)[0] if args.number else None,
        args.what,
        price_minor=minor(args.price, "price") if args.price else None,
        task_id=task_id_of(card, args.task),
        serial=args.serial,
    )
    act(args, command, shop)
    return 0


def add(args: Namespace) -> int:
    """Write a part into the stock."""
    act(
        args,
        AddPart(
            args.number,
            args.name,
            minor(args.cost, "cost"),
            minor(args.price, "price") if args.price else None,
            milli(args.stock),
            milli(args.reorder),
            minor(args.surcharge, "exchange surcharge"),
            args.bin,
            args.supplier,
            unit=args.unit,
            wants_serial=args.serial == "yes",
            pack_milli=milli(args.pack),
        ),
    )
    return 0


def change(args: Namespace) -> int:
    """Change what is known of a stocked part, or count it."""
    shop = shop_of(args)
    key = part_numbered(shop, args.number)[0]
    version = int(shop.fetch("SELECT version FROM part WHERE id = ?", (key,))[0][0])
    command = ChangePart(
        key,
        version,
        args.name,
        args.bin,
        args.supplier,
        None if args.cost is None else minor(args.cost, "cost"),
        None if args.price is None else minor(args.price, "price"),
        None if args.stock is None else milli(args.stock),
        None if args.reorder is None else milli(args.reorder),
        None if args.surcharge is None else minor(args.surcharge, "exchange surcharge"),
        None if args.serial is None else args.serial == "yes",
        None if args.pack is None else milli(args.pack),
    )
    act(args, command, shop)
    return 0
