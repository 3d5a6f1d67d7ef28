"""Wishes about the order of work: what somebody wants next, last, elsewhere or by somebody, and the hands on a card.

The planner is asked at once: a wish that cannot be kept is refused with its reason, and nothing is written.
"""

from sqlmodel import Session, select

from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, saved
from shopcli.shop.fetch import fetcher
from shopcli.shop.meanwhile import settle
from shopcli.shop.order_of_work import see_it_can_be
from shopcli.shop.ordered import wish_words
from shopcli.shop.records import Card, Person, Task, Wish
from shopcli.shop.settings_seen import MOST_HANDS
from shopcli.shop.states import CardState, TaskState
from shopcli.shop.wish_commands import GiveBack, PinTask, SetHands
from shopcli.shop.work_now import WorkNow, work_now

KINDS = ("next", "place", "last", "after", "by")


def _card_that_waits(session: Session, card_id: int) -> Card:
    card = get(session, Card, card_id, "card")
    if card.state in {CardState.CLOSED, CardState.VOID}:
        raise Refused(f"card {card.number} is {card.state}; nothing on it is left to be put in order")
    return card


def _open_task(session: Session, task_id: int) -> Task:
    task = get(session, Task, task_id, "task")
    if task.state != TaskState.OPEN:
        raise Refused(f"'{task.title}' is {task.state} already", hint="Wish for a task that is still open.")
    return task


def _work(session: Session, act: Act, card_id: int) -> WorkNow:
    tags = act.library.tags
    return work_now(fetcher(session), card_id, act.at, usual_hands=act.settings.hands, tags=tags)


def _end(session: Session, act: Act, wish: Wish) -> None:
    wish.given_back_by, wish.given_back_at = act.by, act.at
    session.add(wish)


def _standing(session: Session, card_id: int, task_id: int | None = None) -> list[Wish]:
    query = select(Wish).where(Wish.card_id == card_id, Wish.given_back_at == None)  # noqa: E711
    found = session.exec(query.order_by(Wish.id))  # type: ignore[arg-type]
    return [wish for wish in found if task_id is None or wish.task_id == task_id]


def pin_task(session: Session, act: Act, cmd: PinTask) -> Change:
    """Wish for a place of a task, or for who does it.

    Raises
    ------
    BadInput
        When there is no such wish or no such place.
    Refused
        When the task is begun or settled, or the order cannot be so: the message is the planner's reason.
    """
    task = _open_task(session, cmd.task_id)
    card = _card_that_waits(session, task.card_id)
    work = _work(session, act, key_of(card))
    now = next(t for t in work.tasks if t.id == cmd.task_id)
    if cmd.kind not in KINDS:
        raise BadInput(f"'{cmd.kind}' is no wish", hint="One of: " + ", ".join(KINDS) + ".")
    if cmd.kind != "by" and now.runner is not None:
        raise Refused(f"'{task.title}' is in hand already", hint="Stop its clock first, or wish for another.")
    before = {}
    for wish in _standing(session, key_of(card), cmd.task_id):
        if (wish.kind == "by") == (cmd.kind == "by"):
            before = {
                "kind": wish.kind,
                "nth": wish.nth,
                "other_id": wish.other_id,
                "person_id": wish.person_id,
            }
            _end(session, act, wish)
    made = saved(session, _wish(session, act, cmd, work))
    see_it_can_be(_work(session, act, key_of(card)), key_of(made))
    said = f"'{task.title}': {_says(session, cmd)}, as asked."
    return Change("wish", key_of(made), card.id, before, said=(said,))


def _wish(session: Session, act: Act, cmd: PinTask, work: WorkNow) -> Wish:
    wish = Wish(card_id=work.card_id, task_id=cmd.task_id, kind=cmd.kind, asked_by=act.by, asked_at=act.at)
    if cmd.kind == "place":
        free = sum(t.runner is None for t in work.open_tasks())
        if not 1 <= cmd.place <= free:
            raise BadInput(f"there is no place {cmd.place}", hint=f"Places run from 1 to {free}.")
        wish.nth = work.begun() + cmd.place
    elif cmd.kind == "after":
        other = _open_task(session, cmd.other_id or 0)
        if other.card_id != work.card_id or other.id == cmd.task_id:
            raise BadInput("a task comes after another task of the same card")
        wish.other_id = other.id
    elif cmd.kind == "by":
        person = get(session, Person, cmd.person_id or 0, "person")
        if not person.active:
            raise Refused(f"{person.name} no longer works here")
        wish.person_id = person.id
    return wish


def _says(session: Session, cmd: PinTask) -> str:
    other = get(session, Task, cmd.other_id or 0, "task").title if cmd.kind == "after" else ""
    person = get(session, Person, cmd.person_id or 0, "person").name if cmd.kind == "by" else ""
    return wish_words(cmd.kind, person=person, other=other, place=cmd.place)


def give_back(session: Session, act: Act, cmd: GiveBack) -> Change:
    """Give back the wishes for a task, or all of a card.

    Raises
    ------
    Refused
        When there are none.
    """
    card = _card_that_waits(session, cmd.card_id)
    found = _standing(session, cmd.card_id, cmd.task_id)
    if not found:
        raise Refused("nothing was asked for here; the order is the planner's own")
    for wish in found:
        _end(session, act, wish)
    said = "One wish given back." if len(found) == 1 else f"{len(found)} wishes given back."
    before = {"wishes": [wish.id for wish in found]}
    return Change("card", cmd.card_id, card.id, before, said=(said,))


def set_hands(session: Session, act: Act, cmd: SetHands) -> Change:
    """Say how many people work on a card.

    Raises
    ------
    BadInput
        When that is nobody, or a crowd.
    """
    card = _card_that_waits(session, cmd.card_id)
    if cmd.hands is not None and not 1 <= cmd.hands <= MOST_HANDS:
        raise BadInput(f"{cmd.hands} people on one car", hint=f"Between 1 and {MOST_HANDS}.")
    before, card.hands = {"hands": card.hands}, cmd.hands
    settle(session, act, cmd, card, before, subject="card", what=f"card {card.number}")
    session.add(card)
    many = "1 pair of hands" if cmd.hands == 1 else f"{cmd.hands} pairs of hands"
    said = f"Card {card.number}: {many if cmd.hands else 'as many hands as the shop usually has'}."
    return Change("card", cmd.card_id, card.id, before, {"hands": cmd.hands}, (said,))
