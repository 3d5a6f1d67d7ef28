"""What a paper that leaves the shop is made of: blocks of finished texts, the same for a terminal, a browser and a printer.

A builder (`bill_paper`, `offer_paper` …) turns a view into a `Paper` once; `as_text`, `as_html` and `as_pdf`
set it. So the three cannot tell different stories, and a new paper costs one builder.
"""

from dataclasses import dataclass, field
from datetime import date
from typing import ClassVar

from shopcli.papers.charts import Chart


@dataclass(frozen=True, slots=True)
class Heading:
    """The title of what follows."""

    IS: ClassVar[str] = "heading"
    text: str


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph; `mark` stands before it, `strong` sets it apart by weight, `small` by size."""

    IS: ClassVar[str] = "para"
    text: str
    mark: str = ""
    strong: bool = False
    small: bool = False


@dataclass(frozen=True, slots=True)
class Fields:
    """Named values below one another; those without a value are not shown."""

    IS: ClassVar[str] = "fields"
    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Col:
    """A column; the one that `fills` takes what the others leave. `most` and `least` are columns of typewriting."""

    head: str = ""
    right: bool = False
    fills: bool = False
    most: int = 16
    least: int = 0


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a table; what is `below` goes under its first cell, across the others."""

    cells: tuple[str, ...]
    below: tuple[str, ...] = ()
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Section:
    """Rows under a title of their own, which may be empty."""

    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose head is set again on every page; a short one that says `keep` stays on one page with what follows."""

    IS: ClassVar[str] = "table"
    columns: tuple[Col, ...]
    sections: tuple[Section, ...]
    keep: bool = False


@dataclass(frozen=True, slots=True)
class Sums:
    """Amounts below one another at the right edge; the last is what it all comes to."""

    IS: ClassVar[str] = "sums"
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class SignHere:
    """Places to write by hand, each named, on one page with the `words` that are signed."""

    IS: ClassVar[str] = "sign"
    names: tuple[str, ...]
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture of figures, or two `beside` each other where the page has room."""

    IS: ClassVar[str] = "picture"
    chart: Chart
    beside: Chart | None = None

    @property
    def charts(self) -> tuple[Chart, ...]:
        """Both, or the one."""
        return (self.chart,) if self.beside is None else (self.chart, self.beside)


Block = Heading | Para | Fields | Table | Sums | SignHere | Picture


@dataclass(frozen=True, slots=True)
class Logo:
    """A picture of the shop's, cleaned: ``png`` or ``svg`` and its bytes."""

    kind: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Paper:
    """A whole paper.

    `sender` is the shop line by line, its name first; `to` whom it is for; `facts` stand beside that. `dated`
    is the day the file says it was made, so that the same paper is the same file. A `dense` one is set small, to go on one page.
    """

    title: str
    number: str
    sender: tuple[str, ...]
    to: Fields
    facts: Fields
    blocks: tuple[Block, ...]
    dated: date
    language: str = "en-GB"
    logo: Logo | None = field(default=None, repr=False)
    dense: bool = False

    @property
    def pictures(self) -> bool:
        """Whether there is a picture in it."""
        return any(isinstance(block, Picture) for block in self.blocks)
