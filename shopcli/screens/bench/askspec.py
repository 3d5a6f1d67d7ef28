"""Entering or confirming a number from the handbook: which, what is printed, where it stands."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from shopcli.screens.bench.numberwords import preferences, say_number
from shopcli.screens.dialogs import Choice
from shopcli.shop.sheet_commands import EnterSpec
from shopcli.shop.views import TaskView
from shopcli.units.printed import Printed, read_printed
from shopcli.worklists.model import Task

if TYPE_CHECKING:
    from shopcli.screens.bench.station import BenchScreen

SOURCES = (
    Choice("handbook", "Handbook", "document and page"),
    Choice("plate", "Plate", "stamped on the vehicle"),
    Choice("measured", "Measured", "here, by whoever stands here"),
)


async def enter_number(bench: "BenchScreen", task: TaskView) -> None:
    """Give the vehicle a number of its own, or confirm the one its sheets have."""
    if bench.view is None:
        return
    name = await _which(bench, task.task)
    if name is None:
        return
    label = _label(task.task, name)
    confirm = await _confirm_or_type(bench, task.task, name, label)
    if confirm is None:
        return
    printed = Printed() if confirm else await _printed(bench, task.task, name, label)
    if printed is None:
        return
    source = await _source(bench, label)
    if source is None:
        return
    kind, document, page = source
    bench.carry_out(
        EnterSpec(
            bench.view.vehicle_id,
            name,
            printed.low,
            printed.nominal,
            printed.high,
            kind=kind,
            document=document,
            page=page,
            confirm=confirm,
            also=printed.also,
        )
    )


def names_of(task: Task) -> tuple[str, ...]:
    """Return the names of a task's numbers: those missing first, then those to be confirmed, then the rest."""
    sure = [s.name for s in task.specs if not s.provenance.to_confirm]
    unsure = [s.name for s in task.specs if s.provenance.to_confirm]
    return tuple(dict.fromkeys((*task.missing, *unsure, *sure)))


def _label(task: Task, name: str) -> str:
    spec = task.spec(name)
    return spec.label if spec else name.replace("_", " ")


async def _which(bench: "BenchScreen", task: Task) -> str | None:
    names = names_of(task)
    if not names:
        bench.refuse(f"'{task.title}' has no number.")
        return None
    if len(names) == 1:
        return names[0]
    choices = []
    for name in names:
        spec = task.spec(name)
        said = say_number(spec, preferences(bench.desk_app.who.units)) if spec else None
        note = f"{said.sentence}; {said.origin}" if said else "not known"
        choices.append(Choice(name, _label(task, name), note))
    return await bench.ask_pick("Which number?", choices)


async def _confirm_or_type(bench: "BenchScreen", task: Task, name: str, label: str) -> bool | None:
    spec = task.spec(name)
    if spec is None:
        return False
    said = say_number(spec, preferences(bench.desk_app.who.units))
    choices = [
        Choice(
            "confirm", f"It is right: {said.sentence}", "confirmed for this vehicle, with document and page"
        ),
        Choice("type", "Type what is printed", "one figure, or low and high"),
    ]
    key = await bench.ask_pick(f"{label}: {said.sentence}", choices, note=said.origin)
    return None if key is None else key == "confirm"


async def _printed(bench: "BenchScreen", task: Task, name: str, label: str) -> Printed | None:
    quantity = _quantity(bench, task, name)
    check: Callable[[str], object] | None = (lambda text: read_printed(text, quantity)) if quantity else None
    text = await bench.ask_text(
        f"{label}, as it is printed",
        note='With its unit: 6 thou, 0.35 to 0.45 mm, .014" to .018", at least 9 bar, at most 0.3 V',
        check=check,
    )
    if text is None:
        return None
    return read_printed(text, quantity) if quantity else Printed(nominal=text)


def _quantity(bench: "BenchScreen", task: Task, name: str) -> str:
    spec = task.spec(name)
    if spec is not None:
        return spec.limits.quantity
    asked = next((slot.quantity for slot in task.readings if slot.spec == name and slot.quantity), "")
    kind = None if asked else bench.desk_app.shop.library.kinds.get(name)
    return asked or (kind.quantity if kind else "")


async def _source(bench: "BenchScreen", label: str) -> tuple[str, str, str] | None:
    kind = await bench.ask_pick(f"{label}: where does it come from?", SOURCES)
    if kind != "handbook":
        return None if kind is None else (kind, "", "")
    document = await bench.ask_text("Which document?", value=bench.document, placeholder="title and edition")
    if document is None:
        return None
    bench.document = document
    page = await bench.ask_text("Which page?", note="It may stay empty.", allow_empty=True)
    return None if page is None else (kind, document, page)
