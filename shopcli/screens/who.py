"""Who stands here now: two keys. Everybody with a figure and an initial, and whose clock runs on what."""

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


class WhoScreen(ModalScreen[int | None]):
    """Ask who stands here: a figure or an initial says it; arrows and Enter do too."""

    CSS_PATH = "dialogs.tcss"
    BINDINGS = [Binding("escape,f8", "cancel", "Back", priority=True)]

    def __init__(self, everybody: tuple[StandingView, ...], here: int, at: int) -> None:
        super().__init__()
        self._everybody = everybody
        self._here = here
        self._at = at

    def compose(self) -> ComposeResult:
        """Show everybody, one line each."""
        with Vertical(classes="dialog who"):
            yield Static(Content("Who stands here now?"), classes="dialog-question")
            yield MarkedList(*(Option(self._line(i, one)) for i, one in enumerate(self._everybody)))
            keys = "The figure or the first letter of the name takes it; Esc goes back"
            yield Static(Content(keys), classes="dialog-keys")

    def _line(self, index: int, one: StandingView) -> Content:
        figure = FIGURES[index] if index < len(FIGURES) else " "
        name = cut(one.person, NAME_MOST)
        here = ", here now" if one.person_id == self._here else ""
        return Content.assemble(
            (f"{figure}  ", "bold"),
            (name[:1], "bold underline"),
            pad(name[1:], NAME_MOST - 1),
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
        """Take the one whose figure or initial was pressed; of several with one initial go to the next."""
        sign = (event.character or "").casefold()
        if not sign or not event.is_printable or sign.isspace():
            return
        event.stop()
        event.prevent_default()
        if sign in FIGURES:
            if int(sign) <= len(self._everybody):
                self.dismiss(self._everybody[int(sign) - 1].person_id)
            return
        meant = [i for i, one in enumerate(self._everybody) if one.person.casefold().startswith(sign)]
        if len(meant) == 1:
            self.dismiss(self._everybody[meant[0]].person_id)
        elif meant:
            listed = self.query_one(OptionList)
            now = -1 if listed.highlighted is None else listed.highlighted
            listed.highlighted = next((i for i in meant if i > now), meant[0])

    @on(OptionList.OptionSelected)
    def take(self, event: OptionList.OptionSelected) -> None:
        """Take the marked one."""
        self.dismiss(self._everybody[event.option_index].person_id)

    def action_cancel(self) -> None:
        """Go back; nobody changes."""
        self.dismiss(None)
