"""The work list of a card to hang on the car, in the order of work: every step with its own numbers, cautions before it.

It is also what a terminal without a screen shows, so it says all that the bench says: the tags that hang, who
must check what, and room for the readings not yet taken.
"""

from collections.abc import Iterator

from shopcli.papers.arrange import due
from shopcli.papers.layout import WIDTH, beside, field, heading, page_width, para, rule
from shopcli.present import card_state, day, hours, odometer, part_state, qty, severity, standing, task_state
from shopcli.shop.views import CardView, PartLineView, ReadingView, TagView, TaskView
from shopcli.units import Preferences
from shopcli.worklists.model import Provenance, ReadingSlot, Spec, Task
from shopcli.worklists.say import say_text, spec_text

ROOM = "________"
STEP = "       "


def bench_list_text(card: CardView, prefs: Preferences, *, width: int = WIDTH, plain: bool = False) -> str:
    """Return the expanded work list of a card.

    Parameters
    ----------
    card : CardView
        The card, whole, its tasks in the order they are to stand in.
    prefs : Preferences
        Units of the tools at this bench.
    width : int, optional
        Width of the page, 72 to 200, [columns]
    plain : bool, optional
        Only ASCII signs for states.

    Raises
    ------
    BadInput
        If the page is too narrow or too wide.
    """
    page_width(width)
    return "\n".join([*_head(card, width, plain=plain), *body(card, prefs, width, plain=plain)]) + "\n"


def body(card: CardView, prefs: Preferences, width: int, *, plain: bool = False) -> list[str]:
    """Return all that stands below the head: tags, steps, parts, what was seen, what is owed."""
    lines = _tags(card.tags, width)
    if card.tasks:
        lines += ["", *heading("Work list", width)]
    for view in card.tasks:  # a task keeps its number wherever it stands: the commands call it by that
        lines += ["", *task_lines(view.position, view, prefs, width, plain=plain)]
    if card.parts:
        lines += ["", *heading("Parts", width)]
        lines += [line for part in card.parts for line in _part(part, width, plain=plain)]
    if card.findings:
        lines += ["", *heading("Seen", width)]
    for f in card.findings:
        text = ": ".join(filter(None, (f.place, f.what)))
        lines += para(
            f"{text} ({f.state})", width, first=f"  {severity(f.severity, plain=plain)}  ", indent=4
        )
    owed = [o for o in card.owed if o.state == "owed"]
    if owed:
        lines += ["", *heading("Checks owed", width)]
        lines += [
            line
            for o in owed
            for line in para(f"{o.title}: {due(o, card.distance_unit)}", width, first="  ! ")
        ]
    return [*lines, "", rule(width, "=")]


def about_card(card: CardView) -> tuple[tuple[str, str], ...]:
    """Return what a head says of a card, as names and texts; an empty text is left out."""
    return (
        ("Vehicle", ", ".join(filter(None, (card.vehicle, card.registration)))),
        ("Customer", ", ".join(filter(None, (card.customer, card.phone)))),
        ("Odometer", odometer(card.odometer, card.distance_unit) if card.odometer is not None else ""),
        ("Job", card.title),
        ("Asked", card.words),
        ("Keys", card.car_keys),
        ("Left with", card.left_with),
        ("Fuel", card.fuel),
        ("Damage", card.damage),
        ("Promised", day(card.promised) if card.promised else ""),
        ("Held for", card.held_for),
        ("Hands-on", f"{hours(card.expected_minutes * 60)} expected, {hours(card.clocked_seconds)} clocked"),
    )


