"""The sums at hand: choose one, and its form is filled in with what the vehicle and the task know already.

The answer follows every key. What is typed is never lost to an error: it stays in its field with the reason
beside it, and it is still there when one comes back from another sum.
"""

from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from shopcli.columns import display_width, shown
from shopcli.screens.acts import bindings
from shopcli.screens.dialogs import Pick
from shopcli.screens.doing import Acting, Looked
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar
from shopcli.screens.workings.answering import Answer, answer
from shopcli.screens.workings.answerpane import AnswerPane
from shopcli.screens.workings.askedfield import AskedField
from shopcli.screens.workings.hand import Hand, choices, preferences
from shopcli.shop.views import ClockView
from shopcli.store.reads.people import running_clocks
from shopcli.workings.frame import Input, Working
from shopcli.worklists.asked_inputs import allowed
from shopcli.worklists.workings_at_hand import working_named
from shopcli.worklists.workings_words import asked_of

TICK_S = 1.0
SUM, CLOCK = "sum", "clock"
READ_ON = "▾ Page Down reads on"
OTHERS = ("app.desk", "app.bench", "app.week", "app.person", "app.sheets")


def about_words(asked: Input) -> str:
    """Say what an input is, what it takes, and what helps to give it."""
    may = allowed(asked) or "as written"
    more = f"; {asked.help}" if asked.help and asked.help not in may else ""
    return f"{asked.label}: {may}{more}"


