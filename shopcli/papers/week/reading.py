"""Reads what the report is built from: the period, the one before, and what stands whatever the period."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from decimal import Decimal

from shopcli.papers.week.seen import Seen
from shopcli.papers.week.todo import for_others
from shopcli.papers.week.trend import Weeks, trend_of
from shopcli.shop.amounts import ZERO
from shopcli.shop.week_ahead import AheadView, ahead_of
from shopcli.shop.week_rights import HOURS, MONEY, QUALITY, sees
from shopcli.shop.week_times import held_against
from shopcli.shop.week_views import (
    Actuals,
    CardAge,
    Earning,
    FlowView,
    HoursView,
    MoneyView,
    Period,
    QualityView,
    ToDo,
)
from shopcli.store.reads.unsettled import unsettled
from shopcli.store.reads.week_actuals import actuals
from shopcli.store.reads.week_bounds import day_of, same_part, this_week
from shopcli.store.reads.week_flow import card_ages, flow
from shopcli.store.reads.week_here import besides, told_of
from shopcli.store.reads.week_hours import hours
from shopcli.store.reads.week_money import MoneyNow, earnings, money_now, sums, unbilled_by_card
from shopcli.store.reads.week_past import past_weeks
from shopcli.store.reads.week_quality import quality
from shopcli.store.reads.week_to_do import Asked, to_do
from shopcli.store.shop import Shop
from shopcli.workings.listed_times import Against

NO_MONEY = MoneyNow(0, ZERO, (), ZERO, 0, ZERO)


@dataclass(frozen=True, slots=True)
class Standing:
    """What does not depend on the period: read once `at` a moment, kept while periods are looked through.

    One that is not `whole` has nothing but the cards, for a first look at the figures of a period.
    """

    at: int
    cards: tuple[CardAge, ...]
    money: MoneyNow | None
    actuals: tuple[Actuals, ...]
    against: dict[str, Against]
    ahead: AheadView
    todo: tuple[ToDo, ...]
    beyond: Mapping[int, Decimal]
    periods: "dict[Period, OfPeriod]" = field(default_factory=dict, compare=False, repr=False)
    earned: dict[Period, tuple[Earning, ...]] = field(default_factory=dict, compare=False, repr=False)
    whole: bool = True
    weeks: Weeks = field(default_factory=dict, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class OfPeriod:
    """What was read of a period; it is kept beside what stands, for going back reads the one before as well.

    What each template earned is not in it: that is shown of the period itself and of none that it is held against.
    """

    flow: FlowView
    hours: HoursView | None
    money: MoneyView | None
    quality: QualityView | None


def glancing(shop: Shop) -> Standing:
    """Read of what stands now what the figures of a period want: the cards, a fiftieth of the whole."""
    at, now = shop.at(), this_week(shop)
    ahead = AheadView(day_of(shop, at), now.monday, 0, None, None, None, (), 0, (), ())
    return Standing(at, card_ages(shop), NO_MONEY, (), {}, ahead, (), {}, whole=False)


def standing(shop: Shop, role: str, glanced: Standing | None = None) -> Standing:
    """Read what stands now: the cards, times against actuals, the forecast, the Monday list.

    What was read for a first look is not read again.
    """
    whole = sees(role)
    jobs, bills = actuals(shop), unsettled(shop)
    held = dict(held_against(jobs))
    cards, to_bill = card_ages(shop) if glanced is None else glanced.cards, unbilled_by_card(shop)
    known = besides(shop, cards, to_bill)
    todo = to_do(shop, Asked(jobs, held, bills, cards, known))
    stands = Standing(
        at=shop.at() if glanced is None else glanced.at,
        cards=told_of(cards, known),
        money=money_now(shop, bills, to_bill) if MONEY in whole else None,
        actuals=jobs if HOURS in whole else (),
        against=held if HOURS in whole else {},
        ahead=ahead_of(past_weeks(shop)),
        todo=todo if MONEY in whole else for_others(todo),
        beyond=known.beyond if MONEY in whole else {},
    )
    if glanced is not None:
        stands.weeks.update(glanced.weeks)
        stands.earned.update(glanced.earned)
        stands.periods.update((period, _with(stands, one)) for period, one in glanced.periods.items())
    return stands


def _with(stands: Standing, one: OfPeriod) -> OfPeriod:
    """Return what was read of a period for a first look, with what stands."""
    money = one.money
    if money is not None and stands.money is not None:
        now = stands.money
        money = replace(money, **{part.name: getattr(now, part.name) for part in fields(now)})
    return replace(one, flow=replace(one.flow, cards=stands.cards), money=money)


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
    stands = stands or standing(shop, role)
    now = shop.local(shop.at())
    there, before = (
        _of_period(shop, one, role, stands) for one in (period, same_part(shop, period, stands.at))
    )
    return Seen(
        shop=shop.settings.shop_name,
        currency=shop.settings.currency,
        made=now,
        today=now.date(),
        period=period,
        trend=trend_of(shop, there.flow, there.hours, there.money, stands.weeks),
        flow=there.flow,
        flow_before=before.flow,
        hours=there.hours,
        hours_before=before.hours,
        money=_earned(shop, there.money, stands),
        money_before=before.money,
        actuals=stands.actuals,
        against=stands.against,
        quality=there.quality,
        quality_before=before.quality,
        ahead=stands.ahead,
        todo=stands.todo,
        beyond=stands.beyond,
        whole=stands.whole,
    )


def _of_period(shop: Shop, period: Period, role: str, stands: Standing) -> OfPeriod:
    found = stands.periods.get(period)
    if found is None:
        whole = sees(role)
        worked = hours(shop, period) if HOURS in whole else None
        paid_s = None if worked is None else worked.total.paid_s
        found = stands.periods[period] = OfPeriod(
            flow(shop, period, stands.cards),
            worked,
            sums(shop, period, stands.money, paid_s) if MONEY in whole else None,
            quality(shop, period) if QUALITY in whole else None,
        )
    return found


def _earned(shop: Shop, read: MoneyView | None, stands: Standing) -> MoneyView | None:
    """Return the money of a period with what each template earned."""
    if read is None:
        return None
    period = read.period
    if period not in stands.earned:
        stands.earned[period] = earnings(shop, period)
    return replace(read, earnings=stands.earned[period])
