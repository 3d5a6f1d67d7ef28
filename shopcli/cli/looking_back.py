"""Commands that look back: the last act taken back, and where one was."""

from argparse import Namespace

from shopcli.cli.common import act, clean, print_json, shop_of, who
from shopcli.errors import Refused
from shopcli.shop.clock_commands import TakeBack
from shopcli.store.reads.bench import card_id
from shopcli.store.reads.lately import last_acts, where_was_i


def undo(args: Namespace) -> int:
    """Take the last act of today back, or only say what it was."""
    shop = shop_of(args)
    person = who(shop, args)
    mine = last_acts(shop, person.id, card_id(shop, args.card))
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
