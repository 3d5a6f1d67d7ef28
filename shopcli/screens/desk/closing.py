"""The closing check: everything that still hinders the hand-over, each with its way out, on one screen.

The card can be closed from here only, and only when the list is empty; the rule behind it asks the same question
again in its own transaction, so a list that was empty a minute ago opens nothing.
"""

from dataclasses import dataclass
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from shopcli.columns import cut, wrap
from shopcli.present import card_state, money, odometer
from shopcli.screens.acts import bindings
from shopcli.screens.desk.changes import Changing
from shopcli.screens.desk.mending import Now, Way, waiver, ways
from shopcli.screens.dialogs import Choice, Confirm
from shopcli.screens.doing import Carried, Looked, NotCarried
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.card_commands import CloseCard
from shopcli.shop.views import CardView, ClockView, Hindrance, TotalsView
from shopcli.store.reads.bench import card, hindrances
from shopcli.store.reads.people import running_clocks
from shopcli.store.reads.summary import summary
from shopcli.store.shop import Shop

EVERY_S = 4.0
TEXT_MOST, NAME_MOST = 600, 60


@dataclass(frozen=True, slots=True)
class Check:
    """The closing check at one moment."""

    view: CardView
    hindrances: tuple[Hindrance, ...]
    totals: TotalsView
    waived: tuple[str, ...]
    clocks: tuple[ClockView, ...]
    at: int


def look_at_check(shop: Shop, card_id: int) -> Check:
    """Return what hinders a card, and what it comes to."""
    paper = summary(shop, card_id)
    hinder = hindrances(shop, card_id)
    return Check(card(shop, card_id), hinder, paper.totals, paper.waived, running_clocks(shop), shop.at())


