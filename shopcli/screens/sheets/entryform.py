"""Typing a number as it is printed: figures, Enter, page, Enter, and the next one. Document and page stay."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from textual import on
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from shopcli.columns import shown
from shopcli.errors import ShopError
from shopcli.screens.sheets.reading import Taken, bare_unit, take_figures, take_kind
from shopcli.screens.sheets.wording import printed_text
from shopcli.screens.widgets.field import Field
from shopcli.shop.sheet_views import NumberView
from shopcli.units import METRIC, Preferences, unit_named

LONG = {"figures": 120, "page": 20, "document": 120, "kind": 20, "state": 20, "note": 400, "why": 400}


@dataclass(slots=True)
class Remembered:
    """What stays from one number to the next: the handbook in hand, its page, the unit it prints."""

    kind: str = "handbook"
    document: str = ""
    page: str = ""
    units: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Entry:
    """A number as it is to be kept; `typed` is every text as it stood. `confirm` takes the figures that are known."""

    number: NumberView
    taken: Taken | None
    kind: str
    document: str
    page: str
    state: str
    note: str
    why: str
    typed: Mapping[str, str]

    @property
    def confirm(self) -> bool:
        """Whether the known figures are confirmed."""
        return self.taken is None


class EntryForm(Vertical):
    """The fields of one number."""

    DEFAULT_CSS = """
    EntryForm { height: auto; background: $surface; padding: 0 1; }
    EntryForm .entry-title { text-style: bold; height: auto; max-height: 2; }
    """

    class Ready(Message):
        """Everything that is needed is typed."""

        def __init__(self, entry: Entry) -> None:
            super().__init__()
            self.entry = entry

    class Passed(Message):
        """Nothing was typed: on to the next number."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self.number: NumberView | None = None
        self.remembered = Remembered()
        self._prefs = METRIC
        self._confirm = False

    def compose(self) -> ComposeResult:
        """Lay out the fields: the two that change with every number come first."""
        yield Static(Content(""), classes="entry-title")
        yield self._field("figures", "As printed", self._say_figures)
        yield self._field("page", "Page")
        yield self._field("document", "Document", placeholder="title and edition")
        yield self._field("kind", "From", lambda text: take_kind(text) if text else "")
        yield self._field("state", "State", placeholder="cold, hot; - for none")
        yield self._field("note", "Note", placeholder="like: at 650 rpm")
        yield self._field("why", "Why changed", placeholder="may stay empty")

    @staticmethod
    def _field(
        key: str, label: str, check: Callable[[str], str] | None = None, *, placeholder: str = ""
    ) -> Field:
        return Field(f"entry-{key}", label, check=check, placeholder=placeholder)

    def field(self, key: str) -> Field:
        """Return a field."""
        return self.query_one(f"#entry-{key}", Field)

    @property
    def unit(self) -> str:
        """The unit a bare figure counts in now."""
        return bare_unit(self.number, self.remembered.units) if self.number else ""

    def open(self, number: NumberView, prefs: Preferences, *, confirm: bool = False) -> None:
        """Begin with a number: figures empty, where they come from as it was last."""
        self.number, self._prefs, self._confirm = number, prefs, confirm
        stands = number.shown
        self.query_one(".entry-title", Static).update(Content(self._title(number, confirm=confirm)))
        self.field("figures").put("")
        self.field("figures").display = not confirm
        self.field("page").put(self.remembered.page)
        self.field("document").put(self.remembered.document)
        self.field("kind").put(self.remembered.kind)
        self.field("state").put(stands.spec.state if stands else "")
        self.field("note").put("")
        self.field("why").put("")
        own = stands is not None and stands.row > 0
        self.field("why").display = own and not confirm
        for each in self.query(Field):
            each.say("")
        self._say_empty()
        self.go("page" if confirm else "figures")

    def again(self, entry: Entry, prefs: Preferences, trouble: str) -> None:
        """Take back a number that was refused, with everything that was typed and what is wrong with it."""
        self.open(entry.number, prefs, confirm=entry.confirm)
        for key, text in entry.typed.items():
            self.field(key).put(text)
        self.field("page" if entry.confirm else "figures").say(trouble, wrong=True)

    def _title(self, number: NumberView, *, confirm: bool) -> str:
        stands = number.shown
        now = f"now {printed_text(stands.spec)}" if stands else "not entered yet"
        if confirm and stands:
            return shown(f"Confirm {number.label}: {printed_text(stands.spec)}. Where does it stand so?")
        return shown(f"{number.label}: {now}")

    def go(self, key: str) -> None:
        """Put the cursor into a field, what stands there marked so that typing replaces it."""
        each = self.field(key)
        each.input.focus()
        each.input.select_all()

    def _say_empty(self) -> None:
        label = unit_named(self.unit).label if self.unit else ""
        words = (
            f"a bare figure counts in {label}; empty passes on" if label else "with its unit; empty passes on"
        )
        self.field("figures").say(words)

    def _say_figures(self, text: str) -> str:
        if self.number is None or not text:
            return ""
        return take_figures(text, self.number, self.unit, self._prefs).words

    @on(Field.Typed)
    def typed(self, event: Field.Typed) -> None:
        """Say the unit again when the figures were cleared."""
        if event.field.key == "entry-figures" and not event.text:
            self._say_empty()

    @on(Field.Entered)
    def entered(self, event: Field.Entered) -> None:
        """Enter goes from the figures to the page, and from anywhere else keeps the number."""
        event.stop()
        if event.field.key != "entry-figures":
            self.keep()
            return
        figures = self.field("figures")
        if not figures.text:
            self.post_message(self.Passed())
        elif trouble := figures.trouble():
            figures.say(trouble, wrong=True)
        elif self._kind() == "handbook":
            self.go("page")
        else:
            self.keep()

    def _kind(self) -> str:
        try:
            return take_kind(self.field("kind").text)
        except ShopError:
            return ""

    def keep(self) -> None:
        """Hand the number on when nothing is missing; else go where it is."""
        if self.number is None:
            return
        text = {key: self.field(key).text for key in LONG}
        wrong = self._wrong(text)
        if wrong:
            key, words = wrong
            self.field(key).say(words, wrong=True)
            self.field(key).input.focus()
            return
        taken = None if self._confirm else take_figures(text["figures"], self.number, self.unit, self._prefs)
        kind = take_kind(text["kind"])
        book = kind == "handbook"
        self.post_message(
            self.Ready(
                Entry(
                    self.number,
                    taken,
                    kind,
                    text["document"] if book else "",
                    text["page"] if book else "",
                    text["state"],
                    text["note"],
                    text["why"],
                    text,
                )
            )
        )

    def _wrong(self, text: dict[str, str]) -> tuple[str, str] | None:
        """Return the first field that cannot be taken, and why."""
        if not self._confirm and not text["figures"]:
            return "figures", "type what is printed"
        for key in ("figures", "kind"):
            if (trouble := self.field(key).trouble()) and not (self._confirm and key == "figures"):
                return key, trouble
        long = next((key for key, most in LONG.items() if len(text[key]) > most), "")
        if long:
            return long, f"{len(text[long])} characters; at most {LONG[long]} are kept"
        kind = self._kind()
        if not kind:
            return "kind", "h(andbook), pl(ate), m(easured) or pr(actice)"
        if kind == "handbook" and not text["document"]:
            return "document", "which document? Its title and edition"
        return None

    def kept(self, entry: Entry) -> None:
        """Remember where a number came from, for the next one."""
        self.remembered.kind = entry.kind
        if entry.kind == "handbook":
            self.remembered.document, self.remembered.page = entry.document, entry.page
        if entry.taken is not None and entry.taken.typed_unit:
            self.remembered.units[entry.number.quantity] = entry.taken.typed_unit
