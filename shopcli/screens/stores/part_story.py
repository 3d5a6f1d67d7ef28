"""The past of a part over the shelf: every movement, the last first, and what it cost and was sold for when."""

import asyncio
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from shopcli.columns import cut, pad
from shopcli.present import amount, day, qty
from shopcli.screens.careful import Careful
from shopcli.screens.widgets.lines import BLANK, Line, as_content
from shopcli.shop.stores_views import MoveView, PartStoryView
from shopcli.store.reads.stock import part_story

if TYPE_CHECKING:
    from shopcli.screens.stores.page import StoresPage

WIDEST = 92


def _move(move: MoveView, width: int) -> Line:
    sign = "+" if move.qty > 0 else "±" if not move.qty else ""
    why = ", ".join(filter(None, (move.why, move.card or move.order, move.note)))
    when = f"{day(move.at.date())} {move.at:%Y %H:%M}"
    return (
        (pad(when, 21), ""),
        (pad(f"{sign}{qty(move.qty)}", 8, right=True), "bold"),
        (f"  {pad(cut(why, width - 43), width - 43)}", ""),
        (f"  {cut(move.person or '-', 10)}", "dim"),
    )


def story_lines(story: PartStoryView, width: int) -> list[Line]:
    """Return the past of a part in lines of so many columns."""
    part = story.part
    lines: list[Line] = [((f"{qty(part.stock)} {part.unit} there now", "bold"),), BLANK]
    lines += [_move(move, width) for move in story.moves] or [(("It never moved.", "dim"),)]
    lines += [((f"{story.more} earlier movements", "dim"),)] if story.more else []
    lines += [BLANK, (("Cost and price", "bold"),)]
    for change in story.prices:
        figures = f"{amount(change.cost):>9} {amount(change.price):>9}"
        why = ", ".join(filter(None, (change.why, change.person)))
        since = pad(f"{day(change.at.date())} {change.at:%Y}", 16)
        lines.append(((since, ""), (figures, "bold"), (f"  {cut(why, width - 37)}", "")))
    return lines


class PartStory(Careful, ModalScreen[None]):
    """The past of one part."""

    BINDINGS = [Binding("escape,enter,q", "leave", "Back")]
    AUTO_FOCUS = "#story"

    def __init__(self, story: PartStoryView) -> None:
        super().__init__()
        self._story = story

    def compose(self) -> ComposeResult:
        """Lay out the past over its key."""
        part = self._story.part
        with Vertical(classes="dialog"):
            yield Static(Content(cut(f"{part.number}  {part.name}", WIDEST)), classes="dialog-question")
            with VerticalScroll(id="story"):
                yield Static(as_content(story_lines(self._story, min(WIDEST, self.app.size.width - 8))))
            yield Static(Content("Esc goes back"), classes="dialog-keys")

    def action_leave(self) -> None:
        """Go back."""
        self.dismiss(None)


async def show_story(page: "StoresPage", part_id: int) -> None:
    """Show the past of a part until somebody goes back."""
    story = await asyncio.to_thread(part_story, page.desk_app.shop, part_id)
    await page.app.push_screen_wait(PartStory(story))
