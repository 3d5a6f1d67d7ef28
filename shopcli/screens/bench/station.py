"""The bench: one card, the task in hand with its caution first and its number large, one key for each act.

Whoever stands here wears gloves, stands at arm's length and is interrupted: every answer stays until the next
key, every figure typed begins a reading, and no key closes or deletes anything by itself.
"""

from functools import partial

from textual import events, on
from textual.app import ComposeResult

from shopcli.columns import shown
from shopcli.screens.acts import bindings
from shopcli.screens.bench import asking, askspec
from shopcli.screens.bench.atcells import AtCells
from shopcli.screens.bench.beneath import Brief, Panel, open_said, parts_said
from shopcli.screens.bench.choosing import task_beside
from shopcli.screens.bench.clockpane import ClockPane
from shopcli.screens.bench.entry import ReadingEntry
from shopcli.screens.bench.finishing import done_all_the_same, still_wanted
from shopcli.screens.bench.fitting import part_scanned, parts_at_task
from shopcli.screens.bench.inview import NO_CARD
from shopcli.screens.bench.looking_back import LookingBack
from shopcli.screens.bench.more import more
from shopcli.screens.bench.saidline import SaidLine
from shopcli.screens.bench.taskpane import TaskPane
from shopcli.screens.bench.wording import already
from shopcli.screens.bench.worklist import WorkList
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.rooms import Room
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.people_commands import SetUnits
from shopcli.shop.views import TaskView
from shopcli.store.reads import people

FIGURES = frozenset("0123456789.,+-")
AGAIN_S = 30.0  # the records tell by themselves when they change; this is for what only time changes
TICK_S = 1.0
MIDDLE = (100, 30)  # columns and rows from which list, clock and panels stand beside the task
LARGE = (160, 42)


