"""The typewritten page as its template sees it: each method sets one kind of block and returns its text."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopcli.papers.arrange import KindLines, place, rate, rate_long, sources
from shopcli.papers.layout import (
    Column,
    beside,
    field,
    heading,
    on_point,
    page_width,
    para,
    right_on_point,
    rule,
    table,
)
from shopcli.present import amount, money, price, qty
from shopcli.shop.taxwords import short_tax
from shopcli.shop.views import ReadingLine, TotalsView

FOUND_WIDTH, LIMITS_WIDTH, VERDICT_WIDTH = 12, 18, 13


@dataclass(frozen=True, slots=True)
class Page:
    """A page of a given width, in ASCII signs when `plain`. Methods return lines joined."""

    width: int
    plain: bool = False

    def __post_init__(self) -> None:
        page_width(self.width)

    def rule(self, sign: str = "-") -> str:
        """Set a line across the page."""
        return rule(self.width, sign)

    def heading(self, text: str) -> str:
        """Set a section's title."""
        return "\n".join(heading(text, self.width))

    def para(self, text: str, first: str = "") -> str:
        """Set a paragraph, the lines after `first` hanging below it."""
        return "\n".join(para(text, self.width, first=first))

    def fields(self, pairs: Sequence[tuple[str, str]]) -> str:
        """Set named values below one another, empty ones left out."""
        return "\n".join(line for name, text in pairs for line in field(name, text, self.width))

    def beside(self, left: Sequence[str], right: Sequence[str]) -> str:
        """Set two blocks side by side, below one another when they are too wide."""
        half = self.width // 2
        a, b = ([line for text in block for line in para(text, half)] for block in (left, right))
        return "\n".join(beside(a, b, self.width))

    def readings(self, readings: Sequence[ReadingLine]) -> str:
        """Set readings as found and as left, figures on the point, with limits and their source by number."""
        numbers = {text: f"[{n}]" for n, text in enumerate(sources(readings), 1)}
        rows = list(
            zip(
                [place(r) for r in readings],
                on_point([r.found or "-" for r in readings], FOUND_WIDTH),
                on_point([r.left or "-" for r in readings], FOUND_WIDTH),
                on_point([r.limits or "-" for r in readings], LIMITS_WIDTH),
                [r.verdict or "not judged" for r in readings],
                [numbers.get(r.provenance, "") for r in readings],
                strict=True,
            )
        )
        columns = (
            Column("Reading"),
            Column("As found", FOUND_WIDTH),
            Column("As left", FOUND_WIDTH),
            Column("Limits", LIMITS_WIDTH),
            Column("Judged", VERDICT_WIDTH),
            Column("", 4) if numbers else Column("", 0),
        )
        notes = [
            line
            for text, number in numbers.items()
            for line in para(f"limits: {text}", self.width, first=f"  {number} ")
        ]
        return "\n".join([*table(columns, rows, self.width), *notes])

    def lines(self, group: KindLines, currency: str, tax_word: str = "VAT") -> str:
        """Set the lines of one kind, their figures on the point, with their sum below."""
        whole = qty(group.hours) if group.kind == "labour" and group.hours is not None else ""
        quantities = right_on_point([*(qty(x.qty) for x in group.lines), whole])
        prices = right_on_point([price(x.price, currency, plain=self.plain) for x in group.lines])
        rows = [
            [x.description, q, x.unit, p + ("/h" if x.unit == "min" else ""), amount(x.net), rate(x)]
            for x, q, p in zip(group.lines, quantities, prices, strict=False)
        ]
        if len(rows) > 1:
            rows.append(
                ["Together", *((quantities[-1], "h") if whole else ("", "")), "", amount(group.net), ""]
            )
        columns = (
            Column(""),
            Column("Qty", 14, right=True, least=6),
            Column("", 3, least=3),
            Column("Price", 20, right=True, least=7),
            Column("Net", 16, right=True, least=10),
            Column(short_tax(tax_word), 7, right=True, least=6),
        )
        return "\n".join(table(columns, rows, self.width))

    def vat(self, totals: TotalsView, tax_word: str = "VAT") -> str:
        """Set the VAT of each rate."""
        rows = [[rate_long(g), amount(g.basis), amount(g.tax)] for g in totals.groups]
        columns = (
            Column("Rate"),
            Column("On", 16, right=True, least=10),
            Column(tax_word, 16, right=True, least=10),
        )
        return "\n".join(table(columns, rows, self.width))

    def sums(self, pairs: Sequence[tuple[str, Decimal]], currency: str) -> str:
        """Set named amounts at the right edge, below one another on the point."""
        rows = [[name, money(d, currency, plain=self.plain)] for name, d in pairs]
        return "\n".join(table((Column(""), Column("", 24, right=True)), rows, self.width))
