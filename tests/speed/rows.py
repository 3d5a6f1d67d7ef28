"""One line of the table: what, ours, the reference measured in the same run, and the goal for the ratio of the two."""

from collections.abc import Iterable
from typing import NamedTuple


class Row(NamedTuple):
    """A figure and what it is held against. `goal` None: only reported."""

    what: str
    ours: float
    reference: float
    goal: float | None = None

    @property
    def ratio(self) -> float:
        """Ours in terms of the reference."""
        return self.ours / self.reference


def heading() -> str:
    """Return the head of the table."""
    return f"{'what':<62}{'ours':>9}{'reference':>11}{'ratio':>8}{'goal':>7}"


def lines(rows: Iterable[Row]) -> Iterable[str]:
    """Return the rows as text; a goal that is missed says so."""
    for row in rows:
        goal = "" if row.goal is None else f"{row.goal:.2f}"
        missed = "  missed" if row.goal is not None and row.ratio > row.goal else ""
        yield f"{row.what:<62}{row.ours:>9.1f}{row.reference:>11.1f}{row.ratio:>8.2f}{goal:>7}{missed}"
