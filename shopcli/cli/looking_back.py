"""Commands that look back: the last act taken back, and where one was."""

from argparse import Namespace

from shopcli.cli.common import act, clean, print_json, shop_of, who
from shopcli.errors import Refused
from shopcli.shop.clock_commands import TakeBack
from shopcli.store.reads.again import to_do_again
from shopcli.store.reads.bench import card_id
from shopcli.store.reads.lately import last_acts, where_was_i
from shopcli.store.shop import Shop


def undo(args: Namespace) -> int:
    """Take the last act of today back, or only say what it was."""
    shop = shop_of(args)
    person = who(shop, args)
    card = card_id(shop, args.card)
    if args.again:
        return _again(args, shop, person.id, card)
    mine = last_acts(shop, person.id, card)
    if not mine:
        raise Refused(
            f"{person.name} did nothing on that card today that could be taken back",
            hint="A task of an earlier day is opened again with: shopcli take-back",
        )
    last = mine[0]
    if args.look:
        print(clean(f"{last.at:%H:%M}  {' '.join(last.said)}"))
        for line in (last.cannot, last.instead) if last.cannot else last.effects:
            print(clean(f"       {line}"))
        return 0
    act(args, TakeBack(last.id), shop)
    return 0


def _again(args: Namespace, shop: Shop, person_id: int, card: int) -> int:
    """Do again what was taken back last, or only say what it was."""
    again = to_do_again(shop, person_id, card)
    if again is None:
        raise Refused(
            "nothing was taken back last on that card today",
            hint="An act since then has its place: shopcli undo",
        )
    if args.look:
        print(clean(f"{again.at:%H:%M}  {' '.join(again.said)}"))
        return 0
    act(args, again.command, shop)
    return 0


def where(args: Namespace) -> int:
    """Say where a card stands for whoever comes back to it."""
    shop = shop_of(args)
    seen = where_was_i(shop, card_id(shop, args.card), who(shop, args).id)
    if args.json:
        print_json(seen)
        return 0
    from shopcli.where_words import as_text

    print(clean(as_text(seen)), end="")
    return 0
