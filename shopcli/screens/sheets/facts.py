"""The facts of a sheet or a vehicle in one form: what the wider sheet says stands beside each, only what differs is typed."""

from collections.abc import Callable
from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from shopcli.columns import shown
from shopcli.errors import BadInput, NotFound
from shopcli.screens.acts import bindings
from shopcli.screens.dialogs import Confirm
from shopcli.screens.doing import Acting, Carried
from shopcli.screens.widgets.field import Field
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.seen import over
from shopcli.shop.sheet_commands import ChangeSheet, ChangeVehicleFacts
from shopcli.shop.sheet_views import VEHICLE, SheetView
from shopcli.worklists.facts import FACT_NAMES, fact_value, facts_as_text
from shopcli.worklists.words import did_you_mean

OTHERS = ("app.desk", "app.bench", "app.week", "app.sheets")
ABOUT = "An empty field takes what stands beside it, from the wider sheet. Cards already open do not change."
UNDER, TITLE, FURTHER = "under", "title", "further"


class FactsScreen(Acting[tuple[str, ...] | None]):
    """The form of the facts; answers what was said when they were kept, or None."""

    CSS_PATH = "sheets.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("sheet_facts")
    AUTO_FOCUS = "#fact-under Input"
    HELP_STATION = "sheet_facts"
    TYPES_AHEAD = True

    def __init__(self, view: SheetView) -> None:
        super().__init__()
        self._view = view
        self._saving = False
        further = sorted({*view.facts, *view.inherited} - set(FACT_NAMES))
        self._names = (*FACT_NAMES, *further)

    def compose(self) -> ComposeResult:
        """Lay out the sheet it lies under, then fact by fact."""
        view = self._view
        yield TopBar(f"Facts  {shown(view.name)}")
        yield Static(Content(ABOUT), id="facts-about")
        with VerticalScroll(id="facts", can_focus=False):
            yield Field("fact-under", "Lies under", value=view.under, check=self._check_under)
            if view.where != VEHICLE:
                yield Field("fact-title", "Title", value=view.title)
            for number, name in enumerate(self._names):  # a fact's own name may be no name for a widget
                yield Field(
                    f"fact-{number}",
                    name.replace("_", " ")[:40],
                    value=view.facts.get(name, ""),
                    check=partial(self._check, name),
                )
            yield Field("fact-further", "Another fact", placeholder="name = text", check=self._check_further)
        yield KeyBar("sheet_facts", without=OTHERS)

    def on_mount(self) -> None:
        """Say who stands here."""
        self.look_at_clock()

    def _check(self, name: str, text: str) -> str:
        if not text:
            inherited = self._view.inherited.get(name, "")
            return f"takes: {inherited}" if inherited else ""
        said = facts_as_text({name: fact_value(name, text)})[name]
        return "" if said == text else f"= {said}"

    def _check_under(self, text: str) -> str:
        sheets = self.desk_app.shop.library.sheets
        if not text:
            return "the general sheet alone"
        if text not in sheets:
            raise NotFound(f'no sheet is called "{text[:40]}"', hint=did_you_mean(text, sheets))
        return sheets[text].title

    def _check_further(self, text: str) -> str:
        if not text:
            return ""
        name, equals, value = (part.strip() for part in text.partition("="))
        if not (name and equals and value):
            raise BadInput("a fact has a name and a text", hint="Write: heads = iron")
        fact_value(name, value)
        return f"{name.casefold().replace(' ', '_')} is {value}"

    @on(Field.Entered)
    def go_on(self) -> None:
        """Enter goes to the next field."""
        self.focus_next(Input)

    def _text(self, key: str) -> str:
        return self.query_one(f"#fact-{key}", Field).text

    def action_save(self) -> None:
        """Keep what is typed, unless a field says what is wrong with it."""
        wrong = next((f for f in self.query(Field) if f.trouble()), None)
        if wrong is not None:
            wrong.say(wrong.trouble(), wrong=True)
            wrong.input.focus()
            return
        if self._saving:
            return
        self._saving = True
        texts = ((name, self._text(str(number))) for number, name in enumerate(self._names))
        facts = [(name, text) for name, text in texts if text]
        if further := self._text(FURTHER):
            name, _, value = further.partition("=")
            facts.append((name.strip(), value.strip()))
        self.carry_out(self._command(tuple(facts)))

    def _command(self, facts: tuple[tuple[str, str], ...]) -> ChangeSheet | ChangeVehicleFacts:
        view, under = self._view, self._text(UNDER)
        if view.where == VEHICLE:
            return over(view, ChangeVehicleFacts(view.key, view.version, under, facts), sheet="under")
        return over(view, ChangeSheet(view.key, view.version, self._text(TITLE), under, facts=facts))

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Go back with what was said."""
        self.dismiss(event.done.said)

    def on_not_carried(self, event: object) -> None:
        """Keep what is typed and say what was refused."""
        self._saving = False
        super().on_not_carried(event)  # type: ignore[arg-type]

    def action_back(self) -> None:
        """Go back; what was typed is thrown away only when that is meant."""
        if not any(f.changed for f in self.query(Field)):
            self.dismiss(None)
            return
        leave: Callable[[bool | None], None] = lambda yes: self.dismiss(None) if yes else None  # noqa: E731
        self.app.push_screen(Confirm("Throw away what is typed?", note="No fact was changed."), leave)
