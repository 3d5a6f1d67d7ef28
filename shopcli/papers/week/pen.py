"""How the figures of the report are written: by the same hand everywhere, on paper in the shop's locale."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopcli import present
from shopcli.marks import NOTHING
from shopcli.papers.week.model import Cell
from shopcli.shop.taxwords import with_tax, without_tax
from shopcli.shop.week_views import DAY_S

SPARKS = "▁▂▃▄▅▆▇█"
SPARKS_PLAIN = "_.:-=+*#"
HUNDRED = 100
NO_BREAK = "\u00a0"
PER_CENT_MOST, TIMES_MOST = 300, 20  # how far a change is said so
AS_BEFORE = "as before"


@dataclass(frozen=True, slots=True)
class Pen:
    """Writes cells. `sum_of` writes an amount with its currency; `plain` asks for ASCII."""

    sum_of: Callable[[Decimal], str]
    day_of: Callable[[date], str]
    plain: bool = False
    tax_word: str = "VAT"

    @property
    def with_tax(self) -> str:
        """How a sum with the tax is said."""
        return with_tax(self.tax_word)

    @property
    def without_tax(self) -> str:
        """How a sum without the tax is said."""
        return without_tax(self.tax_word)

    def text(self, text: str, key: str = "") -> Cell:
        """Write a text."""
        return Cell(text, text, key)

    def count(self, count: int, key: str = "") -> Cell:
        """Write a count; none is a dash."""
        return Cell(f"{count:,}" if count else NOTHING, count, key)

    def hours(self, seconds: int | None, key: str = "") -> Cell:
        """Write a duration in hours and minutes."""
        return Cell(NOTHING if not seconds else present.h_mm(seconds), seconds, key)

    def days(self, days: float | None, key: str = "") -> Cell:
        """Write days: a decimal below ten of them.

        Examples
        --------
        >>> pen = screen_pen("GBP")
        >>> pen.days(3.25).said, pen.days(12.4).said, pen.days(None).said
        ('3.2', '12', '-')
        """
        if days is None:
            return Cell(NOTHING, None, key)
        return Cell(f"{days:.1f}" if days < 10 else f"{days:.0f}", round(days, 2), key)  # noqa: PLR2004

    def since(self, seconds: int, key: str = "") -> Cell:
        """Write how many days something lasts."""
        return self.days(max(0, seconds) / DAY_S, key)

    def lasting(self, seconds: int) -> str:
        """Write how many days something lasted, with their unit; no line breaks between the two."""
        return f"{self.since(seconds).said}{' ' if self.plain else NO_BREAK}d"

    def money(self, amount: Decimal | None, key: str = "") -> Cell:
        """Write a sum; none is a dash."""
        return Cell(NOTHING if not amount else self.sum_of(amount), amount, key)

    def part(self, part: float | None, key: str = "") -> Cell:
        """Write a part as a percentage.

        Examples
        --------
        >>> screen_pen("GBP").part(0.854).said
        '85 %'
        """
        if part is None:
            return Cell(NOTHING, None, key)
        return Cell(f"{round(part * HUNDRED)} %", round(part, 4), key)

    def times(self, factor: float | None, key: str = "") -> Cell:
        """Write a factor.

        Examples
        --------
        >>> screen_pen("GBP").times(1.4).said
        '1.40'
        """
        return Cell(
            NOTHING if factor is None else f"{factor:.2f}", None if factor is None else round(factor, 4), key
        )

    def date(self, day: date | None, key: str = "") -> Cell:
        """Write a day."""
        return Cell(NOTHING if day is None else self.day_of(day), day, key)

    def monday(self, day: date) -> Cell:
        """Write the Monday of a week that is named beside it: without its year.

        Examples
        --------
        >>> screen_pen("GBP").monday(date(2026, 8, 31)).said
        'Mon 31 Aug'
        """
        return Cell(self.day_of(day).replace(str(day.year), "").strip(" ,./-"), day)

    def spark(self, values: tuple[float, ...]) -> str:
        """Write a row of values as one small picture, from nothing to the greatest.

        Examples
        --------
        >>> screen_pen("GBP").spark((0, 1, 2, 4)), screen_pen("GBP").spark(())
        ('▁▃▅█', '')
        """
        signs = SPARKS_PLAIN if self.plain else SPARKS
        most = max((0.0, *values))
        last = len(signs) - 1
        return "".join(signs[round(max(0.0, v) / most * last) if most else 0] for v in values)

    def change(self, now: float | Decimal | None, before: float | Decimal | None) -> str:
        """Write how a figure changed, by its sign and not by a colour; nothing where one of the two is not known.

        Against next to nothing a percentage runs into thousands and says nothing: beyond 300 it is so many times, then words.

        Examples
        --------
        >>> pen = screen_pen("GBP")
        >>> pen.change(12, 10), pen.change(5, 10), pen.change(5, 5), pen.change(5, 0), pen.change(5, None)
        ('+20 %', '-50 %', 'as before', 'new', '')
        >>> pen.change(40, 10), pen.change(120, 10), pen.change(3039, 100), pen.change(-50, 10)
        ('+300 %', '12 times', 'far more', 'far less')
        """
        if now is None or before is None:
            return ""
        now, before = float(now), float(before)
        if now == before:
            return AS_BEFORE
        if not before:
            return "new"
        by = round((now - before) / abs(before) * HUNDRED)
        if abs(by) > PER_CENT_MOST:
            return _far(now, before)
        return f"{by:+d} %" if by else AS_BEFORE

    def points(self, now: float | None, before: float | None) -> str:
        """Write how a part changed: in points between the percentages as they are written, for a per cent of a per cent misleads.

        Examples
        --------
        >>> pen = screen_pen("GBP")
        >>> pen.points(0.104, 0.017), pen.points(0.5, 0.51), pen.points(0.5, 0.5), pen.points(None, 0.5)
        ('+8 points', '-1 point', 'as before', '')
        """
        if now is None or before is None:
            return ""
        by = round(now * HUNDRED) - round(before * HUNDRED)
        return f"{by:+d} point{'' if abs(by) == 1 else 's'}" if by else AS_BEFORE

    def better(self, now: Decimal | None, before: Decimal | None) -> str:
        """Write how a sum changed that may lie below zero, where a per cent says neither way.

        Examples
        --------
        >>> pen = screen_pen("GBP")
        >>> pen.better(Decimal(-20), Decimal(-15)), pen.better(Decimal(5), Decimal(-15)), pen.better(Decimal(5), None)
        ('£5.00 worse', '£20.00 better', '')
        """
        if now is None or before is None:
            return ""
        by = now - before
        return f"{self.sum_of(abs(by))} {'better' if by > 0 else 'worse'}" if by else AS_BEFORE


def _far(now: float, before: float) -> str:
    """Write how far a figure went where no percentage tells."""
    if 0 < before < now <= before * TIMES_MOST:
        return f"{now / before:.0f} times"
    return "far more" if now > before else "far less"


def screen_pen(currency: str, *, plain: bool = False, tax_word: str = "VAT") -> Pen:
    """Return the pen of screens and shell."""
    return Pen(lambda d: present.money(d, currency, plain=plain), present.day, plain, tax_word)
