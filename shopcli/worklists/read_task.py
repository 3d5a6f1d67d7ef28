"""Read one ``[[task]]`` block: what a step needs, does, hangs, lifts, owes and asks to be read."""

from collections.abc import Callable
from dataclasses import replace

from shopcli.errors import ShopError
from shopcli.worklists.model import (
    DUE_KINDS,
    PHASES,
    OwedAsked,
    ReadingAsked,
    TaskTemplate,
    WorkingCall,
)
from shopcli.worklists.read_units import check_units
from shopcli.worklists.read_values import Known, check_specs, check_words, read_applies, read_kit
from shopcli.worklists.toml_read import NAME, SPEC_NAME, Table
from shopcli.worklists.words import ACTS, EACH, did_you_mean

_KEYS = (
    *("id", "title", "say", "specs", "readings", "minutes", "waits", "place", "after", "needs", "makes"),
    *("acts", "hangs", "lifts", "barred", "owes", "cautions", "working", "second", "first", "for"),
    *("once", "applies", "kit", "fits"),
)
_READING_EXAMPLE = '{ name = "points gap", spec = "points_gap", when = ["as left"] }'
MINUTES = 10_000
_MILES = 100_000
_DAYS = 3_650


def read_task(table: Table, known: Known) -> TaskTemplate:
    """Return the step a block describes; complaints go to ``table.found``."""
    table.only(*_KEYS)
    each = _each(table)
    readings = tuple(_reading(inner, known) for inner in table.tables("readings", example=_READING_EXAMPLE))
    _unique_readings(table, readings)
    title = table.text("title", needed=True, example="Set the points gap")
    check_words(table, "title", title, known, each=bool(each), specs=False)
    say = table.note("say")
    spoken = check_words(table, "say", say, known, each=bool(each), specs=True)
    check_specs(table, spoken, known, "say")
    working = _working(table, known, readings)
    task = TaskTemplate(
        id=_id(table),
        title=title,
        line=table.line,
        say=say,
        readings=readings,
        minutes=table.whole("minutes", 0, MINUTES),
        waits=table.whole("waits", 0, MINUTES),
        place=table.text("place"),
        after=table.texts("after", example="fit-points"),
        needs=table.known("needs", known.states, "state", example="engine cold"),
        makes=table.texts("makes", example="engine warm"),
        acts=table.known("acts", ACTS, "act", example="start"),
        hangs=table.known("hangs", known.tags, "tag", example="sump dry"),
        lifts=table.known("lifts", known.tags, "tag", example="sump dry"),
        barred=table.known("barred", known.tags, "tag", example="sump dry"),
        owes=tuple(_owed(i) for i in table.tables("owes", example='{ check = "check-dwell" }')),
        cautions=table.known("cautions", known.cautions, "caution", example="high tension"),
        working=working,
        second=table.yes("second"),
        first=_first(table),
        each=each,
        once=table.text("once"),
        applies=read_applies(table, known),
        kit=read_kit(table, known),
        fits=table.texts("fits", example="contact set"),
    )
    return replace(task, specs=_specs(table, task, spoken, known))


def _first(table: Table) -> bool:
    """Read whether everything else on the list comes after this step."""
    first = table.yes("first")
    if first and table.texts("after", example="fit-points"):
        table.bad("a step that is first cannot come after another", "Take out first, or after.", "first")
    return first


def _id(table: Table) -> str:
    task_id = table.text("id", needed=True, example="set-gap")
    if task_id and not NAME.fullmatch(task_id):
        table.bad(
            f'"{task_id}" cannot be an id',
            'Use small letters, figures and hyphens: id = "set-gap"',
            "id",
        )
    return task_id


def _each(table: Table) -> str:
    each = table.text("for")
    if each and each not in EACH:
        table.bad(f'"for" cannot repeat over "{each}"', did_you_mean(each, EACH), "for")
        return ""
    return each


def _specs(table: Table, task: TaskTemplate, spoken: tuple[str, ...], known: Known) -> tuple[str, ...]:
    """Return all numbers of the step: those listed, then those its words, readings and sum speak of."""
    listed = table.texts("specs", example="points_gap")
    for index, name in enumerate(listed):
        if not SPEC_NAME.fullmatch(name):
            table.bad(
                f'"{name}" cannot be the name of a number',
                "Use small letters, figures and _: points_gap.",
                "specs",
                index,
            )
        else:
            check_specs(table, (name,), known, "specs", index)
    given = task.working.given if task.working else ()
    used = (value.removeprefix("spec.") for _, value in given if value.startswith("spec."))
    read = (r.spec for r in task.readings if r.spec)
    return tuple(dict.fromkeys((*listed, *spoken, *read, *used)))


