"""What to do on Monday, from the records as they stand and from the last weeks."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from shopcli.shop.amounts import from_minor
from shopcli.shop.paid_hours import day_seconds
from shopcli.shop.week_cards_to_do import Besides, of_cards
from shopcli.shop.week_times import held_against
from shopcli.shop.week_to_do import (
    Day,
    Overdue,
    back,
    came_back,
    listed,
    loses,
    tools_late,
    unclocked,
    unpaid,
    worst,
)
from shopcli.shop.week_views import Actuals, CardAge, ToDo
from shopcli.store.reads.unsettled import Unsettled, unsettled
from shopcli.store.reads.week_actuals import actuals
from shopcli.store.reads.week_bounds import day_of, this_week
from shopcli.store.reads.week_flow import card_ages
from shopcli.store.reads.week_here import besides, next_workday
from shopcli.store.reads.week_hours import hours
from shopcli.store.reads.week_money import earnings, owing
from shopcli.store.reads.week_quality import quality
from shopcli.store.shop import Shop
from shopcli.workings.listed_times import Against

WEEKS = 13  # looked back at for what goes wrong again and again


@dataclass(frozen=True, slots=True)
class Asked:
    """What was read already; what was not is None and read then."""

    jobs: Sequence[Actuals] | None = None
    held: Mapping[str, Against] | None = None
    open_bills: Sequence[Unsettled] | None = None
    cards: Sequence[CardAge] | None = None
    known: Besides | None = None


NOTHING_ASKED = Asked()


def to_do(shop: Shop, asked: Asked = NOTHING_ASKED) -> tuple[ToDo, ...]:
    """Return the list, in the order of `shopcli.shop.week_to_do`."""
    today = day_of(shop, shop.at())
    this, last, day = this_week(shop), this_week(shop, WEEKS), worth(shop)
    cards = card_ages(shop) if asked.cards is None else asked.cards
    known = besides(shop, cards) if asked.known is None else asked.known
    wrong = quality(shop, last)
    bills = unsettled(shop) if asked.open_bills is None else asked.open_bills
    jobs = actuals(shop) if asked.jobs is None else asked.jobs
    held = held_against(jobs) if asked.held is None else asked.held
    pairs = [(job, held[job.template]) for job in jobs if job.template in held]
    return worst(
        (
            *of_cards(cards, known, today, next_workday(shop, today), day),
            *unpaid(_overdue(bills, today), day),
            *listed(pairs, frozenset(last.names), day),
            *loses(earnings(shop, last), day),
            *back(one for one in wrong.comebacks if one.opened >= this.monday),
            *came_back(wrong.comebacks),
            *tools_late(wrong.tools, today),
            *unclocked(hours(shop, this.before).people, day),
        )
    )


def _overdue(bills: Sequence[Unsettled], today: date) -> Iterator[Overdue]:
    for one in owing(bills):
        yield Overdue(one.days_past(today), one.due, one.number, one.customer, one.phone)


def worth(shop: Shop) -> Day:
    """Return what a day of one pair of hands is worth: the shop's longest day, at its price of labour."""
    settings = shop.settings
    first = this_week(shop).monday
    seconds = max(day_seconds(settings, first + timedelta(days=n)) for n in range(7))
    price = from_minor(settings.labour_minor) * seconds / 3600
    return Day(seconds, Decimal(price), settings.work_share / 100)
