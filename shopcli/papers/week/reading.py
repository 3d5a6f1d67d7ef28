"""Reads what the report is built from: the period, the one before, and what stands whatever the period."""

from dataclasses import dataclass, replace
from datetime import timedelta

from shopcli.papers.week.seen import TREND, Seen, Trend
from shopcli.papers.week.todo import OWNERS
from shopcli.shop.week_ahead import AheadView, ahead_of
from shopcli.shop.week_rights import HOURS, MONEY, QUALITY, sees
from shopcli.shop.week_times import held_against
from shopcli.shop.week_views import Actuals, Period, ToDo
from shopcli.store.reads.week_flow import flow
from shopcli.store.shop import Shop
from shopcli.workings.listed_times import Against


@dataclass(frozen=True, slots=True)
class Standing:
    """What does not depend on the period: read once, kept while periods are looked through."""

    actuals: tuple[Actuals, ...]
    against: dict[str, Against]
    ahead: AheadView
    todo: tuple[ToDo, ...]


def standing(shop: Shop, role: str) -> Standing:
    """Read what stands now: times against actuals, the forecast, the Monday list."""
    from shopcli.store.reads.week_actuals import actuals
    from shopcli.store.reads.week_past import past_weeks
    from shopcli.store.reads.week_to_do import to_do

    whole = sees(role)
    jobs = actuals(shop) if HOURS in whole else ()
    todo = to_do(shop, jobs or None)
    if MONEY not in whole:
        todo = tuple(one for one in todo if one.kind not in OWNERS)
    return Standing(jobs, dict(held_against(jobs)), ahead_of(past_weeks(shop)), todo)


def see(shop: Shop, period: Period, role: str, stands: Standing | None = None) -> Seen:
    """Read the report's views as somebody of that role may see them.

    Parameters
    ----------
    shop : Shop
        Whose week.
    period : Period
        Whole weeks.
    role : str
        Of who asks.
    stands : Standing, optional
        What was read before and still stands; read now where it is not given.
    """
    whole = sees(role)
    stands = stands or standing(shop, role)
    last = Period(period.until - timedelta(weeks=TREND), TREND)
    now = shop.local(shop.at())
    made = Seen(
        shop=shop.settings.shop_name,
        currency=shop.settings.currency,
        made=now,
        today=now.date(),
        period=period,
        trend=Trend(flow(shop, last).weeks, ()),
        flow=flow(shop, period),
        flow_before=flow(shop, period.before),
        hours=None,
        hours_before=None,
        money=None,
        money_before=None,
        actuals=stands.actuals,
        against=stands.against,
        quality=None,
        quality_before=None,
        ahead=stands.ahead,
        todo=stands.todo,
    )
    if HOURS in whole:
        from shopcli.store.reads.week_hours import hours

        trend = replace(made.trend, hours=hours(shop, last).weeks)
        made = replace(made, hours=hours(shop, period), hours_before=hours(shop, period.before), trend=trend)
    if MONEY in whole:
        from shopcli.store.reads.week_money import money, money_weeks

        trend = replace(made.trend, money=money_weeks(shop, last))
        made = replace(made, money=money(shop, period), money_before=money(shop, period.before), trend=trend)
    if QUALITY in whole:
        from shopcli.store.reads.week_quality import quality

        made = replace(made, quality=quality(shop, period), quality_before=quality(shop, period.before))
    return made
