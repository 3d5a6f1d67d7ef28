"""Commands of buying: what is to be ordered, orders drafted, sent, taken in and given up."""

from argparse import Namespace

from shopcli.cli.common import act, clean, minor, print_json, shop_of, table
from shopcli.cli.parts import milli
from shopcli.errors import NotFound
from shopcli.present import amount, day, qty
from shopcli.shop.buying_commands import (
    AddToOrder,
    CancelOrder,
    ChangeOrderLine,
    DraftOrder,
    GoodsIn,
    NotComing,
    SendOrder,
)
from shopcli.shop.seen import over
from shopcli.shop.stores_views import OrderLineView, PurchaseView
from shopcli.store.reads.buying import parts_arrived, purchase, purchases, to_order
from shopcli.store.reads.desk import part_numbered
from shopcli.store.reads.stock import supplier_named
from shopcli.store.shop import Shop


def needed(args: Namespace) -> int:
    """Print the order list."""
    found = to_order(shop_of(args))
    if args.json:
        print_json(found)
        return 0
    rows = [
        (
            need.supplier or "-",
            need.number or "-",
            need.name,
            f"{qty(need.qty)} {need.unit}",
            ", ".join(need.cards) or "the shelf",
            need.key,
        )
        for need in found
    ]
    head = ("supplier", "number", "part", "how many", "for", "key")
    print(table(head, rows, right=(3,)) if rows else "Nothing is to be ordered.")
    return 0


def listed(args: Namespace) -> int:
    """List the orders under way, or all."""
    found = purchases(shop_of(args), over=args.all)
    if args.json:
        print_json(found)
        return 0
    rows = [
        (
            o.number,
            o.supplier.name,
            o.state,
            sum(1 for line in o.lines if line.rest),
            amount(o.worth),
            ("! " if o.late else "") + day(o.due),
        )
        for o in found
    ]
    head = ("order", "supplier", "state", "to come", "worth", "due")
    print(table(head, rows, right=(3, 4)) if rows else "No order is under way.")
    return 0


def show(args: Namespace) -> int:
    """Show an order line by line."""
    order = purchase(shop_of(args), args.order)
    if args.json:
        print_json(order)
        return 0
    print(clean(f"{order.number}  {order.supplier.name}  {order.supplier.phone}  {order.state}"))
    rows = [
        (
            line.number or "-",
            line.name,
            qty(line.qty),
            qty(line.came),
            qty(line.rest),
            line.unit,
            amount(line.cost),
            ("! " if line.late else "") + day(line.due),
            line.closed_for or ", ".join(line.cards),
        )
        for line in order.lines
    ]
    head = ("number", "part", "ordered", "came", "to come", "", "cost", "due", "for")
    print(table(head, rows, right=(2, 3, 4, 6)))
    for words in filter(None, (order.note, order.cancelled_for)):
        print(clean(words))
    return 0


def draft(args: Namespace) -> int:
    """Put what is to be ordered on an order."""
    shop = shop_of(args)
    act(args, DraftOrder(supplier_named(shop, args.supplier).id, tuple(args.only), args.note), shop)
    return 0


def add(args: Namespace) -> int:
    """Put a part on an order by hand."""
    shop = shop_of(args)
    part = part_numbered(shop, args.number)[0]
    act(args, AddToOrder(supplier_named(shop, args.supplier).id, part, milli(args.qty)), shop)
    return 0


def _line(shop: Shop, args: Namespace) -> tuple[PurchaseView, OrderLineView]:
    """Return the line meant by a number or the beginning of a name, one with something to come first."""
    order, text = purchase(shop, args.order), args.part.strip().casefold()
    found = [x for x in order.lines if x.number.casefold() == text or x.name.casefold().startswith(text)]
    meant = [x for x in found if x.rest] or found
    if len(meant) != 1 or not text:
        names = "; ".join(x.name for x in meant or order.lines)
        raise NotFound(f"which part of order {order.number} is '{args.part[:40]}'?", hint=names)
    return order, meant[0]


def change(args: Namespace) -> int:
    """Change a line of an order."""
    shop = shop_of(args)
    line = _line(shop, args)[1]
    command = over(
        line,
        ChangeOrderLine(
            line.id,
            line.version,
            None if args.qty is None else (0 if args.qty == "0" else milli(args.qty)),
            None if args.cost is None else minor(args.cost, "cost"),
            args.due,
        ),
    )
    act(args, command, shop)
    return 0


def send(args: Namespace) -> int:
    """Say that an order went out."""
    shop = shop_of(args)
    act(args, SendOrder(purchase(shop, args.order).id), shop)
    return 0


def goods_in(args: Namespace) -> int:
    """Take goods in."""
    shop = shop_of(args)
    line = _line(shop, args)[1]
    count = milli(args.qty) if args.qty else round(line.rest * 1000)
    cost = None if args.cost is None else minor(args.cost, "cost")
    act(args, GoodsIn(line.id, count, cost, args.more), shop)
    return 0


def all_in(args: Namespace) -> int:
    """Take in everything of an order that is still to come."""
    shop = shop_of(args)
    order = purchase(shop, args.order)
    lines = [line for line in order.lines if line.rest]
    if not lines:
        raise NotFound(f"nothing of order {order.number} is to come")
    for line in lines:
        act(args, GoodsIn(line.id, round(line.rest * 1000)), shop)
    return 0


def not_coming(args: Namespace) -> int:
    """Say that the rest of a line is not coming."""
    shop = shop_of(args)
    act(args, NotComing(_line(shop, args)[1].id, args.reason), shop)
    return 0


def cancel(args: Namespace) -> int:
    """Give an order up."""
    shop = shop_of(args)
    act(args, CancelOrder(purchase(shop, args.order).id, args.reason), shop)
    return 0


def arrived(args: Namespace) -> int:
    """List the cards whose parts came in."""
    found = parts_arrived(shop_of(args))
    if args.json:
        print_json(found)
        return 0
    rows = [
        (
            a.card,
            a.registration,
            a.customer,
            a.phone,
            ", ".join(a.parts),
            "all here" if a.all_here else "more on order",
        )
        for a in found
    ]
    head = ("card", "vehicle", "customer", "telephone", "came", "")
    print(table(head, rows) if rows else "Nothing came in that is not fitted.")
    return 0
