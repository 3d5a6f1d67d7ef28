"""The lines, allowances and VAT of a bill or an offer as tables: what each comes to and what was taken off it."""

from collections.abc import Sequence

from shopcli.papers.arrange import CATEGORIES, KindLines, by_kind
from shopcli.papers.blocks import Block, Col, Heading, Row, Section, Table
from shopcli.papers.writing import Writing
from shopcli.shop.bill import BillAllowance, BillGroup, BillLine
from shopcli.shop.taxwords import short_tax

OFF, ON = "Discount", "Charge"


def line_table(lines: Sequence[BillLine], w: Writing, tax_word: str = "VAT") -> tuple[Block, ...]:
    """Return the lines grouped by kind in one table, each kind of several lines with its sum; nothing for none."""
    groups = by_kind(lines)
    if not groups:
        return ()
    columns = (
        Col("Description", fills=True),
        Col("Qty", right=True, least=5, most=12),
        Col("", most=4, least=2),
        Col("Price", right=True, least=7, most=14),
        Col(short_tax(tax_word), right=True, least=6, most=9),
        Col("Net", right=True, least=9, most=16),
    )
    return (Table(columns, tuple(_section(g, w) for g in groups)),)


def _section(group: KindLines, w: Writing) -> Section:
    rows = [_row(line, w) for line in group.lines]
    if len(rows) > 1:
        hours = w.qty(group.hours) if group.kind == "labour" and group.hours is not None else ""
        together = ("Together", hours, "h" if hours else "", "", "", w.amount(group.net))
        rows.append(Row(together, strong=True))
    return Section(group.title, tuple(rows))


def _row(line: BillLine, w: Writing) -> Row:
    price = w.price(line.price) + ("/h" if line.unit == "min" else "")
    cells = (line.description, w.qty(line.qty), line.unit, price, w.rate(line), w.amount(line.net))
    return Row(cells, tuple(_below(line, w)))


def _below(line: BillLine, w: Writing) -> list[str]:
    said = [line.note] if line.note else []
    if line.allowance:
        percent = f"{w.percent(line.allowance_percent)}, " if line.allowance_percent is not None else ""
        said.append(f"{line.allowance_reason or OFF}: {percent}{w.amount(-line.allowance)}")
    if line.charge:
        said.append(f"{line.charge_reason or ON}: {w.amount(line.charge)}")
    return said


def allowance_table(
    allowances: Sequence[BillAllowance], w: Writing, tax_word: str = "VAT"
) -> tuple[Block, ...]:
    """Return what is taken off or put on the whole, in each VAT group; nothing for nothing."""
    if not allowances:
        return ()
    columns = (
        Col("On the whole", fills=True),
        Col(tax_word, right=True, least=6, most=9),
        Col("Net", right=True, least=9, most=16),
    )
    rows = tuple(
        Row((_why(a, w), w.rate(a), w.amount(a.amount if a.charge else -a.amount))) for a in allowances
    )
    return (Table(columns, (Section("", rows),)),)


def _why(a: BillAllowance, w: Writing) -> str:
    of = f" of {w.amount(a.base)}" if a.base is not None else ""
    return (a.reason or (ON if a.charge else OFF)) + (
        f", {w.percent(a.rate)}{of}" if a.rate is not None else ""
    )


def group_table(groups: Sequence[BillGroup], w: Writing, tax_word: str = "VAT") -> tuple[Block, ...]:
    """Return the tax of each rate, with the reason where none is charged."""
    if not groups:
        return ()
    columns = (
        Col("Rate", fills=True),
        Col("On", right=True, least=9, most=16),
        Col(tax_word, right=True, least=9, most=16),
    )
    rows = tuple(
        Row((_rate(g, w), w.amount(g.basis), w.amount(g.tax)), (g.reason,) if g.reason else ())
        for g in groups
    )
    return (Heading(tax_word), Table(columns, (Section("", rows),), keep=True))


def _rate(group: BillGroup, w: Writing) -> str:
    meaning = CATEGORIES.get(group.category, "")
    name = ", ".join(filter(None, (group.vat, w.rate(group))))
    return f"{name} ({meaning})" if meaning else name
