"""Commands of the counter: whom to ring, a call noted, a car handed over."""

from argparse import Namespace
from datetime import date
from pathlib import Path

from shopcli.cli.common import act, card_of, clean, print_json, shop_of, table
from shopcli.shop.counter_commands import HandOver, NoteCall


def ring(args: Namespace) -> int:
    """List whom to ring, why, and what was said last."""
    from shopcli.ring_words import NAMES, call_words, why_words
    from shopcli.store.reads.ringing import whom_to_ring

    shop = shop_of(args)
    rows = [row for row in whom_to_ring(shop) if args.all or row.later is None]
    if args.json:
        print_json(rows)
        return 0
    today, customer = shop.local(shop.at()).date(), None
    for row in rows:
        if (row.customer_id, row.later is None) != customer:
            print(clean(f"{row.customer}  {row.phone or 'no telephone written'}"))
            customer = (row.customer_id, row.later is None)
        where = ", ".join(filter(None, (row.registration, row.card)))
        later = f" (again {row.later:%d %b})" if row.later else ""
        print(clean(f"  {NAMES[row.kind]}: {why_words(row, today, shop.settings.currency)}; {where}{later}"))
        print(f"    {row.key}")
        for call in filter(None, (row.last or row.before,)):
            print(clean(f"    last call: {call_words(call)}"))
    if not rows:
        print("Nobody is to be rung.")
    return 0


def note(args: Namespace) -> int:
    """Note a call."""
    from shopcli.screens.desk.dates import read_date
    from shopcli.store.reads.ringing import to_ring

    shop = shop_of(args)
    row = to_ring(shop, args.key)
    again: date | None = read_date(args.again, shop.local(shop.at()).date())
    command = NoteCall(
        row.customer_id, row.key, args.reached, args.said, again.isoformat() if again else "", row.card_id
    )
    act(args, command, shop)
    return 0


def hand_over(args: Namespace) -> int:
    """Hand a car over, and say what is due next."""
    from shopcli.papers.arrange import due

    shop = shop_of(args)
    card = card_of(shop, args)
    act(args, HandOver(card.id, args.to), shop)
    for owed in card.owed:
        if owed.state == "owed":
            print(clean(f"Due next: {owed.title}, {due(owed, card.distance_unit)}"))
    return 0


def papers(args: Namespace) -> int:
    """Write the papers of a closed card."""
    from shopcli.papers.filing import file_closed

    shop = shop_of(args)
    folder = Path(args.folder).expanduser() if args.folder else None
    for path in file_closed(shop, card_of(shop, args).id, folder):
        print(clean(f"Written: {path}"))
    return 0


def closed(args: Namespace) -> int:
    """List closed cards that fit a text."""
    from shopcli.handing_words import left_short
    from shopcli.store.reads.closed_cards import closed_cards

    shop = shop_of(args)
    rows = closed_cards(shop, " ".join(args.text))
    if args.json:
        print_json(rows)
        return 0
    heads = ("card", "closed", "car", "customer", "telephone", "what for", "invoice", "money")
    currency = shop.settings.currency
    cells = [
        (
            r.number,
            r.closed,
            r.registration,
            r.customer,
            r.phone,
            r.title,
            r.invoice,
            left_short(r.due, currency),
        )
        for r in rows
    ]
    print(table(heads, cells), end="")
    return 0


def reverse_charge(args: Namespace) -> int:
    """Bill the customer of a card without tax, or with it again."""
    from shopcli.shop.people_commands import SetReverseCharge

    shop = shop_of(args)
    act(args, SetReverseCharge(card_of(shop, args).customer_id, args.vat_number), shop)
    return 0
