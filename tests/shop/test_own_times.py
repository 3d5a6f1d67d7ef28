"""The shop's own expected times: taken over, used wherever a job is expanded or priced, taken back, and learned from rightly."""

import pytest

from shopcli.errors import BadInput, NotFound, Refused, Stale
from shopcli.shop.commands import (
    AddTemplates,
    OpenCard,
    SetOwnTime,
    TakeBack,
)
from shopcli.shop.past_times import past_times
from shopcli.store.reads import bench
from shopcli.worklists.with_times import WHOLE, scaled, with_times
from tests.conftest import Busy, journal_acts


def minutes(busy: Busy, card: int) -> dict[str, int]:
    rows = busy.shop.fetch("SELECT key, minutes FROM task WHERE card_id = ? AND template = 'points'", (card,))
    return dict(rows)


def another(busy: Busy) -> int:
    return busy.do(OpenCard(busy.vehicle, ("points",), odometer=50_000)).id


def test_a_time_taken_over_is_used_by_the_next_card_and_by_prices_and_not_by_cards_there(
    busy_shop: Busy,
) -> None:
    first = another(busy_shop)
    listed, before = minutes(busy_shop, first), busy_shop.shop.library.template("points")
    busy_shop.do(SetOwnTime("points", 1500, before=WHOLE, cases=9, why="clocked"), by="Olive")
    assert minutes(busy_shop, first) == listed
    second = another(busy_shop)
    assert minutes(busy_shop, second) == {key: scaled(m, 1500) for key, m in listed.items()}
    now = busy_shop.shop.library.template("points")
    assert sum(t.minutes for t in now.tasks) > sum(t.minutes for t in before.tasks)
    assert [t.waits for t in now.tasks] == [t.waits for t in before.tasks]
    expected = "SELECT expected_minutes FROM card WHERE id = ?"
    assert busy_shop.shop.fetch(expected, (second,)) > busy_shop.shop.fetch(expected, (first,))
    kept = busy_shop.shop.fetch(
        "SELECT DISTINCT own_per_mille FROM task WHERE card_id = ? AND template = 'points'", (second,)
    )
    assert kept == [(1500,)]
    assert "SetOwnTime" in journal_acts(busy_shop.shop)


def test_it_is_taken_back_whole(busy_shop: Busy) -> None:
    listed = busy_shop.shop.library.template("points")
    busy_shop.do(SetOwnTime("points", 1500), by="Olive")
    busy_shop.do(SetOwnTime("points", 1200), by="Olive")
    assert busy_shop.shop.fetch("SELECT COUNT(*) FROM own_time") == [(2,)]
    ((last,),) = busy_shop.shop.fetch("SELECT MAX(id) FROM journal")
    busy_shop.do(TakeBack(last), by="Olive")
    now = busy_shop.shop.library.template("points")
    assert [t.minutes for t in now.tasks] == [scaled(t.minutes, 1500) for t in listed.tasks]
    busy_shop.do(SetOwnTime("points", WHOLE), by="Olive")
    assert busy_shop.shop.library.template("points") == listed


def test_what_cannot_be_is_refused_in_words(busy_shop: Busy) -> None:
    for by in ("Tom", "Dora"):
        with pytest.raises(Refused, match="for the owner"):
            busy_shop.do(SetOwnTime("points", 1500), by=by)
    with pytest.raises(NotFound):
        busy_shop.do(SetOwnTime("pionts", 1500), by="Olive")
    for wrong in (0, 99, 10_001, -1000):
        with pytest.raises(BadInput, match="times the listed time"):
            busy_shop.do(SetOwnTime("points", wrong), by="Olive")
    with pytest.raises(Refused, match="already"):
        busy_shop.do(SetOwnTime("points", WHOLE), by="Olive")
    busy_shop.do(SetOwnTime("points", 1500), by="Olive")
    with pytest.raises(Stale):
        busy_shop.do(SetOwnTime("points", 1600, before=WHOLE), by="Olive")


def clocked_and_closed(busy: Busy, card: int) -> None:
    """Write a closed card with an hour on each points task, as the reads see it."""
    from sqlmodel import Session, select

    from shopcli.shop.records import Card, ClockEntry, Task

    with Session(busy.shop.engine) as session:
        at = int(busy.clock.at.timestamp())
        for row in session.exec(select(Task).where(Task.card_id == card)):
            row.state, row.done_at, row.done_by = "done", at, busy.people["Tom"]
            if row.template == "points":
                session.add(
                    ClockEntry(
                        person_id=busy.people["Tom"],
                        card_id=card,
                        task_id=row.id,
                        started_at=at - 3600,
                        ended_at=at,
                    )
                )
        kept = session.get(Card, card)
        kept.state, kept.closed_at = "closed", at
        session.commit()


def test_what_was_clocked_before_is_held_against_what_is_listed_now(busy_shop: Busy) -> None:
    """Otherwise a time taken over would be learned a second time, and the third estimate be twice as long as the work."""
    card = another(busy_shop)
    clocked_and_closed(busy_shop, card)
    now = int(busy_shop.clock.at.timestamp())

    def told() -> tuple[int, float]:
        one = next(p for p in past_times(busy_shop.shop.fetch, now) if p.template == "points")
        return one.listed_min, one.clocked_s / 60

    listed, took = told()
    busy_shop.do(SetOwnTime("points", 2000), by="Olive")
    assert told() == (2 * listed, took)
    later = another(busy_shop)
    clocked_and_closed(busy_shop, later)
    busy_shop.do(SetOwnTime("points", WHOLE), by="Olive")
    both = [p.listed_min for p in past_times(busy_shop.shop.fetch, now) if p.template == "points"]
    assert both == [listed, listed]


def test_open_cards_are_foretold_in_the_same_minutes(busy_shop: Busy) -> None:
    from shopcli.shop.queue_now import cards_left

    another(busy_shop)
    now = int(busy_shop.clock.at.timestamp())

    def listed() -> float:
        return sum(
            j.listed_min
            for c in cards_left(busy_shop.shop.fetch, now)
            for j in c.jobs
            if j.template == "points"
        )

    before = listed()
    busy_shop.do(SetOwnTime("points", 2000), by="Olive")
    assert listed() == pytest.approx(2 * before)


def test_a_job_that_joins_takes_its_factor_along(busy_shop: Busy) -> None:
    card = busy_shop.do(OpenCard(busy_shop.vehicle, ("points",), odometer=50_000)).id
    busy_shop.do(SetOwnTime("oil-change", 1300), by="Olive")
    busy_shop.do(AddTemplates(card, ("oil-change",)))
    rows = dict(
        busy_shop.shop.fetch(
            "SELECT template, MAX(own_per_mille) FROM task WHERE card_id = ? GROUP BY template", (card,)
        )
    )
    assert rows["oil-change"] == 1300
    assert rows["points"] == WHOLE
    assert bench.card(busy_shop.shop, card).tasks


def test_templates_nobody_knows_are_passed_over(library) -> None:
    assert with_times(library, {"gone": 1500}) is library
    assert with_times(library, {"points": WHOLE}) is library
