"""What earlier visits left, asked about before the card is opened: take it on, write down that it is declined, or leave it.

Nothing is saved here. The answer goes back into the form, which saves it with the card.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from shopcli.columns import cut, wrap
from shopcli.marks import carried_choice
from shopcli.screens.acts import bindings
from shopcli.screens.careful import Careful
from shopcli.screens.desk.carried_words import carried_note, carried_title
from shopcli.screens.desk.draft import Decision
from shopcli.screens.dialogs import AskText
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.shop.views import Carried

TAKEN, DECLINED, LEFT = "taken", "declined", "left"
KEYS_MOST = 9
# Columns: the box as its style sheet has it, what its frame takes, and what stands before a title.
WIDEST, FRAME, INDENT, NARROWEST = 100, 9, 14, 24


Decided = Mapping[str, Decision]


@dataclass(frozen=True, slots=True)
class Answer:
    """The decisions by key, and whether to go on with the card or back to the form."""

    decided: Decided
    go_on: bool


class CarriedScreen(Careful, ModalScreen[Answer]):
    """Ask what becomes of each thing; one figure takes the thing of that number on."""

    CSS_PATH = "carried.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("carried")
    AUTO_FOCUS = "#carried"
    HELP_STATION = "carried"

    def __init__(
        self, carried: Sequence[Carried], decided: Decided, *, unit: str, customer: str, heading: str
    ) -> None:
        super().__init__()
        self._carried = tuple(carried)
        self._decided = dict(decided)
        self._unit = unit
        self._customer = customer
        self._heading = heading

    def compose(self) -> ComposeResult:
        """Lay out question, list and keys."""
        with Vertical(id="carried-box"):
            yield Static(Content(cut(self._heading, 160)), id="carried-question")
            yield MarkedList(id="carried", markup=False, compact=True)
            yield KeyBar("carried", without=("app.desk", "app.bench", "app.week", "app.person"))

    def on_mount(self) -> None:
        """Begin with the worst."""
        self._show(0)

    def on_resize(self) -> None:
        """Lay the list out anew in the width there is."""
        self._show(self._at)

    @property
    def _list(self) -> OptionList:
        return self.query_one("#carried", OptionList)

    @property
    def _at(self) -> int:
        return self._list.highlighted or 0

    def _show(self, at: int) -> None:
        width = max(NARROWEST, min(self.size.width * 96 // 100, WIDEST) - FRAME - INDENT)
        rows = enumerate(self._carried, 1)
        self._list.set_options(Option(self._prompt(number, one, width), id=one.key) for number, one in rows)
        self._list.highlighted = min(at, len(self._carried) - 1)

    def _prompt(self, number: int, one: Carried, width: int) -> Content:
        decision = self._decided.get(one.key, Decision(LEFT))
        mark = carried_choice(decision.choice)
        figure = str(number) if number <= KEYS_MOST else " "
        first, *rest = wrap(carried_title(one), width)
        style = "bold $text-error" if one.severity == "stop" else "bold"
        lines = [Content.assemble(f"{figure}  {mark:<10} ", (first, style))]
        quiet = [*wrap(carried_note(one, self._unit), width)]
        if decision.choice == DECLINED:
            quiet += wrap(f"{decision.said_by}: {decision.words}", width)
        lines += [Content.assemble(" " * INDENT, (line, style)) for line in rest]
        lines += [Content.assemble(" " * INDENT, (line, "dim")) for line in quiet]
        return Content("\n").join(lines)

    # Deciding ---------------------------------------------------------------------------------------------

    def _decide(self, at: int, decision: Decision) -> None:
        self._decided[self._carried[at].key] = decision
        self._show(at)

    def _toggle(self, at: int) -> None:
        taken = self._decided.get(self._carried[at].key, Decision(LEFT)).choice == TAKEN
        self._decide(at, Decision(LEFT if taken else TAKEN))

    def on_key(self, event: events.Key) -> None:
        """Take the thing of that number on."""
        figure = event.character or ""
        if figure.isascii() and figure.isdigit() and 0 < int(figure) <= min(len(self._carried), KEYS_MOST):
            event.stop()
            event.prevent_default()
            self._toggle(int(figure) - 1)

    @on(OptionList.OptionSelected)
    def action_take(self) -> None:
        """Take the chosen thing on, or leave it again."""
        self._toggle(self._at)

    def action_leave(self) -> None:
        """Leave the chosen thing for the next visit."""
        self._decide(self._at, Decision(LEFT))

    def action_decline(self) -> None:
        """Ask for the customer's words, and who spoke them."""
        at = self._at
        title = carried_title(self._carried[at])

        def who(words: str | None) -> None:
            if words is not None:
                question = AskText(
                    "Who said so?", value=self._customer, note=cut(f"{title}: {words}", 300), offered=True
                )
                self.app.push_screen(question, lambda name: keep(words, name))

        def keep(words: str, name: str | None) -> None:
            if name is not None:
                self._decide(at, Decision(DECLINED, words, name))

        self.app.push_screen(AskText("What did the customer say?", note=cut(title, 300)), who)

    def action_go_on(self) -> None:
        """Go on with the card as decided."""
        self.dismiss(Answer(self._decided, go_on=True))

    def action_back(self) -> None:
        """Go back to the form; what was decided is kept."""
        self.dismiss(Answer(self._decided, go_on=False))
