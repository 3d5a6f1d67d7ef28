"""The command of the books: printed by account, or written for the accountant; its sums are held against the documents."""

import sys
from argparse import Namespace
from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from shopcli.cli.common import clean, print_json, shop_of, table
from shopcli.present import amount, money
from shopcli.shop.ledger import Ledger, LedgerLine
from shopcli.shop.parts import iso_date

Place = tuple[str, str, str]


def ledger(args: Namespace) -> int:
    """Print or write the books; status 1 when they do not agree with the documents."""
    from shopcli.store.reads.ledger import ledger as books

    shop = shop_of(args)
    last = _day(args.to) or shop.local(shop.at()).date()
    view = books(shop, _day(args.since) or last.replace(day=1), last)
    if args.csv:
        from shopcli.cli.sheet import write_file
        from shopcli.papers.ledger_csv import ledger_csv

        write_file(args.csv, ledger_csv(view).encode("utf-8"))
    if args.json:
        print_json(view)
    elif not args.csv:
        _show(view)
    for what in view.wrong:
        print(clean(f"Does not agree: {what}."), file=sys.stderr)
    return 1 if view.wrong else 0


def _day(text: str) -> date | None:
    return date.fromisoformat(iso_date(text, "day")) if text else None


def _show(view: Ledger) -> None:
    rows = [(*place, *map(amount, sums)) for place, sums in _by_account(view.lines)]
    print(clean(table(("account", "what", "rate", "net", "tax", "sum"), rows, right=(3, 4, 5))))
    print()
    for words, sum_ in (
        (f"Customers owed before {view.first}", view.opening),
        ("Sold, without tax", view.net),
        ("Tax", view.tax),
        ("Money taken", view.taken),
        (f"Customers owe after {view.last}", view.closing),
    ):
        print(f"{words:<36}{money(sum_, view.currency):>16}")
    if not view.wrong:
        print(f"Every sum agrees with its document ({view.documents}).")


def _by_account(lines: Iterable[LedgerLine]) -> list[tuple[Place, list[Decimal]]]:
    sums: dict[Place, list[Decimal]] = {}
    for line in lines:
        so_far = sums.setdefault((line.account or "-", line.what, line.rate), [Decimal("0.00")] * 3)
        for n, part in enumerate((line.net, line.tax, line.gross)):
            so_far[n] += part
    return sorted(sums.items())
