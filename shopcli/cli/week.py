"""Commands of the week: the report printed or written, one table of it, the rows of a figure, a time taken over.

What is printed is what the person named may see; nothing is asked, so it can be run by a timer.
"""

import sys
from argparse import Namespace
from datetime import date, timedelta
from decimal import Decimal, InvalidOperation
from pathlib import Path

from shopcli.cli.common import act, clean, print_json, shop_of, table
from shopcli.cli.opening import signed_in
from shopcli.errors import BadInput, NotFound
from shopcli.papers.week.model import Report, Sheet
from shopcli.shop.week_period import Period
from shopcli.store.reads.week_bounds import this_week
from shopcli.store.shop import Shop

WEEKS_MOST = 520
WHOLE = 1000


def week(args: Namespace) -> int:
    """Print or write the report of a period."""
    shop = shop_of(args)
    role = signed_in(shop, args).role
    period = period_of(shop, args.week, args.weeks)
    if args.rows:
        return _rows(shop, period, args.rows, role, plain=args.ascii)
    if args.table or args.json or args.csv:
        return _tables(shop, period, role, args)
    return _paper(shop, period, role, args)


def period_of(shop: Shop, text: str, weeks: int) -> Period:
    """Return the period that ends with the week named.

    Raises
    ------
    BadInput
        When no such week can be, or so many.
    """
    if not 1 <= weeks <= WEEKS_MOST:
        raise BadInput(f"{weeks} weeks", hint=f"From 1 to {WEEKS_MOST}.")
    now = this_week(shop).monday
    last = (
        now + timedelta(weeks=int(text))
        if text.lstrip("-").isdecimal() and text.startswith("-")
        else _monday(text, now)
    )
    if last > now:
        raise BadInput(f"the week {text} has not begun", hint="Name this week or one before.")
    return Period(last - timedelta(weeks=weeks - 1), weeks)


def _monday(text: str, now: date) -> date:
    if not text:
        return now
    year, _, number = text.upper().partition("-W")
    try:
        return date.fromisocalendar(int(year), int(number), 1)
    except ValueError as error:
        raise BadInput(
            f"'{clean(text)[:30]}' is not a week", hint="Write it like 2026-W48, or -1 for the last one."
        ) from error


def _paper(shop: Shop, period: Period, role: str, args: Namespace) -> int:
    from shopcli.cli.papers import give
    from shopcli.papers.week.giving import ready_week

    return give(shop, ready_week(shop, period, role, full=args.full), args)


def _tables(shop: Shop, period: Period, role: str, args: Namespace) -> int:
    from shopcli.papers.week.export import report_data
    from shopcli.papers.week.giving import report_for, write_tables

    report = report_for(shop, period, role)
    if args.csv:
        folder = Path(args.csv).expanduser()
        if not folder.is_dir():
            raise BadInput("there is no such folder", hint="Make it, or name another.")
        for path in write_tables(report, folder):
            print(clean(str(path)), file=sys.stderr)
    if args.json:
        print_json(report_data(report))
    if args.table:
        _print(_named(report, args.table))
    return 0


def _named(report: Report, name: str) -> Sheet:
    found = next((sheet for sheet in report.sheets if sheet.name == name), None)
    if found is None:
        names = ", ".join(sheet.name for sheet in report.sheets)
        raise NotFound(f"no table is called '{clean(name)[:40]}'", hint=f"There are: {names}.")
    return found


def _print(sheet: Sheet) -> None:
    if not sheet.lines:
        print(clean(sheet.empty))
        return
    rows = [tuple(cell.said for cell in line.cells) for line in sheet.lines]
    right = tuple(n for n, head in enumerate(sheet.heads) if head.right)
    print(clean(table(tuple(head.name for head in sheet.heads), rows, right=right)))


def _rows(shop: Shop, period: Period, key: str, role: str, *, plain: bool) -> int:
    from shopcli.papers.week.opened import opened_for

    page = opened_for(shop, period, key, role, plain=plain)
    print(clean(page.title))
    for sheet in page.sheets:
        _print(sheet)
    return 0


def listed_time(args: Namespace) -> int:
    """List a job at another time than its template does."""
    from shopcli.shop.own_time_commands import SetOwnTime

    try:
        factor = Decimal(args.times.replace(",", "."))
        per_mille = int((factor * WHOLE).to_integral_value())
    except (InvalidOperation, ValueError, OverflowError) as error:
        raise BadInput(f"'{clean(args.times)[:30]}' is not a factor", hint="Write it like 1.35.") from error
    act(args, SetOwnTime(args.template, per_mille, why=args.why))
    return 0
