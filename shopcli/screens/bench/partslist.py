"""The parts of a card at the bench: one key each for fitted, on the order list, another one instead, not used.

The list stands over the bench and names what was pressed and for which part; it does nothing itself.
"""

from collections.abc import Iterator, Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from shopcli.columns import cut
from shopcli.part_words import part_words, short_words
from shopcli.screens.acts import bindings
from shopcli.screens.bench.wording import is_of_task
from shopcli.screens.careful import Careful
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.shop.views import PartLineView, TaskView

WIDEST = 150
WAITING = frozenset({"wanted", "on order"})
EMPTY = (
    "No part is on this card yet. g puts one on from stock, c one the customer brought; a scanner does too."
)


def aside(part: PartLineView) -> str:
    """Say what a line keeps beside its state: what it stands for, its number, what an exchange owes."""
    parts = [f"instead of {part.instead_of}: {part.reason}" if part.instead_of else ""]
    parts += [f"serial number {part.serial}" if part.serial else ""]
    parts += ["wants its serial number" if part.wants_serial and not part.serial else ""]
    if part.surcharge and part.state == "fitted":
        parts += ["old unit is back" if part.old_unit_back else "! old unit not back: surcharge owed"]
    parts += [short_words(part)] if part.short else []
    parts += [f"done without: {part.reason}"] if part.state == "not used" and part.reason else []
    return ", ".join(filter(None, parts))


class PartsList(Careful, ModalScreen[tuple[str, int | None] | None]):
    """Ask which part and what of it; answers (verb, line) or None."""

    CSS_PATH = "partslist.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("parts")
    AUTO_FOCUS = "#parts-list"
    HELP_STATION = "parts"

    def __init__(
        self,
        parts: Sequence[PartLineView],
        task: TaskView | None,
        chosen: int | None = None,
        *,
        said: str = "",
    ) -> None:
        super().__init__()
        self._parts = tuple(parts)
        self._of_task = task
        self._chosen = chosen
        self._said = said

    def compose(self) -> ComposeResult:
        """Lay out the list over its keys."""
        title = f"Parts: {self._of_task.task.title}" if self._of_task else "Parts of the card"
        with Vertical(classes="dialog"):
            yield Static(Content(cut(title, WIDEST)), classes="dialog-question")
            yield MarkedList(*self._options(), id="parts-list", markup=False, compact=True)
            yield Static(Content("" if self._parts else EMPTY), id="parts-none")
            yield Static(Content(cut(self._said, WIDEST * 2)), id="parts-said")
            yield KeyBar(
                "parts", without=tuple(f"app.{a}" for a in ("desk", "bench", "week", "person", "help"))
            )

    def on_mount(self) -> None:
        """Begin with the part meant, else with the first the task waits for; no other one is chosen by itself."""
        listed = self.query_one("#parts-list", OptionList)
        listed.display = bool(self._parts)
        self.query_one("#parts-none").display = not self._parts
        waits = (p.id for p in self._parts if p.state in WAITING and is_of_task(p, self._of_task))
        chosen = self._chosen if self._chosen in {p.id for p in self._parts} else next(waits, None)
        listed.highlighted = None if chosen is None else listed.get_option_index(str(chosen))
        self._say(self._said)

    def _say(self, words: str) -> None:
        said = self.query_one("#parts-said", Static)
        said.update(Content(cut(words, WIDEST * 2)))
        said.display = bool(words)

    def _options(self) -> Iterator[Option]:
        """Yield the parts, under headings where some are of the task in hand and others are not."""
        mine = [p for p in self._parts if is_of_task(p, self._of_task)]
        rest = [p for p in self._parts if p not in mine]
        for heading, parts in (("This task", mine), ("Rest of the kit", rest)):
            if parts and self._of_task is not None:
                yield Option(Content.styled(heading, "$text-muted underline"), disabled=True)
            yield from map(self._option, parts)

    def _option(self, part: PartLineView) -> Option:
        told = aside(part)
        mine = "bold" if is_of_task(part, self._of_task) else ""
        words = [(cut(part_words(part), WIDEST), mine)] + (
            [(f"\n  {cut(told, WIDEST)}", "dim")] if told else []
        )
        return Option(Content.assemble(*[w if w[1] else w[0] for w in words]), id=str(part.id))

    def _answer(self, verb: str) -> None:
        option = self.query_one("#parts-list", OptionList).highlighted_option
        if option is not None and option.id:
            self.dismiss((verb, int(option.id)))
        else:
            self._say("! No part is chosen: the arrows choose one.")

    @on(OptionList.OptionSelected, "#parts-list")
    def action_fit(self) -> None:
        """The chosen part is fitted."""
        self._answer("fitted")

    def action_order(self) -> None:
        """The chosen part goes on the order list."""
        self._answer("on order")

    def action_order_short(self) -> None:
        """All that is short goes on the order list."""
        self.dismiss(("short", None))

    def action_instead(self) -> None:
        """Another part goes in place of the chosen one."""
        self._answer("instead")

    def action_not_used(self) -> None:
        """The chosen part is not used."""
        self._answer("not used")

    def action_arrived(self) -> None:
        """The chosen part, on order, is here."""
        self._answer("arrived")

    def action_old_unit(self) -> None:
        """The old unit of the chosen exchange went back, or did not."""
        self._answer("old unit")

    def action_wanted(self) -> None:
        """The chosen part is wanted again."""
        self._answer("wanted")

    def action_returned(self) -> None:
        """The chosen part, fitted, goes back to where it came from."""
        self._answer("returned")

    def action_from_stock(self) -> None:
        """Put a part on from stock."""
        self.dismiss(("stock", None))

    def action_own(self) -> None:
        """Put a part on that the customer brought."""
        self.dismiss(("own", None))

    def action_back(self) -> None:
        """Go back."""
        self.dismiss(None)
