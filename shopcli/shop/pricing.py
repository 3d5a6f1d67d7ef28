"""From clock and parts to the lines of a bill. Rounding labour to the shop's unit happens here and nowhere else."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from shopcli.shop.amounts import from_minor, half_up
from shopcli.shop.fetching import Fetch
from shopcli.shop.labour_pricing import labour_quantity, labour_units
from shopcli.shop.money import Line
from shopcli.shop.settings import Settings

LABOUR_SQL = """
SELECT t.id, t.title, SUM(COALESCE(c.ended_at, ?) - c.started_at)
FROM clock_entry c JOIN task t ON t.id = c.task_id
WHERE c.card_id = ? GROUP BY t.id, t.title, t.position ORDER BY t.position"""
PARTS_SQL = """
SELECT id, description, qty_milli, unit, price_minor,
       CASE WHEN old_unit_back_at IS NULL THEN surcharge_minor ELSE 0 END, vat, customers_own
FROM card_part WHERE card_id = ? AND state = 'fitted' ORDER BY id"""
ITEMS_SQL = """
SELECT id, kind, description, qty_milli, price_minor, vat FROM bill_item
WHERE card_id = ? AND removed_at IS NULL ORDER BY id"""
# Category AE of EN 16931-1: the customer accounts for the tax.
REVERSED = "reverse charge"
REVERSED_SQL = """
SELECT k.id FROM card c JOIN customer k ON k.id = c.customer_id WHERE c.id = ? AND k.reverse_charge AND k.vat_number <> ''"""
OUTWORK_SQL = "SELECT id, what, price_minor, vat FROM outwork WHERE card_id = ? AND NOT (sent = '' AND back <> '') ORDER BY id"


def priced_line(
    settings: Settings, kind: str, key: str, text: str, qty: Decimal, unit: str, price: Decimal, vat: str
) -> Line:
    """Return a line with its VAT looked up in the settings by name."""
    rate = settings.vat(vat)
    return Line(
        id=key,
        kind=kind,
        description=text,
        qty=qty,
        unit=unit,
        price=price,
        vat=rate.name,
        percent=rate.percent,
        category=rate.category,
    )


def labour_lines(fetch: Fetch, card_id: int, settings: Settings, at: int) -> list[Line]:
    """Return one line a task with time on it, rounded to the shop's unit; a running clock counts up to `at`."""
    unit = settings.labour_unit_minutes
    price = from_minor(settings.labour_minor)
    lines = []
    for task_id, title, seconds in fetch(LABOUR_SQL, (at, card_id)):
        units = labour_units(int(seconds), unit, settings.labour_rounding)
        if units:
            qty, measure = labour_quantity(units, unit)
            lines.append(
                priced_line(
                    settings, "labour", f"L{task_id}", title, qty, measure, price, settings.labour_vat
                )
            )
    return lines


def part_lines(fetch: Fetch, card_id: int, settings: Settings) -> list[Line]:
    """Return a line for each fitted part, and one for each exchange surcharge still owed."""
    lines = []
    for key, text, qty, unit, price, surcharge, vat, own in fetch(PARTS_SQL, (card_id,)):
        amount = Decimal(qty) / 1000
        name = f"{text} (customer's own)" if own else text
        lines.append(priced_line(settings, "part", f"P{key}", name, amount, unit, from_minor(price), vat))
        if surcharge:
            lines.append(
                priced_line(
                    settings,
                    "surcharge",
                    f"X{key}",
                    f"Exchange surcharge: {text}",
                    amount,
                    "pc",
                    from_minor(surcharge),
                    vat,
                )
            )
    return lines


def bill_lines(fetch: Fetch, card_id: int, settings: Settings, at: int) -> tuple[Line, ...]:
    """Return every line of a card's bill as it stands at `at` seconds UTC."""
    return finished(
        lines_put_down(fetch, card_id, settings, at), settings, reverse=is_reversed(fetch, card_id)
    )


def lines_put_down(fetch: Fetch, card_id: int, settings: Settings, at: int) -> tuple[Line, ...]:
    """Return the lines of a card's bill that stand in the records: without sundries, whoever accounts for the tax."""
    lines = labour_lines(fetch, card_id, settings, at) + part_lines(fetch, card_id, settings)
    for key, what, price, vat in fetch(OUTWORK_SQL, (card_id,)):
        lines.append(
            priced_line(settings, "outwork", f"O{key}", what, Decimal(1), "pc", from_minor(price), vat)
        )
    for key, kind, what, qty, price, vat in fetch(ITEMS_SQL, (card_id,)):
        amount = Decimal(qty) / 1000
        lines.append(priced_line(settings, kind, f"I{key}", what, amount, "pc", from_minor(price), vat))
    return tuple(lines)


def is_reversed(fetch: Fetch, card_id: int) -> bool:
    """Whether the customer of a card accounts for the tax."""
    return bool(fetch(REVERSED_SQL, (card_id,)))


def finished(lines: Sequence[Line], settings: Settings, *, reverse: bool) -> tuple[Line, ...]:
    """Return lines with their sundries, untaxed where the customer accounts for the tax."""
    whole = (*lines, *sundries(lines, settings))
    return reversed_lines(whole) if reverse else whole


def reversed_lines(lines: Iterable[Line]) -> tuple[Line, ...]:
    """Return lines of a bill whose tax the customer accounts for: what is taxed is not, the rest stays as it is."""
    return tuple(
        replace(line, vat=REVERSED, percent=Decimal(0), category="AE") if line.category == "S" else line
        for line in lines
    )


def sundries(lines: Iterable[Line], settings: Settings) -> Iterator[Line]:
    """Yield the line of sundries where the shop reckons them: a share of labour, up to its limit."""
    labour = sum((line.net for line in lines if line.kind == "labour"), Decimal(0))
    amount = half_up(labour * settings.sundries_percent / 100)
    if settings.sundries_most_minor:
        amount = min(amount, from_minor(settings.sundries_most_minor))
    if amount > 0:
        yield priced_line(settings, "sundry", "S", "Sundries", Decimal(1), "pc", amount, settings.labour_vat)


def paid(fetch: Fetch, card_id: int) -> Decimal:
    """Return the money taken on a card."""
    rows = fetch("SELECT COALESCE(SUM(amount_minor), 0) FROM payment WHERE card_id = ?", (card_id,))
    return from_minor(int(rows[0][0]))
