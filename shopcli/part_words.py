"""A part on a card, in words: how many, how it stands, where it lies, what is short. The same on every screen."""

from shopcli.columns import shown
from shopcli.present import on_shelf, part_state, qty
from shopcli.shop.views import PartLineView


def part_words(part: PartLineView) -> str:
    """Say a part, how many, how it stands and where it lies."""
    extra = [f"{on_shelf(part.in_stock, part.unit)} in stock" if part.in_stock is not None else ""]
    extra += [f"bin {part.bin}" if part.bin else "", "customer's own" if part.customers_own else ""]
    extra += ["optional" if part.optional else ""]
    told = ", ".join(filter(None, extra))
    state = part_state(part.state)
    amount = f"{qty(part.qty)} {part.unit}".strip()
    return shown(f"{state}: {part.description}, {amount}" + (f" ({told})" if told else ""))


def short_words(part: PartLineView) -> str:
    """Say how many of a part that is short are on the shelf."""
    if part.in_stock is None or part.in_stock <= 0:
        return "! short: not on the shelf"
    if part.in_stock >= part.qty:
        return "! short: another line of this card takes what is on the shelf"
    return f"! short: {qty(part.in_stock)} of {qty(part.qty)} on the shelf"
