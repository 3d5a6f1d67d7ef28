"""The shut door: who stands here, and their PIN. Nothing of the records is seen behind it but whose clock runs."""

from textual import on
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from shopcli.screens.askpin import pin_of
from shopcli.screens.doing import Acting, Looked
from shopcli.screens.who import Choosing
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.shop.time_views import StandingView
from shopcli.store.reads.times import standing

STANDING = "standing"
NOBODY_YET = "Nobody has a PIN yet. An owner sets one at the shop's own terminal: F8, then F2."
HOW = "The figure or the underlined letter takes it; Ctrl+Q leaves"


def state_words(one: StandingView) -> str:
    """Say whether somebody's clock runs, and not on what."""
    return {"on": "● clock runs", "break": "◌ on a break"}.get(one.state, "")


class SignInScreen(Choosing, Acting[None]):
    """Ask who stands here. Who was here before is asked first; somebody else may come in their place."""

    CSS_PATH = ["dialogs.tcss", "signin.tcss"]

    def compose(self) -> ComposeResult:
        """Lay out the question."""
        with Vertical(classes="dialog"):
            yield Static(Content("Who stands here?"), classes="dialog-question")
            yield Static(Content(NOBODY_YET), id="nobody")
            yield MarkedList()
            yield Static(Content(HOW), classes="dialog-keys")

    def on_mount(self) -> None:
        """Begin."""
        self.begin()

    def begin(self) -> None:
        """Read who works here, and ask whoever was here for their PIN."""
        while len(self.app.screen_stack) > 1 and self.app.screen is not self:
            self.app.pop_screen()
        self.records_changed()

    def records_changed(self) -> None:
        """Read again who works here, and whose clock runs."""
        shop = self.desk_app.shop
        self.look(STANDING, lambda: standing(shop))

    def who_changed(self) -> None:
        """Nothing here is anybody's."""

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show everybody who may sign in."""
        if event.what != STANDING:
            return
        app, listed = self.desk_app, self.query_one(MarkedList)
        self.everybody = tuple(one for one in event.seen if one.has_pin or not app.must_sign_in)
        listed.set_options(self.options([state_words(one) for one in self.everybody]))
        wanted = app.expected
        at = next((i for i, one in enumerate(self.everybody) if one.person_id == wanted), None)
        listed.highlighted = at if at is not None else 0 if self.everybody else None
        listed.display = bool(self.everybody)
        self.query_one("#nobody", Static).display = not self.everybody
        listed.focus()
        if at is not None and self.app.screen is self:
            app.expected = None  # asked once: who backs out chooses from the list
            self.chosen(self.everybody[at])

    def chosen(self, one: StandingView) -> None:
        """Take somebody, once their PIN is right."""
        app = self.desk_app

        def proved(pin: str | None) -> None:
            if pin is not None:
                app.let_in(one.person_id)

        if one.has_pin:
            clock = {"on": "● Your clock runs.", "break": "◌ You are on a break."}.get(one.state, "")
            app.push_screen(
                pin_of(app, one.person_id, one.person, clock, back="is for somebody else"), proved
            )
        elif not app.must_sign_in:
            app.let_in(one.person_id)
