"""What comes before a task and is still open: what takes a tag off the car waits for all of it."""

from sqlmodel import Session, select

from shopcli.errors import Refused
from shopcli.shop import tags
from shopcli.shop.records import Task
from shopcli.shop.states import TaskState
from shopcli.worklists.model import Task as Frozen


def see_what_is_before(session: Session, vehicle_id: int, task: Task, frozen: Frozen) -> tuple[str, ...]:
    """Say what comes before and is still open.

    What takes a tag off the car says that the car is as it should be again: that waits for all that comes before it.

    Raises
    ------
    Refused
        When the task takes a tag off and something before it is open.
    """
    before = _still_open(session, task, frozen)
    lifted = still_hung(session, vehicle_id, frozen) if before else []
    if lifted:
        raise Refused(
            f"'{task.title}' takes off the tag {' and '.join(lifted)}, and {_listed(before)} not done yet",
            hint="Do that first, or leave it out with the reason.",
        )
    return tuple(f"Note: '{title}' comes before it and is still open." for title in before)


def too_early(session: Session, vehicle_id: int, task: Task, frozen: Frozen) -> tuple[str, ...]:
    """Say, when a clock starts on it, that a task cannot be done before others, and which."""
    before = _still_open(session, task, frozen)
    if not before or not still_hung(session, vehicle_id, frozen):
        return ()
    return (f"Not before the rest: {_listed(before)} not done yet.",)


def _still_open(session: Session, task: Task, frozen: Frozen) -> list[str]:
    if not frozen.after:
        return []
    query = select(Task.title, Task.key).where(Task.card_id == task.card_id, Task.state == TaskState.OPEN)
    return [title for title, key in session.exec(query) if key in frozen.after]


def still_hung(session: Session, vehicle_id: int, frozen: Frozen) -> list[str]:
    """Return the tags on the car that a task takes off."""
    return [tag.name for tag in tags.hanging(session, vehicle_id) if tag.name in frozen.lifts]


def _listed(titles: list[str]) -> str:
    named = " and ".join(f"'{title}'" for title in titles)
    return f"{named} is" if len(titles) == 1 else f"{named} are"
