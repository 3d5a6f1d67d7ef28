"""The summary of a card as the customer reads it, to look at, to save, to copy, and to take the money by."""

from collections.abc import Callable
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from shopcli.papers.filing import default_folder, free_path, paper_name, see_free, write_new
from shopcli.screens.acts import bindings
from shopcli.screens.desk.changes import Changing
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.topbar import TopBar
from shopcli.store.reads.bench import card
from shopcli.store.reads.summary import summary
from shopcli.store.shop import Shop


def text_of(shop: Shop, card_id: int) -> str:
    """Return the summary as text."""
    from shopcli.papers.render import summary_text

    return summary_text(summary(shop, card_id))


def html_of(shop: Shop, card_id: int) -> str:
    """Return the summary as a page."""
    from shopcli.papers.render import summary_html

    return summary_html(summary(shop, card_id))


def pdf_of(shop: Shop, card_id: int) -> bytes:
    """Return the summary as PDF."""
    from shopcli.papers.of_records import in_form, summary_of

    return in_form(shop, summary_of(shop, card_id), "pdf").content


class SummaryScreen(Changing[None]):
    """The summary of one card."""

    CSS_PATH = "summary.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("summary")
    AUTO_FOCUS = "#paper"
    HELP_STATION = "summary"
    OF_ONE_CARD = True
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-narrow"), (100, "-wide")]
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-low"), (30, "-high")]

    def __init__(self, card_id: int) -> None:
        super().__init__()
        self._card_id = card_id
        self._number = ""
        self._text = ""

    def compose(self) -> ComposeResult:
        """Lay out the paper."""
        yield TopBar("Summary")
        with Container(id="table"), VerticalScroll(id="paper"):
            yield Static(Content("The summary is being written."), id="text")
        yield KeyBar("summary", without=("app.desk", "app.bench", "app.week", "app.sheets"))

    def on_mount(self) -> None:
        """Write the summary behind the screen: the writer of papers is loaded with the first one."""
        self.who_changed()
        self.watch(self.query_one("#paper"), "scroll_y", self._say_place, init=False)
        self.reload()

    def on_resize(self) -> None:
        """Say anew which part of the paper is seen."""
        self.call_after_refresh(self._say_place)

    def _say_place(self) -> None:
        # At 80 columns the paper needs them all; the place is told in words instead of by a bar.
        paper, lines = self.query_one("#paper"), self._text.count("\n")
        first = int(paper.scroll_offset.y) + 1
        last = min(lines, first + paper.scrollable_content_region.height - 1)
        place = f"  lines {first} to {last} of {lines}" if self._text else ""
        self.query_one(TopBar).say(f"Summary {self._number}{place}")

    def records_changed(self) -> None:
        """Write it anew; the place in it stays."""
        self.who_changed()
        self.reload()

    def reload(self) -> None:
        """Write the summary anew."""
        shop, card_id = self.desk_app.shop, self._card_id
        self.look("summary", lambda: (card(shop, card_id).number, text_of(shop, card_id)))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was written."""
        if event.what == "summary":
            self._number, self._text = event.seen
            self.query_one("#text", Static).update(Content(self._text))
            self.call_after_refresh(self._say_place)
        elif event.what == "saved":
            self.notify(f"Saved: {event.seen}", timeout=12, markup=False)

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and write the summary anew."""
        self.tell(event.done.said)
        self.reload()

    def action_save_text(self) -> None:
        """Save the text as it is shown."""
        text = self._text
        self._save(".txt", lambda: text)

    def action_save_html(self) -> None:
        """Save the page to print."""
        shop, card_id = self.desk_app.shop, self._card_id
        self._save(".html", lambda: html_of(shop, card_id))

    def action_save_pdf(self) -> None:
        """Save the paper to print, mail and keep."""
        shop, card_id = self.desk_app.shop, self._card_id
        self._save(".pdf", lambda: pdf_of(shop, card_id))

    def _save(self, ending: str, write: Callable[[], str | bytes]) -> None:
        if not self._text:
            return
        if self.app.is_web:
            name = paper_name(self._number, ending)
            self.hand_out(lambda: (name, write()))
            return

        def keep(text: str) -> None:
            path = see_free(text)
            self.look("saved", lambda: write_new(path, write()))

        value = str(free_path(default_folder(), self._number, ending))
        self.ask("Save where?", keep, value=value, check=see_free)

    def action_copy(self) -> None:
        """Send the text to the clipboard of the terminal, which does not answer whether it took it."""
        if self._text:
            self.app.copy_to_clipboard(self._text)
            words = "Sent to the terminal clipboard. Not every terminal takes it; F2 saves a file."
            self.notify(words, markup=False)

    def action_pay(self) -> None:
        """Take money for the card."""
        self.take_money(self._card_id)

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()
