"""When a job could be ready by the queue as it stands, asked from outside a rule. Meant for a reading thread."""

from collections.abc import Sequence
from datetime import date, timedelta

from shopcli.errors import BadInput, NotFound
from shopcli.shop.past_times import estimator
from shopcli.shop.price_views import PromiseView
from shopcli.shop.promise_ahead import NEW, Queue, promise
from shopcli.shop.queue_now import CardLeft, JobLeft, cards_left, longest_chain
from shopcli.store.reads.offers import knowledge
from shopcli.store.reads.prices import kind_of
from shopcli.store.shop import Shop
from shopcli.worklists.model import WorkList
from shopcli.worklists.together import together

PEOPLE = "SELECT COUNT(*) FROM person WHERE active AND REPLACE(role, 'mechanic', '') <> role"
SHORT = """
SELECT p.name, COALESCE(s.usual_days, 0) FROM part p LEFT JOIN supplier s ON s.id = p.supplier_id
WHERE (p.number = ? OR p.name = ?) AND p.stock_milli <= 0 ORDER BY p.number LIMIT 1"""


def promise_for(
    shop: Shop,
    templates: Sequence[str],
    vehicle_id: int | None = None,
    *,
    sheet: str = "",
    wanted: date | None = None,
) -> PromiseView:
    """Return when jobs on a vehicle could be ready, and what squeezing them in would cost others.

    Parameters
    ----------
    shop : Shop
        The shop; nothing is written.
    templates : sequence of str
        Names of the jobs.
    vehicle_id : int, optional
        A vehicle that is written down; one that is not is known by its `sheet` alone.
    sheet : str, optional
        Spec sheet of a vehicle not written down yet.
    wanted : date, optional
        The date somebody would like: how likely it is, and who pays for it.

    Raises
    ------
    BadInput
        When no job is named.
    ShopError
        When the jobs are not known, do not fit the vehicle or cannot share a card.
    """
    if not templates:
        raise BadInput("no job is named to be promised", hint="Choose one job at least.")
    known = knowledge(shop, sheet, vehicle_id)
    work = together(known.library, tuple(templates), known.facts, known.book)
    kind = sheet if vehicle_id is None else kind_of(shop, vehicle_id)
    return promise(_queue(shop), _new(shop, work, kind), shop.at(), wanted)


def promise_of(shop: Shop, card_id: int, wanted: date | None = None) -> PromiseView:
    """Return when an open card could be ready.

    Raises
    ------
    NotFound
        When there is no such card, or nothing is to be done on it any more.
    """
    queue = _queue(shop)
    card = next((c for c in (*queue.cards, *queue.aside) if c.id == card_id), None)
    if card is None:
        raise NotFound(f"card {card_id} is not in the queue", hint="It is ready, closed, void, or not there.")
    return promise(queue, card, shop.at(), wanted or card.promised)


def _queue(shop: Shop) -> Queue:
    at = shop.at()
    there = estimator(shop.fetch, at)
    return Queue(cards_left(shop.fetch, at), there, shop.settings, at, people_at_work(shop))


def people_at_work(shop: Shop) -> int:
    """Return how many people work on cars: the mechanics, one at least."""
    return max(1, int(shop.fetch(PEOPLE)[0][0]))


def _new(shop: Shop, work: WorkList, kind: str) -> CardLeft:
    listed: dict[str, float] = {}
    for task in work.tasks:
        listed[task.template] = listed.get(task.template, 0.0) + task.minutes
    due, unknown = _to_come(shop, work)
    chain = longest_chain((t.key, float(t.minutes), float(t.waits), t.after) for t in work.tasks)
    return CardLeft(
        id=NEW,
        number="new",
        registration="",
        customer="",
        phone="",
        sheet=kind,
        state="booked",
        held_for="",
        promised=None,
        opened_at=shop.at(),
        hands=None,
        jobs=tuple(JobLeft(name, minutes, 0.0) for name, minutes in listed.items()),
        chain=tuple(chain),
        due=due,
        unknown=unknown,
    )


def _to_come(shop: Shop, work: WorkList) -> tuple[date | None, tuple[str, ...]]:
    """Return when the parts that are short would be here if they were ordered today, and those nobody can say of."""
    today, days, unknown = shop.local(shop.at()).date(), 0, []
    for line in work.kit:
        name = line.number or line.part
        rows = [] if line.optional else shop.fetch(SHORT, (name, name))
        for text, usual_days in rows:
            if usual_days:
                days = max(days, usual_days)
            else:
                unknown.append(text)
    return today + timedelta(days=days) if days else None, tuple(dict.fromkeys(unknown))
