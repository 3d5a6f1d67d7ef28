"""How every screen acts and looks: in a thread, in the order the keys were pressed, answering by message.

The database is never touched on the screen's own loop once the first picture stands. Acts go through one
queue, so two quick keys cannot overtake each other; each carries an operation id, so a repeat is harmless.
"""

import io
import uuid
from collections.abc import Callable
from concurrent.futures import Future
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar

from textual import on, work
from textual.message import Message
from textual.reactive import Reactive
from textual.screen import Screen
from textual.widget import Widget
from textual.worker import get_current_worker

from shopcli.clash import ChangedMeanwhile
from shopcli.columns import shown
from shopcli.errors import ShopError
from shopcli.screens.careful import Careful
from shopcli.screens.widgets.topbar import TopBar

if TYPE_CHECKING:
    from shopcli.screens.app import ShopApp
    from shopcli.shop.act import Done
    from shopcli.shop.command import Command


class Carried(Message):
    """An act was carried out."""

    def __init__(self, command: "Command", done: "Done") -> None:
        super().__init__()
        self.command = command
        self.done = done


class NotCarried(Message):
    """An act was refused or failed; nothing was changed."""

    def __init__(self, command: "Command", error: Exception) -> None:
        super().__init__()
        self.command = command
        self.error = error


class Looked(Message):
    """Fresh rows arrived. `what` names the question, `seen` is the answer, `number` tells which time it was asked."""

    def __init__(self, what: str, seen: Any, number: int = 0) -> None:
        super().__init__()
        self.what = what
        self.seen = seen
        self.number = number


class ReachChanged(Message):
    """The records went out of reach, or are back."""

    def __init__(self, there: bool) -> None:
        super().__init__()
        self.there = there


class RecordsChanged(Message):
    """Somebody wrote, perhaps at another terminal; several at once are one."""

    def can_replace(self, message: Message) -> bool:
        """Let a newer one stand for those still waiting."""
        return isinstance(message, RecordsChanged)


class NotLooked(Message):
    """The records could not be read."""

    def __init__(self, error: Exception) -> None:
        super().__init__()
        self.error = error


AnswerT = TypeVar("AnswerT")
TOLD_MOST = 800
FOR_BROWSER = "for the browser"


def _fit(text: str) -> str:
    """Return a message fit to be shown: nothing that drives a terminal, and no longer than one reads."""
    text = shown(text)
    return text if len(text) <= TOLD_MOST else f"{text[:TOLD_MOST]}…"


