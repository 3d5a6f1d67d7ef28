"""The list of open cards looks up what is open, however many cards lie behind it and whatever the planner knows of them."""

import sqlite3

import pytest

from shopcli.store.reads.open_cards import NARROW, OPEN_CARDS, OPEN_TAGS, RUNNING, open_cards
from tests.conftest import Busy

# What ANALYZE writes down in a shop with 20,000 cards behind it, nearly all of them closed.
MANY = """
card ix_card_state 20032 4007
card ix_card_customer_id 20032 2
card ix_card_vehicle_id 20032 2
customer ix_customer_name 10920 911
vehicle ix_vehicle_customer_id 16380 2
tag ix_tag_card_id 40064 3
owed ix_owed_state 47331 15777
owed ix_owed_card_id 47331 3
task ix_task_card_id 219535 11
card_part ix_card_part_card_id 57369 3
clock_entry ix_clock_entry_card_id 112873 6
clock_entry ix_one_open_clock 2 1
"""


@pytest.mark.parametrize("many", [False, True], ids=["never analysed", "analysed with many cards"])
@pytest.mark.parametrize(
    ("sql", "params"),
    [
        (OPEN_CARDS.format(narrow=""), (0, 500)),
        (OPEN_CARDS.format(narrow=NARROW), (0, *["%a%"] * 5, 500)),
        (OPEN_TAGS, ()),
        (RUNNING, ()),
    ],
    ids=["cards", "cards narrowed", "tags", "running"],
)
def test_what_is_open_is_looked_up(
    busy_shop: Busy, sql: str, params: tuple[object, ...], *, many: bool
) -> None:
    file = busy_shop.shop.place.file
    assert file is not None
    if many:
        with sqlite3.connect(file) as connection:
            connection.execute("ANALYZE")
            connection.execute("DELETE FROM sqlite_stat1")
            rows = [line.split(maxsplit=2) for line in MANY.split("\n") if line]
            connection.executemany("INSERT INTO sqlite_stat1 VALUES (?, ?, ?)", rows)
    with sqlite3.connect(file) as connection:
        plan = [row[3] for row in connection.execute("EXPLAIN QUERY PLAN " + sql, params)]
    through = [step for step in plan if step.startswith("SCAN") and "ix_one_open_clock" not in step]
    assert through == [], plan
    if " card c" in sql:
        assert "ix_card_state" in plan[0], plan
    assert not [step for step in plan if "ix_owed_state" in step], plan


def test_tags_and_owed_checks_are_counted_by_card(busy_shop: Busy) -> None:
    (row,) = open_cards(busy_shop.shop)
    tags = busy_shop.shop.fetch("SELECT name FROM tag WHERE card_id = ? AND lifted_at IS NULL", (row.id,))
    assert row.open_tags == tuple(name for (name,) in tags)
    count = "SELECT COUNT(*) FROM owed WHERE card_id = ? AND state = 'owed' AND before = 'hand-over'"
    assert row.owed == busy_shop.shop.fetch(count, (row.id,))[0][0]
