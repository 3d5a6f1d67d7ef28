"""Readings at the bench: which cell is next, where the arrows lead, and what the vehicle remembers of it."""

from functools import partial

from textual import on

from shopcli.columns import one_line
from shopcli.screens.bench import asking
from shopcli.screens.bench.atbench import AtBench
from shopcli.screens.bench.cells import cell_beside, next_key, other_phase, slot_named
from shopcli.screens.bench.entry import ROOM, ReadingEntry
from shopcli.screens.bench.readingwords import as_typed, no_reading, slot_label
from shopcli.screens.doing import Looked
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.shop.earlier import Memory
from shopcli.shop.views import TaskView
from shopcli.store.reads.earlier import memory
from shopcli.store.shop import Shop

MEMORY = "memory"


class AtCells(AtBench):
    """The bench with its grid of readings."""

    def show_card(self, card_id: int) -> None:
        """Show a card; what its vehicle brings along is read behind the screen."""
        super().show_card(card_id)
        if self.seen is not None and self.seen.view.id == card_id:
            self.look(MEMORY, partial(_remembered, self.desk_app.shop, card_id))

    @on(Looked)
    def remember(self, event: Looked) -> None:
        """Take in what the vehicle brings along."""
        if event.what == MEMORY:
            card_id, self.memories[card_id] = event.seen
            if self.view is not None and self.view.id == card_id:
                self.paint()

    def key_in_hand(self, task: TaskView) -> str:
        """Return the reading that is asked for, else the one chosen by hand, else the next."""
        state = self.cells.of(task)
        return self.entry.slot_key or state.chosen or next_key(task, self.pending_slots(task.id), state.last)

    def begin_reading(self, text: str, key: str = "") -> None:
        """Ask for a reading, beginning with what was typed already; say why where none can be taken."""
        task = self.in_hand
        slot = slot_named(task, key or self.key_in_hand(task)) if task and task.state == "open" else None
        if task is not None and slot is not None:
            self.entry.open(task, slot, self.prefs_of(task), text)
            self.said.display = False
        elif text:  # the letters of its unit must not fall through to the keys
            self.entry.swallow(no_reading(task), text)
            self.said.display = False
        else:
            self.refuse(no_reading(task))

    @on(ReadingEntry.Nothing)
    def _nothing_put_down(self, event: ReadingEntry.Nothing) -> None:
        self.refuse(f"{event.why} Nothing was put down.")

    @on(ReadingEntry.Another)
    def _another_asked(self) -> None:
        self.said.display = False
        self.paint()

    def give_room(self, least: int) -> None:
        """Give the field as many rows as the answer, of `least` at least, and the keys below it have together."""
        if not self.is_asking:  # then no key is in force
            size = self.app.size
            keys = self.query_one(KeyBar).get_content_height(size, size, size.width)
            self.entry.room = max(ROOM, least + keys)
            self.said.styles.min_height = self.entry.room - keys

    def follow_typing(self) -> None:
        """Follow the field at once: what it changes is to be seen in the same picture as the letter itself."""
        self.watch(self.entry, "is_open", self._entry_moved, init=False)
        self.watch(self.entry.field, "value", self._entry_typing, init=False)

    def _entry_moved(self, is_open: bool) -> None:
        # The field stands where the answer and the keys stood: nothing else moves while a reading is typed.
        self.said.display = self.said.display or not is_open
        self.query_one(KeyBar).display = not is_open
        self.paint()

    def _entry_typing(self, _text: str) -> None:
        if self.entry.is_open:
            self.paint_task()

    @on(ReadingEntry.Typed)
    def _entry_typed(self, event: ReadingEntry.Typed) -> None:
        task = self.in_hand
        slot = slot_named(task, event.slot) if task is not None and task.id == event.task_id else None
        before = self._stands_there(event.task_id, event.slot)
        if before and task is not None and slot is not None:
            where = f"{slot_label(task.task, slot)}, {slot.phase}"
            self.ask(partial(asking.take_its_place, typed=event, before=f"{where}, stands as {before}"))
        else:
            self.keep_reading(event)

    def _stands_there(self, task_id: int, key: str) -> str:
        """Return the reading that a new one would strike, as it was typed, be it still on its way."""
        task = self.in_hand
        there = (
            next((r for r in task.readings if r.slot == key), None) if task and task.id == task_id else None
        )
        return one_line(self._pending.get((task_id, key), "")) or (as_typed(there) if there else "")

    def keep_reading(self, typed: ReadingEntry.Typed) -> None:
        """Hand a typed reading to the shop and go on to the next one."""
        self.cells.took(typed.task_id, typed.slot)
        self.take_reading(typed.task_id, typed.slot, typed.text, typed.unit)

    @on(ReadingEntry.Beside)
    def _go_beside(self, event: ReadingEntry.Beside) -> None:
        self.go_beside(event.across, event.down)

    def go_beside(self, across: int, down: int) -> None:
        """Ask for the reading in the cell beside, above or below."""
        task = self.in_hand
        if task is None or task.state != "open" or not task.task.readings:
            self.begin_reading("")
            return
        key = cell_beside(task, self.key_in_hand(task), self.facts, across, down)
        self._ask_for(task, key)

    def _ask_for(self, task: TaskView, key: str) -> None:
        slot = slot_named(task, key)
        if slot is not None and self.entry.is_open:
            self.entry.ask(slot, self.prefs_of(task))
        else:
            self.begin_reading("", key)

    def action_reading(self) -> None:
        """Type a reading."""
        if not self.entry.is_open:
            self.begin_reading("")

    def action_picture(self) -> None:
        """Look at the pictures that fit the task."""
        if self.view is None or self.in_hand is None:
            self.refuse("There is no task in hand to look at.")
            return
        from shopcli.screens.bench.picturescreen import PictureScreen

        self.app.push_screen(PictureScreen(self.hand(self.view, self.in_hand)))

    def action_cell_left(self) -> None:
        """Go to the reading on the left."""
        self.go_beside(-1, 0)

    def action_cell_right(self) -> None:
        """Go to the reading on the right."""
        self.go_beside(1, 0)

    def action_phase(self) -> None:
        """Go from as found to as left at the same place, or back."""
        task = self.in_hand
        key = other_phase(task, self.key_in_hand(task)) if task else ""
        if task is None or not key:
            self.refuse("This task asks for its readings once: there is no other column.")
        elif self.entry.is_open:
            self._ask_for(task, key)
        else:
            self.cells.choose(task, key)
            self.paint()


def _remembered(shop: Shop, card_id: int) -> tuple[int, Memory]:
    return card_id, memory(shop, card_id)
