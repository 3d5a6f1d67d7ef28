"""Commands of what is outside the house: work sent out, old units of exchanges, credits that are to come."""

from argparse import Namespace

from shopcli.cli.common import act, card_of, minor, print_json, shop_of, table, task_id_of
from shopcli.cli.parts import line_named, milli
from shopcli.errors import NotFound
from shopcli.present import amount, day, qty
from shopcli.shop.buying_commands import CreditCame, SendOldUnit
from shopcli.shop.part_commands import (
    AddOutwork,
    ChangeOutwork,
    DropPlanned,
    OutworkBack,
    PutPart,
    SendPlanned,
)
from shopcli.shop.seen import over
from shopcli.shop.stores_views import OutworkView
from shopcli.store.reads.outwork import exchanges, outwork
from shopcli.store.reads.stock import supplier_named
from shopcli.store.shop import Shop


def listed(args: Namespace) -> int:
    """List the work that is out."""
    found = outwork(shop_of(args), back=args.all)
    if args.json:
        print_json(found)
        return 0
    rows = [
        (
            o.id,
            o.card,
            o.registration,
            o.what,
            o.who,
            o.ring,
            day(o.sent),
            _due(o),
            amount(o.cost),
            amount(o.price),
        )
        for o in found
    ]
    head = ("no.", "card", "vehicle", "what", "at", "ring", "sent", "due", "cost", "price")
    print(table(head, rows, right=(0, 8, 9)) if rows else "No work is out.")
    return 0


def _due(one: OutworkView) -> str:
    if one.back is not None:
        return f"back {day(one.back)}"
    return f"! {day(one.due)}, {one.days_over} days over" if one.days_over else day(one.due)


def send(args: Namespace) -> int:
    """Send work out."""
    shop = shop_of(args)
    command = AddOutwork(
        card_of(shop, args).id,
        args.what,
        args.firm,
        minor(args.cost, "cost"),
        minor(args.price, "price"),
        due=args.due,
        ring=args.ring,
    )
    act(args, command, shop)
    return 0


def _out(shop: Shop, number: int) -> OutworkView:
    for one in outwork(shop, back=True):
        if one.id == number:
            return one
    raise NotFound(f"there is no outwork {number}", hint="See: shopcli outwork list")


def send_planned(args: Namespace) -> int:
    """Send out what an accepted offer planned."""
    shop = shop_of(args)
    act(args, SendPlanned(_out(shop, args.number).id, args.firm, args.due, ring=args.ring), shop)
    return 0


def drop_planned(args: Namespace) -> int:
    """Do without what an accepted offer planned."""
    shop = shop_of(args)
    act(args, DropPlanned(_out(shop, args.number).id, args.reason), shop)
    return 0


def back(args: Namespace) -> int:
    """Say that outwork came back."""
    shop = shop_of(args)
    cost = None if args.cost is None else minor(args.cost, "cost")
    price = None if args.price is None else minor(args.price, "price")
    act(args, OutworkBack(_out(shop, args.number).id, args.on, cost, price), shop)
    return 0


def change(args: Namespace) -> int:
    """Change what is known of outwork."""
    shop = shop_of(args)
    one = _out(shop, args.number)
    command = over(
        one,
        ChangeOutwork(
            one.id,
            one.version,
            args.due,
            None if args.cost is None else minor(args.cost, "cost"),
            None if args.price is None else minor(args.price, "price"),
            args.ring,
        ),
    )
    act(args, command, shop)
    return 0


def exchange_list(args: Namespace) -> int:
    """List old units and parts sent back that somebody owes something for."""
    found = exchanges(shop_of(args), settled=args.all)
    if args.json:
        print_json(found)
        return 0
    rows = [
        (
            x.key,
            x.stands,
            x.what,
            qty(x.qty),
            amount(x.credit),
            x.card,
            x.registration,
            x.supplier,
            day(x.since),
        )
        for x in found
    ]
    head = ("key", "stands", "what", "how many", "sum", "card", "vehicle", "supplier", "since")
    print(table(head, rows, right=(3, 4)) if rows else "Nobody owes anything for an exchange or a return.")
    return 0


def exchange_sent(args: Namespace) -> int:
    """Send an old unit to its supplier."""
    shop = shop_of(args)
    line = line_named(card_of(shop, args), args.part, "fitted")
    to = supplier_named(shop, args.to).id if args.to else None
    act(args, SendOldUnit(line.id, to), shop)
    return 0


def exchange_credit(args: Namespace) -> int:
    """Say that the supplier's credit came."""
    shop = shop_of(args)
    for one in exchanges(shop):
        if one.key == args.key and one.sent_back_id is not None:
            credit = round(one.credit * 100) if args.amount is None else minor(args.amount, "credit")
            act(args, CreditCame(one.sent_back_id, credit), shop)
            return 0
    raise NotFound(f"no credit is to come for '{args.key[:30]}'", hint="See: shopcli exchange list")


def put_own(args: Namespace) -> int:
    """Put a part on a card that the customer brought."""
    shop = shop_of(args)
    card = card_of(shop, args)
    command = PutPart(
        card.id,
        None,
        args.what,
        milli(args.qty),
        task_id=task_id_of(card, args.task),
        customers_own=True,
    )
    act(args, command, shop)
    return 0
