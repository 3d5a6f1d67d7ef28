"""Commands of the sheets: numbers with their layers and history, own sheets, facts."""

from argparse import Namespace
from collections.abc import Sequence
from typing import Any

from shopcli.cli.common import act, clean, print_json, shop_of, table
from shopcli.errors import BadInput, NotFound
from shopcli.marks import number_state
from shopcli.shop.seen import over
from shopcli.shop.sheet_commands import (
    ChangeSheet,
    ChangeVehicleFacts,
    EnterOnSheet,
    EnterSpec,
    Facts,
    MakeSheet,
    WithdrawNumber,
)
from shopcli.shop.sheet_views import FILE, SHEET, VEHICLE, EntryView, NumberView, SheetView, Standing
from shopcli.store.reads import sheets
from shopcli.store.shop import Shop
from shopcli.units.printed import Printed, read_printed
from shopcli.units.printed_text import one_line
from shopcli.worklists.words import did_you_mean


def sheet_of(shop: Shop, wanted: str) -> SheetView:
    """Return the numbers of a vehicle or sheet."""
    found = sheets.choose(shop, wanted)
    return sheets.sheet(shop, found.where, found.key, found.name)


def own_sheet(shop: Shop, wanted: str) -> SheetView:
    """Return the numbers of a vehicle or an own sheet: what may be changed."""
    view = sheet_of(shop, wanted)
    if view.where == FILE:
        raise BadInput(
            f"{view.name} is a shipped sheet and stays as it is",
            hint=f"Make one of our own: shopcli sheet-make NAME --title TITLE --under {view.name}",
        )
    return view


# Looking ----------------------------------------------------------------------------------------------------


def show(args: Namespace) -> int:
    """Print the numbers of a vehicle or sheet."""
    shop = shop_of(args)
    view = sheet_of(shop, args.where)
    if args.history:
        return _history(shop, view, args.history, json=args.json)
    words = " ".join(args.text).casefold().split()
    found = [n for n in view.numbers if _meant(n, words, every=args.all)]
    if args.json:
        print_json(
            {
                "name": view.name,
                "title": view.title,
                "where": view.where,
                "layers": view.layers,
                "numbers": found,
            }
        )
        return 0
    print(clean(f"{view.name}: {view.title}"))
    print(clean(f"layers: {' over '.join(layer.name for layer in view.layers)}"))
    if view.trouble:
        print(clean(f"! {view.trouble}"))
    rows = [row for number in found for row in _rows(number)]
    print(table(("", "number", "as printed", "state", "from", "on"), rows))
    return 0


def _meant(number: NumberView, words: Sequence[str], *, every: bool) -> bool:
    text = f"{number.name} {number.label} {number_state(_state(number))} {_source(number)}".casefold()
    return all(w in text for w in words) and (every or bool(number.layers) or "missing" in words)


def _source(number: NumberView) -> str:
    return number.shown.spec.provenance.words() if number.shown else ""


def _state(number: NumberView) -> str:
    if number.shown is None:
        return "missing"
    return "to confirm" if number.to_confirm else "differs" if number.against else "fine"


def _rows(number: NumberView) -> list[tuple[str, ...]]:
    """Return a number as rows: the one that counts, then those it hides, then what an earlier document said."""
    sign = number_state(_state(number)).split(" ", 1)[0]
    if number.shown is None:
        return [(sign, number.name, "not entered", "", "", "")]
    hidden = [
        _row("", "", one, "differs: " if any(one is a for a in number.against) else "hidden: ")
        for one in number.layers[1:]
    ]
    before = [_row("", "", one, "before: ") for one in number.against if one.past]
    return [_row(sign, number.name, number.shown, ""), *hidden, *before]


def _row(sign: str, name: str, one: Standing, lead: str) -> tuple[str, ...]:
    spec = one.spec
    return sign, name, f"{lead}{one_line(one.printed)}", spec.state, spec.provenance.words(), one.layer.name


def _history(shop: Shop, view: SheetView, name: str, *, json: bool) -> int:
    if view.number(name) is None:
        raise NotFound(
            f"no number is called '{name[:60]}'", hint=did_you_mean(name, [n.name for n in view.numbers])
        )
    entries = sheets.history(shop, view.where, view.key, name)
    if json:
        print_json(entries)
        return 0
    head = ("entry", "as printed", "from", "entered", "by", "why", "put aside")
    print(table(head, [_entry(e) for e in entries], right=(0,)))
    return 0