class BenchScreen(LookingBack, AtCells):
    """The bench station."""

    CSS_PATH = "bench.tcss"
    BINDINGS = bindings("bench")
    AUTO_FOCUS = None
    ONE_BY_ONE = True  # a key is for the task in hand: it waits until that is settled

    def compose(self) -> ComposeResult:
        """Lay out list, task, clock and what lies beneath."""
        yield TopBar("Bench")
        with Room(id="bench"):
            yield WorkList(id="list")
            yield TaskPane(id="task")
            yield ClockPane(id="clock")
            with Room(id="beneath"):
                yield Panel("Tags and owed checks", "t", open_said, id="open")
                yield Panel("Parts", "f", parts_said, id="parts")
            yield Brief(id="brief")
        with Room(id="foot"):
            yield SaidLine(id="said")
            yield ReadingEntry(id="entry")
            yield KeyBar("bench", without=("app.bench",), also=("app.quit",))

    def on_mount(self) -> None:
        """Show the card in hand and keep the picture true."""
        self.set_interval(TICK_S, self._each_second)
        self.set_interval(AGAIN_S, self._each_while)
        self.follow_typing()
        self._choose_rooms()
        self._show_what_is_in_hand()

    def on_screen_resume(self) -> None:
        """Come back from another station or a question: the card may be another one, or have changed."""
        if self.is_mounted:
            self._show_what_is_in_hand()

    def _show_what_is_in_hand(self) -> None:
        if self.desk_app.card_id is None:
            self.desk_app.card_id = self._clocked_on()
        wanted = self.desk_app.card_id
        if wanted is None:
            self.paint()
        elif self.view is None or self.view.id != wanted:
            self.show_card(wanted)
        else:
            self.read_again()
        self.choose_wanted()

    def _clocked_on(self) -> int | None:
        """Return the card on which the clock of whoever stands here runs, or is stopped for a break."""
        clocks = people.clocks_and_breaks(self.desk_app.shop)
        return next((c.card_id for c in clocks if c.person_id == self.desk_app.who.id), None)

    def show_card(self, card_id: int) -> None:
        """Show a card and name it on top."""
        super().show_card(card_id)
        if self.is_mounted:
            view = self.view
            title = f"Bench  {view.number}  {view.registration}  {view.vehicle}" if view else "Bench"
            self.query_one(TopBar).say(shown(title))

    def choose_wanted(self) -> None:
        """Choose the task another station asked for, once the card is there."""
        wanted, self.desk_app.task_id = self.desk_app.task_id, None
        if wanted is None or self.view is None or self.view.id != self.desk_app.card_id:
            self.desk_app.task_id = wanted
        else:
            self.choose_task(wanted)

    def _each_second(self) -> None:
        if (self._in_front and self.mine() is not None) or (
            self.seen and any(t.running for t in self.seen.view.tasks)
        ):
            self.tick()

    def _each_while(self) -> None:
        if self._in_front:
            self.read_again()

    @property
    def _in_front(self) -> bool:
        """Whether the bench is what is looked at, be it behind a question."""
        return self in self.app.screen_stack

    def on_resize(self, _event: events.Resize) -> None:
        """Lay out anew for another size of terminal."""
        self._choose_rooms()

    def _choose_rooms(self) -> None:
        width, height = self.app.size
        large = width >= LARGE[0] and height >= LARGE[1]
        middle = not large and width >= MIDDLE[0] and height >= MIDDLE[1]
        for name, holds in (("-large", large), ("-middle", middle), ("-small", not (large or middle))):
            self.set_class(holds, name)
        self.query_one("#clock", ClockPane).in_a_line = not (large or middle)
        self.give_room(2 if large or middle else 1)

    def who_changed(self) -> None:
        """Somebody else stands here: other units, another clock, another last time."""
        if self.view is None:
            self._show_what_is_in_hand()
        self.paint()
        self.offer_where()

    # Keys ---------------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Let the last answer go; a figure begins a reading.

        A fast hand or a scanner sends the next characters before the field has the focus; they belong to it.
        """
        if self.entry.is_open and event.is_printable and event.character:
            event.stop()
            event.prevent_default()
            self.entry.add(event.character)
            return
        if self.is_asking:
            return
        self.said.clear()
        if event.character in FIGURES and event.is_printable and not self.entry.is_open:
            event.stop()
            event.prevent_default()
            self.begin_reading(event.character or "")

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Hold every act while a question is on its way, so that fast typing does not act."""
        del action, parameters
        return not self.is_asking

    @on(WorkList.Picked)
    def _picked(self, event: WorkList.Picked) -> None:
        if not self.entry.is_open:
            self.choose_task(event.task_id)

    # Acts ---------------------------------------------------------------------------------------------

    def _task_or_say(self) -> TaskView | None:
        if self.in_hand is None:
            self.refuse("There is no task in hand." if self.view else NO_CARD)
        return self.in_hand

    def _open_or_say(self) -> TaskView | None:
        task = self._task_or_say()
        if task is None or task.state == "open":
            return task
        self.refuse(already(task))
        return None

    def action_done(self) -> None:
        """Say the task is done; what is not as it should be is asked about first."""
        if task := self._open_or_say():
            may = self.view is not None and not task.barred_by  # else it is refused
            outside = self.left_outside(task) if may else ()
            wanted = still_wanted(self.view, task) if self.view is not None and may else ()
            if outside or wanted:
                self.ask(partial(done_all_the_same, task=task, outside=outside, wanted=wanted))
            else:
                self.finish(task)

    def action_clock(self) -> None:
        """Start one's clock on the task, or stop it."""
        if task := self._task_or_say():
            self.clock(task)

    def action_fit(self) -> None:
        """Say what became of a part."""
        self.ask(partial(parts_at_task, task=self.in_hand))

    def action_leave_out(self) -> None:
        """Leave the task out."""
        if task := self._open_or_say():
            self.ask(partial(asking.leave_out, task=task))

    def action_finding(self) -> None:
        """Write down a fault seen."""
        self.ask(partial(asking.finding, task=self.in_hand))

    def action_second(self) -> None:
        """Sign as the second pair of eyes."""
        self.ask(partial(asking.second_check, task=self.in_hand))

    def action_spec(self) -> None:
        """Enter or confirm a number of the task."""
        if task := self._task_or_say():
            self.ask(partial(askspec.enter_number, task=task))

    def action_tags(self) -> None:
        """Show tags and owed checks."""
        self.ask(asking.tags_and_owed)

    def action_units(self) -> None:
        """Change the units of whoever stands here."""
        who = self.desk_app.who
        self.carry_out(SetUnits(who.id, "metric" if who.units == "imperial" else "imperial"))

    def action_working(self) -> None:
        """Open the sums, the task's own first."""
        from shopcli.screens.workings.hand import hand_of
        from shopcli.screens.workings.panel import WorkingsPanel

        self.app.push_screen(WorkingsPanel(hand_of(self.desk_app.shop, self.view, self.in_hand)))

    def part_scanned(self, number: str) -> None:
        """Give the task in hand a part that was scanned."""
        self.ask(partial(part_scanned, task=self.in_hand, number=number))

    def action_more(self) -> None:
        """Do what is done more rarely."""
        self.ask(partial(more, task=self.in_hand))

    def action_order(self) -> None:
        """Show the order of work of the card."""
        if self.view is not None:
            from shopcli.screens.order.screen import OrderScreen

            title = f"{self.view.number}  {self.view.registration}  {self.view.vehicle}"
            self.app.push_screen(OrderScreen(self.view.id, title, self.chosen))

    def action_summary(self) -> None:
        """Show the summary of the card."""
        if self.view is not None:
            from shopcli.screens.summary import SummaryScreen

            self.app.push_screen(SummaryScreen(self.view.id))

    def action_close_card(self) -> None:
        """Go through the closing check."""
        if self.view is not None:
            from shopcli.screens.desk.closing import ClosingScreen

            self.app.push_screen(ClosingScreen(self.view.id))

    def action_next(self) -> None:
        """Go to the next task."""
        self._move(1)

    def action_previous(self) -> None:
        """Go to the task before."""
        self._move(-1)

    def _move(self, by: int) -> None:
        if self.entry.is_open:
            self.go_beside(0, by)
        elif self.view is not None and (task := task_beside(self.view, self.chosen, by)):
            self.choose_task(task.id)

    def action_read_on(self) -> None:
        """Read on in a long text."""
        self.query_one("#task", TaskPane).read_on(1)

    def action_read_back(self) -> None:
        """Go back in a long text."""
        self.query_one("#task", TaskPane).read_on(-1)
