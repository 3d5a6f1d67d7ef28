"""Taking back at the bench: what was done last and what taking it back does, said before anything is changed.

Only ``y`` takes back; ``u`` once more goes one act further back. What was taken back by mistake is done again by
``a``. A key pressed by mistake changes nothing.
"""

import asyncio
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from shopcli.columns import cut, shown
from shopcli.screens.bench.asking import take_back as take_back_task
from shopcli.screens.careful import Careful
from shopcli.screens.widgets.lines import Line, wrapped
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.lately import AgainView, LastAct
from shopcli.shop.views import TaskView
from shopcli.store.reads.again import to_do_again
from shopcli.store.reads.lately import last_acts

if TYPE_CHECKING:
    from shopcli.screens.bench.looking_back import LookingBack

LINE_MOST = 180
SETTLING = frozenset({"FinishTask", "LeaveOut"})
AGAIN = -1


def act_words(act: LastAct) -> str:
    """Say an act as it was answered, with its time.

    Examples
    --------
    >>> from datetime import datetime
    >>> act_words(LastAct(1, "NoteOnTask", "note", datetime(2026, 11, 25, 10, 5), ("Noted.",), (), "", "", None))
    '10:05  Noted.'
    """
    return shown(f"{act.at:%H:%M}  {' '.join(act.said) or act.short}")


def again_words(again: AgainView | None) -> str:
    """Say what was taken back last and can be done again.

    Examples
    --------
    >>> from datetime import datetime
    >>> from shopcli.shop.bench_commands import NoteOnTask
    >>> again_words(AgainView(NoteOnTask(1, "x"), ("Noted.",), datetime(2026, 11, 25, 10, 5)))
    'Taken back last: 10:05 Noted.'
    """
    if again is None:
        return ""
    return cut(f"Taken back last: {again.at:%H:%M} {' '.join(again.said)}", LINE_MOST)


class ActsPane(LinesPane):
    """Acts, each with what taking it back does."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._acts: tuple[LastAct, ...] = ()

    def show(self, acts: tuple[LastAct, ...]) -> None:
        """Show some acts."""
        self._acts = acts
        self.refresh(layout=True)

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the acts in lines."""
        del rows
        lines: list[Line] = []
        for act in self._acts:
            lines += wrapped(cut(act_words(act), LINE_MOST), width, "bold", rest="      ")
            if act.cannot:
                why = f"{act.cannot}. {act.instead}"
                lines += wrapped(why, width, "$text-error", first="  ⊠ ", rest="    ")
            for effect in () if act.cannot else act.effects:
                lines += wrapped(cut(effect, LINE_MOST), width, "", first="  - ", rest="    ")
        return lines


class UndoScreen(Careful, ModalScreen[int]):
    """Ask how many of the last acts are taken back; 0 is none, `AGAIN` does the one taken back last again."""

    CSS_PATH = "undo.tcss"
    BINDINGS = [
        Binding("y", "take", "Take back"),
        Binding("u", "further", "Further back"),
        Binding("a", "again", "Do again"),
        Binding("n,escape", "leave", "Leave all"),
    ]

    def __init__(self, acts: tuple[LastAct, ...], again: AgainView | None = None) -> None:
        super().__init__()
        self._acts = acts
        self._again = again
        self._count = 1

    def compose(self) -> ComposeResult:
        """Lay out the question, the acts and the keys."""
        with Vertical(classes="dialog"):
            yield Static(Content(""), id="undo-question", classes="dialog-question")
            with VerticalScroll(id="undo-acts"):
                yield ActsPane(id="undo-words")
            yield Static(Content(again_words(self._again)), id="undo-again", classes="dialog-note")
            yield Static(Content(""), id="undo-keys", classes="dialog-keys")

    def on_mount(self) -> None:
        """Show the last act."""
        self.query_one("#undo-again").display = self._again is not None
        self._show()

    @property
    def _taken(self) -> tuple[LastAct, ...]:
        return tuple(act for act in self._acts[: self._count] if not act.cannot)

    def _show(self) -> None:
        taken = len(self._taken)
        question = "This cannot be taken back." if self._acts else "Nothing is left to take back."
        if taken:
            question = "Take this back?" if taken == 1 else f"Take these {taken} back, the last first?"
        self.query_one("#undo-question", Static).update(Content(question))
        self.query_one("#undo-words", ActsPane).show(self._acts[: self._count])
        further = self._count < len(self._acts)
        keys = [
            "y takes it back" if taken == 1 else "y takes them back" if taken else "",
            f"u goes further back ({self._acts[self._count].at:%H:%M})" if further else "",
            "a does it again" if self._again is not None else "",
            "Esc leaves all",
        ]
        self.query_one("#undo-keys", Static).update(Content("    ".join(filter(None, keys))))
        self.query_one("#undo-acts", VerticalScroll).scroll_end(animate=False)

    def action_take(self) -> None:
        """Take back what is shown."""
        if self._taken:
            self.dismiss(self._count)

    def action_further(self) -> None:
        """Go one act further back."""
        if self._count < len(self._acts):
            self._count += 1
            self._show()

    def action_again(self) -> None:
        """Do again what was taken back last."""
        if self._again is not None:
            self.dismiss(AGAIN)

    def action_leave(self) -> None:
        """Leave everything as it is."""
        self.dismiss(0)


async def undo(bench: "LookingBack", task: TaskView | None) -> None:
    """Take back one's last acts on the card; a task settled earlier, when it is the one in hand."""
    view = bench.view
    if view is None:
        return
    app = bench.desk_app
    acts = await asyncio.to_thread(last_acts, app.shop, app.who.id, view.id)
    again = await asyncio.to_thread(to_do_again, app.shop, app.who.id, view.id)
    settled = task is not None and task.state != "open"
    mine = acts and task is not None and acts[0].act in SETTLING and acts[0].task_id == task.id
    if (settled and not mine) or (again is None and not acts):
        await take_back_task(bench, task)  # type: ignore[arg-type]
        return
    count = await bench.app.push_screen_wait(UndoScreen(acts, again))
    if count == AGAIN and again is not None:
        bench.carry_out(again.command)
    for act in acts[: max(0, count)]:
        if not act.cannot:
            bench.carry_out(TakeBack(act.id))
            if act.act in SETTLING and act.task_id is not None:
                bench.choose_task(act.task_id)
