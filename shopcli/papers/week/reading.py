"""Reads what the report is built from: the period, the one before, and what stands whatever the period."""

from dataclasses import dataclass
from datetime import timedelta

from shopcli.papers.week.seen import TREND, Seen, Trend
from shopcli.papers.week.todo import OWNERS
from shopcli.shop.week_ahead import AheadView, ahead_of
from shopcli.shop.week_rights import HOURS, MONEY, QUALITY, sees
from shopcli.shop.week_times import held_against
from shopcli.shop.week_views import Actuals, CardAge, FlowView, HoursView, MoneyView, Period, ToDo
from shopcli.store.reads.accounts import unsettled
from shopcli.store.reads.week_actuals import actuals
from shopcli.store.reads.week_flow import card_ages, flow, flow_weeks
from shopcli.store.reads.week_hours import hours, hours_weeks
from shopcli.store.reads.week_money import MoneyNow, money, money_now, money_weeks
from shopcli.store.reads.week_past import past_weeks
from shopcli.store.reads.week_quality import quality
from shopcli.store.reads.week_to_do import to_do
from shopcli.store.shop import Shop
from shopcli.workings.listed_times import Against


@dataclass(frozen=True, slots=True)
class Standing:
    """What does not depend on the period: read once, kept while periods are looked through."""

    cards: tuple[CardAge, ...]
    money: MoneyNow | None
    actuals: tuple[Actuals, ...]
    against: dict[str, Against]
    ahead: AheadView
    todo: tuple[ToDo, ...]


def standing(shop: Shop, role: str) -> Standing:
    """Read what stands now: the cards, times against actuals, the forecast, the Monday list."""
    whole = sees(role)
    jobs, bills = actuals(shop), unsettled(shop)
    held = dict(held_against(jobs))
    todo = to_do(shop, jobs, held, bills)
    return Standing(
        cards=card_ages(shop),
        money=money_now(shop, bills) if MONEY in whole else None,
        actuals=jobs if HOURS in whole else (),
        against=held if HOURS in whole else {},
        ahead=ahead_of(past_weeks(shop)),
        todo=todo if MONEY in whole else tuple(one for one in todo if one.kind not in OWNERS),
    )


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
    whole, stands = sees(role), stands or standing(shop, role)
    now, before = shop.local(shop.at()), period.before
    hours_there, money_there, quality_there = (name in whole for name in (HOURS, MONEY, QUALITY))
    flows = flow(shop, period, stands.cards)
    worked = hours(shop, period) if hours_there else None
    sums = money(shop, period, stands.money) if money_there else None
    return Seen(
        shop=shop.settings.shop_name,
        currency=shop.settings.currency,
        made=now,
        today=now.date(),
        period=period,
        trend=_trend(shop, flows, worked, sums),
        flow=flows,
        flow_before=flow(shop, before, stands.cards),
        hours=worked,
        hours_before=hours(shop, before) if hours_there else None,
        money=sums,
        money_before=money(shop, before, stands.money) if money_there else None,
        actuals=stands.actuals,
        against=stands.against,
        quality=quality(shop, period) if quality_there else None,
        quality_before=quality(shop, before) if quality_there else None,
        ahead=stands.ahead,
        todo=stands.todo,
    )


def _trend(shop: Shop, flows: FlowView, worked: HoursView | None, sums: MoneyView | None) -> Trend:
    """Return the last weeks up to the end of a period: its own, where it is as long as that."""
    period = flows.period
    if period.weeks >= TREND:
        return Trend(
            flows.weeks[-TREND:], worked.weeks[-TREND:] if worked else (), sums.weeks[-TREND:] if sums else ()
        )
    last = Period(period.until - timedelta(weeks=TREND), TREND)
    return Trend(
        flow_weeks(shop, last),
        hours_weeks(shop, last) if worked else (),
        money_weeks(shop, last) if sums else (),
    )
