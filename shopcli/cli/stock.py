"""Commands of the shelf: what lies there, its movements, counted, corrected, sent back; and the suppliers."""

import csv
from argparse import Namespace
from pathlib import Path

from shopcli.cli.common import act, clean, minor, print_json, shop_of, table, who
from shopcli.cli.parts import milli
from shopcli.errors import BadInput, Refused, StoreTrouble
from shopcli.present import amount, moment, qty
from shopcli.shop.buying_commands import SendBack
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.seen import over
from shopcli.shop.stock import out_of_step, wrong_suppliers
from shopcli.shop.stock_commands import AddSupplier, ChangeSupplier, CorrectStock, CountStock
from shopcli.store.reads import stock as reads
from shopcli.store.reads.desk import part_numbered
from shopcli.store.reads.stores_acts import last_store_acts
from shopcli.store.shop import Shop


def listed(args: Namespace) -> int:
    """List the shelf."""
    rows = reads.stock(shop_of(args), " ".join(args.text))
    found = [p for p in rows if p.low] if args.low else list(rows)
    if args.json:
        print_json(found)
        return 0
    lines = [
        (
            p.number,
            p.name,
            p.bin or "-",
            f"{qty(p.stock)} {p.unit}",
            qty(p.wanted) if p.wanted else "",
            qty(p.coming) if p.coming else "",
            qty(p.reorder) if p.reorder else "",
            amount(p.cost),
            amount(p.price),
            p.supplier,
        )
        for p in found
    ]
    head = ("number", "part", "bin", "there", "wanted", "coming", "order at", "cost", "price", "supplier")
    print(table(head, lines, right=(3, 4, 5, 6, 7, 8)) if lines else "Nothing of that kind is on the shelf.")
    return 0


def show(args: Namespace) -> int:
    """Show a part with its movements and its prices."""
    shop = shop_of(args)
    story = reads.part_story(shop, part_numbered(shop, args.number)[0])
    if args.json:
        print_json(story)
        return 0
    part, zone = story.part, shop.settings.tz()
    print(clean(f"{part.number}  {part.name}  {qty(part.stock)} {part.unit}  bin {part.bin or '-'}"))
    rows = [
        (
            moment(m.at, zone, year=True),
            f"{m.qty:+f}".rstrip("0").rstrip("."),
            m.why,
            m.card or m.order,
            m.note,
            m.person,
        )
        for m in story.moves
    ]
    print(
        table(("when", "how many", "why", "for", "note", "who"), rows, right=(1,))
        if rows
        else "It never moved."
    )
    if story.more:
        print(f"{story.more} earlier movements")
    prices = [
        (moment(p.at, zone, year=True), amount(p.cost), amount(p.price), p.why, p.person)
        for p in story.prices
    ]
    print(table(("since", "cost", "price", "why", "who"), prices, right=(1, 2)))
    return 0


def _counted(shop: Shop, args: Namespace) -> list[tuple[int, int]]:
    pairs = list(zip(args.counts[::2], args.counts[1::2], strict=False))
    if len(args.counts) % 2:
        raise BadInput(f"how many of {args.counts[-1]} are there?", hint="Pairs: NUMBER COUNT NUMBER COUNT …")
    if args.file:
        try:
            with Path(args.file).open(encoding="utf-8", newline="") as text:
                pairs += [(row[0], row[1]) for row in csv.reader(text) if len(row) > 1 and row[1].strip()]
        except (OSError, UnicodeDecodeError, csv.Error) as error:
            raise StoreTrouble(f"cannot read {args.file}: {error}") from error
    return [(part_numbered(shop, number)[0], milli(count.strip())) for number, count in pairs]


def count(args: Namespace) -> int:
    """Write down what was counted."""
    shop = shop_of(args)
    act(args, CountStock(tuple(_counted(shop, args)), args.note), shop)
    return 0


def _signed(text: str) -> int:
    return -milli(text[1:]) if text.startswith("-") else milli(text.removeprefix("+"))


def correct(args: Namespace) -> int:
    """Correct a stock by a difference."""
    shop = shop_of(args)
    act(args, CorrectStock(part_numbered(shop, args.number)[0], _signed(args.qty), args.reason), shop)
    return 0


def back(args: Namespace) -> int:
    """Send a part back to its supplier."""
    shop = shop_of(args)
    to = reads.supplier_named(shop, args.to).id if args.to else None
    part = part_numbered(shop, args.number)[0]
    act(args, SendBack(part, milli(args.qty), args.reason, minor(args.credit, "credit"), to), shop)
    return 0


def check(args: Namespace) -> int:
    """Say whether every stock is the sum of its movements; status 1 when one is not."""
    shop = shop_of(args)
    wrong = out_of_step(shop.fetch)
    for _key, number, name, stands, moved in wrong:
        print(clean(f"! {number} {name}: {stands / 1000:g} written, its movements come to {moved / 1000:g}"))
    named = wrong_suppliers(shop.fetch)
    for _key, number, name, said, meant in named:
        print(clean(f"! {number} {name}: says {said or 'no supplier'}, points at {meant or 'none'}"))
    if not wrong and not named:
        print("Every stock is the sum of its movements.")
    return 1 if wrong or named else 0


def undo(args: Namespace) -> int:
    """Take the last act of today on the stores back, or only say what it was."""
    shop = shop_of(args)
    person = who(shop, args)
    mine = last_store_acts(shop, person.id)
    if not mine:
        raise Refused(f"{person.name} did nothing on the stores today that could be taken back")
    last = mine[0]
    if not args.look:
        act(args, TakeBack(last.id), shop)
        return 0
    print(clean(f"{last.at:%H:%M}  {' '.join(last.said)}"))
    for line in last.effects:
        print(clean(f"       {line}"))
    return 0


def suppliers(args: Namespace) -> int:
    """List the suppliers."""
    found = reads.suppliers(shop_of(args))
    if args.json:
        print_json(found)
        return 0
    rows = [
        (
            s.name,
            s.phone,
            s.email,
            s.account,
            f"{s.usual_days} days" if s.usual_days else "-",
            s.parts,
            s.note,
        )
        for s in found
    ]
    head = ("supplier", "telephone", "e-mail", "account", "takes", "parts", "note")
    print(table(head, rows, right=(5,)) if rows else "No supplier is written down yet.")
    return 0


def supplier_add(args: Namespace) -> int:
    """Write a supplier down."""
    days = int(args.days or 0)
    act(
        args,
        AddSupplier(args.name, args.phone or "", args.email or "", args.account or "", args.note or "", days),
    )
    return 0


def supplier_change(args: Namespace) -> int:
    """Change what is known of a supplier."""
    shop = shop_of(args)
    row = reads.supplier_named(shop, args.name)
    command = over(
        row,
        ChangeSupplier(
            row.id, row.version, args.rename, args.phone, args.email, args.account, args.note, args.days
        ),
    )
    act(args, command, shop)
    return 0