def _reading(table: Table, known: Known) -> ReadingAsked:
    table.only("name", "spec", "when", "for", "quantity", "unit")
    reading = ReadingAsked(
        name=table.text("name", needed=True, example="points gap"),
        spec=table.text("spec"),
        when=table.known("when", PHASES, "moment", example="as left") or ("as left",),
        each=_each(table),
        quantity=table.text("quantity"),
        unit=table.text("unit"),
    )
    kind = known.specs.get(reading.spec)
    if reading.spec and not SPEC_NAME.fullmatch(reading.spec):
        table.bad(
            f'"{reading.spec}" cannot be the name of a number',
            "Use small letters, figures and _: points_gap.",
            "spec",
        )
    elif reading.spec and kind is None and not reading.quantity:
        check_specs(table, (reading.spec,), known, "spec")
    elif not reading.spec and not reading.quantity:
        table.bad(
            f'the reading "{reading.name}" does not say what it measures',
            'Write: spec = "points_gap", or quantity = "length"',
        )
    _check_quantity(table, reading, kind.quantity if kind else "")
    return reading


def _check_quantity(table: Table, reading: ReadingAsked, of_spec: str) -> None:
    if not check_units(table, reading.unit, reading.quantity or of_spec):
        return
    if reading.quantity and of_spec and reading.quantity != of_spec:
        table.bad(
            f'"{reading.spec}" is a {of_spec} in the sheets, not a {reading.quantity}',
            f'Write: quantity = "{of_spec}", or leave it out.',
            "quantity",
        )


def _unique_readings(table: Table, readings: tuple[ReadingAsked, ...]) -> None:
    seen: set[tuple[str, str]] = set()
    for index, reading in enumerate(readings):
        if (reading.name, reading.each) in seen:
            table.bad(
                f'the reading "{reading.name}" is there twice', "Give it another name.", "readings", index
            )
        seen.add((reading.name, reading.each))


def _owed(table: Table) -> OwedAsked:
    table.only("check", "title", "before", "miles", "days")
    owed = OwedAsked(
        check=table.text("check", needed=True, example="check-dwell"),
        title=table.text("title"),
        before=table.text("before") or "hand-over",
        miles=table.whole("miles", 0, _MILES),
        days=table.whole("days", 0, _DAYS),
    )
    if owed.before not in DUE_KINDS:
        table.bad(f'"before" is "{owed.before}"', did_you_mean(owed.before, DUE_KINDS), "before")
    elif owed.before == "distance" and not owed.miles:
        table.bad("a check due at a distance does not say how far", "Write: miles = 500")
    elif owed.before == "date" and not owed.days:
        table.bad("a check due at a date does not say when", "Write: days = 14")
    return owed


def _working(table: Table, known: Known, readings: tuple[ReadingAsked, ...]) -> WorkingCall | None:
    inner = table.table("working", example='{ name = "dwell-percent", with = { dwell_deg = 54 } }')
    if inner is None:
        return None
    inner.only("name", "with")
    name = inner.text("name", needed=True, example="dwell-percent")
    given = inner.table("with", example='{ lobes = "vehicle.cylinders" }')
    inputs = _inputs_of(inner, name) if known.sums and name else None
    pairs: list[tuple[str, str]] = []
    for key, value in () if given is None else given.data.items():
        if inputs is not None and key not in inputs:
            table_hint = did_you_mean(key, inputs)
            inner.bad(f'the working "{name}" has no input "{key}"', table_hint, "with", key)
        elif isinstance(value, bool | list | dict):
            inner.bad(f'"{key}" must be a text or a number', 'Write: "vehicle.cylinders"', "with", key)
        else:
            _check_source(inner, key, str(value), known, readings)
            pairs.append((key, str(value)))
    return WorkingCall(name, tuple(pairs))


def _inputs_of(table: Table, name: str) -> tuple[str, ...] | None:
    from shopcli.workings import catalogue  # only templates with a sum pay for the catalogue

    try:
        working = catalogue.get(name)
    except ShopError as error:
        table.bad(error.message, error.hint or "Look at the list of workings.", "name")
        return None
    return tuple(i.name for i in working.inputs)


def _check_source(
    table: Table, key: str, value: str, known: Known, readings: tuple[ReadingAsked, ...]
) -> None:
    """Complain when a sum is to be fed from something that is not there."""
    names: dict[str, Callable[[], tuple[str, ...]]] = {
        "vehicle": lambda: known.facts,
        "spec": lambda: tuple(known.specs),
        "reading": lambda: tuple(r.name for r in readings),
    }
    kind, dot, name = value.partition(".")
    if dot and kind in names and name not in names[kind]():
        table.bad(
            f'"{key}" is fed from "{value}", which is not there',
            did_you_mean(name, names[kind]()),
            "with",
            key,
        )
