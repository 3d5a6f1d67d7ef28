"""Commands that only look."""

from argparse import Namespace
from pathlib import Path

from shopcli.cli.common import card_of, clean, print_json, shop_of, table, who
from shopcli.errors import StoreTrouble
from shopcli.store.reads import desk
from shopcli.store.reads.found import find_customers


def show(args: Namespace) -> int:
    """Print one card's work list, in the order of work."""
    from shopcli.store.reads import orders

    shop = shop_of(args)
    view = card_of(shop, args)
    view = orders.in_order(view, orders.order(shop, view.id))
    if args.json:
        print_json(view)
        return 0
    from shopcli.papers.render import bench_list_text
    from shopcli.units import IMPERIAL, METRIC

    prefs = IMPERIAL if who(shop, args).units == "imperial" else METRIC
    print(bench_list_text(view, prefs, plain=shop.settings.ascii_only), end="")
    return 0


def summary(args: Namespace) -> int:
    """Print or write the summary of a card."""
    from shopcli.store.reads.bench import card_id
    from shopcli.store.reads.summary import summary as read

    shop = shop_of(args)
    view = read(shop, card_id(shop, args.card))
    if args.json:
        print_json(view)
        return 0
    from shopcli.papers.render import summary_html, summary_text

    text = summary_html(view) if args.html else summary_text(view, plain=shop.settings.ascii_only)
    if args.out:
        try:
            Path(args.out).write_text(text, encoding="utf-8")
        except OSError as error:
            raise StoreTrouble(f"cannot write {args.out}: {error.strerror}") from error
        print(f"Written: {args.out}")
        return 0
    print(text, end="")
    return 0


def people(args: Namespace) -> int:
    """Print who works here."""
    from shopcli.store.reads.people import people as read
    from shopcli.store.reads.people import running_clocks

    shop = shop_of(args)
    everybody, clocks = read(shop), {c.person_id: c for c in running_clocks(shop)}
    if args.json:
        print_json(everybody)
        return 0
    rows = [
        (p.name, p.role, p.units, f"{clocks[p.id].card} {clocks[p.id].task}" if p.id in clocks else "-")
        for p in everybody
    ]
    print(table(("name", "role", "units", "clock"), rows))
    return 0


def customers(args: Namespace) -> int:
    """Print customers."""
    shop = shop_of(args)
    found = find_customers(shop, " ".join(args.text), limit=200)
    if args.json:
        print_json(found)
        return 0
    print(table(("name", "phone", "vehicles"), [(c.name, c.phone, ", ".join(c.vehicles)) for c in found]))
    return 0


def vehicles(args: Namespace) -> int:
    """Print vehicles with what is carried over."""
    shop = shop_of(args)
    found = desk.find_vehicles(shop, " ".join(args.text), limit=200)
    if args.json:
        print_json(found)
        return 0
    for v in found:
        name = desk.vehicle_name(v.make, v.model, v.year)
        print(
            clean(
                f"{v.registration}  {name}  ({v.customer})  sheet {v.sheet or '-'}  cards {', '.join(v.open_cards) or '-'}"
            )
        )
        for f in v.findings:
            print(clean(f"    {f.severity}: {f.place}: {f.what} ({f.card})"))
        for o in v.owed:
            print(clean(f"    owed: {o.title} ({o.card})"))
    return 0
