"""How far a card may go, how far it is, and where it is heading: told before the sum is passed, not after.

What is spent is the bill as it stands; what is to come are the open tasks at the shop's own times and the parts still
wanted. Neither is a bill: both are for whoever has to ring the customer in time.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from random import Random
from typing import Any

from shopcli.shop.amounts import from_minor, rounded
from shopcli.shop.card_bill import card_bill
from shopcli.shop.fetching import Fetch
from shopcli.shop.own_times_now import LISTED_NOW
from shopcli.shop.settings import Settings
from shopcli.workings.estimates import MOST, SEED, USUAL, Drawn, Estimator, at

DRAWS = 300
# Nobody is told of a sum that even jobs of this many times their listed time would not reach.
FAR = 4
OPEN = "('booked', 'in hand', 'held')"

# Which cards: those with an authority, or the one asked about.
LIMITED, ONE = "c.authority_minor IS NOT NULL", "c.id = ?"

CARDS = f"""
SELECT c.id, c.number, c.authority_minor, c.authority_by, c.authority_how, v.sheet FROM card c JOIN vehicle v ON v.id = c.vehicle_id
WHERE {{which}} AND c.state IN {OPEN} ORDER BY c.id"""
TASKS = f"""
SELECT k.card_id, k.template, SUM(k.minutes), SUM(k.seconds) FROM (
    SELECT t.card_id, t.template, {LISTED_NOW} AS minutes, (
        SELECT COALESCE(SUM(COALESCE(x.ended_at, ?) - x.started_at), 0) FROM clock_entry x WHERE x.task_id = t.id
    ) AS seconds
    FROM task t WHERE t.card_id IN (SELECT c.id FROM card c WHERE {{which}} AND c.state IN {OPEN}) AND t.state = 'open'
) k GROUP BY k.card_id, k.template ORDER BY k.card_id, k.template"""
PARTS = f"""
SELECT l.card_id, l.qty_milli, l.price_minor + l.surcharge_minor, l.vat FROM card_part l JOIN card c ON c.id = l.card_id
WHERE l.state IN ('wanted', 'on order') AND NOT l.optional AND NOT l.customers_own
AND {{which}} AND c.state IN {OPEN} ORDER BY l.id"""


@dataclass(frozen=True, slots=True)
class AuthorityView:
    """A card against its authority, all sums with VAT.

    `authority` is None where none is written. Half of such cards end below `usual`, four in five below `most`. `level` is empty while `most` stays within,
    ``may pass``, ``will pass`` when `usual` is beyond, ``passed`` when what is spent is.
    """

    card_id: int
    number: str
    authority: Decimal | None
    by: str
    how: str
    spent: Decimal
    usual: Decimal
    most: Decimal

    @property
    def level(self) -> str:
        """How near it is."""
        if self.authority is None:
            return ""
        if self.spent > self.authority:
            return "passed"
        if self.usual > self.authority:
            return "will pass"
        return "may pass" if self.most > self.authority else ""


@dataclass(frozen=True, slots=True)
class _Job:
    template: str
    listed_min: float
    clocked_min: float


def authorities(
    fetch: Fetch, settings: Settings, estimator: Estimator, at_s: int, card_id: int | None = None
) -> tuple[AuthorityView, ...]:
    """Return every open card with an authority, or the one asked about: where it stands and where it is heading.

    Parameters
    ----------
    fetch : callable
        Reads rows by SQL text with ``?`` parameters.
    settings : Settings
        Labour price, VAT.
    estimator : Estimator
        The shop's past.
    at_s : int
        Now, in seconds UTC: running clocks count up to it, [s]
    card_id : int, optional
        The card asked about, whether or not it has an authority.
    """
    which, asked = (LIMITED, ()) if card_id is None else (ONE, (card_id,))
    jobs: dict[int, list[_Job]] = {}
    for key, template, minutes, seconds in fetch(TASKS.format(which=which), (at_s, *asked)):
        jobs.setdefault(key, []).append(_Job(template, float(minutes), int(seconds) / 60))
    parts = parts_of(settings, fetch(PARTS.format(which=which), asked))
    rng = Random(SEED)  # noqa: S311 - the same answer every time is wanted
    shops: list[Drawn] = []
    found = []
    for key, number, authority, by, how, sheet in fetch(CARDS.format(which=which), asked):
        spent = card_bill(fetch, key, settings, at_s).totals.with_vat
        before = spent + parts.get(key, Decimal(0))
        mine, limit = jobs.get(key, []), None if authority is None else from_minor(authority)
        if limit is not None and before + labour(settings, FAR * sum(j.listed_min for j in mine)) <= limit:
            usual = most = before + labour(settings, sum(j.listed_min for j in mine))
        else:
            shops = shops or [estimator.draw(rng) for _ in range(DRAWS)]
            usual, most = (before + labour(settings, m) for m in _left(shops, mine, sheet))
        found.append(AuthorityView(key, number, limit, by, how, spent, rounded(usual), rounded(most)))
    return tuple(found)


def _left(shops: Sequence[Drawn], jobs: Sequence[_Job], sheet: str) -> tuple[float, float]:
    """Return the usual hands-on time still to come and what four in five stay below, [min]."""
    sums = sorted(
        sum(max(0.0, j.listed_min * shop.ratio(j.template, sheet) - j.clocked_min) for j in jobs)
        for shop in shops
    )
    return at(sums, USUAL), at(sums, MOST)


def labour(settings: Settings, minutes: float) -> Decimal:
    """Return what so much labour costs with its sundries and VAT, unrounded."""
    net = from_minor(settings.labour_minor) * Decimal(round(minutes)) / 60
    besides = net * settings.sundries_percent / 100
    if settings.sundries_most_minor:
        besides = min(besides, from_minor(settings.sundries_most_minor))
    return _with_vat(settings, net + besides, settings.labour_vat)


def _with_vat(settings: Settings, net: Decimal, vat: str) -> Decimal:
    return net * (1 + settings.vat(vat).percent / 100)


def parts_of(settings: Settings, rows: Iterable[tuple[Any, ...]]) -> Mapping[int, Decimal]:
    """Return what parts will cost with VAT, by card; rows are (card, quantity, price of one, VAT)."""
    found: dict[int, Decimal] = {}
    for card_id, qty, minor, vat in rows:
        each = from_minor(int(minor)) * Decimal(qty) / 1000
        found[card_id] = found.get(card_id, Decimal(0)) + _with_vat(settings, each, vat)
    return found


STARTING = f"""
SELECT c.id, c.authority_minor, {LISTED_NOW}, t.template, v.sheet,
    (SELECT COALESCE(SUM(COALESCE(x.ended_at, ?) - x.started_at), 0) FROM clock_entry x WHERE x.task_id = t.id)
