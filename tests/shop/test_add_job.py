"""A job added to a card joins the steps it shares with what is there: done once, paid once, in an order that holds."""

import pytest

from shopcli.errors import Refused
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.commands import AddTemplates, FinishTask
from tests.conftest import Busy
from tests.shop.test_taking_back import last, standing


def keys(busy: Busy) -> set[str]:
    return {t.task.key for t in busy.view().tasks}


def add(busy: Busy, *names: str) -> tuple[str, ...]:
    return busy.do(AddTemplates(busy.card, names), "Dora").said  # type: ignore[attr-defined,no-any-return]


def raise_the_car(busy: Busy) -> int:
    """Say the car is raised, and what comes before it done; return the task."""
    raised = busy.task("oil-change:raise-car")
    for task in busy.view().tasks:
        if task.task.key in raised.task.after:
            busy.do(FinishTask(task.id, "for the test"))
    busy.do(FinishTask(raised.id, "for the test"))
    return raised.id


def test_the_car_is_raised_once_and_not_lowered_before_all_is_done(busy_shop: Busy) -> None:
    before = keys(busy_shop)
    said = " ".join(add(busy_shop, "exhaust"))
    new = keys(busy_shop) - before
    assert new
    assert not {"exhaust:raise-car", "exhaust:lower-car"} & new
    lower = busy_shop.task("oil-change:lower-car").task
    assert any(key.startswith("exhaust:") for key in lower.after), "not lowered before the exhaust is done"
    assert "Shared with what is on the card" in said
    assert f"'{lower.title}'" in said
    view = busy_shop.view()
    assert view.expected_minutes == sum(t.task.minutes for t in view.tasks)
    assert view.expected_minutes > 0, "shared time is expected once"
    rows = busy_shop.shop.fetch("SELECT SUM(minutes) FROM task WHERE card_id = ?", (busy_shop.card,))
    assert rows == [(view.expected_minutes,)]


def test_a_job_that_is_there_is_put_on_no_second_time(busy_shop: Busy) -> None:
    add(busy_shop, "points")  # the first act takes the card in hand
    kept, jobs = standing(busy_shop), busy_shop.view().templates
    add(busy_shop, "points", "oil-change")
    assert standing(busy_shop) == kept
    assert busy_shop.view().templates == jobs


def test_what_was_done_is_done_again_for_the_new_job(busy_shop: Busy) -> None:
    raise_the_car(busy_shop)
    add(busy_shop, "exhaust")
    assert "exhaust:raise-car" in keys(busy_shop)
    assert busy_shop.task("oil-change:raise-car").state == "done"


def test_taken_back_everything_is_as_it_was_unless_it_was_worked_on(busy_shop: Busy) -> None:
    kept = standing(busy_shop)
    add(busy_shop, "exhaust")
    assert standing(busy_shop) != kept
    said = busy_shop.do(TakeBack(last(busy_shop, "Dora")), "Dora").said  # type: ignore[attr-defined]
    assert standing(busy_shop) == kept
    assert any("Without what the job shared" in line for line in said)
    add(busy_shop, "exhaust")
    act = last(busy_shop, "Dora")
    raise_the_car(busy_shop)
    with pytest.raises(Refused, match="built on it since"):
        busy_shop.do(TakeBack(act), "Dora")
