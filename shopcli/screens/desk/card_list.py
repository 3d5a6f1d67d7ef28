"""The list of open cards under their customers and vehicles; it never takes the focus from the typing."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

from textual import events
from textual.content import Content
from textual.message import Message
from textual.widgets.option_list import Option

from shopcli.screens.desk.wording import Piece, Plan, card_lines, customer_line, plan, vehicle_line
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.shop.listed import CardRow

if TYPE_CHECKING:
    from shopcli.shop.handing_view import ClosedRow


class CardList(MarkedList):
    """Open cards, chosen by key: a card stays chosen when others come and go around it."""

    can_focus = False

    class Planned(Message):
        """The columns were laid out anew."""

        def __init__(self, columns: Plan) -> None:
            super().__init__()
            self.columns = columns

    def __init__(self) -> None:
        super().__init__(markup=False, compact=True)
        self._rows: tuple[CardRow, ...] = ()
        self._closed_rows: tuple[ClosedRow, ...] = ()
        self._currency = ""
        self._today = date.min
        self._laid_out = 0
        self._risks: Mapping[int, Sequence[Piece]] = {}

    @property
    def chosen(self) -> CardRow | None:
        """The card that is chosen, if any is there."""
        option = self.highlighted_option
        return next((r for r in self._rows if option is not None and _key(r) == option.id), None)

    @property
    def chosen_closed(self) -> "ClosedRow | None":
        """The closed card that is chosen, if it is one of those."""
        key = self._chosen_key()
        return next((r for r in self._closed_rows if _closed_key(r) == key), None)

    def _chosen_key(self) -> str:
        option = self.highlighted_option
        return option.id or "" if option is not None else ""

    def show(self, rows: Sequence[CardRow], today: date, *, choose: int | None = None) -> None:
        """Show these cards; the one chosen before, or `choose`, is chosen again when it is still there."""
        wanted = self._chosen_key() if choose is None else f"card-{choose}"
        self._rows, self._today = tuple(rows), today
        self._lay_out(self._width(), wanted)

    def show_closed(self, rows: "Sequence[ClosedRow]", currency: str) -> None:
        """Say which closed cards go below the open ones the next time these are shown."""
        self._closed_rows, self._currency = tuple(rows), currency

    def show_risks(self, risks: Mapping[int, Sequence[Piece]]) -> None:
        """Show beside what holds a card what is coming: past its authority, past its promise."""
        if risks != self._risks:
            self._risks = risks
            self._lay_out(self._width(), self._chosen_key())

    def _width(self) -> int:
        # Before the first layout the list has no width yet, and the first picture must already be right.
        return self.scrollable_content_region.width or self.app.size.width - 2

    def on_resize(self, _event: events.Resize) -> None:
        """Lay the cards out anew when the width changed."""
        width = self.scrollable_content_region.width
        if width and width != self._laid_out:
            self._lay_out(width, self._chosen_key())

    def _lay_out(self, width: int, wanted: str) -> None:
        self._laid_out = width
        columns = plan(width, self._rows)
        options = self._options_for(columns)
        if [o.id for o in options] == [o.id for o in self.options]:
            for index, option in enumerate(options):
                if self.options[index].prompt != option.prompt:
                    self.replace_option_prompt_at_index(index, option.prompt)
        else:
            self.set_options(options)
        self._choose(wanted)
        self.post_message(self.Planned(columns))

    def _options_for(self, columns: Plan) -> list[Option]:
        options: list[Option] = []
        customer = vehicle = None
        for row in self._rows:
            if row.customer_id != customer:
                customer, vehicle = row.customer_id, None
                heading = customer_line(row, columns.width, air=bool(columns.title and options))
                options.append(Option(heading, id=f"customer-{row.customer_id}", disabled=True))
            if row.vehicle_id != vehicle:
                vehicle = row.vehicle_id
                line = vehicle_line(row, columns.width)
                options.append(Option(line, id=f"vehicle-{row.customer_id}-{row.vehicle_id}", disabled=True))
            options.append(
                Option(card_lines(row, columns, self._today, self._risks.get(row.id, ())), id=_key(row))
            )
        return options + self._closed_options(columns.width)

    def _closed_options(self, width: int) -> list[Option]:
        if not self._closed_rows:
            return []
        from shopcli.screens.desk.closed_words import closed_lines, heading

        head = heading()
        if self._rows:
            head = Content("\n").join([Content(""), head])
        lines = [Option(closed_lines(r, width, self._currency), id=_closed_key(r)) for r in self._closed_rows]
        return [Option(head, id="closed", disabled=True), *lines]

    def _choose(self, wanted: str) -> None:
        if not self._rows and not self._closed_rows:
            self.highlighted = None
            return
        keys = [o.id for o in self.options]
        index = keys.index(wanted) if wanted in keys else None
        if index is None:
            self.action_first()
        elif self.highlighted != index:
            self.highlighted = index

    def move(self, by: int) -> None:
        """Choose the next card or the one before, without running round the ends."""
        cards = [i for i, o in enumerate(self.options) if not o.disabled]
        if not cards:
            return
        place = cards.index(self.highlighted) if self.highlighted in cards else 0
        self.highlighted = cards[max(0, min(place + by, len(cards) - 1))]
        if self.highlighted == cards[0]:
            # The headings above the first card cannot be chosen, and would stay out of sight.
            self.scroll_home(animate=False)

    def page(self, by: int) -> None:
        """Move by about a screenful."""
        if by > 0:
            self.action_page_down()
        else:
            self.action_page_up()
        if self.highlighted is None or self.options[self.highlighted].disabled:
            self._choose("")


def _key(row: CardRow) -> str:
    return f"card-{row.id}"


def _closed_key(row: "ClosedRow") -> str:
    return f"closed-{row.id}"


def nothing(text: str) -> Content:
    """Return what an empty list says."""
    if text.strip():
        words = (
            "\n\nNor does a closed card: those are found by three letters or more of a name, a registration,"
            "\na make or a job, by figures of a telephone, or by the number of the card or its invoice."
            "\nEsc clears it."
        )
        return Content.assemble(("Nothing open fits what is typed.", "bold"), words)
    return Content.assemble(
        ("No open cards.", "bold"),
        "\n\nF2 opens the first one: customer, vehicle, what for.\nF7 shows the weeks, F1 explains the keys.",
    )
