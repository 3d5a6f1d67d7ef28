"""Taken back by mistake: the same is done again, as long as nothing else was done since."""

import json

import pytest

from shopcli.shop import asked
from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.commands import ChangeCard, NoteOnTask, TakePayment
from shopcli.shop.inverses import INVERSES
from shopcli.shop.lately import AgainView
from shopcli.store.reads.again import to_do_again
from tests.conftest import Busy
from tests.shop.test_taking_back import acts_of, back, last, standing

NEW_IDS = {"reading", "vehicle_spec", "tag", "owed", "finding", "clock_entry"}


def again(busy: Busy, by: str = "Tom") -> AgainView | None:
    return to_do_again(busy.shop, busy.people[by], busy.card)


def as_it_stands(busy: Busy) -> dict[str, list[tuple[object, ...]]]:
    """Return every record, without the numbers the database gives."""
    return {t: [r[1:] if t in NEW_IDS else r for r in rows] for t, rows in standing(busy).items()}


@pytest.mark.parametrize("name", ["reading", "clock on", "done and owed", "fitted", "number"])
def test_done_again_it_stands_as_the_first_time(busy_shop: Busy, name: str) -> None:
    *before, act = acts_of(busy_shop)[name]
    for command in before:
        busy_shop.do(command)
    assert again(busy_shop) is None
    busy_shop.do(act)
    kept = as_it_stands(busy_shop)
    assert again(busy_shop) is None, "nothing was taken back"
    back(busy_shop)
    assert as_it_stands(busy_shop) != kept
    offered = again(busy_shop)
    assert offered is not None
    assert offered.command == act
    assert offered.said
    busy_shop.do(offered.command)
    assert as_it_stands(busy_shop) == kept
    assert again(busy_shop) is None
    back(busy_shop)
    assert again(busy_shop) is not None, "and it is taken back once more"


def test_several_come_again_in_the_order_they_were_done(busy_shop: Busy) -> None:
    task = busy_shop.view().tasks[0].id
    notes = [NoteOnTask(task, text) for text in ("one", "two", "three")]
    for note in notes:
        busy_shop.do(note)
    for _ in notes:
        back(busy_shop)
    for note in notes:
        offered = again(busy_shop)
        assert offered is not None
        assert offered.command == note
        busy_shop.do(offered.command)
    assert again(busy_shop) is None
    assert busy_shop.view().tasks[0].note == "three"


def test_anything_else_done_since_takes_the_offer_away(busy_shop: Busy) -> None:
    task = busy_shop.view().tasks[0].id
    busy_shop.do(NoteOnTask(task, "one"))
    back(busy_shop)
    busy_shop.do(TakePayment(busy_shop.card, 1_000), "Tom")
    assert again(busy_shop) is None


def test_it_is_offered_to_nobody_else_and_on_its_own_day_only(busy_shop: Busy) -> None:
    busy_shop.do(NoteOnTask(busy_shop.view().tasks[0].id, "one"))
    back(busy_shop)
    assert again(busy_shop, "Nell") is None
    busy_shop.clock.forward(days=1)
    assert again(busy_shop) is None


def test_a_changed_card_is_changed_again_unless_somebody_changed_the_same(busy_shop: Busy) -> None:
    version = busy_shop.view().version
    busy_shop.do(ChangeCard(busy_shop.card, version, title="Points"), "Dora")
    busy_shop.do(TakeBack(last(busy_shop, "Dora")), "Dora")
    offered = again(busy_shop, "Dora")
    assert offered is not None
    busy_shop.do(offered.command, "Dora")
    assert busy_shop.view().title == "Points"
    busy_shop.do(TakeBack(last(busy_shop, "Dora")), "Dora")
    busy_shop.do(ChangeCard(busy_shop.card, busy_shop.view().version, title="Nell's title"), "Nell")
    assert again(busy_shop, "Dora") is None


def test_every_act_that_is_taken_back_can_be_asked_again() -> None:
    from shopcli.shop import commands

    assert set(INVERSES) <= set(commands.__all__)


def test_what_a_newer_or_older_program_asked_is_not_guessed() -> None:
    assert asked.from_text("NoteOnTask", json.dumps({"task_id": 1, "note": "x", "colour": "red"})) is None
    assert asked.from_text("NoteOnTask", "{}") is None
    assert asked.from_text("NoteOnTask", "") is None
    assert asked.from_text("AddTemplates", asked.to_text(commands_add(("oil-change",)))) == commands_add(
        ("oil-change",)
    )


def commands_add(templates: tuple[str, ...]) -> object:
    from shopcli.shop.commands import AddTemplates

    return AddTemplates(1, templates)
