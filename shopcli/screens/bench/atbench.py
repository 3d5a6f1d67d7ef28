"""The road between the bench and the shop: a card is read, acts are asked for and answered, the next task follows.

The card is read again after every act and whenever somebody wrote, so that other terminals' work appears.
"""

import uuid
from functools import partial

from shopcli.errors import Refused, ShopError
from shopcli.screens.bench import asking
from shopcli.screens.bench.choosing import first_task, missing_left, task_of
from shopcli.screens.bench.inview import InView
from shopcli.screens.bench.numberwords import preferences
from shopcli.screens.bench.readingwords import is_outside, left_outside
from shopcli.screens.bench.seeing import Seen, read_at_once, read_card
from shopcli.screens.bench.toollines import reading_tool
from shopcli.screens.bench.wording import already, refusal
from shopcli.screens.doing import Carried, Looked, NotCarried, NotLooked
from shopcli.shop.bench_commands import FinishTask, LeaveOut, TakeReading
from shopcli.shop.clock_commands import ClockOff, ClockOn, TakeBack
from shopcli.shop.command import Command
from shopcli.shop.people_commands import SetUnits
from shopcli.shop.views import TaskView
from shopcli.store.reads.orders import next_for

CARD = "card"
AGAIN = "u, then a, does it again."
CLOCK_NEXT = "c starts the clock on the next one."


