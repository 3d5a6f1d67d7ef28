"""Done at the bench: what is not as it should be is said first, and asked about.

A part still wanted is asked about and not refused: it is in the car more often than not, and only the list does not
know it. Done without it, the part is left out with a reason; either way the closing check finds nothing loose.
"""

from typing import TYPE_CHECKING

from shopcli.present import qty
from shopcli.screens.bench.fitting import act_and_show, fit_line
from shopcli.screens.bench.partslist import WAITING
from shopcli.screens.bench.wording import is_of_task
from shopcli.screens.dialogs import AskKey, Choice
from shopcli.shop.part_commands import MovePart
from shopcli.shop.views import CardView, PartLineView, TaskView

if TYPE_CHECKING:
    from shopcli.screens.bench.station import BenchScreen

WAYS = (Choice("y", "fitted: taken from stock"), Choice("w", "done without: say why"))
OUTSIDE = (
    "y finishes it as it stands: it stays on the card as left out of limits, and the closing check asks."
)


def still_wanted(view: CardView, task: TaskView) -> tuple[PartLineView, ...]:
    """Return the parts a task waits for; what is optional holds nothing back."""
    return tuple(p for p in view.parts if p.state in WAITING and not p.optional and is_of_task(p, task))


async def done_all_the_same(
    bench: "BenchScreen", task: TaskView, outside: tuple[str, ...], wanted: tuple[PartLineView, ...]
) -> None:
    """Ask about readings left out of limits, then about parts still wanted; then the task is done."""
    said = "\n".join(f"Reading out of limits: {words}." for words in outside)
    if outside and not await bench.ask_yes(said, note=OUTSIDE):
        return
    if wanted and not await _parts_settled(bench, task, wanted):
        return
    bench.finish(task)


async def _parts_settled(bench: "BenchScreen", task: TaskView, wanted: tuple[PartLineView, ...]) -> bool:
    names = ", ".join(f"{p.description} ({qty(p.qty)} {p.unit})" for p in wanted)
    question = f"'{task.task.title}' still wants its part: {names}. What became of it?"
    answer = await bench.app.push_screen_wait(AskKey(question, WAYS, back="leaves the task open"))
    if not answer:
        return False
    reason = (
        ""
        if answer == "y"
        else await bench.ask_text(f"Done without: {names}", note="Why? It stays with the card.")
    )
    if reason is None:
        return False
    for part in wanted:
        without = MovePart(part.id, "not used", reason=reason)
        command = await fit_line(bench, part, task.id) if answer == "y" else without
        if command is None:
            return False
        await act_and_show(bench, command)
    return True
