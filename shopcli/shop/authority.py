"""How far a card may go, how far it is, and where it is heading: told before the sum is passed, not after.

What is spent is the bill as it stands; what is to come are the open tasks at the shop's own times and the parts still
wanted, reckoned as a price ahead is (`work_to_come`). Neither is a bill: both are for whoever has to ring the customer in time.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from typing import Any

from shopcli.shop.amounts import ZERO, from_minor
from shopcli.shop.card_bill import less, totals_of
from shopcli.shop.discounts import Given, given
from shopcli.shop.fetching import Fetch
from shopcli.shop.money import Line
from shopcli.shop.own_times_now import LISTED_NOW
from shopcli.shop.pricing import finished, is_reversed, lines_put_down, priced_line
from shopcli.shop.settings import Settings
from shopcli.shop.work_to_come import JobToCome, to_come
from shopcli.workings.estimates import Estimator

# Nobody is told of a sum that even a task of this many times its listed time would not reach.
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
SELECT l.card_id, l.id, l.description, l.qty_milli, l.unit, l.price_minor, l.surcharge_minor, l.vat FROM card_part l JOIN card c ON c.id = l.card_id
WHERE l.state IN ('wanted', 'on order') AND NOT l.optional AND NOT l.customers_own
AND {{which}} AND c.state IN {OPEN} ORDER BY l.id"""


@dataclass(frozen=True, slots=True)
class AuthorityView:
    """A card against its authority, all sums with VAT.

    `surcharges` are owed besides on what is still to be fitted, until the old units go back. `authority` is None where none is written. Half of such cards end below `usual`, four in five below `most`. `level` is empty while `most` stays within,
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
    surcharges: Decimal = ZERO
    tax_word: str = "VAT"

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
class _Standing:
    """What stands on a card's bill, and how its lines become a sum with VAT."""

    lines: tuple[Line, ...]
    discounts: tuple[Given, ...]
    reverse: bool

    def sum_of(self, lines: Sequence[Line]) -> Decimal:
        """Return the sum of finished lines with VAT, less what is taken off."""
        return totals_of(*less(self.discounts, lines), ZERO).with_vat


@dataclass(slots=True)
class _Parts:
    """Parts still to be fitted, and what is owed on them until the old units go back."""

    lines: list[Line]
    surcharges: list[Line]


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
    jobs: dict[int, list[JobToCome]] = {}
    for key, template, minutes, seconds in fetch(TASKS.format(which=which), (at_s, *asked)):
        job = JobToCome(template, template, float(minutes), int(seconds) / 60)
        if job.listed_min:
            jobs.setdefault(key, []).append(job)
    parts = _parts_of(settings, fetch(PARTS.format(which=which), asked))
    found = []
    for key, number, authority, by, how, sheet in fetch(CARDS.format(which=which), asked):
        standing = _standing(fetch, key, settings, at_s)
        wanted = parts.get(key, _Parts([], []))
        reverse = standing.reverse
        coming = to_come(
            settings, estimator, sheet, jobs.get(key, []), (*standing.lines, *wanted.lines), reverse=reverse
        )
        spent, usual, most, owed = map(
            standing.sum_of,
            (
                finished(standing.lines, settings, reverse=reverse),
                coming.usual,
                coming.most,
                finished(wanted.surcharges, settings, reverse=reverse),
            ),
        )
        limit = None if authority is None else from_minor(authority)
        found.append(AuthorityView(key, number, limit, by, how, spent, usual, most, owed, settings.tax_word))
    return tuple(found)


def _standing(fetch: Fetch, card_id: int, settings: Settings, at_s: int) -> _Standing:
    return _Standing(
        lines_put_down(fetch, card_id, settings, at_s), given(fetch, card_id), is_reversed(fetch, card_id)
    )


def _parts_of(settings: Settings, rows: Iterable[tuple[Any, ...]]) -> dict[int, _Parts]:
    """Return lines for parts still to be fitted, by card."""
    found: dict[int, _Parts] = {}
    for card_id, key, text, qty, unit, price, surcharge, vat in rows:
        here = found.setdefault(card_id, _Parts([], []))
        amount, line = Decimal(qty) / 1000, partial(priced_line, settings)
        here.lines.append(line("part", f"P{key}", text, amount, unit, from_minor(price), vat))
        if surcharge:
            here.surcharges.append(
                line("surcharge", f"X{key}", text, amount, "pc", from_minor(surcharge), vat)
            )
    return found


STARTING = f"""
SELECT c.id, c.authority_minor, {LISTED_NOW}, t.template, v.sheet,
    (SELECT COALESCE(SUM(COALESCE(x.ended_at, ?) - x.started_at), 0) FROM clock_entry x WHERE x.task_id = t.id)
FROM task t JOIN card c ON c.id = t.card_id JOIN vehicle v ON v.id = c.vehicle_id
WHERE t.id = ? AND t.state = 'open' AND c.authority_minor IS NOT NULL"""
ITS_PARTS = """
SELECT card_id, id, description, qty_milli, unit, price_minor, surcharge_minor, vat FROM card_part
WHERE task_id = ? AND state IN ('wanted', 'on order') AND NOT optional AND NOT customers_own"""


def on_starting(fetch: Fetch, settings: Settings, at_s: int, task_id: int) -> tuple[str, ...]:
    """Return what to tell somebody who starts a task that takes its card past what the customer allowed."""
    for card_id, authority, listed, template, sheet, seconds in fetch(STARTING, (at_s, task_id)):
        limit, standing = from_minor(authority), _standing(fetch, card_id, settings, at_s)
        spent = standing.sum_of(finished(standing.lines, settings, reverse=standing.reverse))
        if spent > limit:
            return (
                f"Past the authority: {spent} is spent, {limit} was allowed. Tell the desk before going on.",
            )
        parts = _parts_of(settings, fetch(ITS_PARTS, (task_id,))).get(card_id, _Parts([], []))
        after = partial(_after, settings, standing, (*standing.lines, *parts.lines), sheet)
        job = JobToCome(template, template, float(listed), int(seconds) / 60)
        # The past is read only where it can matter: nobody at the bench waits for it.
        far = JobToCome(template, template, FAR * float(listed))
        if after(Estimator(()), far) <= limit:
            return ()
        from shopcli.shop.past_times import estimator

        usual = after(estimator(fetch, at_s), job)
        if usual > limit:
            return (f"This task takes the bill to about {usual}; {limit} was allowed. Tell the desk first.",)
    return ()


def _after(
    settings: Settings,
    standing: _Standing,
    besides: Sequence[Line],
    sheet: str,
    there: Estimator,
    job: JobToCome,
) -> Decimal:
    """Return the usual sum of a card once a job is done."""
    coming = to_come(settings, there, sheet, [job], besides, reverse=standing.reverse)
    return standing.sum_of(coming.usual)
