"""The two that must never happen, on the screen: an engine cranked with the sump dry, a car handed over on hand-tight nuts."""

import pytest
from textual.widgets import OptionList

from shopcli.screens.desk.closing import ClosingScreen
from shopcli.screens.dialogs import Pick
from shopcli.shop.commands import ClockOn, FinishTask, ReopenTask
from shopcli.store.reads import bench
from tests.conftest import Busy
from tests.shop.test_bench_rules import drain
from tests.shop.test_never import NUTS, TORQUE, key_of_tag, leave, open_wheels
from tests.stations.bench_help import standing
from tests.stations.build import press, seen, write
from tests.stations.test_closing import choose


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_the_bench_refuses_to_start_with_the_sump_dry(busy_shop: Busy, size: tuple[int, int]) -> None:
    drain(busy_shop)
    async with standing(busy_shop, who="Nell", size=size) as here:
        here.bench.choose_task(busy_shop.task("oil-change:run-and-look").id)
        await here.settle()
        assert "Barred by sump dry" in here.says, "before a key is pressed"
        await here.press("d")
        for words in ("barred: sump dry", "Hung by Tom on Wed 25 Nov 10:15 with 'Drain the oil'"):
            assert words in here.says
    assert busy_shop.task("oil-change:run-and-look").state == "open"


async def test_the_closing_check_lets_no_car_go_on_hand_tight_nuts(busy_shop: Busy) -> None:
    card = open_wheels(busy_shop)
    tag = key_of_tag(busy_shop, card)
    busy_shop.card = card
    async with standing(busy_shop, who="Olive", size=(120, 40)) as here:
        await press(here.pilot, "k")
        assert isinstance(here.app.screen, ClosingScreen)
        picture = " ".join(seen(here.app).replace("▌", " ").split())
        assert f"Tag on the car: {NUTS}" in picture
        assert "Hung by Tom on Wed 25 Nov 10:15." in picture
        assert "w waives it" not in picture
        await press(here.pilot, "f3")
        assert "It cannot be closed yet" in seen(here.app)
        await press(here.pilot, "w")
        assert "Cannot be waived" in seen(here.app)
        assert bench.card(busy_shop.shop, card).tags[0].id == int(tag.partition(":")[2])
        await press(here.pilot, "enter")
        assert isinstance(here.app.screen, Pick)
        picture = seen(here.app)
        assert "Lift it by hand" in picture
        assert "Waive it" not in picture
        await press(here.pilot, "down", "enter")
        await write(here.pilot, " ")
        await press(here.pilot, "enter")
        assert "Nothing is typed yet" in seen(here.app), "no reason, no lifting"
    assert [t.name for t in bench.card(busy_shop.shop, card).tags] == [NUTS]
    assert bench.card(busy_shop.shop, card).state == "in hand"


async def test_who_did_the_work_or_left_the_shop_signs_no_second_check(busy_shop: Busy) -> None:
    card = busy_shop.card = open_wheels(busy_shop)
    torque = next(t for t in bench.card(busy_shop.shop, card).tasks if t.task.key == TORQUE)
    busy_shop.do(ReopenTask(torque.id))
    busy_shop.do(ClockOn(torque.id), "Olive")
    busy_shop.do(FinishTask(torque.id, "for the test"))
    leave(busy_shop, "Nell")
    async with standing(busy_shop, who="Tom") as here:
        here.bench.choose_task(torque.id)
        await here.settle()
        await here.press("v")
        await here.settle()
        assert isinstance(here.app.screen, Pick)
        offered = here.words()
        assert {name for name in busy_shop.people if f"{name} " in offered.partition("Who signs")[2]} >= {
            "Dora",
            "Olive",
        }
        assert "Nell" not in offered
        assert len(here.app.screen.query_one(OptionList).options) == 2, "neither Tom nor Nell"
        await here.type("olive")
        assert "the second check is for somebody who did not do the work" in here.says
        await press(here.pilot, "k")
        await choose(here.pilot, "second")
        await press(here.pilot, "enter", "enter")
        assert "did not do the work" in seen(here.app), "nor from the closing check"
    assert next(t for t in bench.card(busy_shop.shop, card).tasks if t.id == torque.id).second_by == ""
