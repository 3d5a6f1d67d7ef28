"""The list of open cards looks up what is open, however many cards lie behind it and whatever the planner knows of them."""

import sqlite3

import pytest

from shopcli.car_words import owed_words
from shopcli.shop.commands import MoveCard, OpenCard
from shopcli.store.reads import bench
from shopcli.store.reads.open_cards import (
    FOLDED,
    NARROW,
    OPEN_CARDS,
    OPEN_TAGS,
    OWED,
    RUNNING,
    WITHIN,
    open_cards,
)
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
owed ix_owed_vehicle_id 47331 5
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
        (OPEN_CARDS.format(narrow=NARROW.format(within=FOLDED + WITHIN)), (0, *["%a%"] * 10, 500)),
        (OPEN_TAGS, ()),
        (OWED, ()),
        (RUNNING, ()),
    ],
    ids=["cards", "cards narrowed", "tags", "owed", "running"],
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
    if " card " in sql:
        assert "ix_card_state" in plan[0], plan
    assert not [step for step in plan if "ix_owed_state" in step], plan


def test_tags_are_told_by_card(busy_shop: Busy) -> None:
    (row,) = open_cards(busy_shop.shop)
    tags = busy_shop.shop.fetch("SELECT name FROM tag WHERE card_id = ? AND lifted_at IS NULL", (row.id,))
    assert row.open_tags == tuple(name for (name,) in tags)


def test_desk_bench_and_closing_check_count_the_same_checks(busy_shop: Busy) -> None:
    shop, vehicle = busy_shop.shop, busy_shop.vehicle
    later = busy_shop.do(OpenCard(vehicle, (), odometer=49_000, title="Rattle"), by="Dora").id  # type: ignore[attr-defined]
    void = busy_shop.do(OpenCard(vehicle, (), odometer=49_100, title="Not wanted"), by="Dora").id  # type: ignore[attr-defined]
    busy_shop.do(MoveCard(void, "void", "not wanted"), by="Dora")
    task = busy_shop.view().tasks[0].id
    there = ("hand-over", None, ""), ("distance", 48_999, ""), ("distance", 49_001, "")
    there += ("date", None, "2026-11-25"), ("date", None, "2026-11-26"), ("date", 60_000, "2026-11-01")
    place = shop.place.file
    assert place is not None
    with sqlite3.connect(place) as connection:
        connection.execute("DELETE FROM owed")
        rows = [
            (vehicle, card, task, f"{before} {odometer} {date} of {card}", before, odometer, date)
            for card in (busy_shop.card, later, void)
            for before, odometer, date in there
        ]
        connection.executemany(
            "INSERT INTO owed (vehicle_id, card_id, task_id, title, before, due_odometer, due_date, state, promised_at,"
            " redeemed_by_key, settled_for) VALUES (?, ?, ?, ?, ?, ?, ?, 'owed', 0, '', '')",
            rows,
        )
    counted = {row.id: (row.owed, row.overdue) for row in open_cards(shop)}
    for card in (busy_shop.card, later):
        view = bench.card(shop, card)
        hinders = {h.where_id for h in bench.hindrances(shop, card) if h.key.startswith("owed:")}
        now = [o for o in view.owed if not o.for_later]
        assert {o.id for o in now} == hinders
        overdue = [o for o in now if o.overdue]
        assert counted[card] == (len(now), len(overdue))
        assert overdue
        for owed in view.owed:
            word = "! overdue" if owed in overdue else "! owed" if owed in now else "due"
            assert owed_words(owed, "mi").startswith(f"{word} {owed.title}")


def test_two_figures_are_of_a_card_and_three_of_a_telephone_too(busy_shop: Busy) -> None:
    assert [card.customer for card in open_cards(busy_shop.shop, "567")] == ["Ada Lark"]
    assert open_cards(busy_shop.shop, "67") == ()
    assert [card.customer for card in open_cards(busy_shop.shop, "01")] == ["Ada Lark"]