def _entry(entry: EntryView) -> tuple[object, ...]:
    aside = ""
    if entry.put_aside is not None:
        aside = f"{entry.put_aside:%Y-%m-%d} by {entry.put_aside_by or '-'}"
        aside += f", withdrawn: {entry.withdrawn_for}" if entry.withdrawn_for else ""
    source = entry.spec.provenance.words()
    return (
        entry.row,
        one_line(entry.printed),
        source,
        f"{entry.entered:%Y-%m-%d %H:%M}",
        entry.entered_by,
        entry.why,
        aside,
    )


# Numbers ----------------------------------------------------------------------------------------------------


def number(args: Namespace) -> int:
    """Give a vehicle or an own sheet a number, or confirm one."""
    shop = shop_of(args)
    view = own_sheet(shop, args.where)
    printed = _printed(shop, view, args)
    make = EnterSpec if view.where == VEHICLE else EnterOnSheet
    act(
        args,
        make(
            view.key,
            args.name,
            printed.low,
            printed.nominal,
            printed.high,
            state=args.state,
            kind=args.kind,
            document=args.document,
            page=args.page,
            confirm=args.confirm,
            also=printed.also,
            note=args.note,
            why=args.why,
            label=args.label,
            quantity=args.quantity,
            unit=args.unit,
        ),
        shop,
    )
    return 0


def _printed(shop: Shop, view: SheetView, args: Namespace) -> Printed:
    if not args.printed:
        return Printed(args.low, args.nominal, args.high, args.also)
    known = view.number(args.name) or shop.library.kinds.get(args.name)
    quantity = known.quantity if known else args.quantity
    if not quantity:
        raise NotFound(
            f"no sheet knows a number called '{args.name[:60]}'", hint="A new one needs its --quantity."
        )
    from shopcli.shop.spec_entry import unit_symbol

    return read_printed(args.printed, quantity, unit_symbol(args.unit, quantity) or None)


def withdraw(args: Namespace) -> int:
    """Withdraw a number."""
    shop = shop_of(args)
    view = own_sheet(shop, args.where)
    entries = sheets.history(shop, view.where, view.key, args.name)
    wanted = [e for e in entries if (e.row == args.entry if args.entry else e.put_aside is None)]
    if not wanted:
        raise NotFound(
            f"{view.name} itself has no such entry of {args.name[:60]}",
            hint=f"See: shopcli numbers {view.name} --history {args.name[:60]}",
        )
    act(args, WithdrawNumber(view.where, wanted[0].row, args.reason), shop)
    return 0


# Sheets and facts -------------------------------------------------------------------------------------------


def _pairs(texts: Sequence[str]) -> Facts:
    pairs = []
    for text in texts:
        name, equals, value = text.partition("=")
        if not (name.strip() and equals):
            raise BadInput(f"'{clean(text[:60])}' is no fact", hint="Write it like volts=6.")
        pairs.append((name.strip().casefold().replace(" ", "_"), value.strip()))
    return tuple(pairs)


def _changed(view: SheetView, texts: Sequence[str]) -> Facts | None:
    """Return all facts of its own with those given changed, or None when none is."""
    return tuple({**view.facts, **dict(_pairs(texts))}.items()) if texts else None


def make(args: Namespace) -> int:
    """Make an own sheet."""
    act(args, MakeSheet(args.name, args.title, args.under or "", args.about or "", _pairs(args.fact)))
    return 0


def change(args: Namespace) -> int:
    """Change an own sheet."""
    shop = shop_of(args)
    view = own_sheet(shop, args.name)
    if view.where != SHEET:
        raise BadInput(f"{view.name} is a vehicle", hint="Its facts: shopcli facts REGISTRATION --fact …")
    facts_now = _changed(view, args.fact)
    act(
        args,
        over(view, ChangeSheet(view.key, view.version, args.title, args.under, args.about, facts_now)),
        shop,
    )
    return 0


def facts(args: Namespace) -> int:
    """Show facts, or change those of a vehicle or an own sheet."""
    shop = shop_of(args)
    if args.fact or args.sheet is not None:
        view = own_sheet(shop, args.where)
        own = _changed(view, args.fact)
        command: Any = (
            over(view, ChangeVehicleFacts(view.key, view.version, args.sheet, own), sheet="under")
            if view.where == VEHICLE
            else over(view, ChangeSheet(view.key, view.version, under=args.sheet, facts=own))
        )
        act(args, command, shop)
        return 0
    view = sheet_of(shop, args.where)
    every = {**view.inherited, **view.facts}
    if args.json:
        print_json(
            {
                "name": view.name,
                "under": view.under,
                "own": dict(view.facts),
                "inherited": dict(view.inherited),
            }
        )
        return 0
    rows = [
        (name, text, "own" if name in view.facts else "wider sheet") for name, text in sorted(every.items())
    ]
    print(table(("fact", "is", "from"), rows))
    return 0
