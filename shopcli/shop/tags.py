"""Tags: open conditions on a vehicle. They bar acts until lifted, and always bar the hand-over."""

from sqlmodel import Session, select

from shopcli.errors import Barred
from shopcli.shop.act import Act, Change
from shopcli.shop.bench_commands import LiftTag
from shopcli.shop.common import get, key_of, open_for_work, person_name
from shopcli.shop.reasons import reason_in_words
from shopcli.shop.records import Card, Tag, Task
from shopcli.shop.states import TaskState
from shopcli.shop.tagrules import barring
from shopcli.worklists.freeze import thawed
from shopcli.worklists.model import Task as Frozen


def hanging(session: Session, vehicle_id: int) -> list[Tag]:
    """Return the tags now on a vehicle, oldest first."""
    query = select(Tag).where(Tag.vehicle_id == vehicle_id, Tag.lifted_at == None)  # noqa: E711
    return list(session.exec(query.order_by(Tag.id)))  # type: ignore[arg-type]


def see_not_barred(session: Session, act: Act, vehicle_id: int, task: Frozen) -> None:
    """Refuse a task that a tag bars.

    Raises
    ------
    Barred
        Naming the tag, who hung it, when, and by which task.
    """
    for tag in hanging(session, vehicle_id):
        if not barring(tag.name, tag.bars.split("\n"), task):
            continue
        from datetime import UTC, datetime

        when = datetime.fromtimestamp(tag.hung_at, UTC).astimezone(act.settings.tz())
        by = get(session, Task, tag.task_id, "task").title
        raise Barred(
            f"'{task.title}' is barred: {tag.name}. {tag.says}",
            hint=f"Hung by {person_name(session, tag.hung_by)} on {when:%a %d %b %H:%M} with '{by}'."
            " Do the task that lifts it, or lift the tag by hand with a reason.",
        )


def hang(session: Session, act: Act, card: Card, task: Task, names: tuple[str, ...]) -> tuple[str, ...]:
    """Hang tags on the vehicle; one already hanging is not hung twice."""
    if not names:
        return ()
    there = {tag.name for tag in hanging(session, card.vehicle_id)}
    said = []
    for name in names:
        if name in there:
            continue
        kind = act.library.tags.get(name)
        session.add(
            Tag(
                vehicle_id=card.vehicle_id,
                card_id=task.card_id,
                task_id=key_of(task),
                name=name,
                says=kind.says if kind else name,
                bars="\n".join(kind.bars) if kind else "",
                hung_by=act.by,
                hung_at=act.at,
            )
        )
        said.append(f"Tag hung: {name}.")
    return tuple(said)


def lift(session: Session, act: Act, card: Card, task: Task, names: tuple[str, ...]) -> tuple[str, ...]:
    """Lift the tags of those names from the vehicle."""
    if not names:
        return ()
    said = []
    for tag in hanging(session, card.vehicle_id):
        if tag.name in names:
            tag.lifted_at, tag.lifted_by, tag.lifted_task_id = act.at, act.by, task.id
            session.add(tag)
            said.append(f"Tag lifted: {tag.name}.")
    return tuple(said)


def take_back(session: Session, act: Act, task: Task) -> None:
    """Undo what finishing a task did to tags: its own come off, those it lifted hang again.

    A tag hangs once however many tasks ask for it: where another done task has asked for it since, it stays, in that
    task's name.
    """
    for tag in session.exec(select(Tag).where(Tag.task_id == task.id, Tag.lifted_at == None)):  # noqa: E711
        heir = _asked_since(session, tag, task)
        if heir is None:
            tag.lifted_at, tag.lifted_by, tag.lifted_for = act.at, act.by, "the task was taken back"
        else:
            tag.task_id, tag.card_id = key_of(heir), heir.card_id
            tag.hung_by, tag.hung_at = heir.done_by or tag.hung_by, heir.done_at or tag.hung_at
        session.add(tag)
    for tag in session.exec(select(Tag).where(Tag.lifted_task_id == task.id)):
        tag.lifted_at = tag.lifted_by = tag.lifted_task_id = None
        session.add(tag)


def _asked_since(session: Session, tag: Tag, task: Task) -> Task | None:
    """Return the latest other task that was done since the tag was hung and hangs the same one."""
    done = Task.state == TaskState.DONE, Task.id != task.id, Task.done_at >= tag.hung_at  # type: ignore[operator]
    query = select(Task).join(Card, Card.id == Task.card_id)  # type: ignore[arg-type]
    rows = session.exec(query.where(Card.vehicle_id == tag.vehicle_id, *done).order_by(Task.done_at, Task.id))  # type: ignore[arg-type]
    asked = [row for row in rows if tag.name in thawed(row.frozen).hangs]
    return asked[-1] if asked else None


def lift_tag(session: Session, act: Act, cmd: LiftTag) -> Change:
    """Lift a tag by hand, with a reason that stays readable.

    Raises
    ------
    BadInput
        When the reason is empty or only a figure.
    """
    tag = get(session, Tag, cmd.tag_id, "tag")
    open_for_work(session, tag.card_id)
    if tag.lifted_at is not None:
        return Change("tag", cmd.tag_id, tag.card_id, said=(f"{tag.name} was already lifted.",))
    tag.lifted_for = reason_in_words(cmd.reason, f"lifting '{tag.name}' by hand")
    tag.lifted_at, tag.lifted_by = act.at, act.by
    session.add(tag)
    return Change("tag", cmd.tag_id, tag.card_id, said=(f"Tag lifted by hand: {tag.name}.",))
