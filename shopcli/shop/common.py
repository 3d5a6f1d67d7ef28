"""What nearly every rule starts with: fetch the record or say it is not there, and see that its card may be worked on."""

from typing import TypeVar

from sqlalchemy import bindparam
from sqlmodel import Session, SQLModel, col, select

from shopcli.errors import BadInput, NotFound, Refused, Stale
from shopcli.shop.records import Card, Person, Task, Versioned
from shopcli.shop.states import CARD_MOVES, CardState, move

R = TypeVar("R", bound=SQLModel)
WITH_CARD = select(Task, Card).join(Card, col(Card.id) == Task.card_id).where(Task.id == bindparam("task_id"))
WORKABLE = frozenset({CardState.IN_HAND, CardState.BOOKED, CardState.CHECKED})


def get(session: Session, kind: type[R], key: int, what: str) -> R:
    """Return the record of `kind` with that id.

    Raises
    ------
    NotFound
        When there is none.
    """
    row = session.get(kind, key)
    if row is None:
        raise NotFound(f"there is no {what} {key}")
    return row


def key_of(row: SQLModel) -> int:
    """Return the id of a record that is in the database."""
    key = getattr(row, "id", None)
    if not isinstance(key, int):
        raise TypeError("the record has no id yet")
    return key


def saved(session: Session, row: R) -> R:
    """Add a record and give it its id."""
    session.add(row)
    session.flush()
    return row


def person_name(session: Session, person_id: int | None) -> str:
    """Return somebody's name, or a dash."""
    person = session.get(Person, person_id) if person_id else None
    return person.name if person else "-"


def open_for_work(session: Session, card_id: int) -> Card:
    """Return the card, taken in hand if it was only booked.

    Raises
    ------
    Refused
        When the card is held, closed or void.
    """
    return in_hand(session, get(session, Card, card_id, "card"))


def in_hand(session: Session, card: Card) -> Card:
    """Return a card that is read already, taken in hand if it was only booked.

    Raises
    ------
    Refused
        When the card is held, closed or void.
    """
    state = CardState(card.state)
    if state is CardState.HELD:
        raise Refused(
            f"card {card.number} is held: {card.held_for or 'no reason written'}",
            hint="Take it in hand first.",
        )
    if state not in WORKABLE:
        raise Refused(
            f"card {card.number} is {card.state}; nothing on it can change", hint="Open a new card."
        )
    if state is not CardState.IN_HAND:
        card.state = move(f"card {card.number}", CARD_MOVES, state, CardState.IN_HAND)
        card.checked_at = card.checked_by = None
        session.add(card)
    return card


def with_card(session: Session, task_id: int) -> tuple[Task, Card]:
    """Return a task and its card, read at once.

    Raises
    ------
    NotFound
        When there is none.
    """
    found = session.exec(WITH_CARD, params={"task_id": task_id}).first()
    if found is None:
        raise NotFound(f"there is no task {task_id}")
    return found


def task_for_work(session: Session, task_id: int) -> tuple[Task, Card]:
    """Return a task and its card, both open for work."""
    task, card = with_card(session, task_id)
    return task, in_hand(session, card)


def same_version(row: Versioned, version: int, what: str) -> None:
    """See that the record is still as it was on the screen.

    Raises
    ------
    Stale
        When another terminal changed it.
    """
    if row.version != version:
        raise Stale(
            f"{what} was changed at another terminal while you were writing",
            hint="Look at it again; what you typed is still in the form.",
        )


def reason_given(reason: str, what: str) -> str:
    """Return the cleaned reason.

    Raises
    ------
    BadInput
        When it is empty.
    """
    from shopcli.cleantext import clean_line

    kept = clean_line(reason, name="reason", limit=400)
    if not kept:
        raise BadInput(f"{what} needs a reason", hint="Write in a few words why.")
    return kept
