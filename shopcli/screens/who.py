"""Who stands here now: two keys. Everybody with a figure and an initial, and whose clock runs on what."""

from collections.abc import Sequence

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widget import Widget
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from shopcli.columns import cut, pad
from shopcli.present import h_mm
from shopcli.screens.careful import Careful
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.shop.time_views import StandingView

NAME_MOST, ROLE_LEAST, LINE_MOST = 18, 9, 61
FIGURES = "123456789"
WITH_PIN = "  PIN"


def clock_words(one: StandingView, at: int) -> str:
    """Say where somebody's clock runs, or that they are on a break."""
    if one.since is None:
        return "○ no clock"
    time = h_mm(max(0, at - int(one.since.timestamp())))
    if one.state == "break":
        return f"◌ on a break {time}, {one.card}"
    return f"● {time} {one.card} {one.task}"


def letters(names: Sequence[str]) -> tuple[str, ...]:
    """Return a letter for each name that no other has: the initial where it is free, else the next of the name.

    Examples
    --------
    >>> letters(["Tom", "Tina", "Ian", "T"])
    ('t', 'n', 'i', '')
    """
    found = [""] * len(names)
    for initials_only in (True, False):
        for i, name in enumerate(names):
            signs = [sign for sign in name.casefold() if sign.isalpha()]
            if not found[i]:
                free = (s for s in (signs[:1] if initials_only else signs) if s not in found)
                found[i] = next(free, "")
    return tuple(found)


class Choosing(Widget):
    """A screen on which somebody is chosen by a figure or a letter of the name; arrows and Enter do too."""

    ONE_BY_ONE = True  # letters behind the first go on with the name, or are for what is shown then
    everybody: tuple[StandingView, ...] = ()

    def options(self, words: Sequence[str]) -> list[Option]:
        """Return a line each: figure, name, role, and `words` for each of them."""
        signs = letters([one.person for one in self.everybody])
        wide = max((len(one.role) + 1 for one in self.everybody), default=0)
        wide = min(LINE_MOST - NAME_MOST, max(ROLE_LEAST, wide))
        lines = zip(self.everybody, signs, words, strict=True)
        return [Option(_line(i, one, sign, wide, said)) for i, (one, sign, said) in enumerate(lines)]

    def chosen(self, one: StandingView) -> None:
        """Take somebody."""
        raise NotImplementedError

    def on_key(self, event: events.Key) -> None:
        """Take the one whose figure or letter was pressed: each letter means one person."""
        sign = (event.character or "").casefold()
        if not sign or not event.is_printable or sign.isspace():
            return
        event.stop()
        event.prevent_default()
        signs = FIGURES if sign in FIGURES else letters([one.person for one in self.everybody])
        index = list(signs).index(sign) if sign in signs else len(self.everybody)
        if index < len(self.everybody):
            self._expect_rest(self.everybody[index].person, sign, event.time)
            self.chosen(self.everybody[index])

    def _expect_rest(self, name: str, sign: str, at: float) -> None:
        from shopcli.screens.whole_name import WholeNameApp

        if isinstance(self.app, WholeNameApp):
            self.app.rest_of_name.begin(name.casefold().partition(sign)[2], at)

    @on(OptionList.OptionSelected)
    def take(self, event: OptionList.OptionSelected) -> None:
        """Take the marked one."""
        self.chosen(self.everybody[event.option_index])


def _line(index: int, one: StandingView, letter: str, wide: int, words: str) -> Content:
    figure = FIGURES[index] if index < len(FIGURES) else " "
    name = pad(cut(one.person, NAME_MOST), NAME_MOST)
    at = next((i for i, sign in enumerate(name) if sign.casefold() == letter), len(name))
    pin = WITH_PIN if one.has_pin else ""
    return Content.assemble(
        (f"{figure}  ", "bold"),
        name[:at],
        (name[at : at + 1], "bold underline"),
        name[at + 1 :],
        pad(cut(one.role, wide - 1), wide),
        (cut(words, LINE_MOST - NAME_MOST - wide - len(pin)), "" if one.since else "dim"),
        pin,
    )


class WhoScreen(Choosing, Careful, ModalScreen[int | None]):
    """Ask who stands here; whoever has a PIN types it, unless they stand here already."""

    CSS_PATH = "dialogs.tcss"
    BINDINGS = [
        Binding("escape,f8", "cancel", "Back", priority=True),
        Binding("f2", "people", "People"),
    ]

    def __init__(self, everybody: tuple[StandingView, ...], here: int, at: int) -> None:
        super().__init__()
        self.everybody = everybody
        self._here = here
        self._at = at

    def compose(self) -> ComposeResult:
        """Show everybody, one line each."""
        here = {self._here: ", here now"}
        words = [clock_words(one, self._at) + here.get(one.person_id, "") for one in self.everybody]
        with Vertical(classes="dialog who"):
            yield Static(Content("Who stands here now?"), classes="dialog-question")
            yield MarkedList(*self.options(words))
            keys = "Figure or underlined letter takes it; F2 people, PINs; Esc back"
            yield Static(Content(keys), classes="dialog-keys")

    def on_mount(self) -> None:
        """Begin with whoever stands here."""
        listed = self.query_one(OptionList)
        listed.focus()
        at = next((i for i, one in enumerate(self.everybody) if one.person_id == self._here), 0)
        listed.highlighted = at if self.everybody else None

    def chosen(self, one: StandingView) -> None:
        """Take somebody: their PIN is asked over this question, so that no figure typed ahead falls past it."""
        from shopcli.screens.signing import SigningApp

        if isinstance(self.app, SigningApp):
            self.app.prove(one.person_id, lambda: self.dismiss(one.person_id))

    def action_people(self) -> None:
        """Go to the page of people instead."""
        self.dismiss(None)
        self.app.call_later(self.app.run_action, "app.people")

    def action_cancel(self) -> None:
        """Go back; nobody changes."""
        self.dismiss(None)
