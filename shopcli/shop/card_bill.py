"""A card's bill as it stands: its lines with what is taken off each, what stands at the foot, and the totals."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopcli.shop.amounts import ZERO, from_minor, rounded
from shopcli.shop.bill import BillAllowance, BillLine
from shopcli.shop.discounts import Given, given, off_the_whole
from shopcli.shop.fetching import Fetch
from shopcli.shop.money import Allowance, Line, Totals, total
from shopcli.shop.pricing import bill_lines, paid
from shopcli.shop.settings import Settings

SERIALS = "SELECT id, serial FROM card_part WHERE card_id = ? AND serial <> '' AND state = 'fitted'"


@dataclass(frozen=True, slots=True)
class CardBill:
    """The figures of a bill that is not issued yet."""

    lines: tuple[BillLine, ...]
    allowances: tuple[BillAllowance, ...]
    totals: Totals


def card_bill(fetch: Fetch, card_id: int, settings: Settings, at: int) -> CardBill:
    """Return the bill of a card as it stands at `at` seconds UTC, what was paid so far taken into account."""
    serials = {f"P{key}": f"Serial number {serial}" for key, serial in fetch(SERIALS, (card_id,))}
    lines, allowances = less(given(fetch, card_id), bill_lines(fetch, card_id, settings, at), serials)
    taken = paid(fetch, card_id)
    return CardBill(lines, allowances, totals_of(lines, allowances, taken, settings.cash_rounding_minor))


def less(
    standing: Sequence[Given], lines: Iterable[Line], notes: Mapping[str, str] | None = None
) -> tuple[tuple[BillLine, ...], tuple[BillAllowance, ...]]:
    """Return lines as a bill has them, less what is taken off each, and what stands at the foot; notes are by line."""
    off = {one.line: one for one in standing if one.line}
    billed = tuple(line_of(line, off.get(line.id), (notes or {}).get(line.id, "")) for line in lines)
    return billed, off_the_whole(standing, billed)


def line_of(line: Line, off: Given | None = None, note: str = "") -> BillLine:
    """Return a line as a bill has it, with what is taken off it."""
    allowance = off.of(line.net) if off else ZERO
    return BillLine(
        id=line.id,
        kind=line.kind,
        description=line.description,
        qty=line.qty,
        unit=line.unit,
        price=line.price,
        base_qty=line.base_qty,
        net=rounded(line.net - allowance),
        vat=line.vat,
        percent=line.percent,
        category=line.category,
        allowance=rounded(allowance),
        allowance_percent=off.rate if off and allowance and off.of(line.net) < line.net else None,
        allowance_reason=off.reason if off and allowance else "",
        note=note,
    )


def totals_of(
    lines: tuple[BillLine, ...], allowances: tuple[BillAllowance, ...], taken: Decimal, coin_minor: int = 0
) -> Totals:
    """Return the totals of a bill; what is due goes to the nearest coin of `coin_minor`, halves upwards, 0 for none."""
    off = [_at_foot(a) for a in allowances if not a.charge]
    on = [_at_foot(a) for a in allowances if a.charge]
    sums = total(lines, allowances=off, charges=on, paid=taken)
    if not coin_minor:
        return sums
    coin = from_minor(coin_minor)
    whole = rounded(rounded(sums.due / coin, 0) * coin)
    return total(lines, allowances=off, charges=on, paid=taken, rounding=whole - sums.due)


def _at_foot(a: BillAllowance) -> Allowance:
    return Allowance(a.amount, a.percent, a.category, a.vat, a.reason)