class ClosingScreen(Changing[None]):
    """The closing check of one card."""

    CSS_PATH = "closing.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("desk_closing")
    AUTO_FOCUS = "#hindrances"
    HELP_STATION = "desk_closing"
    OF_ONE_CARD = True
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-narrow"), (100, "-wide")]
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [(0, "-low"), (30, "-high")]

    def __init__(self, card_id: int) -> None:
        super().__init__()
        self._card_id = card_id
        self._check: Check | None = None

    def compose(self) -> ComposeResult:
        """Lay out the card, the list and the sum."""
        yield TopBar("Closing check")
        yield Static(Content(""), id="card")
        yield Static(Content(""), id="count")
        yield MarkedList(id="hindrances", markup=False, compact=True)
        yield Static(Content(""), id="free")
        yield Static(Content(""), id="aside")
        yield Static(Content(""), id="sum")
        yield KeyBar("desk_closing", without=("app.desk", "app.bench", "app.week", "app.sheets"))

    def on_mount(self) -> None:
        """Paint the first picture from what hinders now, then look again every few seconds."""
        self._show(look_at_check(self.desk_app.shop, self._card_id))
        self.set_interval(EVERY_S, self._again)

    def on_screen_resume(self) -> None:
        """Come back to the check as it stands now."""
        self.reload()

    def _again(self) -> None:
        if self.is_current:
            self.reload()

    def reload(self) -> None:
        """Look again at what hinders."""
        shop, card_id = self.desk_app.shop, self._card_id
        self.look("check", lambda: look_at_check(shop, card_id))

    def who_changed(self) -> None:
        """Somebody else stands here."""
        self.reload()

    def on_resize(self) -> None:
        """Lay the list out anew in the width there is."""
        if self._check is not None:
            self._show(self._check)

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == "check":
            self._show(event.seen)

    # Showing ------------------------------------------------------------------------------------------

    def _show(self, check: Check) -> None:
        self._check = check
        view, width = check.view, max(20, self.size.width - 6)
        head = [card_state(view.state), view.number, view.registration, view.vehicle, view.customer]
        self.query_one("#card", Static).update(Content("  ".join(cut(h, NAME_MOST) for h in head if h)))
        count = len(check.hindrances)
        hinder = "1 thing hinders" if count == 1 else f"{count} things hinder"
        words = f"{hinder} the hand-over. Enter mends the chosen one."
        self.query_one("#count", Static).update(Content(words))
        found = self.query_one("#hindrances", OptionList)
        chosen = self._chosen_key()
        found.set_options(Option(_prompt(h, width), id=h.key) for h in check.hindrances)
        keys = [h.key for h in check.hindrances]
        found.highlighted = (keys.index(chosen) if chosen in keys else 0) if keys else None
        found.display = self.query_one("#count").display = bool(keys)
        free = self.query_one("#free", Static)
        free.display = not keys
        free.update(_free(view))
        aside = self.query_one("#aside", Static)
        aside.display = bool(check.waived)
        aside.update(_aside(check.waived, width))
        self.query_one("#sum", Static).update(Content(self._sum_words(check)))
        self._show_clock(check)

    def _show_clock(self, check: Check) -> None:
        who = self.desk_app.who
        clock = next((c for c in check.clocks if c.person_id == who.id), None)
        since = check.at - int(clock.since.timestamp()) if clock else 0
        self.query_one(TopBar).show(who.name, clock, since)

    def _sum_words(self, check: Check) -> str:
        settings = self.desk_app.shop.settings
        currency, totals, view = settings.currency, check.totals, check.view
        read = f"odometer {odometer(view.odometer, view.distance_unit)}"
        paid = f", {money(totals.paid, currency)} paid" if totals.paid else ""
        whole = f"{money(totals.with_vat, currency)} {settings.with_tax}"
        return f"{whole}{paid}, {money(totals.due, currency)} due; {read}"

    def _chosen_key(self) -> str:
        option = self.query_one("#hindrances", OptionList).highlighted_option
        return option.id or "" if option is not None else ""

    def _chosen(self) -> Hindrance | None:
        key = self._chosen_key()
        found = self._check.hindrances if self._check else ()
        return next((h for h in found if h.key == key), None)

    # Acts ---------------------------------------------------------------------------------------------

    def _now(self, check: Check) -> Now:
        who = self.desk_app.who
        return Now(
            check.view, who.id, who.name, check.clocks, check.at, self.desk_app.shop.settings.without_tax
        )

    @on(OptionList.OptionSelected, "#hindrances")
    def action_mend(self) -> None:
        """Go the way out of the chosen hindrance; ask which when there are several."""
        hindrance = self._chosen()
        if hindrance is None or self._check is None:
            return
        found = ways(hindrance, self._now(self._check))
        if len(found) == 1:
            self._go(found[0])
        elif found:
            choices = [Choice(w.key, w.label, w.note) for w in found]
            by_key = {w.key: w for w in found}
            self.pick(hindrance.what, choices, lambda key: self._go(by_key[key]), note=hindrance.why)

    def _go(self, way: Way) -> None:
        act, view = way.act, self._check.view if self._check else None
        if view is not None and way.asks == "odometer":
            self.ask_odometer(view)
        elif view is not None and way.asks == "authority":
            self.ask_authority(view)
        elif act is None:
            card_id = self._card_id
            app = self.desk_app
            self.dismiss()
            app.open_card(card_id, way.task)
        elif way.question:
            hint = "" if way.check else "in a few words"
            self.ask(way.question, lambda text: self.carry_out(act(text)), check=way.check, placeholder=hint)
        else:
            self.carry_out(act(""))

    def action_waive(self) -> None:
        """Set the chosen hindrance aside, where that is allowed."""
        hindrance = self._chosen()
        if hindrance is None or self._check is None:
            return
        if not hindrance.waivable:
            self.notify(
                f"{hindrance.what}\n{hindrance.mend}",
                title="Cannot be waived",
                severity="warning",
                markup=False,
            )
            return
        self._go(waiver(hindrance, self._now(self._check)))

    def action_odometer(self) -> None:
        """Write the odometer down."""
        if self._check is not None:
            self.ask_odometer(self._check.view)

    def action_pay(self) -> None:
        """Take a deposit before the card is closed."""
        if self._check is not None:
            self.take_money(self._card_id)

    def action_close(self) -> None:
        """Close the card, once nothing hinders and somebody says yes."""
        check = self._check
        if check is None:
            return
        if check.view.state == "closed":
            from shopcli.screens.desk.handing import HandingScreen

            self.app.switch_screen(HandingScreen(self._card_id))
            return
        if check.hindrances:
            words = f"{len(check.hindrances)} on the list. Enter mends the chosen one."
            self.notify(words, title="It cannot be closed yet", severity="warning", markup=False)
            return
        question = Confirm(f"Close {check.view.number} and write its invoice?", note=self._sum_words(check))
        self.app.push_screen(question, lambda yes: self.carry_out(CloseCard(self._card_id)) if yes else None)

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Show what was done; after closing, the hand-over."""
        self.tell(event.done.said)
        if isinstance(event.command, CloseCard):
            from shopcli.screens.desk.handing import HandingScreen

            self.app.switch_screen(HandingScreen(self._card_id))
        else:
            self.reload()

    @on(NotCarried)
    def refused(self) -> None:
        """Show the check as it stands; the message is told by the base."""
        self.reload()

    def action_summary(self) -> None:
        """Show the summary as it stands."""
        from shopcli.screens.summary import SummaryScreen

        self.app.push_screen(SummaryScreen(self._card_id))

    def action_back(self) -> None:
        """Go back; nothing is closed."""
        self.dismiss()


def _prompt(hindrance: Hindrance, width: int) -> Content:
    """Return what hinders, why, and the way out, each on its own lines."""
    lines: list[tuple[str, str]] = [(line, "bold") for line in wrap(hindrance.what[:TEXT_MOST], width)]
    if hindrance.why:
        lines += [(f"  {line}", "") for line in wrap(hindrance.why[:TEXT_MOST], width - 2)]
    aside = "  (w waives it)" if hindrance.waivable else ""
    lines += [(f"  → {line}", "dim") for line in wrap(hindrance.mend + aside, width - 4)]
    return Content("\n").join(Content.assemble((text, style) if style else text) for text, style in lines)


def _aside(waived: tuple[str, ...], width: int) -> Content:
    """Return what was set aside, each with its reason and by whom."""
    lines = [line for one in waived for line in wrap(f"set aside: {one[:TEXT_MOST]}", width)]
    return Content("\n").join(Content.assemble((line, "dim")) for line in lines)


def _free(view: CardView) -> Content:
    if view.state in {"closed", "void"}:
        more = " F3 goes on to the hand-over." if view.state == "closed" else ""
        return Content(f"The card is {view.state}. Nothing on it can change; F4 shows its summary.{more}")
    return Content.assemble(
        ("✓ Nothing hinders the hand-over.", "bold $text-success"),
        "\n\nF3 closes the card and writes its invoice.",
    )
