"""What the report of a week is made of: pages of tables whose every figure has its value, its text and the key of its rows."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cached_property

from shopcli.papers.charts import Chart
from shopcli.shop.week_views import Period

Value = str | int | float | Decimal | date | None


@dataclass(frozen=True, slots=True)
class Cell:
    """A figure or a text of a table: as it is written, as it is exported, and the key that opens its rows."""

    said: str
    value: Value
    key: str = ""


@dataclass(frozen=True, slots=True)
class Head:
    """A column: its name on the screen and in exports, its side, how wide it is and what it is called where room is short.

    A `spare` one is left out there; one that `wraps` goes on in the next line instead of being cut; on paper
    one that goes `below` stands in a line of its own below its row.
    """

    name: str
    field: str
    right: bool = True
    fills: bool = False
    least: int = 4
    short: str = ""
    spare: bool = False
    wraps: bool = False
    below: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """A row of cells. `strong` ones are sums; `note` goes below it on paper and behind it where there is room.

    `period` is that of its figures where it is not the report's. `take` is what may be taken over here with one key, empty where nothing is.
    """

    cells: tuple[Cell, ...]
    strong: bool = False
    note: str = ""
    take: str = ""
    period: Period | None = None


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table with its title, what its figures mean, and the picture that goes with it.

    `name` is that of the file it is exported to; `on_paper` how many of its rows a paper takes, the rest are counted.
    """

    name: str
    title: str
    heads: tuple[Head, ...]
    lines: tuple[Line, ...]
    words: tuple[str, ...] = ()
    chart: Chart | None = None
    on_paper: int = 40
    empty: str = "Nothing."


Laid = tuple[tuple[Sheet, ...], Chart | None]


@dataclass(frozen=True)
class Page:
    """Tables on one subject, under one key, with the picture shown first; laid out when somebody first looks at it."""

    name: str
    title: str
    lay_out: Callable[[], Laid] = field(repr=False)

    @cached_property
    def laid(self) -> Laid:
        """Its tables and its picture."""
        return self.lay_out()

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """Its tables, in order."""
        return self.laid[0]

    @property
    def chart(self) -> Chart | None:
        """Its picture."""
        return self.laid[1]


@dataclass(frozen=True, slots=True)
class Report:
    """The whole report; `todo` are the lines of the Monday list, worst first."""

    shop: str
    period: Period
    made: str
    dated: date
    pages: tuple[Page, ...]
    todo: tuple[Line, ...] = field(default=())

    def page(self, name: str) -> Page | None:
        """Return a page by its name, None where who asked does not see it."""
        return next((page for page in self.pages if page.name == name), None)

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """Every table of it, in order."""
        return tuple(sheet for page in self.pages for sheet in page.sheets)