class AtBench(InView):
    """The road between the bench and the shop: what is asked, what is answered, what follows."""

    def __init__(self) -> None:
        super().__init__()
        self._left_off: dict[int, int] = {}
        self._go_on_from: int | None = None
        self._finishing: int | None = None

    def show_card(self, card_id: int) -> None:
        """Show a card, read at once; where it was left off when it was here before. Its order follows."""
        if not self.is_mounted:
            return  # the card waits in the application until the bench is set up
        try:
            seen = read_at_once(self.desk_app.shop, card_id, self.desk_app.orders.get(card_id))
        except ShopError as error:
            self.seen = None
            self.refuse(refusal(error))
            self.paint()
            return
        if self.seen is None or self.seen.view.id != card_id:
            self.entry.close()
            self.said.clear()
            self.chosen, self._go_on_from = self._left_off.get(card_id), None
        self.take_in(seen)
        self.read_again()

    def choose_task(self, task_id: int) -> None:
        """Take a task of the card in hand."""
        if self.seen is not None and task_of(self.seen.view, task_id) is not None:
            self.chosen, self._go_on_from = task_id, None
            self._left_off[self.seen.view.id] = task_id
            self.paint()

    def take_in(self, seen: Seen) -> None:
        """Take a fresh reading of the card; the chosen task is kept, unless it was just settled here."""
        self.seen = seen
        if seen.order is not None:
            self.desk_app.orders[seen.view.id] = seen.order
        for task in seen.view.tasks:
            for reading in task.readings:
                self._pending.pop((task.id, reading.slot), None)
        self._leave_settled(seen)
        if self.in_hand is None:
            first = first_task(seen.view, self.desk_app.who.name, self._next(seen)) if seen.order else None
            self.chosen = first.id if first else None
        self.paint()

    def finish(self, task: TaskView) -> None:
        """Ask the shop to take a task as done."""
        self._finishing = task.id
        self.carry_out(FinishTask(task.id))

    @property
    def unsettled(self) -> bool:
        """Whether it is still open which task is in hand: the card is being read, or one was just settled."""
        coming = self.view is not None and self.in_hand is None and CARD in self.open_questions
        return coming or self._finishing is not None or self._go_on_from is not None

    def clock(self, task: TaskView) -> None:
        """Start one's clock on a task, or stop it."""
        mine = self.mine()
        if mine is not None and mine.task_id == task.id:
            self.carry_out(ClockOff())
        elif task.state == "left out":
            self.refuse(already(task))
        elif self.view is not None and self.view.state == "checked":
            self.ask(partial(asking.clock_on_checked, task=task))
        elif task.state == "done":
            self.ask(partial(asking.clock_on_done, task=task))
        else:
            self.carry_out(ClockOn(task.id))

    def _take_following(self) -> None:
        """Take what follows in hand, once: whatever order is made after that, the task in hand stays."""
        settled, self._go_on_from = self._go_on_from, None
        following = self._next(self.seen, settled) if self.seen else None
        if following is not None:
            self.chosen = following.id
        if settled is not None and self._waits_for_its_clock(settled):
            self.said.add(CLOCK_NEXT)

    def _leave_settled(self, seen: Seen) -> None:
        """Go on to what the order made anew says; what was read before the act does not count."""
        settled = task_of(seen.view, self._go_on_from)
        if settled is not None and settled.state != "open":
            self._take_following()

    def _next(self, seen: Seen, without: int | None = None) -> TaskView | None:
        return next_for(seen.view, seen.order, self.desk_app.who.name, without)

    # The road to the shop and back ---------------------------------------------------------------------

    def read_again(self) -> None:
        """Read the card again behind the screen."""
        if self.seen is not None:
            card_id = self.seen.view.id
            self.look(
                CARD, partial(read_card, self.desk_app.shop, card_id, self.desk_app.orders.get(card_id))
            )

    def carry_out_as(self, command: Command, person_id: int) -> None:
        """Ask the shop to do something in somebody else's name; who has a PIN types it first."""
        app = self.desk_app

        def act() -> None:
            future = app.queue.submit(app.shop.do, command, by=person_id, op=uuid.uuid4().hex)
            self._await_act(command, future)

        app.prove(person_id, act)

    def take_reading(self, task_id: int, slot: str, text: str, unit: str) -> None:
        """Hand a typed reading to the shop; until it is in the records its place counts as taken."""
        self._pending[task_id, slot] = text
        self.carry_out(TakeReading(task_id, slot, text, self._tool_for(task_id, slot), unit))
        self.paint()

    def _tool_for(self, task_id: int, slot: str) -> str:
        task = task_of(self.seen.view, task_id) if self.seen else None
        asked = next((s for s in task.task.readings if s.key == slot), None) if task else None
        if self.seen is None or task is None or asked is None:
            return ""
        prefs = preferences(self.desk_app.who.units)
        return reading_tool(task.task, asked, self.seen.tools, prefs, self.tool_chosen.get(task_id, ""))

    def on_looked(self, event: Looked) -> None:
        """Show what was read."""
        if event.what != CARD or self.seen is None or event.seen is self.seen:
            return
        if event.seen.view.id == self.seen.view.id:
            self.take_in(event.seen)

    def on_carried(self, event: Carried) -> None:
        """Say what the shop answered and read the card again."""
        said = event.done.said or ("Done.",)
        kind = "warned" if self._left_outside(event.command) else "done"
        self.said.answer((*said, AGAIN) if isinstance(event.command, TakeBack) else said, kind)
        match event.command:
            case SetUnits(_, units):
                self.desk_app.who = self.desk_app.who._replace(units=units)
                self.paint()
            case FinishTask(task_id) | LeaveOut(task_id):
                self._finishing = None
                self._go_on_from = task_id if self.chosen == task_id else None
        self.read_again()

    def _waits_for_its_clock(self, settled: int) -> bool:
        """Whether the task in hand now follows one just settled, and whoever stands here could be on it."""
        task, mine = self.in_hand, self.mine()
        elsewhere = mine is not None and mine.task_id != settled
        return (
            task is not None
            and task.id != settled
            and task.state == "open"
            and not task.barred_by
            and not elsewhere
        )

    def _left_outside(self, command: Command) -> bool:
        """Whether what was done is not as it should be: a reading out of limits, or a task done with one."""
        match command:
            case TakeReading(task_id, slot, typed, _tool, unit):
                task = task_of(self.seen.view, task_id) if self.seen else None
                return task is not None and is_outside(task.task, slot, typed, unit)
            case FinishTask(task_id):
                task = task_of(self.seen.view, task_id) if self.seen else None
                return task is not None and bool(self.left_outside(task))
        return False

    def left_outside(self, task: TaskView) -> tuple[str, ...]:
        """Return which readings a task is left with out of limits, those on their way among them."""
        pending = {slot: text for (of, slot), text in self._pending.items() if of == task.id}
        return left_outside(task, pending, self.prefs_of(task))

    def on_not_carried(self, event: NotCarried) -> None:
        """Say why not; a reading goes back into its field, a task that wants readings asks for a note."""
        event.stop()
        self.tell_error(event.error)
        self.read_again()
        self._finishing = None
        match event.command:
            case TakeReading(task_id, slot, typed):
                self._pending.pop((task_id, slot), None)
                self._type_again(task_id, slot, typed)
            case FinishTask(task_id, "") if type(event.error) is Refused:
                task = task_of(self.seen.view, task_id) if self.seen else None
                if task is not None and task.state == "open" and missing_left(task):
                    self.ask(partial(asking.note_for_missing, task=task, refused=event.error.message))

    def _type_again(self, task_id: int, slot: str, typed: str) -> None:
        task = task_of(self.seen.view, task_id) if self.seen else None
        place = next((s for s in task.task.readings if s.key == slot), None) if task else None
        if task is not None and place is not None and self.chosen == task_id and not self.entry.is_open:
            self.entry.open(task, place, self.prefs_of(task), typed)

    def on_not_looked(self, event: NotLooked) -> None:
        """Say what could not be read; the last picture stays, and what follows in it is taken in hand."""
        event.stop()
        if self._go_on_from is not None:
            self._take_following()
            self.paint()
        self.tell_error(event.error)

    def tell(self, words: tuple[str, ...] | str, *, title: str = "") -> None:
        """Show an answer where it stays until the next key."""
        del title
        self.said.answer((words,) if isinstance(words, str) else words, "done")

    def tell_error(self, error: Exception) -> None:
        """Show an error where it stays until the next key."""
        if not isinstance(error, ShopError):
            self.log.error(error)
        self.refuse(refusal(error))

    def refuse(self, words: str) -> None:
        """Say why something is not done."""
        self.said.answer((words,), "refused")
