"""Where a reading is typed: as it is read, with the answer how it is understood standing below it all the while."""

from dataclasses import dataclass

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.message import Message
from textual.reactive import Reactive
from textual.widgets import Input, Static

from shopcli.errors import Ambiguous, ShopError
from shopcli.screens.bench.entrywords import STYLES, Question, Words
from shopcli.screens.bench.numberwords import slot_unit, unit_label
from shopcli.screens.bench.readingwords import as_typed, preview, slip_of, slot_label
from shopcli.screens.bench.wording import refusal
from shopcli.screens.widgets.clean_input import SteadyInput
from shopcli.screens.widgets.rooms import Column, Row
from shopcli.shop.views import TaskView
from shopcli.units import Preferences
from shopcli.worklists.model import ReadingSlot

LONGEST = 60
ROOM = 4  # rows: the question, the field, what is said to it
ENDS, BACK = "Enter writes it down, Esc goes back", "Esc goes back"
BEGINS = frozenset("0123456789.,+-")  # how a figure begins


class CellInput(SteadyInput, can_focus=False):
    """A field whose arrows leave it at its ends: to the cell on the left or right. Out of sight it takes no keys."""

    anew = False  # what stands here was refused: a figure typed behind it begins another one

    def insert_text_at_cursor(self, text: str) -> None:
        """Put text in; a figure behind what was refused takes its place, anything else is added to it."""
        refused, self.anew = self.anew, False
        if refused and text[:1] in BEGINS and self.cursor_position >= len(self.value):
            self.value = ""
        super().insert_text_at_cursor(text)

    def action_delete_left(self) -> None:
        """Take the last sign away; what is left is being mended."""
        self.anew = False
        super().action_delete_left()

    def action_cursor_left(self, select: bool = False) -> None:
        """Go back in the text, and from its beginning to the cell on the left."""
        if self.cursor_position == 0 and not select:
            self.post_message(ReadingEntry.Beside(-1, 0))
        else:
            super().action_cursor_left(select)

    def action_cursor_right(self, select: bool = False) -> None:
        """Go on in the text, and from its end to the cell on the right."""
        if self.cursor_position >= len(self.value) and not select:
            self.post_message(ReadingEntry.Beside(1, 0))
        else:
            super().action_cursor_right(select)


