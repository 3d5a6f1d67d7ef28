"""What the week reads, in a thread: the report of a period for whose eyes it is, its figures before the rest."""

from collections.abc import Iterable
from dataclasses import dataclass

from shopcli.papers.week.model import Report
from shopcli.papers.week.pen import screen_pen
from shopcli.papers.week.reading import Standing, glancing, see, standing
from shopcli.papers.week.report import report_of
from shopcli.shop.week_period import Period
from shopcli.store.shop import Shop


@dataclass(frozen=True, slots=True)
class Read:
    """A report with what stands whatever the period, and whose eyes it is for."""

    report: Report
    stands: Standing
    role: str

    @property
    def whole(self) -> bool:
        """Whether all of it was read: before, it is the first page alone, and of that the figures."""
        return self.stands.whole


def go_on(shop: Shop, shown: Read, next_periods: Iterable[Period]) -> None:
    """Lay out every page of what is shown, and read the periods the next key may ask for: it is all kept."""
    for page in shown.report.pages:
        page.laid  # noqa: B018 - it is kept
    for period in next_periods:
        see(shop, period, shown.role, shown.stands)


def glance(shop: Shop, period: Period, role: str, *, plain: bool) -> Read:
    """Read the figures of a period and nothing else: what a first look wants before all the rest."""
    return _told(shop, period, role, glancing(shop), plain=plain)


def read(shop: Shop, period: Period, role: str, stands: Standing | None, *, plain: bool) -> Read:
    """Read and build the report of a period; of what `stands` so far nothing is read again."""
    if stands is None or not stands.whole:
        stands = standing(shop, role, stands)
    return _told(shop, period, role, stands, plain=plain)


def _told(shop: Shop, period: Period, role: str, stands: Standing, *, plain: bool) -> Read:
    pen = screen_pen(shop.settings.currency, plain=plain, tax_word=shop.settings.tax_word)
    return Read(report_of(see(shop, period, role, stands), pen), stands, role)
