"""A day's own times: what was worked on from when to when, the breaks, the sums; and the way to put them right."""

from datetime import date, timedelta
from functools import partial
from typing import ClassVar
from zoneinfo import ZoneInfo

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from shopcli.screens.acts import bindings
from shopcli.screens.asks import Asks
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.times import asking
from shopcli.screens.times.wording import head, line, sums, title
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.command import Command
from shopcli.shop.listed import PersonView
from shopcli.shop.time_views import DayView, StretchView
from shopcli.store.reads.people import people
from shopcli.store.reads.times import day_of

DAY = "day"


class TimesScreen(Asks):
    """The times of one person on one day."""

    CSS_PATH = "times.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("times")
    AUTO_FOCUS = "#stretches"
    HELP_STATION = "times"

    def __init__(self, person_id: int, day: date) -> None:
        super().__init__()
        self.person_id = person_id
        self.day = day
        self._seen: DayView | None = None

    def compose(self) -> ComposeResult:
        """Lay out the list and the sums."""
        yield TopBar("Times")
        yield Static(Content(head()), id="times-head")
        yield MarkedList(id="stretches")
        yield Static(Content(""), id="times-nothing")
        yield Static(Content(""), id="times-sums")
        yield KeyBar("times", without=("app.desk", "app.bench", "app.week", "app.sheets"))

    def on_mount(self) -> None:
        """Read the day behind the screen."""
        self.look_at_clock()
        self.reload()

    @property
    def zone(self) -> ZoneInfo:
        """The shop's zone."""
        return self.desk_app.shop.settings.tz()

    def now_s(self) -> int:
        """Return the time now, in seconds UTC."""
        return self.desk_app.shop.at()

    def everybody(self) -> tuple[PersonView, ...]:
        """Return everybody who works here."""
        return people(self.desk_app.shop)

    def who_changed(self) -> None:
        """Somebody else stands here: their times."""
        self.show_person(self.desk_app.who.id)

    def records_changed(self) -> None:
        """Look again; which stretch is chosen stays."""
        self.look_at_clock()
        self.reload()

    def show_person(self, person_id: int) -> None:
        """Show somebody's times."""
        self.person_id = person_id
        self.look_at_clock()
        self.reload()

    def reload(self) -> None:
        """Look at the day again."""
        self.look(DAY, partial(day_of, self.desk_app.shop, self.person_id, self.day))

    def on_resize(self) -> None:
        """Lay the lines out anew."""
        if self._seen is not None:
            self._show(self._seen)

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read, unless another day is asked for already."""
        if event.what == DAY and event.seen.day == self.day and event.seen.person_id == self.person_id:
            self._show(event.seen)

    def _show(self, seen: DayView) -> None:
        self._seen = seen
        listed = self.query_one("#stretches", OptionList)
        chosen = listed.highlighted_option.id if listed.highlighted_option is not None else None
        width = max(40, self.size.width - 4)
        listed.clear_options()
        listed.add_options([Option(line(s, seen, width), id=f"{s.kind}-{s.id}") for s in seen.stretches])
        ids = [f"{s.kind}-{s.id}" for s in seen.stretches]
        listed.highlighted = ids.index(chosen) if chosen in ids else (len(ids) - 1 if ids else None)
        listed.display = self.query_one("#times-head").display = bool(ids)
        nothing = self.query_one("#times-nothing", Static)
        nothing.display = not ids
        nothing.update(Content("Nothing was clocked on this day. a adds time that was forgotten."))
        self.query_one("#times-sums", Static).update(Content(sums(seen)))
        self.query_one(TopBar).say(title(seen))

    def chosen(self) -> StretchView | None:
        """Return the chosen stretch, or say that there is none."""
        option = self.query_one("#stretches", OptionList).highlighted_option
        for stretch in self._seen.stretches if self._seen is not None else ():
            if option is not None and option.id == f"{stretch.kind}-{stretch.id}":
                return stretch
        self.tell("No time is chosen.")
        return None

    def carry_out_of(self, command: Command) -> None:
        """Put a time right; the rule sees whose it is."""
        self.carry_out(command)

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and show it."""
        self.tell(event.done.said)
        self.reload()

    # Acts ---------------------------------------------------------------------------------------------

    @on(OptionList.OptionSelected)
    def action_change(self) -> None:
        """Change the chosen stretch."""
        if stretch := self.chosen():
            self.ask(partial(asking.change, stretch=stretch))

    def action_split(self) -> None:
        """Split the chosen stretch."""
        if stretch := self.chosen():
            self.ask(partial(asking.split, stretch=stretch))

    def action_add(self) -> None:
        """Add time that was forgotten."""
        self.ask(asking.add)

    def action_whose(self) -> None:
        """Show somebody else's times."""
        self.ask(asking.whose)

    def _go(self, day: date) -> None:
        self.day = min(day, self.desk_app.shop.local(self.now_s()).date())
        self.reload()

    def action_earlier(self) -> None:
        """Show the day before."""
        self._go(self.day - timedelta(days=1))

    def action_later(self) -> None:
        """Show the next day, up to today."""
        self._go(self.day + timedelta(days=1))

    def action_today(self) -> None:
        """Show today."""
        self._go(date.max)

    def action_back(self) -> None:
        """Go back."""
        self.dismiss(None)
