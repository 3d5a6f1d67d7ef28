"""The week given away: its report on one page, and its tables as files."""

from textual import on

from shopcli.screens.doing import Acting, Looked
from shopcli.shop.week_period import Period


class Papers(Acting[None]):
    """A screen whose period can be given away."""

    @property
    def period(self) -> Period:
        """The weeks that are shown."""
        raise NotImplementedError

    def action_paper(self) -> None:
        """Write the report on one page."""
        from shopcli.screens.week.giving import paper_file, write_paper

        shop, period, role = self.desk_app.shop, self.period, self.desk_app.who.role
        if self.app.is_web:
            self.hand_out(lambda: paper_file(shop, period, role))
        else:
            self.look("written", lambda: write_paper(shop, period, role))

    def action_export(self) -> None:
        """Write every table."""
        from shopcli.screens.week.giving import tables_file, write_tables

        shop, period, role = self.desk_app.shop, self.period, self.desk_app.who.role
        if self.app.is_web:
            self.hand_out(lambda: tables_file(shop, period, role))
        else:
            self.look("written", lambda: write_tables(shop, period, role))

    @on(Looked)
    def say_written(self, event: Looked) -> None:
        """Say where it was written."""
        if event.what == "written":
            self.tell(event.seen)