class WorkingsPanel(Acting[None]):
    """A form for one sum at a time; without one, the question which."""

    CSS_PATH = "panel.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("workings")
    AUTO_FOCUS = None
    HELP_STATION = "workings"
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-narrow"), (110, "-wide")]
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-low"), (30, "-high")]

    def __init__(self, hand: Hand | None = None, name: str = "") -> None:
        super().__init__()
        self._hand = hand or Hand()
        self._first = name or self._hand.own_working
        self._typed: dict[str, dict[str, str]] = {}
        self._open = ""
        self._clock: ClockView | None = None
        self.working: Working | None = None
        self.answer: Answer | None = None

    def compose(self) -> ComposeResult:
        """Lay out the form, the line about the field in hand, and the answer."""
        yield TopBar("Sums")
        yield VerticalScroll(id="fields", can_focus=False)
        yield Static(Content(""), id="about")
        yield Static(Content(""), id="caution")
        with VerticalScroll(id="answer-scroll", can_focus=False):
            yield AnswerPane(id="answer")
        yield Static(Content(READ_ON), id="more")
        yield KeyBar("workings", without=OTHERS)

    async def on_mount(self) -> None:
        """Open the task's own sum, or ask which."""
        self.set_interval(TICK_S, self._tick)
        self.who_changed()
        if self._first:
            await self.show(working_named(self._first))
        else:
            self.action_another()

    @property
    def plain(self) -> bool:
        """Whether the application draws with plain characters only."""
        return bool(getattr(self.app, "plain", False))

    @property
    def fields(self) -> list[AskedField]:
        """The fields of the form, from top to bottom."""
        return list(self.query(AskedField))

    def who_changed(self) -> None:
        """Somebody else stands here: another clock, other units. What is typed stays."""
        shop = self.desk_app.shop
        self.look(CLOCK, lambda: running_clocks(shop))
        self._work()

    def _tick(self) -> None:
        who, clock = self.desk_app.who, self._clock
        since = int(self.desk_app.shop.now().timestamp() - clock.since.timestamp()) if clock else 0
        self.query_one(TopBar).show(who.name, clock if clock and clock.person_id == who.id else None, since)

    def on_resize(self) -> None:
        """Say anew what the room holds."""
        self._say_about()
        self.call_after_refresh(self._say_more)

    # The form -----------------------------------------------------------------------------------------

    async def show(self, working: Working) -> None:
        """Show the form of a sum, filled in with what is known or what was typed into it before."""
        self.keep_typed()
        known = self._hand.known(working, self.desk_app.who.units)
        before = self._typed.get(working.name, {name: k.text for name, k in known.items()})
        self.working = working
        self.query_one(TopBar).say(shown(f"Sums  {working.title}"))
        form = self.query_one("#fields", VerticalScroll)
        async with self.batch():
            await form.remove_children()
            fields = [AskedField(i, before.get(i.name, ""), known.get(i.name)) for i in asked_of(working)]
            await form.mount_all(fields)
        empty = next((f for f in fields if not f.text and f.asked.required), fields[0])
        empty.enter()
        self._work()

    def keep_typed(self) -> None:
        """Remember what stands in the form."""
        if self.working is not None:
            self._typed[self.working.name] = {f.asked.name: f.text for f in self.fields}

    def _work(self) -> None:
        if self.working is not None:
            typed = {f.asked.name: f.text for f in self.fields}
            self.look(SUM, partial(answer, self.working, typed, plain=self.plain))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was worked out, if it is still the sum that is looked at."""
        if event.what == CLOCK:
            who = self.desk_app.who.id
            self._clock = next((c for c in event.seen if c.person_id == who), None)
            self._tick()
        elif event.what == SUM and event.seen.working is self.working:
            self._show_answer(event.seen)

    def _show_answer(self, found: Answer) -> None:
        self.answer = found
        for each in self.fields:
            name = each.asked.name
            each.say(found.understood.get(name, ""), found.troubles.get(name, ""))
        prefs = preferences(self.desk_app.who.units)
        self.query_one("#answer", AnswerPane).show(found, prefs, plain=self.plain)
        self._say_about()
        self.call_after_refresh(self._say_more)

    def _say_about(self) -> None:
        """Say of the field in hand what is wrong with it, else what it takes.

        The two rows belong to that when it is long; else the second holds the first caution, in sight before
        the answer is.
        """
        each = next((f for f in self.fields if f.asked.name == self._open), None)
        if each is None or self.working is None:
            return
        trouble = self.answer.troubles.get(each.asked.name, "") if self.answer else ""
        words = shown(f"! {each.asked.label}: {trouble}" if trouble else about_words(each.asked))
        long = display_width(words) > self.size.width - 2
        line, caution = self.query_one("#about", Static), self.query_one("#caution", Static)
        line.set_class(bool(trouble), "-wrong")
        line.set_class(long, "-long")
        line.update(Content(words))
        first = next(iter(self.working.cautions), "")
        caution.display = not long
        caution.update(Content(f"! {first}" if first else ""))

    def _say_more(self) -> None:
        scroll, pane = self.query_one("#answer-scroll", VerticalScroll), self.query_one("#answer", AnswerPane)
        left = pane.rows - scroll.scroll_offset.y - scroll.size.height
        more = self.query_one("#more")
        # The line itself takes a row of the room: it stays while more than that row is left.
        more.set_class(left > 0 and not (more.display and left < 1), "-some")

    @on(AskedField.Typed)
    def _field_typed(self) -> None:
        self._work()

    @on(AskedField.Open)
    def _field_opened(self, event: AskedField.Open) -> None:
        self._open = event.asked
        self._say_about()

    @on(AskedField.Entered)
    def _field_entered(self) -> None:
        self._move(1)

    # Acts ---------------------------------------------------------------------------------------------

    def action_another(self) -> None:
        """Ask which sum."""
        self.app.push_screen(Pick("Which sum?", choices(self._hand)), self._picked)

    async def _picked(self, name: str | None) -> None:
        if name is not None:
            await self.show(working_named(name))
        elif self.working is None:
            self.dismiss()

    def action_again(self) -> None:
        """Put back what is known and empty the rest."""
        for each in self.fields:
            each.put(each.known.text if each.known else "")
        self._work()

    def action_next(self) -> None:
        """Go to the next field."""
        self._move(1)

    def action_previous(self) -> None:
        """Go to the field before."""
        self._move(-1)

    def _move(self, by: int) -> None:
        fields = self.fields
        if fields:
            place = next((i for i, f in enumerate(fields) if f.asked.name == self._open), 0)
            fields[(place + by) % len(fields)].enter()

    def action_read_on(self) -> None:
        """Read on in a long answer."""
        self._scroll(1)

    def action_read_back(self) -> None:
        """Go back in a long answer."""
        self._scroll(-1)

    def _scroll(self, by: int) -> None:
        scroll = self.query_one("#answer-scroll", VerticalScroll)
        scroll.scroll_relative(y=by * max(1, scroll.size.height - 1), animate=False)
        self.call_after_refresh(self._say_more)

    def action_back(self) -> None:
        """Go back; nothing was written anywhere."""
        self.dismiss()
