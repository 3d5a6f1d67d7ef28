"""The same over a million cards. It writes four gigabytes and takes minutes, so it is measured only where it is named."""

import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.speed.keys import desk_rows
from tests.speed.many_cards import many_cards
from tests.speed.rows import Row
from tests.speed.start import CARDS, first_screen, listing, question

MILLION = 1_000_000


def rows() -> Iterator[Row]:
    """Measure; what a list of cards does not read is not copied a thousandfold."""
    with tempfile.TemporaryDirectory() as folder:
        few, many = Path(folder) / "few.db", Path(folder) / "many.db"
        many_cards(few, CARDS, listed_only=True)
        many_cards(many, MILLION, listed_only=True)
        yield first_screen(many, "1,000,000 cards", 1.25)
        yield listing(many, "1,000,000 cards")
        yield question(few, many, 2.0)
        yield from desk_rows(many, "1,000,000 cards")
