"""The order of work of a card: the plan made from what the records say, with the wishes that can be kept.

A wish that was possible when it was asked may be impossible later, when other work has come in between. It is
then set aside and says why; the order itself is never missing.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from shopcli.errors import ShopError
from shopcli.shop.fetching import Fetch
from shopcli.shop.ordered import NoRoomView, Order, OrderView, StepView, WishView, wish_words
from shopcli.shop.states import TaskState
from shopcli.shop.work_now import TaskNow, Wished, WorkNow, work_now
from shopcli.worklists.model import TagKind
from shopcli.worklists.planner import Pin, Plan, plan


def order_of_work(
    fetch: Fetch,
    card_id: int,
    at: int,
    *,
    usual_hands: int,
    tags: Mapping[str, TagKind],
    hands: int | None = None,
    before: Order | None = None,
) -> Order:
    """Return the order of work of a card.

    Parameters
    ----------
    fetch, card_id, at, usual_hands, tags, hands
        As `work_now` takes them.
    before : Order, optional
        An order made earlier: it is handed back while nothing that matters has changed, so that tasks do not
        change places merely because a minute went by.

    Raises
    ------
    NotFound
        When there is no such card.
    """
    work = work_now(fetch, card_id, at, usual_hands=usual_hands, tags=tags, hands=hands)
    if before is not None and before.view.card_id == card_id and before.alike == work.alike():
        return before
    kept, set_aside, made = _with_wishes(work)
    return _order(work, made, kept, set_aside)


def see_it_can_be(work: WorkNow, wish_id: int) -> None:
    """See that a wish can be kept beside those that can be kept already.

    Raises
    ------
    Refused, BadInput
        With the planner's reason when it cannot.
    """
    others = replace(work, wishes=tuple(w for w in work.wishes if w.id != wish_id))
    kept, _set_aside, _made = _with_wishes(others) if others.wishes else ((), {}, None)
    own = [w for w in work.wishes if w.id == wish_id]
    _plan(work, pins_of(work, [*kept, *own]))


def pins_of(work: WorkNow, wishes: Sequence[Wished]) -> tuple[Pin, ...]:
    """Return wishes as the planner takes them.

    Places count from the first task of the card, so what is begun meanwhile is taken off. Where two want one
    place the newer has it and the older moves on to the next that is free.
    """
    key = {t.id: t.task.key for t in work.tasks}
    number = {person: k + 1 for k, (person, _name) in enumerate(work.people)}
    free = sum(t.runner is None for t in work.open_tasks())
    taken: set[int] = set()
    pins = []
    for wish in sorted(wishes, key=lambda w: -w.id):
        task = key[wish.task_id]
        if wish.kind == "by" and wish.person_id is not None:
            pins.append(Pin.by(task, number[wish.person_id], wish.person))
        elif wish.kind == "after" and wish.other_id is not None:
            pins.append(Pin.before(key[wish.other_id], task))
        else:
            seat = _seat(work, wish, free, taken)
            taken.add(seat)
            pins.append(Pin.last(task) if seat == free else Pin.place(task, seat))
    return tuple(pins)


def _seat(work: WorkNow, wish: Wished, free: int, taken: set[int]) -> int:
    wanted = {"next": 1, "last": free}.get(wish.kind, wish.nth - work.begun())
    wanted = max(1, min(wanted, free))
    onward = [*range(wanted, free + 1), *range(wanted - 1, 0, -1)]
    return next((seat for seat in onward if seat not in taken), wanted)


def _plan(work: WorkNow, pins: Sequence[Pin]) -> Plan:
    return plan(work.planned, hands=work.hands, pins=pins, state=work.state)


def _with_wishes(work: WorkNow) -> tuple[tuple[Wished, ...], dict[int, str], Plan | None]:
    """Return the wishes kept, why the others are set aside, and the plan; no plan when even without wishes there is none."""
    try:
        return work.wishes, {}, _plan(work, pins_of(work, work.wishes))
    except ShopError as refusal:
        if not work.wishes:
            return (), {}, None
        reason = refusal.message
    kept: list[Wished] = []
    set_aside: dict[int, str] = {}
    made = _or_none(work)
    for wish in work.wishes if made else ():
        try:
            made = _plan(work, pins_of(work, [*kept, wish]))
            kept.append(wish)
        except ShopError as refusal:
            set_aside[wish.id] = refusal.message
    if made is None:
        set_aside = {wish.id: reason for wish in work.wishes}
    return tuple(kept), set_aside, made


def _or_none(work: WorkNow) -> Plan | None:
    try:
        return _plan(work, ())
    except ShopError:
        return None


def _order(work: WorkNow, made: Plan | None, kept: Sequence[Wished], set_aside: Mapping[int, str]) -> Order:
    by_key = {t.task.key: t for t in work.tasks}
    wishes = tuple(_wish(work, wish, made, kept, set_aside) for wish in work.wishes)
    steps = tuple(_steps(work, made, by_key, wishes)) if made else ()
    out = [(by_key[gone.key], gone.why) for gone in made.left_out] if made else []
    view = OrderView(
        card_id=work.card_id,
        at=work.at,
        hands=work.hands,
        from_card=work.from_card,
        people=tuple(name for _key, name in work.people),
        steps=steps,
        waits=made.waits if made else (),
        no_room=tuple(NoRoomView(t.id, t.number, t.task.title, why) for t, why in out),
        wishes=wishes,
        notes=_notes(work, made),
        elapsed_min=_elapsed(made) if made else 0,
        hands_on_min=sum(t.left_min() for t in work.open_tasks()),
        listed_min=made.top_to_bottom_min if made else 0,
    )
    settled = sorted(
        (t for t in work.tasks if t.state != TaskState.OPEN), key=lambda t: (t.done_at or 0, t.number)
    )
    first = [t.id for t in settled] + [s.task_id for s in steps]
    rest = [t.id for t in work.tasks if t.id not in set(first)]
    return Order(view, (*first, *rest), work.planned, made, work.alike())


def _elapsed(made: Plan) -> int:
    """Until the last wait is over, also one that a settled task has left running."""
    return max([made.elapsed_min, *(w.end_min - made.start_min for w in made.waits)])


def _notes(work: WorkNow, made: Plan | None) -> tuple[str, ...]:
    notes = made.notes if made else ("these tasks wait for one another; they stand as they are listed",)
    if work.loose_parts:
        parts = ", ".join(dict.fromkeys(work.loose_parts))
        notes += (f"not here, and no task is named for it: {parts}",)
    return notes


def _steps(
    work: WorkNow, made: Plan, by_key: Mapping[str, TaskNow], wishes: Sequence[WishView]
) -> Iterable[StepView]:
    for step in made.steps:
        now = by_key[step.key]
        said = ", ".join(w.says for w in wishes if w.task_id == now.id and not w.set_aside)
        named = step.person <= len(work.people)
        yield StepView(
            task_id=now.id,
            number=now.number,
            title=step.title,
            place=step.place,
            who=work.people[step.person - 1][1] if named else f"person {step.person}",
            start_min=step.start_min,
            end_min=step.end_min,
            free_at_min=step.free_at_min,
            why=step.why,
            in_hand=now.runner is not None,
            wish=said,
        )


def _wish(
    work: WorkNow, wish: Wished, made: Plan | None, kept: Sequence[Wished], set_aside: Mapping[int, str]
) -> WishView:
    task = next(t for t in work.tasks if t.id == wish.task_id)
    reason = set_aside.get(wish.id, "")
    if made and wish in kept and any(gone.key == task.task.key for gone in made.left_out):
        reason = "the task itself finds no room"
    return WishView(wish.id, task.id, task.number, task.task.title, _says(work, wish), wish.asked_by, reason)


def _says(work: WorkNow, wish: Wished) -> str:
    other = next((t.task.title for t in work.tasks if t.id == wish.other_id), "")
    return wish_words(wish.kind, person=wish.person, other=other, place=max(1, wish.nth - work.begun()))
