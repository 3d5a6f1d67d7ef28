"""Who works here: what they may do, and whether a PIN is asked of them."""

from collections.abc import Callable, Coroutine
from functools import partial
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from shopcli.columns import cut
from shopcli.screens.acts import bindings
from shopcli.screens.asks import Asks
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.people.asking import ask_change, ask_clear_pin, ask_leaves, ask_new, ask_pin
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.people_views import PersonKnown
from shopcli.shop.rights import is_owner
from shopcli.store.reads.people import everybody

PEOPLE = "people"
LEAST_WIDTH = 20


def words_of(one: PersonKnown) -> str:
    """Say what somebody may do and how they are told from others."""
    if not one.active:
        return "no longer works here"
    sign = "! " if is_owner(one.role) else ""
    return f"{one.role}; {'types a PIN' if one.has_pin else sign + 'no PIN: the name alone will do'}"


class PeopleScreen(Asks):
    """The people of the shop."""

    CSS_PATH = "people.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("people")
    AUTO_FOCUS = "#people"
    HELP_STATION = "people"

    def __init__(self) -> None:
        super().__init__()
        self._people: tuple[PersonKnown, ...] = ()
        self._all = False

    def compose(self) -> ComposeResult:
        """Lay out the list."""
        yield TopBar("People")
        yield MarkedList(id="people", markup=False, compact=True)
        yield KeyBar("people", without=("app.desk", "app.bench", "app.week", "app.sheets"))

    def on_mount(self) -> None:
        """Show everybody."""
        self.records_changed()

    def records_changed(self) -> None:
        """Read everybody again; the chosen one stays."""
        self.look_at_clock()
        shop = self.desk_app.shop
        self.look(PEOPLE, lambda: everybody(shop))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == PEOPLE:
            self._people = event.seen
            self._show()

    def on_resize(self) -> None:
        """Lay the list out anew."""
        self._show()

    def _show(self) -> None:
        listed = self.query_one("#people", OptionList)
        before = self.chosen()
        shown = [one for one in self._people if one.active or self._all]
        width = max(LEAST_WIDTH, self.size.width - 6)
        listed.set_options(Option(_prompt(one, width), id=str(one.id)) for one in shown)
        wanted = before.id if before else self.desk_app.who.id
        at = next((i for i, one in enumerate(shown) if one.id == wanted), 0)
        listed.highlighted = at if shown else None

    def chosen(self) -> PersonKnown | None:
        """Return the chosen person."""
        option = self.query_one("#people", OptionList).highlighted_option
        return next((one for one in self._people if option is not None and str(one.id) == option.id), None)

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and show it; somebody who let themselves go stands here no longer."""
        self.tell(event.done.said)
        self.records_changed()
        app = self.desk_app
        if event.done.id == app.who.id:
            app.stand_here(app.who.id, anew=True)

    # Acts ---------------------------------------------------------------------------------------------

    def _of_chosen(self, question: Callable[..., Coroutine[Any, Any, None]]) -> None:
        if one := self.chosen():
            self.ask(partial(question, one=one))

    def action_new(self) -> None:
        """Take somebody on."""
        self.ask(ask_new)

    @on(OptionList.OptionSelected, "#people")
    def action_change(self) -> None:
        """Change the chosen one's name, or what they may do."""
        self._of_chosen(ask_change)

    def action_pin(self) -> None:
        """Set the chosen one's PIN."""
        self._of_chosen(ask_pin)

    def action_clear_pin(self) -> None:
        """Take the chosen one's PIN away."""
        self._of_chosen(ask_clear_pin)

    def action_leaves(self) -> None:
        """Let the chosen one go, or take them on again."""
        self._of_chosen(ask_leaves)

    def action_all(self) -> None:
        """Show those who left too, or no longer."""
        self._all = not self._all
        self._show()

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()


def _prompt(one: PersonKnown, width: int) -> Content:
    return Content.assemble((cut(one.name, width), "bold"), "\n  ", (cut(words_of(one), width - 2), "dim"))
