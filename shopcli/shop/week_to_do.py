"""What to do on Monday: a list made by rules, worst first, at most five lines.

Everything is weighed in days. A car that waits a day weighs one, and so does what such a day costs the shop: the price of
a day's labour of one pair of hands. What weighs less than a day is not worth a line. All limits here are common practice,
no source.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopcli.shop.week_views import (
    BAY,
    DAY_S,
    WAITS,
    Actuals,
    CardAge,
    Comeback,
    Earning,
    HoursLine,
    Noticed,
    ToDo,
)
from shopcli.workings.listed_times import Against

MOST, LEAST_WEIGHT = 5, 1.0
BAY_DAYS = 7  # a booked car may stand a week
OVERDUE_DAYS = 30
LATE, UNPAID, LISTED, LOSES, CAME_BACK, TOOLS, UNCLOCKED = (
    "late",
    "unpaid",
    "listed",
    "loses",
    "comebacks",
    "tools",
    "unclocked",
)
KINDS = (*WAITS, LATE, UNPAID, LISTED, LOSES, CAME_BACK, TOOLS, UNCLOCKED)


@dataclass(frozen=True, slots=True)
class Day:
    """What a day is worth here: paid seconds of one pair of hands, their labour's price, the share that goes into cars."""

    seconds: int
    price: Decimal
    work_share: float

    def of_money(self, amount: Decimal) -> float:
        """Return how many such days a sum is."""
        return float(amount / self.price) if self.price else 0.0

    def of_time(self, seconds: float) -> float:
        """Return how many such days a time is."""
        return seconds / self.seconds if self.seconds else 0.0


@dataclass(frozen=True, slots=True)
class Overdue:
    """An invoice unpaid past its day: by how many days, and how much."""

    days: int
    amount: Decimal


def waiting(cards: Iterable[CardAge]) -> Iterator[ToDo]:
    """Yield a line for each thing cards wait for."""
    there = list(cards)
    for why in WAITS:
        days = [card.since_s / DAY_S for card in there if card.waits == why]
        if why == BAY:
            days = [d - BAY_DAYS for d in days if d > BAY_DAYS]
        if days:
            longest = int(max(days)) + (BAY_DAYS if why == BAY else 0)
            yield ToDo(why, f"waiting:{why}", len(days), sum(days), days=longest)


def late(cards: Iterable[CardAge], today: date) -> Iterator[ToDo]:
    """Yield a line for the cards not finished on the day that was promised."""
    days = [
        (today - card.promised).days
        for card in cards
        if card.promised and card.state != "closed" and card.promised < today
    ]
    if days:
        yield ToDo(LATE, LATE, len(days), float(sum(days)), days=max(days))


def unpaid(invoices: Iterable[Overdue], day: Day) -> Iterator[ToDo]:
    """Yield a line for what is long overdue."""
    old = [one for one in invoices if one.days > OVERDUE_DAYS]
    if old:
        amount = sum((one.amount for one in old), Decimal(0))
        longest = max(one.days for one in old)
        yield ToDo(UNPAID, "unpaid:overdue", len(old), day.of_money(amount), days=longest, amount=amount)


def listed(jobs: Iterable[tuple[Actuals, Against]], weeks: frozenset[str], day: Day) -> Iterator[ToDo]:
    """Yield a line for each job that is listed wrongly, weighed by what its last cases took beside what was listed."""
    for job, found in jobs:
        if found.to is None:
            continue
        last = [case for case in job.cases if case.week in weeks]
        off = abs(sum(case.clocked_s - case.listed_min * 60 for case in last))
        key = f"actuals:template:{job.template}"
        yield ToDo(LISTED, key, found.cases, day.of_time(off), name=job.title, factor=found.to)


def loses(earnings: Iterable[Earning], day: Day) -> Iterator[ToDo]:
    """Yield a line for each job whose labour brought less than it cost."""
    for one in earnings:
        if one.margin is not None and one.margin < 0:
            key = f"earned:template:{one.template}"
            yield ToDo(LOSES, key, one.cards, day.of_money(-one.margin), amount=one.margin, name=one.title)


def came_back(comebacks: Sequence[Comeback]) -> Iterator[ToDo]:
    """Yield a line for each system cars came back for more than once."""
    for system in sorted({one.system for one in comebacks}):
        there = [one for one in comebacks if one.system == system]
        if len(there) > 1:
            key = f"comebacks:{system}"
            yield ToDo(CAME_BACK, key, len(there), float(len(there)), name=system)


def tools_late(tools: Sequence[Noticed], today: date) -> Iterator[ToDo]:
    """Yield a line for the tools past their calibration."""
    if tools:
        days = max(((today - one.on).days for one in tools if one.on), default=None)
        yield ToDo(TOOLS, TOOLS, len(tools), float(len(tools)), days=days)


def unclocked(people: Iterable[HoursLine], day: Day) -> Iterator[ToDo]:
    """Yield a line for each who clocked less of their paid time than goes into cars here."""
    for one in people:
        short = (one.paid_s or 0) * day.work_share - one.clocked_s
        if one.paid_s and short > 0:
            key = f"unclocked:person:{one.key}"
            yield ToDo(UNCLOCKED, key, 1, day.of_time(short), name=one.name, factor=one.clocked_of_paid)


def worst(lines: Iterable[ToDo]) -> tuple[ToDo, ...]:
    """Return the lines that weigh the most, in that order; alike ones in the order of their rules.

    Of the people who clocked little, and of the jobs that are listed wrongly or lose, the worst alone is named each.
    """
    order = sorted(lines, key=lambda one: (-one.weight, KINDS.index(one.kind), one.key))
    kept: list[ToDo] = []
    for one in order:
        if one.weight >= LEAST_WEIGHT and all(one.kind != other.kind for other in kept):
            kept.append(one)
    return tuple(kept[:MOST])
