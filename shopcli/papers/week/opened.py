"""The rows a figure is made of, as a table with what they come to."""

from shopcli.errors import Refused
from shopcli.papers.week.model import Head, Line, Page, Sheet
from shopcli.papers.week.pen import Pen, screen_pen
from shopcli.shop.week_period import Opened, OpenedRow, Period
from shopcli.shop.week_rights import may_open
from shopcli.store.reads.week_rows import rows_of
from shopcli.store.shop import Shop

NONE = "No rows: the figure is nothing."


def opened_for(shop: Shop, period: Period, key: str, role: str, *, plain: bool = False) -> Page:
    """Return the rows of a figure as somebody of that role may see them.

    Raises
    ------
    NotFound
        When no figure has such a key.
    Refused
        When it is not for their eyes.
    """
    if not may_open(role, key):
        raise Refused("that figure is for the owner", hint="Ask the owner.")
    return opened_page(
        rows_of(shop, period, key),
        screen_pen(shop.settings.currency, plain=plain, tax_word=shop.settings.tax_word),
    )


def opened_page(of: Opened, pen: Pen) -> Page:
    """Return the rows of a figure as a page of one table; the last line is what they come to."""
    timed = any(row.seconds is not None for row in of.rows)
    priced = any(row.amount is not None for row in of.rows)
    heads = [
        Head("card", "card", right=False, least=6),
        Head("car", "registration", right=False, least=7),
        Head("what", "what", right=False, fills=True),
        Head("more", "detail", right=False),
        Head("day", "day", right=False),
    ]
    heads += [Head("time", "seconds")] if timed else []
    heads += [Head("sum", "amount")] if priced else []
    lines = [_line(row, pen, timed=timed, priced=priced) for row in of.rows]
    if lines:
        total = OpenedRow(None, "", "", f"{of.count} in all", "", None, 0, of.seconds, of.amount)
        lines.append(_line(total, pen, timed=timed, priced=priced, strong=True))
    sheet = Sheet("rows", of.title, tuple(heads), tuple(lines), empty=NONE)
    return Page("rows", of.title, lambda: ((sheet,), None))


def _line(row: OpenedRow, pen: Pen, *, timed: bool, priced: bool, strong: bool = False) -> Line:
    key = f"card:{row.card_id}" if row.card_id is not None else ""
    texts = (row.card or ("" if strong else "-"), row.registration, row.what, row.detail)
    cells = [pen.text(text, key) for text in texts]
    cells.append(pen.text("") if row.on is None else pen.date(row.on, key))
    cells += [pen.hours(row.seconds, key)] if timed else []
    cells += [pen.money(row.amount, key)] if priced else []
    return Line(tuple(cells), strong=strong)