class ReadingEntry(Column):
    """A field that stays out of sight until a figure is typed."""

    BINDINGS = [
        Binding("escape", "leave", "Back", show=False),
        Binding("up", "beside(0, -1)", "Above", show=False),
        Binding("down", "beside(0, 1)", "Below", show=False),
    ]

    @dataclass
    class Typed(Message):
        """A reading was typed and can be read as one."""

        task_id: int
        slot: str
        text: str
        unit: str

    @dataclass
    class Nothing(Message):
        """What was typed was sent off where no reading is taken: nothing was put down."""

        why: str

    @dataclass
    class Another(Message):
        """Another reading was chosen in the open field."""

    @dataclass
    class Beside(Message):
        """An arrow asks for the cell beside, below or above."""

        across: int
        down: int

    room = ROOM  # the rows it takes the place of: what is typed and said moves nothing
    is_open: Reactive[bool] = Reactive(False, repaint=False, init=False)  # whether something is being typed

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self.display = False
        self._of_task: TaskView | None = None
        self._slot: ReadingSlot | None = None
        self._unit = ""
        self._why_none = ""
        self._meant = ""  # a figure far above its limits that was asked about

    def compose(self) -> ComposeResult:
        """Lay out question, field and answer."""
        yield Question(id="entry-question")
        with Row(id="entry-line"):
            yield Static(Content("▸ "), id="entry-mark")
            yield CellInput(compact=True, max_length=LONGEST, select_on_focus=False, id="entry-field")
        yield Words(id="entry-answer")

    @property
    def field(self) -> Input:
        """The field itself."""
        return self.query_one("#entry-field", Input)

    @property
    def slot_key(self) -> str:
        """Key of the reading asked for, empty when none is."""
        return self._slot.key if self.is_open and self._slot else ""

    def open(self, task: TaskView, slot: ReadingSlot, prefs: Preferences, text: str = "") -> None:
        """Ask for a reading, beginning with what was typed already."""
        self._ask(task, slot, prefs)
        self._open(text)

    def swallow(self, why: str, text: str) -> None:
        """Take in what is typed where no reading is taken: left to the keys, its letters would act."""
        self._why_none, self._unit = why, ""
        self.query_one(Question).show(why, "bold $text-warning")
        self._open(text)

    def _open(self, text: str) -> None:
        self.display = True
        self.styles.height = self.room
        self._meant = ""
        self.query_one("#entry-field", CellInput).anew = False
        self.field.value = text
        self.field.cursor_position = len(text)
        self._answer(text)
        self.is_open = True
        self.field.can_focus = True
        self.screen.set_focus(self.field, scroll_visible=False)

    def add(self, character: str) -> None:
        """Take in a character that was typed before the field had the focus."""
        self.field.insert_text_at_cursor(character)

    def _ask(self, task: TaskView, slot: ReadingSlot, prefs: Preferences) -> None:
        self._of_task, self._slot = task, slot
        self._unit = slot_unit(task.task, slot, prefs)
        spec = task.task.spec(slot.spec) if slot.spec else None
        wanted = f": {spec.limits.text_in(self._unit)}" if spec else ""
        before = next((as_typed(r) for r in task.readings if r.slot == slot.key), "")
        taken = f". Taken as {before}; Enter asks before a new one takes its place" if before else ""
        question = f"{slot_label(task.task, slot)}, {slot.phase}{wanted}{taken}"
        self.query_one(Question).show(question, "bold")

    @property
    def typing(self) -> str:
        """What stands in the field, empty while it is closed."""
        return self.field.value if self.is_open else ""

    def ask(self, slot: ReadingSlot, prefs: Preferences) -> None:
        """Ask for another reading of the task, keeping what is typed."""
        if self._of_task is not None:
            self._ask(self._of_task, slot, prefs)
            self._answer(self.field.value)
            self.post_message(self.Another())

    def action_beside(self, across: int, down: int) -> None:
        """Go to the cell beside; what is typed comes along."""
        self.post_message(self.Beside(across, down))

    def close(self) -> None:
        """Go out of sight, forgetting what was typed."""
        if not self.is_open:
            return
        self.display = False
        self._of_task = self._slot = None
        self._why_none = ""
        self.is_open = False
        self.field.value = ""
        self.screen.set_focus(None)
        self.field.can_focus = False

    def action_leave(self) -> None:
        """Back out; nothing is kept."""
        self.close()

    def on_mount(self) -> None:
        """Say with every letter how it is understood so far: in the same picture, not in one that follows."""
        self.watch(self.field, "value", self._understand, init=False)

    def _understand(self, text: str) -> None:
        if self.is_open:
            self._answer(text)

    @on(Input.Changed)
    def keep_quiet(self, event: Input.Changed) -> None:
        """Let nobody else take the letters for theirs."""
        event.stop()

    @on(Input.Submitted)
    def keep(self, event: Input.Submitted) -> None:
        """Hand the reading over when it can be read; else it stays in the field with the reason below it."""
        event.stop()
        if self._why_none:
            nothing = self.Nothing(self._why_none)
            self.close()
            self.post_message(nothing)
            return
        if self._of_task is None or self._slot is None:
            return
        text = event.value.strip()
        if not text:
            self._say("Nothing is typed yet.", "refused")
            return
        try:
            preview(self._of_task.task, self._slot, text, self._unit)
        except ShopError as error:
            self._refuse(refusal(error))
            return
        far = slip_of(self._of_task.task, self._slot, text, self._unit)
        if far and self._meant != text:
            self._meant = text
            self._refuse(f"{far}: a slip? Enter again writes it down as it stands, a figure begins anew.")
            return
        said = self.Typed(self._of_task.id, self._slot.key, text, self._unit)
        self.close()
        self.post_message(said)

    def _refuse(self, why: str) -> None:
        """Say why it is not written down; a unit may still be added, a figure begins anew."""
        self._say(why, "refused", BACK)
        self.query_one("#entry-field", CellInput).anew = True

    def _answer(self, text: str) -> None:
        if self._why_none:
            self._say("What is typed here is put down nowhere. Esc or Enter goes back.", "unclear")
            return
        if self._of_task is None or self._slot is None:
            return
        if not text.strip():
            unit = unit_label(self._unit)
            bare = f"A bare figure is taken in {unit}. " if unit else ""
            self._say(
                f"{bare}Enter writes it down, Esc goes back, the arrows choose another reading.", "hint"
            )
            return
        try:
            words, standing = preview(self._of_task.task, self._slot, text, self._unit)
        except Ambiguous as error:
            self._say(refusal(error), "unclear", BACK)
            return
        except ShopError as error:  # while a unit is half typed the whole list of units would only flicker
            self._say(f"{error.message} …", "unclear", BACK)
            return
        self._say(words, {"in": "fine", "": "unclear"}.get(standing, "refused"), ENDS)

    def _say(self, words: str, kind: str, keys: str = "") -> None:
        answer = self.query_one("#entry-answer", Words)
        answer.show(words, STYLES[kind], keys)
        self._fit(self.query_one(Question), answer)

    def _fit(self, *said: Words) -> None:
        """Take more rows where the words need them; they are given back when the field is closed."""
        size, height = self.app.size, self.styles.height
        wide = size.width - self.styles.gutter.width
        rows = 1 + sum(words.get_content_height(size, size, wide) for words in said)
        if height is None or height.cells is None or rows > height.cells:
            self.styles.height = max(rows, self.room)
