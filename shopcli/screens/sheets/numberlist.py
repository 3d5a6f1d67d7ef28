"""The list of numbers; it never takes the focus from the typing, and a number stays chosen when others come and go."""

from collections.abc import Sequence

from textual import events
from textual.message import Message
from textual.widgets.option_list import Option

from shopcli.screens.sheets.wording import row
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.shop.sheet_views import NumberView
from shopcli.units import METRIC, Preferences


class NumberList(MarkedList):
    """Numbers of a sheet, one line each, chosen by name."""

    can_focus = False

    class Chosen(Message):
        """Another number is chosen."""

    def __init__(self) -> None:
        super().__init__(markup=False, compact=True)
        self._numbers: tuple[NumberView, ...] = ()
        self._prefs = METRIC
        self._laid_out = 0

    @property
    def chosen(self) -> NumberView | None:
        """The number that is chosen, if any is there."""
        at = self.highlighted
        return self._numbers[at] if at is not None and at < len(self._numbers) else None

    def show(self, numbers: Sequence[NumberView], prefs: Preferences, *, choose: str = "") -> None:
        """Show these numbers; the one chosen before, or `choose`, is chosen again when it is still there."""
        before = self.chosen
        wanted = choose or (before.name if before else "")
        self._numbers, self._prefs = tuple(numbers), prefs
        self._lay_out(wanted)

    def _lay_out(self, wanted: str) -> None:
        width = self.width
        self._laid_out = width
        plain = bool(getattr(self.app, "plain", False))
        prompts = [row(n, width, self._prefs, plain=plain) for n in self._numbers]
        if [o.id for o in self.options] == [n.name for n in self._numbers]:
            for index, prompt in enumerate(prompts):
                if self.options[index].prompt != prompt:
                    self.replace_option_prompt_at_index(index, prompt)
        else:
            self.set_options(
                Option(prompt, id=number.name) for prompt, number in zip(prompts, self._numbers, strict=True)
            )
        names = [n.name for n in self._numbers]
        self.highlighted = (names.index(wanted) if wanted in names else 0) if names else None
        self.post_message(self.Chosen())

    @property
    def width(self) -> int:
        """Columns a line has, the bar's left out."""
        # Before the first layout the list has no width yet, and the first picture must already be right.
        return (self.scrollable_content_region.width or self.app.size.width - 2) - 1

    def on_resize(self, _event: events.Resize) -> None:
        """Lay the numbers out anew when the width changed."""
        if self.scrollable_content_region.width and self.width != self._laid_out:
            chosen = self.chosen
            self._lay_out(chosen.name if chosen else "")

    def choose(self, name: str) -> None:
        """Choose a number, where it is in the list."""
        names = [n.name for n in self._numbers]
        if name in names:
            self.highlighted = names.index(name)
            self.post_message(self.Chosen())

    def move(self, by: int) -> bool:
        """Choose the next number or the one before; say whether there was one."""
        at = self.highlighted
        if at is None or not 0 <= at + by < len(self._numbers):
            return False
        self.highlighted = at + by
        self.post_message(self.Chosen())
        return True

    def page(self, by: int) -> None:
        """Move by about a screenful."""
        if by > 0:
            self.action_page_down()
        else:
            self.action_page_up()
        self.post_message(self.Chosen())
