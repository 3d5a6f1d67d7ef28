"""What to do on Monday, from the records as they stand and from the last weeks."""

from collections.abc import Mapping, Sequence
from datetime import timedelta
from decimal import Decimal

from shopcli.shop.amounts import from_minor
from shopcli.shop.paid_hours import day_seconds
from shopcli.shop.week_times import held_against
from shopcli.shop.week_to_do import (
    Day,
    Overdue,
    came_back,
    late,
    listed,
    loses,
    tools_late,
    unclocked,
    unpaid,
    waiting,
    worst,
)
from shopcli.shop.week_views import Actuals, ToDo
from shopcli.store.reads.accounts import Unsettled, unsettled
from shopcli.store.reads.week_actuals import actuals
from shopcli.store.reads.week_bounds import day_of, this_week
from shopcli.store.reads.week_flow import card_ages
from shopcli.store.reads.week_hours import hours
from shopcli.store.reads.week_money import earnings, owing
from shopcli.store.reads.week_quality import quality
from shopcli.store.shop import Shop
from shopcli.workings.listed_times import Against

WEEKS = 13  # looked back at for what goes wrong again and again


def to_do(
    shop: Shop,
    jobs: Sequence[Actuals] | None = None,
    held: Mapping[str, Against] | None = None,
    open_bills: Sequence[Unsettled] | None = None,
) -> tuple[ToDo, ...]:
    """Return the list, worst first.

    Parameters
    ----------
    shop : Shop
        The shop.
    jobs, held, open_bills : optional
        What `actuals`, `held_against` and `unsettled` answered, where they were asked already.
    """
    today = day_of(shop, shop.at())
    last, day = this_week(shop, WEEKS), worth(shop)
    there, wrong = card_ages(shop), quality(shop, last)
    bills = unsettled(shop) if open_bills is None else open_bills
    overdue = [Overdue(one.days_past(today), one.due) for one in owing(bills)]
    jobs = actuals(shop) if jobs is None else jobs
    held = held_against(jobs) if held is None else held
    pairs = [(job, held[job.template]) for job in jobs if job.template in held]
    return worst(
        (
            *waiting(there),
            *late(there, today),
            *unpaid(overdue, day),
            *listed(pairs, frozenset(last.names), day),
            *loses(earnings(shop, last), day),
            *came_back(wrong.comebacks),
            *tools_late(wrong.tools, today),
            *unclocked(hours(shop, this_week(shop).before).people, day),
        )
    )


def worth(shop: Shop) -> Day:
    """Return what a day of one pair of hands is worth: the shop's longest day, at its price of labour."""
    settings = shop.settings
    first = this_week(shop).monday
    seconds = max(day_seconds(settings, first + timedelta(days=n)) for n in range(7))
    price = from_minor(settings.labour_minor) * seconds / 3600
    return Day(seconds, Decimal(price), settings.work_share / 100)
