"""Commands for parts and money."""

from argparse import Namespace
from decimal import Decimal, InvalidOperation

from shopcli.cli.common import act, card_of, minor, shop_of, task_of
from shopcli.errors import BadInput, NotFound
from shopcli.shop.commands import MovePart, PricePart, PutPart, TakePayment
from shopcli.shop.views import CardView, PartLineView
from shopcli.store.reads import desk


def _line(card: CardView, wanted: str) -> PartLineView | None:
    text = wanted.strip().casefold()
    found = [
        p for p in card.parts if p.description.casefold().startswith(text) or p.number.casefold() == text
    ]
    waiting = [p for p in found if p.state in {"wanted", "on order"}] or found
    if len({p.description for p in waiting}) > 1:
        raise NotFound(f"'{wanted}' means more than one part", hint="; ".join(p.description for p in waiting))
    return waiting[0] if waiting else None


def _qty(text: str) -> int:
    try:
        qty = Decimal(text or "1") * 1000
        if qty.is_finite() and qty == qty.to_integral_value():
            return int(qty)
    except InvalidOperation:
        pass
    raise BadInput(f"the quantity '{text[:20]}' is not a number of at most three decimals")


def fit(args: Namespace) -> int:
    """Fit a part; one not on the card yet is put on it first."""
    shop = shop_of(args)
    card = card_of(shop, args)
    task = task_of(card, args.task).id if args.task else None
    line = _line(card, args.part)
    if line is None:
        stocked = desk.find_parts(shop, args.part)
        if len(stocked) != 1:
            hint = "; ".join(f"{p[1]} {p[2]}" for p in stocked) or "Neither on the card nor in stock."
            raise NotFound(f"which part is '{args.part}'?", hint=hint)
        key = act(args, PutPart(card.id, stocked[0][0], qty_milli=_qty(args.qty), task_id=task), shop).id
    else:
        key = line.id
    act(args, MovePart(key, "fitted", task, args.serial), shop)
    return 0


def _move(args: Namespace, state: str) -> int:
    shop = shop_of(args)
    card = card_of(shop, args)
    line = _line(card, args.part)
    if line is None:
        raise NotFound(f"card {card.number} has no part '{args.part}'")
    act(args, MovePart(line.id, state), shop)
    return 0


def order(args: Namespace) -> int:
    """Say a part is on order."""
    return _move(args, "on order")


def not_used(args: Namespace) -> int:
    """Say a part was not used."""
    return _move(args, "not used")


def price(args: Namespace) -> int:
    """Give a part its price."""
    shop = shop_of(args)
    card = card_of(shop, args)
    line = _line(card, args.part)
    if line is None:
        raise NotFound(f"card {card.number} has no part '{args.part}'")
    act(args, PricePart(line.id, minor(args.price, "price")), shop)
    return 0


def pay(args: Namespace) -> int:
    """Take money."""
    shop = shop_of(args)
    card = card_of(shop, args)
    kind = "payment" if card.state == "closed" else "deposit"
    act(args, TakePayment(card.id, minor(args.amount, "amount"), kind, args.method), shop)
    return 0
