"""What the week reads, in a thread: the report of a period for whose eyes it is."""

from collections.abc import Iterable
from dataclasses import dataclass

from shopcli.papers.week.model import Report
from shopcli.papers.week.pen import screen_pen
from shopcli.papers.week.reading import Standing, see, standing
from shopcli.papers.week.report import report_of
from shopcli.shop.week_period import Period
from shopcli.store.shop import Shop


@dataclass(frozen=True, slots=True)
class Read:
    """A report with what stands whatever the period, and whose eyes it is for."""

    report: Report
    stands: Standing
    role: str


def go_on(shop: Shop, shown: Read, next_periods: Iterable[Period]) -> None:
    """Lay out every page of what is shown, and read the periods the next key may ask for: it is all kept."""
    for page in shown.report.pages:
        page.laid  # noqa: B018 - it is kept
    for period in next_periods:
        see(shop, period, shown.role, shown.stands)


def read(shop: Shop, period: Period, role: str, stands: Standing | None, *, plain: bool) -> Read:
    """Read and build the report of a period."""
    stands = stands or standing(shop, role)
    pen = screen_pen(shop.settings.currency, plain=plain, tax_word=shop.settings.tax_word)
    return Read(report_of(see(shop, period, role, stands), pen), stands, role)
