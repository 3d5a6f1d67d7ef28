"""What to do on Monday: a list made by rules, at most eleven lines, in the order of what it costs and when it is due.

How it is ranked, as who pays for it would (common practice, no source):

1. A car that is ready and promised: one ring, and its bill can be paid. The earliest promise first.
2. Promises that passed, the oldest first: each day more costs a customer.
3. Promises about to break, the earliest first: due by the next working day, or nothing can be done on the car and what it waits for
   has no day before the promise. In a day, what mends it with a ring before what wants hands.
4. Money that lies about: cars ready without a day, work past its authority, bills long overdue; the largest first.
5. Cars that stand still without a promise near, the earliest promise first, then the longest.
6. What goes wrong again and again: came back, tools, jobs that lose or are listed wrongly, hours nobody clocked; by weight.

Weights are in days: a car that waits a day weighs one, and so does what such a day costs the shop, the price of a day's labour of
one pair of hands. `PLACES` are the lines each rank may take, so that the sixth is heard beside a bad week of the first; those
left out are counted. What goes wrong and weighs less than a day is not worth a line.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from shopcli.shop.week_quality_views import OfCard
from shopcli.shop.week_views import (
    AUTHORITY,
    FETCHING,
    OTHER,
    OUTWORK,
    PARTS,
    Actuals,
    Comeback,
    Earning,
    HoursLine,
    Noticed,
    ToDo,
)
from shopcli.workings.listed_times import Against

LEAST_WEIGHT = 1.0
OVERDUE_DAYS = 30
READY, STOP, BEYOND, ARRIVED, GIVEN, HANDS, BEGIN, FINISH = (
    "ready",
    "stop",
    "beyond",
    "arrived",
    "given",
    "hands",
    "begin",
    "finish",
)
UNPAID, LISTED, LOSES, BACK, CAME_BACK, TOOLS, UNCLOCKED = (
    "unpaid",
    "listed",
    "loses",
    "back",
    "comebacks",
    "tools",
    "unclocked",
)
OF_CARD = (
    READY,
    FETCHING,
    STOP,
    BEYOND,
    AUTHORITY,
    PARTS,
    OUTWORK,
    OTHER,
    ARRIVED,
    GIVEN,
    HANDS,
    BEGIN,
    FINISH,
)
KINDS = (*OF_CARD, UNPAID, BACK, TOOLS, CAME_BACK, LOSES, LISTED, UNCLOCKED)
RANKS = HAND_OVER, PASSED, AT_RISK, MONEY, STUCK, AGAIN = range(6)
PLACES = (((HAND_OVER, PASSED, AT_RISK), 4), ((MONEY,), 2), ((STUCK,), 2), ((AGAIN,), 3))
"""How many lines of the list these ranks may take together."""


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
    """An invoice unpaid past its day: by how many days, how much, which, whose and whom to ring."""

    days: int
    amount: Decimal
    number: str = ""
    customer: str = ""
    phone: str = ""


def unpaid(invoices: Iterable[Overdue], day: Day) -> Iterator[ToDo]:
    """Yield a line for what is long overdue: the customer who owes most of it is named."""
    old = [one for one in invoices if one.days > OVERDUE_DAYS]
    owed: dict[tuple[str, str], list[Overdue]] = {}
    for one in old:
        owed.setdefault((one.customer, one.phone), []).append(one)
    if not old:
        return
    sums = {who: sum((one.amount for one in bills), Decimal(0)) for who, bills in owed.items()}
    (name, phone), bills = max(owed.items(), key=lambda item: (sums[item[0]], item[0]))
    worst_of = OfCard(0, bills[0].number, "", "", name, phone, None, 0, what=str(len(bills)))
    yield ToDo(
        UNPAID,
        "unpaid:overdue",
        len(old),
        day.of_money(sum(sums.values(), Decimal(0))),
        days=max(one.days for one in bills),
        amount=sums[name, phone],
        rank=MONEY,
        card=worst_of,
        more=len(old) - len(bills),
    )


def listed(jobs: Iterable[tuple[Actuals, Against]], weeks: frozenset[str], day: Day) -> Iterator[ToDo]:
    """Yield a line for each job that is listed wrongly, weighed by what its last cases took beside what was listed."""
    for job, found in jobs:
        if found.to is None:
            continue
        last = [case for case in job.cases if case.week in weeks]
        off = abs(sum(case.clocked_s - case.listed_min * 60 for case in last))
        key = f"actuals:template:{job.template}"
        yield ToDo(LISTED, key, found.cases, day.of_time(off), name=job.title, factor=found.to, rank=AGAIN)


def loses(earnings: Iterable[Earning], day: Day) -> Iterator[ToDo]:
    """Yield a line for each job whose labour brought less than it cost."""
    for one in earnings:
        if one.margin is not None and one.margin < 0:
            key = f"earned:template:{one.template}"
            weight = day.of_money(-one.margin)
            yield ToDo(LOSES, key, one.cards, weight, amount=one.margin, name=one.title, rank=AGAIN)


def back(comebacks: Iterable[Comeback]) -> Iterator[ToDo]:
    """Yield a line for each car that came back and not for a planned service, the soonest after the work weighing most."""
    for one in comebacks:
        if not one.planned:
            of = OfCard(
                one.card_id, one.number, one.registration, "", "", "", None, one.days, what=one.before_title
            )
            weight = 1.0 + 1.0 / (1 + one.days)
            yield ToDo(
                BACK, f"card:{one.card_id}", 1, weight, days=one.days, name=one.system, card=of, rank=AGAIN
            )


def came_back(comebacks: Sequence[Comeback]) -> Iterator[ToDo]:
    """Yield a line for each system cars came back for more than once, planned services left aside."""
    for system in sorted({one.system for one in comebacks}):
        there = [one for one in comebacks if one.system == system]
        wrong = [one for one in there if not one.planned]
        if len(wrong) > 1:
            yield ToDo(
                CAME_BACK, f"comebacks:{system}", len(there), float(len(wrong)), name=system, rank=AGAIN
            )


def tools_late(tools: Sequence[Noticed], today: date) -> Iterator[ToDo]:
    """Yield a line for the tools past their calibration, by name."""
    if tools:
        days = max(((today - one.on).days for one in tools if one.on), default=None)
        names = ", ".join(one.what for one in tools)
        yield ToDo(TOOLS, TOOLS, len(tools), float(len(tools)), days=days, name=names, rank=AGAIN)


def unclocked(people: Iterable[HoursLine], day: Day) -> Iterator[ToDo]:
    """Yield a line for each who clocked less of their paid time than goes into cars here."""
    for one in people:
        short = (one.paid_s or 0) * day.work_share - one.clocked_s
        if one.paid_s and short > 0:
            key = f"unclocked:person:{one.key}"
            yield ToDo(
                UNCLOCKED, key, 1, day.of_time(short), name=one.name, factor=one.clocked_of_paid, rank=AGAIN
            )


def in_order(lines: Iterable[ToDo]) -> list[ToDo]:
    """Return the lines as they are ranked: by rank, by the day they are due, by kind where that is the same, by weight."""
    return sorted(
        lines,
        key=lambda one: (
            one.rank,
            one.due or date.max,
            KINDS.index(one.kind) if one.due else 0,
            -one.weight,
            one.kind,
            one.key,
        ),
    )


def worst(lines: Iterable[ToDo]) -> tuple[ToDo, ...]:
    """Return the lines that are shown, in order; the last of a group says how many of it are not.

    Of what goes wrong again and again only the worst of each kind is named.
    """
    there = _each_once(in_order(lines))
    found: list[ToDo] = []
    for ranks, places in PLACES:
        group = [one for one in there if one.rank in ranks]
        kept, left = group[:places], len(group) - places
        if left > 0:
            kept[-1] = replace(kept[-1], more=kept[-1].more + left)
        found += kept
    return tuple(found)


def _each_once(lines: Iterable[ToDo]) -> list[ToDo]:
    kept: list[ToDo] = []
    named: set[str] = set()
    for one in lines:
        if one.rank == AGAIN and (one.weight < LEAST_WEIGHT or one.kind in named):
            continue
        kept.append(one)
        named |= {one.kind} if one.rank == AGAIN else set()
    return kept
