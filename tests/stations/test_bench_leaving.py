"""Leaving the bench, and a card that is ready to close: a clock neither runs on nor reopens a card unasked."""

from collections.abc import Callable

import pytest

from shopcli.screens.dialogs import Confirm
from shopcli.screens.leaving import LeavingScreen
from shopcli.shop.commands import ClockOn, FinishTask, MoveCard, MovePart, SecondCheck
from shopcli.store.shop import Shop
from tests.conftest import Busy, Clock
from tests.stations.bench_help import SMALL, bench_shop, standing


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    return bench_shop(make_shop, clock)


async def test_leaving_with_a_clock_running_asks_first(busy: Busy, clock: Clock) -> None:
    busy.do(ClockOn(busy.task("bench-test:open-up").id))
    clock.forward(minutes=42)
    async with standing(busy, size=SMALL) as here:
        assert "ctrl+q Leave" in here.words()
        await here.press("ctrl+q")
        assert isinstance(here.app.screen, LeavingScreen)
        assert "Your clock runs on J00001: Take the cover off, 0:42 so far." in here.words()
        await here.press("ctrl+q", "escape")
        assert here.app.screen is here.bench
        assert here.app.return_code is None
        await here.press("ctrl+q", "c")
        assert here.app.return_code == 0
    assert busy.shop.fetch("SELECT ended_at - started_at FROM clock_entry") == [(42 * 60,)]


async def test_leaving_lets_the_clock_run_when_told_so(busy: Busy) -> None:
    busy.do(ClockOn(busy.task("bench-test:open-up").id))
    async with standing(busy) as here:
        await here.press("ctrl+q", "y")
        assert here.app.return_code == 0
    assert busy.shop.fetch("SELECT ended_at FROM clock_entry") == [(None,)]


async def test_nobody_is_asked_without_a_clock_of_their_own(busy: Busy) -> None:
    busy.do(ClockOn(busy.task("bench-test:open-up").id), by="Nell")
    async with standing(busy) as here:
        await here.press("ctrl+q")
        assert here.app.return_code == 0


async def test_a_clock_on_a_checked_card_asks_before_it_reopens_it(busy: Busy) -> None:
    for task in busy.view().tasks:
        busy.do(FinishTask(task.id, "for the test"))
    busy.do(SecondCheck(busy.task("bench-test:torque").id), by="Nell")
    for part in busy.view().parts:
        busy.do(MovePart(part.id, "not used"))
    busy.do(MoveCard(busy.card, "checked"), by="Olive")
    async with standing(busy) as here:
        await here.press("c")
        assert isinstance(here.app.screen, Confirm)
        assert "Card J00001 is checked and ready to close" in here.words()
        await here.press("enter", "escape")
        assert busy.view().state == "checked"
        assert not here.rows("SELECT id FROM clock_entry")
        await here.press("c", "y")
        assert busy.view().state == "in hand"
        assert "Card J00001 was checked; it is in hand again." in here.says
