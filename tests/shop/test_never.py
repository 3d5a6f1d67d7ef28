"""The two that must never happen, in the core: an engine cranked with the sump dry, a car handed over on hand-tight nuts.

The same two at the bench and the desk: `tests/stations/test_never_on_screen.py`; from the shell: `tests/cli/test_never_in_the_shell.py`.
"""

import pytest
from sqlmodel import Session, select

from shopcli.errors import BadInput, Barred, Refused
from shopcli.shop.commands import (
    CloseCard,
    FinishTask,
    LeaveOut,
    LiftTag,
    MoveCard,
    MovePart,
    OpenCard,
    ReopenTask,
    SecondCheck,
    Waive,
)
from shopcli.shop.records import Person
from shopcli.store.reads import bench
from tests.conftest import Busy
from tests.shop.test_bench_rules import drain

NUTS, TORQUE = "wheel nuts hand-tight", "brakes-adjust:torque-nuts"


def open_wheels(busy: Busy) -> int:
    """Open a card for the brakes and do it up to the wheels being on by hand; everything else is settled."""
    card = busy.do(OpenCard(busy.vehicle, ("brakes-adjust",), odometer=48_213), "Dora").id
    do = ("loosen-nuts", "raise-car", "wheels-off", "wheels-on", "lower-car")
    for task in bench.card(busy.shop, card).tasks:
        if task.task.key.partition(":")[2] in do:
            busy.do(FinishTask(task.id, "for the test"))
        else:
            busy.do(LeaveOut(task.id, "not on this visit"))
        if task.task.second and task.task.key.partition(":")[2] in do:
            busy.do(SecondCheck(task.id), "Nell")
    for part in bench.card(busy.shop, card).parts:
        busy.do(MovePart(part.id, "not used"))
    return card


def leave(busy: Busy, name: str) -> None:
    """Let somebody leave the shop; there is no act for it yet, the record knows it already."""
    with Session(busy.shop.engine) as session:
        session.exec(select(Person).where(Person.name == name)).one().active = False
        session.commit()


def key_of_tag(busy: Busy, card: int, name: str = NUTS) -> str:
    return next(f"tag:{t.id}" for t in bench.card(busy.shop, card).tags if t.name == name)


@pytest.mark.parametrize("key", ["oil-change:run-and-look", "points:check-timing", "points:road-test"])
def test_nothing_starts_the_engine_with_the_sump_dry(busy_shop: Busy, key: str) -> None:
    drain(busy_shop)
    with pytest.raises(Barred, match=r"is barred: (sump dry|car on stands)") as caught:
        busy_shop.do(FinishTask(busy_shop.task(key).id, "for the test"))
    assert "Hung by Tom on Wed 25 Nov 10:15 with '" in caught.value.hint
    assert "sump dry" in busy_shop.task(key).barred_by
    assert busy_shop.task(key).state == "open"


def test_hand_tight_nuts_stand_in_the_closing_check_with_who_and_when(busy_shop: Busy) -> None:
    card = open_wheels(busy_shop)
    (nuts,) = bench.hindrances(busy_shop.shop, card)
    assert nuts.what == f"Tag on the car: {NUTS}"
    assert nuts.why == "Wheel nuts not torqued. Hung by Tom on Wed 25 Nov 10:15."
    assert not nuts.waivable
    for command in (CloseCard(card), MoveCard(card, "checked")):
        with pytest.raises(Refused, match=NUTS):
            busy_shop.do(command)
    with pytest.raises(Refused, match="closed through the closing check"):
        busy_shop.do(MoveCard(card, "closed"))
    with pytest.raises(Refused, match="cannot be voided"):
        busy_shop.do(MoveCard(card, "void", "the customer wants it now"))
    assert bench.card(busy_shop.shop, card).state == "in hand"


def test_hand_tight_nuts_bar_the_other_card_of_the_car_too(busy_shop: Busy) -> None:
    open_wheels(busy_shop)
    other = busy_shop.do(OpenCard(busy_shop.vehicle, title="Wiper blades", odometer=48_213)).id
    with pytest.raises(Refused, match=NUTS):
        busy_shop.do(CloseCard(other))


def test_a_tag_is_never_waived_and_lifted_only_by_name_with_a_reason(busy_shop: Busy) -> None:
    card = open_wheels(busy_shop)
    key = key_of_tag(busy_shop, card)
    with pytest.raises(Refused, match="cannot be waived") as caught:
        busy_shop.do(Waive(card, key, "Olive says it will do"), "Olive")
    assert "lift it by hand with a reason" in caught.value.hint
    assert busy_shop.shop.fetch("SELECT * FROM waiver") == []
    number = int(key.partition(":")[2])
    for none in ("  ", "5", "6 thou", "40 ft-lb", '.006"', "?!", "1 2 3"):
        with pytest.raises(BadInput, match="needs a reason"):
            busy_shop.do(LiftTag(number, none))
    with pytest.raises(Refused, match=NUTS):
        busy_shop.do(CloseCard(card))
    busy_shop.do(LiftTag(number, "torqued by Nell with the long wrench, seen"))
    kept = busy_shop.shop.fetch("SELECT lifted_for, lifted_by FROM tag WHERE id = ?", (number,))
    assert kept == [("torqued by Nell with the long wrench, seen", busy_shop.people["Tom"])]
    busy_shop.do(CloseCard(card))


def test_torqued_and_seen_by_a_second_person_the_car_may_go(busy_shop: Busy) -> None:
    card = open_wheels(busy_shop)
    torque = next(t for t in bench.card(busy_shop.shop, card).tasks if t.task.key == TORQUE)
    busy_shop.do(ReopenTask(torque.id))
    busy_shop.do(FinishTask(torque.id, "for the test"))
    with pytest.raises(Refused, match="Not checked by a second person"):
        busy_shop.do(CloseCard(card))
    busy_shop.do(SecondCheck(torque.id), "Nell")
    owed = [h.key for h in bench.hindrances(busy_shop.shop, card)]
    assert all(key.startswith("owed:") for key in owed)
    for key in owed:
        busy_shop.do(Waive(card, key, "for the test"))
    busy_shop.do(CloseCard(card))


def test_taking_back_one_that_hung_a_tag_leaves_it_while_another_still_stands_for_it(busy_shop: Busy) -> None:
    """Slackened first, put on by hand later: taking back the slackening does not make the nuts tight."""
    card = open_wheels(busy_shop)
    slacken = next(
        t for t in bench.card(busy_shop.shop, card).tasks if t.task.key == "brakes-adjust:loosen-nuts"
    )
    busy_shop.do(ReopenTask(slacken.id))
    (tag,) = (t for t in bench.card(busy_shop.shop, card).tags if t.name == NUTS)
    assert tag.task != slacken.task.title


def test_who_left_the_shop_signs_no_second_check(busy_shop: Busy) -> None:
    card = open_wheels(busy_shop)
    torque = next(t for t in bench.card(busy_shop.shop, card).tasks if t.task.key == TORQUE)
    busy_shop.do(ReopenTask(torque.id))
    busy_shop.do(FinishTask(torque.id, "for the test"))
    leave(busy_shop, "Nell")
    with pytest.raises(Refused, match="Nell does not work here now"):
        busy_shop.do(SecondCheck(torque.id), "Nell")
    busy_shop.do(SecondCheck(torque.id), "Olive")
