"""The room that what to do on Monday takes, kept free while it is read: what stands below does not move when it comes."""

from shopcli.papers.week.model import Page
from shopcli.screens.remembered import remember, remembered
from shopcli.screens.week.rows import Row, Text, rows_of

NAME = "lines to do"
FIRST, MOST = 12, 60  # lines, before any were counted at this terminal, and at the very most


def lines_to_do(page: Page, room: int) -> int:
    """Return how many lines the first table of the page takes in so many columns."""
    return _first(rows_of(page, room))


def _first(rows: list[tuple[str, Row]]) -> int:
    return next((nth for nth, (_key, row) in enumerate(rows) if row == Text("")), len(rows))


def with_room(rows: list[tuple[str, Row]], lines: int) -> list[tuple[str, Row]]:
    """Return the rows with so many lines for the first table; none may be chosen, for what opens them is still read."""
    first = _first(rows)
    bare = [("", row) for _key, row in rows]
    return bare[:first] + [("", Text(""))] * max(0, lines - first) + bare[first:]


def remembered_lines_to_do(room: int) -> int:
    """Return how many lines it took when it was last read at this terminal, where it was in as many columns."""
    kept = remembered(NAME)
    if not isinstance(kept, list) or kept[:1] != [room]:
        return FIRST
    lines = kept[-1]
    return lines if isinstance(lines, int) and 0 < lines <= MOST else FIRST


def remember_lines_to_do(room: int, lines: int) -> None:
    """Keep for the next start how many lines it takes in so many columns."""
    if [room, lines] != remembered(NAME):
        remember(NAME, [room, lines])