class Acting(Careful, Screen[AnswerT]):
    """A screen that looks at the shop and acts in it; one that is asked something says what it answers."""

    # Whether it shows one card and keeps nothing typed: gone to the list of cards, it is done with.
    OF_ONE_CARD: ClassVar[bool] = False
    # The fields show who has the focus; the screen behind them need not be painted anew for it.
    focused: Reactive[Widget | None] = Reactive(None, repaint=False)

    def __init__(self) -> None:
        super().__init__()
        self._asked: dict[str, int] = {}
        self.open_questions: set[str] = set()  # what is still to be read before the screen is as it should be

    @property
    def desk_app(self) -> "ShopApp":
        """The application, by its real type."""
        from shopcli.screens.app import ShopApp

        if not isinstance(self.app, ShopApp):
            raise TypeError("this screen runs inside ShopApp only")
        return self.app

    def carry_out(self, command: "Command", *, op: str = "") -> None:
        """Ask the shop to do something; `Carried` or `NotCarried` answers. The same `op` again is the same act."""
        app = self.desk_app
        op = op or uuid.uuid4().hex
        self._await_act(command, app.queue.submit(app.shop.do, command, by=app.who.id, op=op))

    @work(thread=True, exit_on_error=False, group="acts")
    def _await_act(self, command: "Command", future: "Future[Done]") -> None:
        try:
            reply: Message = Carried(command, future.result())
        except Exception as error:  # noqa: BLE001 - the border: it becomes words on the screen
            reply = NotCarried(command, error)
        self.post_message(reply)

    def look(self, what: str, question: Callable[[], Any], *, holds: bool = True) -> None:
        """Read something; `Looked` or `NotLooked` answers, the newest question under a name only.

        Keys typed ahead wait for the answer, unless it `holds` up nothing.
        """
        number = self._asked.get(what, 0) + 1
        self._asked[what] = number
        if holds:
            self.open_questions.add(what)
        self._look(what, number, question)

    @work(thread=True, exit_on_error=False, group="looks")
    def _look(self, what: str, number: int, question: Callable[[], Any]) -> None:
        worker = get_current_worker()
        if self._asked[what] != number:
            return
        try:
            reply: Message = Looked(what, question(), number)
        except Exception as error:  # noqa: BLE001 - the border
            reply = NotLooked(error)
        # An older answer may come in after a newer question: it would show what is no longer asked.
        if not worker.is_cancelled and self._asked[what] == number:
            self.post_message(reply)

    def hand_out(self, made: Callable[[], tuple[str, str | bytes]]) -> None:
        """Make a file behind the screen and hand it to the browser; where one sits at a terminal it is filed instead."""
        self.look(FOR_BROWSER, made)

    @on(Looked)
    def give_file(self, event: Looked) -> None:
        """Give the browser what was made for it."""
        if event.what != FOR_BROWSER:
            return
        name, made = event.seen
        content = made.encode() if isinstance(made, str) else made
        self.app.deliver_binary(io.BytesIO(content), save_filename=name)
        self.tell(f"Handed to the browser: {name}")

    def who_changed(self) -> None:
        """Somebody else stands here: another clock. A screen that shows more of theirs shows that anew, too."""
        self.look_at_clock()

    def records_changed(self) -> None:
        """Show what another terminal wrote; a screen that shows records looks at them again."""
        self.look_at_clock()

    @on(Looked)
    def take_answer(self, event: Looked) -> None:
        """Note that a question was answered, unless it was asked again meanwhile."""
        if event.number == self._asked.get(event.what):
            self.open_questions.discard(event.what)

    @on(NotLooked)
    def take_no_answer(self) -> None:
        """Wait for nothing more: the records could not be read."""
        self.open_questions.clear()

    def look_at_clock(self) -> None:
        """Say on the top line who stands here, and whether their clock runs."""
        from shopcli.store.reads.people import clocks_and_breaks

        shop = self.desk_app.shop
        self.look("whose clock", lambda: (clocks_and_breaks(shop), shop.at()))

    @on(Looked)
    def show_clock(self, event: Looked) -> None:
        """Show the clock of who stands here."""
        if event.what != "whose clock":
            return
        clocks, now = event.seen
        who = self.desk_app.who
        mine = next((c for c in clocks if c.person_id == who.id), None)
        for bar in self.query("TopBar").results(TopBar):
            bar.show(who.name, mine, now - int(mine.since.timestamp()) if mine else 0)

    def on_not_carried(self, event: NotCarried) -> None:
        """Say in words what was refused; where somebody else changed the same, ask whose stands."""
        if isinstance(event.error, ChangedMeanwhile):
            from shopcli.screens.whose import ask_whose

            event.prevent_default()
            ask_whose(self, event.command, event.error)
            return
        self.tell_error(event.error)

    def on_not_looked(self, event: NotLooked) -> None:
        """Say in words what could not be read."""
        self.tell_error(event.error)

    def tell(self, words: tuple[str, ...] | str, *, title: str = "") -> None:
        """Show what an act answered."""
        text = words if isinstance(words, str) else "\n".join(words)
        if text:
            self.notify(_fit(text), title=title, markup=False)

    def tell_error(self, error: Exception) -> None:
        """Show an error: what kind, what exactly, and the way out. What becomes a question is asked instead."""
        if isinstance(error, ChangedMeanwhile):
            return
        if isinstance(error, ShopError):
            text = f"{error.message}\n{error.hint}" if error.hint else error.message
            self.notify(_fit(text), title=error.title, severity="error", timeout=12, markup=False)
            return
        self.log.error(error)
        text = f"{type(error).__name__}: {error}\nNothing was changed by it."
        self.notify(_fit(text), title="Something went wrong", severity="error", timeout=20, markup=False)