FROM task t JOIN card c ON c.id = t.card_id JOIN vehicle v ON v.id = c.vehicle_id
WHERE t.id = ? AND t.state = 'open' AND c.authority_minor IS NOT NULL"""
ITS_PARTS = """
SELECT card_id, qty_milli, price_minor + surcharge_minor, vat FROM card_part
WHERE task_id = ? AND state IN ('wanted', 'on order') AND NOT optional AND NOT customers_own"""


def on_starting(fetch: Fetch, settings: Settings, at_s: int, task_id: int) -> tuple[str, ...]:
    """Return what to tell somebody who starts a task that takes its card past what the customer allowed."""
    from shopcli.shop.past_times import estimator

    for card_id, authority, listed, template, sheet, seconds in fetch(STARTING, (at_s, task_id)):
        limit, minutes = from_minor(authority), float(listed)
        spent = card_bill(fetch, card_id, settings, at_s).totals.with_vat
        if spent > limit:
            return (
                f"Past the authority: {spent} is spent, {limit} was allowed. Tell the desk before going on.",
            )
        parts = sum(parts_of(settings, fetch(ITS_PARTS, (task_id,))).values(), Decimal(0))
        before, clocked = spent + parts, int(seconds) / 60
        if before + labour(settings, FAR * minutes) <= limit:
            return ()
        usual = max(0.0, minutes * estimator(fetch, at_s).ratios(template, sheet)[0] - clocked)
        after = rounded(before + labour(settings, usual))
        if after > limit:
            return (f"This task takes the bill to about {after}; {limit} was allowed. Tell the desk first.",)
    return ()
