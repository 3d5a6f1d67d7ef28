"""For each thing that hinders a hand-over, the ways out of it: at the bench, or said here in one line.

A way is what to show, what to ask if anything, and the act that follows; the screen only carries it out.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from shopcli.shop.bench_commands import LiftTag, SecondCheck, SettleFinding, SettleOwed
from shopcli.shop.card_commands import MoveCard, Waive
from shopcli.shop.clock_commands import ClockOff, CorrectClock
from shopcli.shop.command import Command
from shopcli.shop.part_commands import DropPlanned, MovePart, OutworkBack, PricePart, SendPlanned
from shopcli.shop.seen import stored
from shopcli.shop.typed_figures import read_sum
from shopcli.shop.views import CardView, ClockView, Hindrance


@dataclass(frozen=True, slots=True)
class Way:
    """A way out. `question` asks for a line first; `act` makes the command of it.

    `check` refuses a line in its field. Without an act it leads elsewhere: to the bench (at `task`) or to a question of the desk's own (`asks`).
    """

    key: str
    label: str
    note: str = ""
    question: str = ""
    act: Callable[[str], Command] | None = None
    task: int | None = None
    asks: str = ""
    check: Callable[[str], object] | None = None


@dataclass(frozen=True, slots=True)
class Now:
    """What the ways out depend on: the card, who stands here, the running clocks, the second."""

    view: CardView
    person_id: int
    person: str
    clocks: tuple[ClockView, ...]
    at: int
    without_tax: str = "without VAT"


def ways(hindrance: Hindrance, now: Now) -> tuple[Way, ...]:
    """Return the ways out of a hindrance, the usual one first; waiving, where it is allowed, is the last."""
    kind = hindrance.key.partition(":")[0]
    found = WAYS.get(kind, _none)(hindrance, now)
    return (*found, waiver(hindrance, now)) if hindrance.waivable else found


def waiver(hindrance: Hindrance, now: Now) -> Way:
    """Return the way to set a hindrance aside by name."""
    card_id, key = now.view.id, hindrance.key
    return Way(
        "waive",
        "Waive it",
        f"set aside by {now.person}, with a reason",
        f"Why may it be set aside? {hindrance.what}",
        lambda why: Waive(card_id, key, why),
    )


def _bench(task_id: int | None, label: str = "Go to the task") -> Way:
    return Way("bench", label, "at the bench", task=task_id)


def _none(_hindrance: Hindrance, _now: Now) -> tuple[Way, ...]:
    return (_bench(None, "Go to the card"),)


def _task(hindrance: Hindrance, _now: Now) -> tuple[Way, ...]:
    return (_bench(hindrance.where_id),)


def _second(hindrance: Hindrance, now: Now) -> tuple[Way, ...]:
    task_id = hindrance.where_id
    sign = Way(
        "sign",
        f"I have checked it: {now.person}",
        "signed by who stands here; F8 changes who that is",
        act=lambda _text: SecondCheck(task_id),
    )
    return (sign, _bench(task_id))


def _tag(hindrance: Hindrance, now: Now) -> tuple[Way, ...]:
    tag_id = hindrance.where_id
    name = next((t.name for t in now.view.tags if t.id == tag_id), hindrance.what)
    lifter = next((t.id for t in now.view.tasks if t.state == "open" and name in t.task.lifts), None)
    lift = Way(
        "lift",
        "Lift it by hand",
        "when the car is safe without the task",
        f"Why may the tag '{name}' be lifted?",
        lambda why: LiftTag(tag_id, why),
    )
    return (_bench(lifter, "Go to the task that lifts it" if lifter else "Go to the card"), lift)


def _owed(hindrance: Hindrance, now: Now) -> tuple[Way, ...]:
    owed_id = hindrance.where_id
    title = next((o.title for o in now.view.owed if o.id == owed_id), "")
    task = next((t.id for t in now.view.tasks if t.state == "open" and t.task.title == title), None)
    done = Way(
        "done",
        "It was done",
        "say what was found",
        f"What did the check show? {title}".strip(),
        lambda what: SettleOwed(owed_id, "done", what),
    )
    # A task on the card that does the check settles it; saying so by hand would be refused.
    return (_bench(task),) if task is not None else (done,)


def _reading(hindrance: Hindrance, now: Now) -> tuple[Way, ...]:
    tasks = now.view.tasks
    task = next((t.id for t in tasks for r in t.readings if r.id == hindrance.where_id), None)
    return (_bench(task, "Take the reading again"),)


def _clock(hindrance: Hindrance, now: Now) -> tuple[Way, ...]:
    clock = next((c for c in now.clocks if c.entry_id == hindrance.where_id), None)
    if clock is None:
        return ()
    if clock.person_id == now.person_id:
        return (Way("off", "Clock off", f"{clock.person}, {clock.task}", act=lambda _text: ClockOff()),)
    entry, since, at = clock.entry_id, int(clock.since.timestamp()), now.at
    stop = Way(
        "stop",
        f"Stop the clock of {clock.person} now",
        "kept as a correction, with a reason",
        f"Why is the clock of {clock.person} stopped by {now.person}?",
        lambda why: CorrectClock(
            entry, since, max(at, since), why, seen=(("started_at", since), ("ended_at", ""))
        ),
    )
    return (stop,)


def _part(hindrance: Hindrance, _now: Now) -> tuple[Way, ...]:
    part_id = hindrance.where_id
    return (
        Way("fitted", "It is fitted", "taken from stock", act=lambda _text: MovePart(part_id, "fitted")),
        Way(
            "not used", "It was not used", "it is not billed", act=lambda _text: MovePart(part_id, "not used")
        ),
        _bench(None, "Go to the card"),
    )


def _price(hindrance: Hindrance, now: Now) -> tuple[Way, ...]:
    part_id = hindrance.where_id
    line = next((p for p in now.view.parts if p.id == part_id), None)
    name, seen = (
        (line.description, (("price_minor", stored(line.price, "price_minor")),))
        if line
        else ("the part", ())
    )
    price = Way(
        "price",
        "Give it a price",
        f"for one, {now.without_tax}",
        f"What is one charged at, {now.without_tax}? {name}",
        lambda text: PricePart(part_id, read_sum(text, "price") or 0, seen=seen),
        check=lambda text: read_sum(text, "price"),
    )
    return (price,)


def _outwork(hindrance: Hindrance, _now: Now) -> tuple[Way, ...]:
    outwork_id = hindrance.where_id
    if hindrance.what.startswith("Outwork not sent"):
        return (
            Way(
                "send",
                "It goes out now",
                "today",
                act=lambda firm: SendPlanned(outwork_id, firm),
                question="Who does it?",
            ),
            Way(
                "drop",
                "It is done without",
                "it goes off the bill",
                act=lambda why: DropPlanned(outwork_id, why),
                question="Why is it done without?",
            ),
        )
    return (Way("back", "It is back", "today", act=lambda _text: OutworkBack(outwork_id, "")),)


def _finding(hindrance: Hindrance, _now: Now) -> tuple[Way, ...]:
    finding_id = hindrance.where_id
    return (
        Way("done", "It was mended", act=lambda _text: SettleFinding(finding_id, "done")),
        Way(
            "declined",
            "The customer declined",
            "with their words",
            "What did the customer say, and to whom?",
            lambda words: SettleFinding(finding_id, "declined", words),
        ),
    )


def _held(_hindrance: Hindrance, now: Now) -> tuple[Way, ...]:
    card_id = now.view.id
    return (Way("go on", "Take it in hand again", act=lambda _text: MoveCard(card_id, "in hand")),)


def _odometer(_hindrance: Hindrance, _now: Now) -> tuple[Way, ...]:
    return (Way("odometer", "Write it down now", asks="odometer"),)


def _authority(_hindrance: Hindrance, _now: Now) -> tuple[Way, ...]:
    return (Way("authority", "The customer was rung: write the new sum", asks="authority"),)


WAYS: Mapping[str, Callable[[Hindrance, Now], tuple[Way, ...]]] = {
    "task": _task,
    "second": _second,
    "tag": _tag,
    "owed": _owed,
    "reading": _reading,
    "clock": _clock,
    "part": _part,
    "price": _price,
    "outwork": _outwork,
    "finding": _finding,
    "held": _held,
    "odometer": _odometer,
    "authority": _authority,
}
