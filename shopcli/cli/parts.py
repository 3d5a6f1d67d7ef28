"""Commands for parts and money."""

from argparse import Namespace
from decimal import Decimal, InvalidOperation

from shopcli.cli.common import act, card_of, minor, shop_of, task_id_of
from shopcli.errors import BadInput, NotFound
from shopcli.shop.part_commands import MovePart, PricePart, PutPart
from shopcli.shop.seen import over
from shopcli.shop.views import CardView, PartLineView
from shopcli.store.reads import desk


def _line(card: CardView, wanted: str, state: str = "") -> PartLineView | None:
    text = wanted.strip().casefold()
    found = [
        p for p in card.parts if p.description.casefold().startswith(text) or p.number.casefold() == text
    ]
    meant = {state} if state else {"wanted", "on order"}
    waiting = [p for p in found if p.state in meant] or found
    if len({p.description for p in waiting}) > 1:
        raise NotFound(f"'{wanted}' means more than one part", hint="; ".join(p.description for p in waiting))
    return waiting[0] if waiting else None


def line_named(card: CardView, wanted: str, state: str = "") -> PartLineView:
    """Return the part of a card that is meant by the beginning of its name or its number, one in `state` first.

    Raises
    ------
    NotFound
        When the card has none, or more than one is meant.
    """
    line = _line(card, wanted, state)
    if line is None:
        hint = "; ".join(p.description for p in card.parts) or "No part is on it."
        raise NotFound(f"card {card.number} has no part '{wanted}'", hint=hint)
    return line


def milli(text: str) -> int:
    """Return a quantity in thousandths.

    Raises
    ------
    BadInput
        When it is no number of at most three decimals.
    """
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
    task = task_id_of(card, args.task)
    line = _line(card, args.part)
    if line is None:
        stocked = desk.find_parts(shop, args.part)
        if len(stocked) != 1:
            hint = "; ".join(f"{p[1]} {p[2]}" for p in stocked) or "Neither on the card nor in stock."
            raise NotFound(f"which part is '{args.part}'?", hint=hint)
        key = act(args, PutPart(card.id, stocked[0][0], qty_milli=milli(args.qty), task_id=task), shop).id
    else:
        key = line.id
    some = milli(args.qty) if line is not None and args.qty else None
    act(args, MovePart(key, "fitted", task, args.serial, some), shop)
    return 0


def _move(args: Namespace, state: str) -> int:
    shop = shop_of(args)
    act(args, MovePart(line_named(card_of(shop, args), args.part).id, state), shop)
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
    line = line_named(card_of(shop, args), args.part)
    act(args, over(line, PricePart(line.id, minor(args.price, "price"))), shop)
    return 0
