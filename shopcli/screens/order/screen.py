"""The screen of the order of work: the picture of the day above, below it every step with its time and its reason.

What somebody wants otherwise is asked here: next, in a place, after another, by a person. The planner answers at
once; the list is made anew after every act, and the chosen task stays chosen.
"""

from functools import partial
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from shopcli.columns import shown
from shopcli.orderwords import figures_words
from shopcli.screens.acts import bindings
from shopcli.screens.bench.saidline import SaidLine
from shopcli.screens.bench.wording import refusal
from shopcli.screens.desk.changes import Changing
from shopcli.screens.doing import Carried, Looked, NotCarried, NotLooked
from shopcli.screens.order import asking
from shopcli.screens.order.lines import asked_lines, no_room_lines, step_lines
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.lines import Line
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.ordered import NoRoomView, Order, StepView
from shopcli.shop.wish_commands import PinTask
from shopcli.store.reads import orders
from shopcli.worklists.planner import picture

ORDER = "order of work"
AGAIN_S = 30.0
LOW, FEW_WAITS, MANY_WAITS = 30, 2, 8
HINT = "Enter goes there. n wants it next; p, a, w: where, after what, by whom."
NOTHING = "Nothing is left to do on this card."


class Asked(LinesPane):
    """What is set aside or to be noted; not there when there is nothing."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._order: Order | None = None

    def show(self, order: Order) -> None:
        """Show what an order has to say."""
        self._order = order
        self.display = bool(asked_lines(order.view, 80))
        self.refresh(layout=True)

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return the lines."""
        return asked_lines(self._order.view, width)[:rows] if self._order else []


