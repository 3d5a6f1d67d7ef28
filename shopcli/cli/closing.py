"""Commands of the closing check."""

from argparse import Namespace

from shopcli.cli.common import act, card_of, clean, print_json, shop_of
from shopcli.errors import NotFound
from shopcli.shop.bench_commands import LiftTag, SettleOwed
from shopcli.shop.card_commands import CloseCard, Waive
from shopcli.store.reads.bench import hindrances


def check(args: Namespace) -> int:
    """List what hinders the hand-over."""
    shop = shop_of(args)
    card = card_of(shop, args)
    found = hindrances(shop, card.id)
    if args.json:
        print_json(found)
        return 1 if found else 0
    if not found:
        print(f"Nothing hinders card {card.number}.")
        return 0
    for h in found:
        print(clean(f"{h.key:<12} {h.what}{f' ({h.why})' if h.why else ''}"))
        print(clean(f"{'':<12} {h.mend}"))
    return 1


def waive(args: Namespace) -> int:
    """Set a hindrance aside."""
    shop = shop_of(args)
    act(args, Waive(card_of(shop, args).id, args.hindrance, args.reason), shop)
    return 0


def lift(args: Namespace) -> int:
    """Lift a tag by hand."""
    shop = shop_of(args)
    card = card_of(shop, args)
    tag = next((t for t in card.tags if t.name.casefold() == args.tag.strip().casefold()), None)
    if tag is None:
        raise NotFound(
            f"no tag '{args.tag}' hangs there", hint=", ".join(t.name for t in card.tags) or "None hangs."
        )
    act(args, LiftTag(tag.id, args.reason), shop)
    return 0


def settle(args: Namespace) -> int:
    """Say a promised check was done."""
    shop = shop_of(args)
    card = card_of(shop, args)
    text = args.check.strip().casefold()
    found = [o for o in card.owed if o.state == "owed" and o.title.casefold().startswith(text)]
    if len(found) != 1:
        owed = "; ".join(o.title for o in card.owed if o.state == "owed") or "Nothing is owed."
        raise NotFound(f"which check is '{args.check}'?", hint=owed)
    act(args, SettleOwed(found[0].id, "done", args.reason), shop)
    return 0


def close(args: Namespace) -> int:
    """Close a card."""
    shop = shop_of(args)
    act(args, CloseCard(card_of(shop, args).id), shop)
    return 0
