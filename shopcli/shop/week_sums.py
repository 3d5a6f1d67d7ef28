"""What the weeks come to together, and how much of the time clocked was sold."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from shopcli.shop.amounts import ZERO, rounded

if TYPE_CHECKING:
    from shopcli.shop.views import WeekRow


@dataclass(frozen=True, slots=True)
class WeekSums:
    """Several weeks together: cards, seconds clocked, hours sold, net sums invoiced."""

    opened: int
    closed: int
    clocked_seconds: int
    sold_hours: Decimal
    invoiced: Decimal


def together(rows: "Sequence[WeekRow]") -> WeekSums:
    """Return what some weeks come to together."""
    return WeekSums(
        opened=sum(row.opened for row in rows),
        closed=sum(row.closed for row in rows),
        clocked_seconds=sum(row.clocked_seconds for row in rows),
        sold_hours=sum((row.sold_hours for row in rows), ZERO),
        invoiced=sum((row.invoiced for row in rows), ZERO),
    )


def sold_percent(sold_hours: Decimal, clocked_seconds: int) -> int | None:
    """Return hours sold as a whole percentage of hours clocked, None when none was clocked.

    Examples
    --------
    >>> sold_percent(Decimal("1.5"), 7200), sold_percent(Decimal(1), 0)
    (75, None)
    """
    return int(rounded(sold_hours * 3600 * 100 / clocked_seconds, 0)) if clocked_seconds else None
