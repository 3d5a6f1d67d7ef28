"""Whom to ring: who waits on what, their telephone, what was said last; a key notes the call, and the row goes."""

from collections.abc import Collection, Sequence
from datetime import date, timedelta
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList, Static

from shopcli.present import money
from shopcli.screens.acts import bindings
from shopcli.screens.asks import Asks
from shopcli.screens.desk.dates import in_words, read_date
from shopcli.screens.desk.looking import today
from shopcli.screens.desk.questions import sum_words
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.ringing.lines import NOBODY, options
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.call_views import AUTHORITY, OFFER, OWED, PARTS, PROMISE, RingView
from shopcli.shop.counter_commands import NoteCall

if TYPE_CHECKING:
    from shopcli.shop.command import Command

RING, LIMIT = "whom to ring", "the card of a new limit"


class RingScreen(Asks):
    """The list of whom to ring."""

    CSS_PATH = "station.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("ring")
    AUTO_FOCUS = "#ring"
    HELP_STATION = "ring"

    def __init__(self) -> None:
        super().__init__()
        self._rows: tuple[RingView, ...] = ()
        self._read = False

    def compose(self) -> ComposeResult:
        """Lay out the list."""
        yield TopBar("Whom to ring")
        yield MarkedList(id="ring", markup=False, compact=True)
        yield Static(Content(""), id="none")
        yield KeyBar("ring", without=("app.bench", "app.week", "app.sheets"))

    def on_mount(self) -> None:
        """Look behind the screen: what is coming is worked out for it."""
        self.records_changed()

    def on_screen_resume(self) -> None:
        """Come back to the list as it stands."""
        self.records_changed()

    def records_changed(self) -> None:
        """Look again; the chosen row stays while it is there."""
        from shopcli.store.reads.ringing import whom_to_ring

        self.look_at_clock()
        self.look(RING, partial(whom_to_ring, self.desk_app.shop))

    def on_resize(self) -> None:
        """Lay the list out anew in the width there is."""
        self._show()

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == RING:
            now = {row.key for row in self._rows if row.later is None}
            self._rows, self._read = event.seen, True
            # Who works the list off goes on with the next, not with the one that was put off.
            self._show({row.key for row in self._rows if row.later is not None and row.key in now})

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was noted; the row goes, or moves to its day."""
        self.tell(event.done.said)
        self.records_changed()

    # Showing ------------------------------------------------------------------------------------------

    @property
    def _list(self) -> OptionList:
        return self.query_one("#ring", OptionList)

    def _show(self, put_off: Collection[str] = ()) -> None:
        found, before = self._list, self._list.highlighted
        chosen = found.highlighted_option
        width, shop = max(40, self.size.width - 4), self.desk_app.shop
        entries = list(options(self._rows, today(shop), shop.settings.currency, width))
        found.set_options(entries)
        key = chosen.id if chosen is not None and chosen.id not in put_off else None
        found.highlighted = _where(entries_that_stand(entries), key, before)
        found.display = bool(self._rows)
        if self._rows and self.focused is None:
            found.focus()  # a list that was not shown could not be gone to
        none = self.query_one("#none", Static)
        none.display = not self._rows
        none.update(Content(NOBODY if self._read else ""))
        now = sum(1 for row in self._rows if row.later is None)
        later = len(self._rows) - now
        self.query_one(TopBar).say(
            f"Whom to ring  {now} now, {later} later" if self._read else "Whom to ring"
        )

    def chosen(self) -> RingView | None:
        """Return the chosen row, or say that there is none."""
        option = self._list.highlighted_option
        row = next((r for r in self._rows if option is not None and r.key == option.id), None)
        if row is None:
            self.tell("Nobody is chosen.")
        return row

    def raise_limit(self, row: RingView, by: str, limit: str) -> None:
        """Write on the card what was agreed on the telephone, over the card as it stands now."""
        shop, key = self.desk_app.shop, row.card_id

        def command() -> "Command":
            from shopcli.shop.card_commands import ChangeCard
            from shopcli.shop.seen import over
            from shopcli.shop.typed_figures import read_sum
            from shopcli.store.reads.bench import card

            view, minor = card(shop, key), read_sum(limit, "authority")
            new = ChangeCard(
                view.id, view.version, authority_minor=minor, authority_by=by, authority_how="phone"
            )
            return over(view, new)

        self.look(LIMIT, command)

    @on(Looked)
    def write_limit(self, event: Looked) -> None:
        """Write the new limit down."""
        if event.what == LIMIT:
            self.carry_out(event.seen)

    # Acts ---------------------------------------------------------------------------------------------

    @on(OptionList.OptionSelected, "#ring")
    def action_note(self) -> None:
        """Note a call: who was reached, what was said, when to ring again."""
        if self._list.option_count and (row := self.chosen()):
            self.ask(partial(_note, row=row))

    def action_nobody(self) -> None:
        """Note that nobody was reached; rung again tomorrow."""
        if not self.is_asking and (row := self.chosen()):
            again = today(self.desk_app.shop) + timedelta(days=1)
            self.carry_out(_command(row, "", "", again))

    def action_go(self) -> None:
        """Go where it is mended: the price, the hand-over, the bench, the offers."""
        row = None if self.is_asking else self.chosen()
        if row is None:
            return
        if row.kind == OWED:
            self.tell("A check to be booked: F5, then F2 opens a card for it.")
        elif row.kind == OFFER:
            from shopcli.screens.ahead.offers import OffersScreen

            self.app.push_screen(OffersScreen())
        elif row.card_id is not None and row.kind in {AUTHORITY, PROMISE}:
            from shopcli.screens.ahead.screen import AheadScreen

            self.app.push_screen(AheadScreen(row.card_id))
        elif row.card_id is not None and row.kind == PARTS:
            card_id, app = row.card_id, self.desk_app
            self.dismiss()
            app.open_card(card_id)
        elif row.card_id is not None:
            self._to_the_counter(row)

    def _to_the_counter(self, row: RingView) -> None:
        if row.card_id is None:
            return
        if row.key.endswith(":checked"):
            from shopcli.screens.desk.closing import ClosingScreen

            self.app.push_screen(ClosingScreen(row.card_id))
        else:
            from shopcli.screens.desk.handing import HandingScreen

            self.app.push_screen(HandingScreen(row.card_id))

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()


async def _note(screen: RingScreen, *, row: RingView) -> None:
    now, currency = today(screen.desk_app.shop), screen.desk_app.shop.settings.currency
    reached = await screen.ask_text(
        "Who was reached?",
        value=row.customer,
        note=f"{row.phone}; empty means nobody",
        allow_empty=True,
        offered=True,
    )
    if reached is None:
        return
    said = await screen.ask_text("What was said?", placeholder="in a few words") if reached else ""
    if said is None:
        return

    limit = await _ask_limit(screen, reached) if reached and row.kind == AUTHORITY else ""
    if limit is None:
        return
    if limit:  # what was asked is answered: there is nothing to ring again about
        screen.carry_out(_command(row, reached, said, None))
        screen.raise_limit(row, reached, limit)
        return
    stays = row.kind == AUTHORITY and row.limit is not None
    settled = f"settled; the limit stays {money(row.limit, currency)}" if stays else "it is settled"

    def understood(text: str) -> str:
        meant = read_date(text, now)
        return in_words(meant, now) if meant else "nothing more is to be said about it"

    again = await screen.ask_text(
        "Ring again on which day?",
        value="" if reached else "tomorrow",
        note=f"empty: {settled}" if reached else "",
        placeholder="fri, +3, 4.12.",
        check=lambda text: read_date(text, now),
        understood=understood,
        allow_empty=bool(reached),
    )
    if again is not None:
        screen.carry_out(_command(row, reached, said, read_date(again, now)))


async def _ask_limit(screen: RingScreen, reached: str) -> str | None:
    from shopcli.shop.typed_figures import read_sum

    settings = screen.desk_app.shop.settings
    return await screen.ask_text(
        f"Up to what sum {settings.with_tax} did {reached} let you go on?",
        note="empty: no new limit was agreed on",
        check=lambda text: read_sum(text, "authority"),
        understood=lambda text: sum_words(text, settings.currency),
        allow_empty=True,
    )


def _command(row: RingView, reached: str, said: str, again: date | None) -> NoteCall:
    day = again.isoformat() if again else ""
    return NoteCall(row.customer_id, row.key, reached, said, day, row.card_id)


def entries_that_stand(entries: Sequence[object]) -> list[tuple[int, str]]:
    """Return place and key of every entry that can be chosen."""
    return [(i, str(e.id)) for i, e in enumerate(entries) if not e.disabled]  # type: ignore[attr-defined]


def _where(places: Sequence[tuple[int, str]], key: str | None, before: int | None) -> int | None:
    """Return where the chosen one stands now; where it went, the one in its place."""
    found = next((place for place, mine in places if mine == key), None)
    if found is not None or not places:
        return found
    return min((place for place, _key in places), key=lambda place: abs(place - (before or 0)))
