"""The bench looks back: the last act taken back, breaks, one's own times, and where one was after days away."""

from datetime import date
from functools import partial

from textual import on

from shopcli.screens.bench.atbench import CARD, AtBench
from shopcli.screens.bench.seeing import read_if_changed
from shopcli.screens.bench.undo import undo
from shopcli.screens.doing import Looked
from shopcli.shop.clock_commands import EndBreak, GoOnBreak
from shopcli.store.reads.lately import left_off, where_was_i
from shopcli.store.shop import Shop
from shopcli.where_words import offer

LEFT_OFF = "left off"


def to_offer(shop: Shop, card_id: int, person_id: int) -> tuple[int, int, str]:
    """Return the card, whom it concerns, and what to say to one who was last at it on an earlier day; else nothing."""
    at = left_off(shop, person_id, card_id)
    now = shop.local(shop.at())
    if at is None or shop.local(at).date() >= now.date():
        return card_id, person_id, ""
    seen = where_was_i(shop, card_id, person_id)
    return card_id, person_id, offer(shop.local(at), now, len(seen.meanwhile))


class LookingBack(AtBench):
    """What the bench does with what is past."""

    def __init__(self) -> None:
        super().__init__()
        self._offered: set[tuple[int, int, date]] = set()
        self._offer: tuple[int, str] = (0, "")  # to whom it was said, and what

    def show_card(self, card_id: int) -> None:
        """Show a card, and offer to tell where one was when that was days ago."""
        super().show_card(card_id)
        self.offer_where()

    def offer_where(self) -> None:
        """Offer once a day to whoever takes up a card they were last at on an earlier day."""
        view, app = self.view, self.desk_app
        whose, words = self._offer
        if words and whose != app.who.id and self.said.says == words:
            self.said.clear()  # it was said to somebody else
        if view is None or view.state in {"closed", "void"}:
            return
        mark = (view.id, app.who.id, app.shop.local(app.shop.at()).date())
        if mark not in self._offered:
            self._offered.add(mark)
            self.look(LEFT_OFF, partial(to_offer, app.shop, view.id, app.who.id))

    @on(Looked)
    def _say_offer(self, event: Looked) -> None:
        if (
            event.what == LEFT_OFF
            and self.view is not None
            and event.seen[:2] == (self.view.id, self.desk_app.who.id)
            and event.seen[2]
        ):
            self._offer = event.seen[1:]
            self.said.answer((event.seen[2],), "hint")

    def records_changed(self) -> None:
        """Read the card again, unless it was only what was done here; the task in hand and what is typed stay."""
        if self.seen is not None:
            self.look(CARD, partial(read_if_changed, self.desk_app.shop, self.seen))

    def action_take_back(self) -> None:
        """Take back the last act, or the settled task in hand."""
        self.ask(partial(undo, task=self.in_hand))

    def action_pause(self) -> None:
        """Go on a break, or on again with the same task."""
        mine = self.mine_or_break()
        self.carry_out(EndBreak() if mine is not None and mine.on_break else GoOnBreak())

    def action_where(self) -> None:
        """Tell where the card stands and where one was."""
        if self.view is not None:
            from shopcli.screens.whereabouts import WhereScreen

            self.app.push_screen(WhereScreen(self.view.id), self._go_on)

    def _go_on(self, task_id: int | None) -> None:
        if task_id is not None:
            self.choose_task(task_id)

    def action_times(self) -> None:
        """Show one's own times of today, to put them right."""
        self.desk_app.action_times()