class OrderScreen(Changing[None]):
    """The order of work of one card."""

    CSS_PATH = "order.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("order")
    AUTO_FOCUS = "#steps"
    HELP_STATION = "order"

    def __init__(self, card_id: int, title: str, task_id: int | None = None) -> None:
        super().__init__()
        self._card_id = card_id
        self._title = title
        self._chosen = task_id
        self.order: Order | None = None

    def compose(self) -> ComposeResult:
        """Lay out figures, picture, steps and the line of answers."""
        yield TopBar("Order of work")
        yield Static(Content(""), id="figures")
        yield Static(Content(""), id="picture")
        yield MarkedList(id="steps", markup=False, compact=True)
        yield Static(Content(NOTHING), id="none")
        yield Asked(id="asked")
        yield SaidLine(id="said")
        yield KeyBar("order", without=("app.desk", "app.week", "app.person", "app.sheets"))

    def on_mount(self) -> None:
        """Show what is known, and make the order anew."""
        self.query_one(TopBar).say(shown(f"Order of work  {self._title}"))
        self.set_interval(AGAIN_S, self.reload)
        self.who_changed()
        known = self.desk_app.orders.get(self._card_id)
        self._said.hint(HINT)
        if known is not None:
            self._show(known)
        self.reload()

    def records_changed(self) -> None:
        """Another terminal did something: make the order anew; the chosen task stays chosen."""
        self.reload()

    def reload(self) -> None:
        """Make the order as of now, in a thread."""
        self.look(ORDER, partial(orders.order, self.desk_app.shop, self._card_id))

    def on_resize(self, _event: events.Resize) -> None:
        """Lay everything out anew."""
        if self.order is not None:
            self._show(self.order)

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show the order that was made; the other screens take it over."""
        if event.what == ORDER:
            self.desk_app.orders[self._card_id] = event.seen
            self._show(event.seen)

    # The picture --------------------------------------------------------------------------------------

    @property
    def _said(self) -> SaidLine:
        return self.query_one("#said", SaidLine)

    def _show(self, order: Order) -> None:
        self.order = order
        width, height = self.app.size
        self.query_one("#figures", Static).update(Content(figures_words(order.view)))
        drawn = self.query_one("#picture", Static)
        drawn.display = bool(order.view.steps)
        if order.plan is not None and order.view.steps:
            rows = FEW_WAITS if height < LOW else MANY_WAITS
            plain = bool(getattr(self.app, "plain", False))
            drawn.update(
                Content(
                    picture(
                        order.plan, width=width - 2, ascii_only=plain, names=order.view.people, waits=rows
                    )
                )
            )
        self._show_steps(order, width - 5)
        self.query_one("#asked", Asked).show(order)

    def _show_steps(self, order: Order, width: int) -> None:
        view = order.view
        listed = self.query_one("#steps", OptionList)
        rows = [(s.task_id, step_lines(s, view, width)) for s in view.steps]
        rows += [(gone.task_id, no_room_lines(gone, width)) for gone in view.no_room]
        keys = [task_id for task_id, _ in rows]
        with self.prevent(OptionList.OptionHighlighted):
            listed.set_options(Option(prompt, id=str(task_id)) for task_id, prompt in rows)
            listed.highlighted = (keys.index(self._chosen) if self._chosen in keys else 0) if keys else None
        listed.display = bool(keys)
        self.query_one("#none").display = not keys

    @on(OptionList.OptionHighlighted, "#steps")
    def _moved(self, event: OptionList.OptionHighlighted) -> None:
        self._chosen = int(event.option.id or 0)

    def chosen(self) -> StepView | NoRoomView | None:
        """Return the chosen step."""
        if self.order is None:
            return None
        option = self.query_one("#steps", OptionList).highlighted_option
        listed: tuple[StepView | NoRoomView, ...] = (*self.order.view.steps, *self.order.view.no_room)
        return next((s for s in listed if option is not None and str(s.task_id) == option.id), None)

    # Answers ------------------------------------------------------------------------------------------

    def on_key(self, _event: events.Key) -> None:
        """Let the last answer go."""
        self._said.clear()

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and make the order anew."""
        self.tell(event.done.said)
        self.reload()

    def on_not_carried(self, event: NotCarried) -> None:
        """Say why not, where it can be read in peace."""
        event.stop()
        self.tell_error(event.error)

    def on_not_looked(self, event: NotLooked) -> None:
        """Say what could not be read; the last picture stays."""
        event.stop()
        self.tell_error(event.error)

    def tell(self, words: tuple[str, ...] | str, *, title: str = "") -> None:
        """Show an answer until the next key."""
        del title
        self._answer((words,) if isinstance(words, str) else words, "done")

    def tell_error(self, error: Exception) -> None:
        """Show a refusal until the next key."""
        self._answer((refusal(error),), "refused")

    def _answer(self, words: tuple[str, ...], kind: str) -> None:
        """Show an answer; the list gets smaller by it, and the chosen task stays in sight."""
        self._said.answer(words, kind)
        self.call_after_refresh(self.query_one("#steps", OptionList).scroll_to_highlight)

    # Acts ---------------------------------------------------------------------------------------------

    def _task_or_say(self) -> StepView | NoRoomView | None:
        chosen = self.chosen()
        if chosen is None:
            self._answer(("No task is chosen; nothing is left to do.",), "refused")
        return chosen

    def action_next(self) -> None:
        """Want the chosen task next."""
        if task := self._task_or_say():
            self.carry_out(PinTask(task.task_id, "next"))

    def action_place(self) -> None:
        """Ask for a place."""
        if (task := self._task_or_say()) is not None and self.order is not None:
            asking.place(self, self.order.view, task)

    def action_after(self) -> None:
        """Ask after which task."""
        if (task := self._task_or_say()) is not None and self.order is not None:
            asking.after(self, self.order.view, task)

    def action_by(self) -> None:
        """Ask who does it."""
        if (task := self._task_or_say()) is not None:
            asking.by(self, task)

    def action_earlier(self) -> None:
        """Move the chosen task one place earlier."""
        self._move(-1)

    def action_later(self) -> None:
        """Move the chosen task one place later."""
        self._move(1)

    def _move(self, by: int) -> None:
        if (task := self._task_or_say()) is None or self.order is None:
            return
        place = self.order.view.place(task.task_id)
        if place is None:
            self._answer((f"'{task.title}' has no place: it is in hand, or finds no room.",), "refused")
        else:
            self.carry_out(PinTask(task.task_id, "place", place + by))

    def action_give_back(self) -> None:
        """Give back the wishes for the chosen task, or ask which."""
        if self.order is not None:
            asking.give_back(self, self.order.view, self.chosen())

    def action_hands(self) -> None:
        """Ask how many people work on the card."""
        asking.hands(self, self._card_id, self.order.view if self.order else None)

    @on(OptionList.OptionSelected, "#steps")
    def action_open(self) -> None:
        """Go to the chosen task at the bench."""
        task = self.chosen()
        self.dismiss()
        if task is not None:
            self.desk_app.open_card(self._card_id, task.task_id)

    def action_down(self) -> None:
        """Choose the next step."""
        self.query_one("#steps", OptionList).action_cursor_down()

    def action_up(self) -> None:
        """Choose the step before."""
        self.query_one("#steps", OptionList).action_cursor_up()

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()
