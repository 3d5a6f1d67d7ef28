"""What the bench has in view: one card as read, the task in hand, what is under way; and the picture of it.

The running clock ticks without reading anything.
"""

from collections.abc import Collection

from textual import events

from shopcli.columns import display_width
from shopcli.screens.asks import Asks
from shopcli.screens.bench.beneath import Brief, Panel
from shopcli.screens.bench.cells import coming, slot_named
from shopcli.screens.bench.choosing import task_of
from shopcli.screens.bench.clockpane import ClockPane, Clocks
from shopcli.screens.bench.entry import ReadingEntry
from shopcli.screens.bench.inhand import CellState, InHand, pending_of
from shopcli.screens.bench.numberwords import preferences
from shopcli.screens.bench.saidline import SaidLine
from shopcli.screens.bench.seeing import Seen
from shopcli.screens.bench.taskpane import NO_TASK, TaskPane
from shopcli.screens.bench.toollines import chosen_advice
from shopcli.screens.bench.wording import hint
from shopcli.screens.bench.worklist import WorkList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.earlier import Memory
from shopcli.shop.views import CardView, ClockView, PersonView, TaskView
from shopcli.store.reads import people
from shopcli.units import Preferences
from shopcli.worklists.model import VehicleFacts
from shopcli.worklists.tool_choice import Advice
from shopcli.worklists.tool_units import with_tools

ONE_MOMENT = "One moment: the order of work is being made."
SHORT_TITLE = 56  # columns of a title that stands whole in the list of a small terminal
NOTHING_ON_IT = "Nothing is on this card yet. Jobs are put on it at the desk (F5)."
ASKED = "A question stands open: its answer comes first."
NO_CARD = "No card is in hand. F5 goes to the desk: choose a card there and press Enter."


class InView(Asks):
    """The state of the bench and its picture."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: Seen | None = None
        self.chosen: int | None = None
        self.document = ""
        self._pending: dict[tuple[int, str], str] = {}
        self.tool_chosen: dict[int, str] = {}
        self.cells = CellState()
        self.memories: dict[int, Memory] = {}

    # What is in hand ----------------------------------------------------------------------------------

    @property
    def view(self) -> CardView | None:
        """The card as last read."""
        return self.seen.view if self.seen else None

    @property
    def in_hand(self) -> TaskView | None:
        """The task in hand."""
        return task_of(self.seen.view, self.chosen) if self.seen else None

    def mine(self) -> ClockView | None:
        """Return the running clock of whoever stands here, wherever it runs."""
        who = self.desk_app.who.id
        clocks = self.seen.clocks if self.seen else ()
        return next((c for c in clocks if c.person_id == who and not c.on_break), None)

    def mine_or_break(self) -> ClockView | None:
        """Return the running clock of whoever stands here, or the break they are on."""
        who = self.desk_app.who.id
        return next((c for c in self.seen.clocks if c.person_id == who), None) if self.seen else None

    def everybody(self) -> tuple[PersonView, ...]:
        """Return everybody who works here."""
        return people.people(self.desk_app.shop)

    # The picture --------------------------------------------------------------------------------------

    @property
    def said(self) -> SaidLine:
        """The line of answers."""
        return self.query_one("#said", SaidLine)

    @property
    def entry(self) -> ReadingEntry:
        """The field for readings."""
        return self.query_one("#entry", ReadingEntry)

    def paint(self) -> None:
        """Show everything as it is known now."""
        view, task = self.view, self.in_hand
        self.query_one("#list", WorkList).show(view, self.chosen)
        self.paint_task()
        for panel in self.query(Panel):
            panel.show(view, task)
        self.query_one("#brief", Brief).show(view, task)
        self.asking_changed()
        self.tick()

    def asking_changed(self) -> None:
        """Say what the next key would be; while a question stands, no key of the bench."""
        task = self.in_hand
        pending = self.pending_slots(task.id) if task else frozenset()
        self.said.hint(ASKED if self.is_asking else self._hint(self.view, task, pending))

    def _hint(self, view: CardView | None, task: TaskView | None, pending: Collection[str]) -> str:
        if view is None:
            return NO_CARD
        if task is None:
            return "" if view.tasks else NOTHING_ON_IT
        state = self.cells.of(task)
        return hint(view, task, pending, slot_named(task, coming(task, pending, state.chosen, state.last)))

    def on_resize(self, _event: events.Resize) -> None:
        """Show the task anew: its title stands in the list of a small terminal and in the pane of a larger one."""
        if self.seen is not None:
            self.paint_task()

    def paint_task(self) -> None:
        """Show the task in hand as it is known now."""
        pane, task = self.query_one("#task", TaskPane), self.in_hand
        if self.view is None:
            pane.show(None, NO_CARD)
        else:
            pane.show(self.hand(self.view, task) if task else None, NO_TASK if self.ordered else ONE_MOMENT)

    def hand(self, view: CardView, task: TaskView) -> InHand:
        """Return the task as it is in the hands of whoever stands here."""
        state, entry = self.cells.of(task), self.entry
        return InHand(
            view,
            task,
            self.prefs_of(task),
            self.pending_slots(task.id),
            entry.slot_key or state.chosen,
            titled=not self.has_class("-small") or display_width(task.task.title) > SHORT_TITLE,
            tools=self.tools_of(task),
            last=state.last,
            typing=entry.typing,
            memory=self.memories.get(view.id, Memory()),
            at=float(self.seen.at) if self.seen else 0.0,
            plain=bool(getattr(self.app, "plain", False)),
            why=self._why(task),
        )

    def _why(self, task: TaskView) -> str:
        step = self.seen.step(task.id) if self.seen and task.state == "open" else None
        return step.why if step else ""

    @property
    def ordered(self) -> bool:
        """Whether the order of work of the card is known."""
        return self.seen is not None and (self.seen.order is not None or not self.seen.view.tasks)

    @property
    def facts(self) -> VehicleFacts | None:
        """The facts of the vehicle in hand, once they are read."""
        return self.memories.get(self.view.id, Memory()).facts if self.view else None

    def tick(self) -> None:
        """Move the running time on; nothing is read for it."""
        shop, seen = self.desk_app.shop, self.seen
        at, mine = shop.at(), self.mine_or_break()
        clocks = Clocks(seen.view, self.in_hand, seen.at, mine, seen.clocks) if seen else None
        self.query_one("#clock", ClockPane).show(clocks, at)
        since = int(shop.now().timestamp() - mine.since.timestamp()) if mine else 0
        self.query_one(TopBar).show(self.desk_app.who.name, mine, since)

    def prefs_of(self, task: TaskView) -> Preferences:
        """Return the units a task is read in by whoever stands here: those of its tools first."""
        owned = self.seen.tools if self.seen else ()
        prefs = preferences(self.desk_app.who.units)
        return with_tools(prefs, task.task, owned, self.tool_chosen.get(task.id, ""))

    def tools_of(self, task: TaskView) -> tuple[Advice, ...]:
        """Return the tools to name for a task."""
        owned = self.seen.tools if self.seen else ()
        prefs = preferences(self.desk_app.who.units)
        return chosen_advice(task.task, owned, prefs, self.tool_chosen.get(task.id, ""))

    def pending_slots(self, task_id: int) -> frozenset[str]:
        """Return the readings of a task that are on their way into the records."""
        return pending_of(task_id, self._pending)
