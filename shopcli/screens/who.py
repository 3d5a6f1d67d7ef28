"""Who stands here now: two keys. Everybody with a figure and an initial, and whose clock runs on what."""

from collections.abc import Sequence

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from shopcli.columns import cut, pad
from shopcli.present import h_mm
from shopcli.screens.careful import Careful
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.shop.time_views import StandingView

NAME_MOST, TASK_MOST = 18, 34
FIGURES = "123456789"


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


class WhoScreen(Careful, ModalScreen[int | None]):
    """Ask who stands here: a figure or a letter of the name says it; arrows and Enter do too."""

    CSS_PATH = "dialogs.tcss"
    BINDINGS = [Binding("escape,f8", "cancel", "Back", priority=True)]

    def __init__(self, everybody: tuple[StandingView, ...], here: int, at: int) -> None:
        super().__init__()
        self._everybody = everybody
        self._here = here
        self._at = at
        self._letters = letters([one.person for one in everybody])

    def compose(self) -> ComposeResult:
        """Show everybody, one line each."""
        with Vertical(classes="dialog who"):
            yield Static(Content("Who stands here now?"), classes="dialog-question")
            yield MarkedList(*(Option(self._line(i, one)) for i, one in enumerate(self._everybody)))
            keys = "The figure or the underlined letter takes it; Esc goes back"
            yield Static(Content(keys), classes="dialog-keys")

    def _line(self, index: int, one: StandingView) -> Content:
        figure = FIGURES[index] if index < len(FIGURES) else " "
        name = pad(cut(one.person, NAME_MOST), NAME_MOST)
        at = next((i for i, sign in enumerate(name) if sign.casefold() == self._letters[index]), len(name))
        here = ", here now" if one.person_id == self._here else ""
        return Content.assemble(
            (f"{figure}  ", "bold"),
            name[:at],
            (name[at : at + 1], "bold underline"),
            name[at + 1 :],
            f"{pad(one.role, 9)}",
            (cut(clock_words(one, self._at) + here, TASK_MOST), "" if one.since else "dim"),
        )

    def on_mount(self) -> None:
        """Begin with whoever stands here."""
        listed = self.query_one(OptionList)
        listed.focus()
        at = next((i for i, one in enumerate(self._everybody) if one.person_id == self._here), 0)
        listed.highlighted = at if self._everybody else None

    def on_key(self, event: events.Key) -> None:
        """Take the one whose figure or letter was pressed: each letter means one person."""
        sign = (event.character or "").casefold()
        if not sign or not event.is_printable or sign.isspace():
            return
        event.stop()
        event.prevent_default()
        if sign in FIGURES:
            if int(sign) <= len(self._everybody):
                self.dismiss(self._everybody[int(sign) - 1].person_id)
            return
        if sign in self._letters:
            self.dismiss(self._everybody[self._letters.index(sign)].person_id)

    @on(OptionList.OptionSelected)
    def take(self, event: OptionList.OptionSelected) -> None:
        """Take the marked one."""
        self.dismiss(self._everybody[event.option_index].person_id)

    def action_cancel(self) -> None:
        """Go back; nobody changes."""
        self.dismiss(None)
