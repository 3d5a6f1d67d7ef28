"""The last weeks up to the end of a period: those that were read before stay, so that one week further reads one week."""

from datetime import date, timedelta

from shopcli.papers.week.seen import TREND, Trend
from shopcli.shop.week_views import FlowView, HoursLine, HoursView, MoneyView, MoneyWeek, Period, WeekFlow
from shopcli.store.reads.week_flow import flow_weeks
from shopcli.store.reads.week_hours import hours_weeks
from shopcli.store.reads.week_money import money_weeks
from shopcli.store.shop import Shop

Weeks = dict[date, tuple[WeekFlow, HoursLine | None, MoneyWeek | None]]
"""What was read of a week, by its Monday; what somebody may not see is None."""


def trend_of(
    shop: Shop, cards: FlowView, worked: HoursView | None, sums: MoneyView | None, known: Weeks
) -> Trend:
    """Return the last weeks up to the end of a period.

    Parameters
    ----------
    shop : Shop
        Whose week.
    cards, worked, sums : FlowView, HoursView or None, MoneyView or None
        What was read of the period; of what is None no weeks are read.
    known : Weeks
        What was read of weeks before, with the same eyes; what is read now is added.
    """
    period = cards.period
    known |= _by_monday(cards.weeks, worked and worked.weeks, sums and sums.weeks)
    last = Period(period.until - timedelta(weeks=TREND), TREND).mondays
    wanted = [monday for monday in last if monday not in known]
    if wanted:
        gap = Period(wanted[0], (wanted[-1] - wanted[0]).days // 7 + 1)
        known |= _by_monday(
            flow_weeks(shop, gap),
            hours_weeks(shop, gap) if worked else None,
            money_weeks(shop, gap) if sums else None,
        )
    flows, hours, money = zip(*(known[monday] for monday in last), strict=True)
    return Trend(flows, hours if worked else (), money if sums else ())


def _by_monday(
    flows: tuple[WeekFlow, ...], hours: tuple[HoursLine, ...] | None, money: tuple[MoneyWeek, ...] | None
) -> Weeks:
    nothing = (None,) * len(flows)
    rows = zip(flows, hours or nothing, money or nothing, strict=True)
    return {week[0].monday: week for week in rows}
