"""Going through the rows of a list, and turning to the pages of the week."""

from shopcli.screens.doing import Acting
from shopcli.screens.widgets.long_list import LongList


class ListMoves(Acting[None]):
    """A screen with one long list."""

    @property
    def list(self) -> LongList:
        """The list of rows."""
        return self.query_one(LongList)

    def action_down(self) -> None:
        """Choose the next row."""
        self.list.move(1)

    def action_up(self) -> None:
        """Choose the row before."""
        self.list.move(-1)

    def action_page_down(self) -> None:
        """Go a screenful on."""
        self.list.page(1)

    def action_page_up(self) -> None:
        """Go a screenful back."""
        self.list.page(-1)


class PageTurns(ListMoves):
    """A screen with the pages of the week."""

    def turn_to(self, page: str) -> None:
        """Show a page."""
        raise NotImplementedError

    def action_front(self) -> None:
        """Go to the first page."""
        self.turn_to("front")

    def action_flow(self) -> None:
        """Go to the flow."""
        self.turn_to("flow")

    def action_hours(self) -> None:
        """Go to the hours."""
        self.turn_to("hours")

    def action_money(self) -> None:
        """Go to the money."""
        self.turn_to("money")

    def action_times(self) -> None:
        """Go to the times."""
        self.turn_to("times")

    def action_quality(self) -> None:
        """Go to what went wrong."""
        self.turn_to("quality")

    def action_ahead(self) -> None:
        """Go to the forecast."""
        self.turn_to("ahead")