def _head(card: CardView, width: int, *, plain: bool) -> list[str]:
    left = para(f"CARD {card.number}", width // 2)
    right = para(card_state(card.state, plain=plain), width // 2)
    fields = [line for name, text in about_card(card) for line in field(name, text, width)]
    return [rule(width, "="), *beside(left, right, width), rule(width, "="), *fields]


def _tags(tags: tuple[TagView, ...], width: int) -> list[str]:
    if not tags:
        return []
    lines = ["", *heading("HANGING ON THIS VEHICLE", width)]
    for tag in tags:
        lines += para(tag_said(tag), width, first="  ! ")
    return lines


def tag_said(tag: TagView) -> str:
    """Say what a tag says, what it bars, who hung it and when."""
    barred = ", ".join(tag.bars) or "nothing"
    return f"{(tag.says or tag.name).rstrip('.')}. Barred: {barred}. Hung by {tag.hung_by}, {day(tag.hung_at.date())} {tag.hung_at:%H:%M}."


def task_lines(
    number: int, view: TaskView, prefs: Preferences, width: int, *, plain: bool = False
) -> list[str]:
    """Return the lines of one step: cautions first, then what to do, its numbers, readings and promises."""
    task = view.task
    mark = task_state(
        view.state,
        running=bool(view.running),
        barred=bool(view.barred_by),
        out_of_limits=bool(view.left_out_of_limits),
        plain=plain,
    )
    about = about_task(task)
    title = f"{task.title} ({about})" if about else task.title
    lines = para(f"{title} [{mark}]", width, first=f"{number:>4}.  ", indent=len(STEP))
    for caution in task.cautions:  # before the step that can hurt, never after it
        lines += para(f"Caution: {caution.text}", width, first=f"{STEP}! ")
    if view.barred_by:
        lines += para(f"Barred by: {', '.join(view.barred_by)}", width, first=f"{STEP}! ")
    for name, texts in (("Needs", task.needs), ("Hangs", task.hangs), ("Lifts", task.lifts)):
        lines += para(f"{name}: {', '.join(texts)}", width, first=STEP) if texts else []
    lines += para(say_text(task, prefs), width, first=STEP) if task.say else []
    lines += [line for spec in task.specs for line in _spec(spec, prefs, width)]
    for name in task.missing:
        lines += para(f"{name.replace('_', ' ')}: not known, enter it", width, first=f"{STEP}? ")
    lines += [line for text in _readings(view, plain=plain) for line in para(text, width, first=f"{STEP}- ")]
    lines += [line for text in after_said(view) for line in para(text, width, first=STEP)]
    return lines


def about_task(task: Task) -> str:
    """Say where a step is done, how long it takes and what waits after it."""
    minutes = f"{task.minutes} min" if task.minutes else ""
    waits = f"then {task.waits} min waiting" if task.waits else ""
    return ", ".join(filter(None, (task.place, minutes, waits)))


def _spec(spec: Spec, prefs: Preferences, width: int) -> list[str]:
    return para(spec_said(spec, prefs), width, first=f"{STEP}= ")


def spec_said(spec: Spec, prefs: Preferences) -> str:
    """Say a number in both units, its state, where it comes from and its note."""
    return "".join(spec_parts(spec, prefs))


def spec_parts(spec: Spec, prefs: Preferences) -> tuple[str, str]:
    """Return a number in both units with its state, and where it comes from with its note."""
    text = f"{spec.label}: {spec_text(spec, prefs)}{f', {spec.state}' if spec.state else ''}"
    # An unconfirmed number already says that it is practice.
    source = "" if spec.provenance == Provenance("practice") else f" <{spec.provenance.words()}>"
    return text, source + (f"; {spec.note}" if spec.note else "")


def reading_places(view: TaskView) -> Iterator[tuple[str, dict[str, ReadingView | None]]]:
    """Yield each place that is read, with what was read there by phase; None where there is room for it."""
    taken = {r.slot: r for r in view.readings}
    places: dict[tuple[str, str], list[ReadingSlot]] = {}
    for slot in view.task.readings:
        places.setdefault((slot.name, slot.label), []).append(slot)
    for (name, label), slots in places.items():
        what = label if name in label else ", ".join(filter(None, (name, label)))
        yield what, {s.phase: taken.get(s.key) for s in slots}


def _readings(view: TaskView, *, plain: bool) -> Iterator[str]:
    for what, phases in reading_places(view):
        yield f"{what}: " + ", ".join(f"{p} {taken_said(r, plain=plain)}" for p, r in phases.items())


def taken_said(reading: ReadingView | None, *, plain: bool = False) -> str:
    """Say a reading as typed and how it stands, or leave room for it."""
    return ROOM if reading is None else f"{reading.typed} ({standing(reading.standing, plain=plain)})"


def after_said(view: TaskView) -> Iterator[str]:
    """Yield what comes after a step: what it owes, who checks it, how it ended."""
    for owed in view.task.owes:
        later = [f"in {owed.miles} miles" if owed.miles else "", f"in {owed.days} days" if owed.days else ""]
        when = " or ".join(filter(None, later)) or f"before {owed.before}"
        yield f"Owes: {owed.title or owed.check}, {when}"
    if view.task.second:
        yield f"Second person: checked by {view.second_by or ROOM}"
    if view.left_out_for:
        yield f"Left out for: {view.left_out_for}"
    if view.done_by:
        yield f"Done by {view.done_by}"
    if view.note:
        yield f"Note: {view.note}"


def _part(part: PartLineView, width: int, *, plain: bool) -> list[str]:
    return para(part_said(part, plain=plain), width, first="  ")


def part_said(part: PartLineView, *, plain: bool = False) -> str:
    """Say a part, how much of it, where it lies and how it stands."""
    own = ", customer's own" if part.customers_own else ""
    optional = ", if needed" if part.optional else ""
    where = f", bin {part.bin}" if part.bin else ""
    number = f" {part.number}" if part.number else ""
    state = part_state(part.state, plain=plain)
    much = f"{qty(part.qty)} x" if part.unit == "pc" else f"{qty(part.qty)} {part.unit}"
    return f"{much} {part.description}{number}{where}{own}{optional} [{state}]"
