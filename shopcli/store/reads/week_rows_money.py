"""The invoices, cards and parts behind the figures of money."""

from decimal import Decimal

from shopcli.shop.amounts import from_minor, rounded
from shopcli.shop.bill_numbers import bill_number
from shopcli.shop.week_to_do import OVERDUE_DAYS
from shopcli.shop.week_views import OpenedRow, Period
from shopcli.store.reads.unsettled import Unsettled, unsettled
from shopcli.store.reads.week_bounds import FROM_CARD, REFERENCE, day_of, weeks_sql
from shopcli.store.reads.week_money import SURCHARGES, band_of, owing, unbilled_by_card
from shopcli.store.reads.week_rows_flow import Answer, narrowed
from shopcli.store.shop import Shop

INVOICES = f"SELECT {REFERENCE}, i.number, i.issued_at, i.net_minor {FROM_CARD} JOIN invoice i ON i.card_id = c.id WHERE i.{{weeks}} ORDER BY i.number"
CREDITS = f"SELECT {REFERENCE}, n.number, n.reason, n.issued_at, n.net_minor {FROM_CARD} JOIN credit_note n ON n.card_id = c.id WHERE n.{{weeks}} ORDER BY n.number"
OFF = f"SELECT {REFERENCE}, i.number, i.issued_at, o.minor {FROM_CARD} JOIN invoice i ON i.card_id = c.id JOIN taken_off o ON o.invoice_id = i.id WHERE o.{{weeks}} ORDER BY i.number"
PARTS = f"SELECT {REFERENCE}, i.number, i.issued_at, i.parts_minor - i.parts_cost_minor {FROM_CARD} JOIN invoice i ON i.card_id = c.id WHERE i.{{weeks}} AND (i.parts_minor <> 0 OR i.parts_cost_minor <> 0) ORDER BY i.number"
LABOUR = f"SELECT {REFERENCE}, i.number, i.issued_at, i.labour_minor {FROM_CARD} JOIN invoice i ON i.card_id = c.id WHERE i.{{weeks}} AND i.labour_minor <> 0 ORDER BY i.number"
EARNED = f"""
SELECT {REFERENCE}, i.number, i.issued_at, SUM(h.seconds), SUM(h.minor) {FROM_CARD} JOIN invoice i ON i.card_id = c.id
JOIN sold_hours h ON h.invoice_id = i.id WHERE h.{{weeks}} AND h.template = ?
GROUP BY c.id, c.number, v.registration, i.number, i.issued_at ORDER BY i.number"""
CARD = f"SELECT {REFERENCE}, c.title, c.state, c.opened_at {FROM_CARD} WHERE c.id = ?"
STOCK = "SELECT number, name, stock_milli, cost_minor, unit FROM part WHERE stock_milli > 0 ORDER BY stock_milli * CAST(cost_minor AS BIGINT) DESC, number"


def _where(sql: str, period: Period, words: tuple[str, ...]) -> tuple[str, tuple[object, ...]]:
    where, params = weeks_sql(narrowed(period, words))
    first, _, last = where.partition(" AND ")
    alias = sql[sql.index("{weeks}") - 2 : sql.index("{weeks}")]
    return sql.format(weeks=f"{first} AND {alias}{last}"), params


def _documents(shop: Shop, period: Period, words: tuple[str, ...], sql: str) -> list[OpenedRow]:
    text, params = _where(sql, period, words)
    prefix = shop.settings.invoice_prefix
    return [
        OpenedRow(
            *row[:3], bill_number(prefix, row[3]), "", day_of(shop, row[4]), amount=from_minor(int(row[5]))
        )
        for row in shop.fetch(text, params)
    ]


def invoiced(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return the invoices, net."""
    return "Invoiced", _documents(shop, period, words, INVOICES)


def discount(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return what was taken off each invoice."""
    return "Taken off", _documents(shop, period, words, OFF)


def parts(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return what the parts of each invoice brought over what they cost."""
    return "Margin on parts", _documents(shop, period, words, PARTS)


def labour(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return the labour of each invoice."""
    return "Labour invoiced", _documents(shop, period, words, LABOUR)


def credited(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return the credit notes, net."""
    text, params = _where(CREDITS, period, words)
    prefix = shop.settings.credit_prefix
    return "Credited", [
        OpenedRow(
            *row[:3],
            bill_number(prefix, row[3]),
            row[4],
            day_of(shop, row[5]),
            amount=from_minor(int(row[6])),
        )
        for row in shop.fetch(text, params)
    ]


def earned(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return the labour of a template by invoice."""
    text, params = _where(EARNED, period, ())
    prefix = shop.settings.invoice_prefix
    return "Earned", [
        OpenedRow(
            *row[:3],
            bill_number(prefix, row[3]),
            "",
            day_of(shop, row[4]),
            seconds=int(row[5]),
            amount=from_minor(int(row[6])),
        )
        for row in shop.fetch(text, (*params, words[1]))
    ]


def unbilled(shop: Shop, _period: Period, _words: tuple[str, ...]) -> Answer:
    """Return the open cards with what each would be billed for now, the largest first."""
    found = []
    for key, amount in sorted(unbilled_by_card(shop).items(), key=lambda item: -item[1]):
        row = shop.fetch(CARD, (key,))[0]
        found.append(OpenedRow(*row[:5], day_of(shop, row[5]), amount=amount))
    return "Done and not billed", found


def unpaid(shop: Shop, _period: Period, words: tuple[str, ...]) -> Answer:
    """Return the invoices not paid, of one age or all, the oldest first; ``overdue`` are those long past their day."""
    today = day_of(shop, shop.at())

    def wanted(one: Unsettled) -> bool:
        if words == ("overdue",):
            return one.days_past(today) > OVERDUE_DAYS
        return not words or band_of(one, shop) == words[0]

    found = [
        OpenedRow(
            one.card_id,
            one.card,
            one.registration,
            f"{one.number}  {one.customer}",
            " ".join(filter(None, (f"due {one.due_by.isoformat()}", one.phone))),
            one.issued,
            amount=one.due,
        )
        for one in owing(unsettled(shop))
        if wanted(one)
    ]
    return "Not paid", found


def stock(shop: Shop, _period: Period, _words: tuple[str, ...]) -> Answer:
    """Return the parts on the shelf at what they cost, the dearest first; the sum is rounded once."""
    rows, exact, so_far = [], Decimal(0), Decimal(0)
    for number, name, milli, cost, unit in shop.fetch(STOCK):
        exact += Decimal(milli) * cost / 100_000
        part = rounded(exact) - so_far
        so_far += part
        rows.append(OpenedRow(None, number, "", name, f"{Decimal(milli) / 1000:f} {unit}", None, amount=part))
    return "On the shelf", rows


def surcharges(shop: Shop, _period: Period, _words: tuple[str, ...]) -> Answer:
    """Return the exchange surcharges somebody still owes for."""
    found = []
    for card_id, what, owed, stands, since in shop.fetch(SURCHARGES):
        number, plate = shop.fetch(CARD, (card_id,))[0][1:3]
        on = day_of(shop, since) if since is not None else None
        found.append(OpenedRow(card_id, number, plate, what, stands, on, amount=from_minor(int(owed))))
    return "Exchange surcharges", found


QUESTIONS = {
    "invoiced": invoiced,
    "credited": credited,
    "discount": discount,
    "parts": parts,
    "labour": labour,
    "earned": earned,
    "unbilled": unbilled,
    "unpaid": unpaid,
    "stock": stock,
    "surcharges": surcharges,
}
