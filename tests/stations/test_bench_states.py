"""Every state of a card at the bench, as it is read off the screen at three sizes: one application walks them all."""

from collections.abc import Awaitable, Callable
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from shopcli.shop.clock_commands import GoOnBreak
from shopcli.shop.commands import ClockOn, FinishTask, LeaveOut, MoveCard, NoteOnTask, OpenCard, TakeReading
from shopcli.store.shop import Shop
from shopcli.worklists.load import load_library
from tests.conftest import Busy, Clock
from tests.stations.bench_help import KIT, LARGE, MIDDLE, SMALL, Standing, bench_shop, standing
from tests.worklists.small import put

MANY = 'title = "Many steps"\nsystem = "engine"\n' + "".join(
    f'[[task]]\nid = "step-{n}"\ntitle = "Step {n} of a long job"\nminutes = 5\n' for n in range(1, 61)
)


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock, tmp_path: Path) -> Busy:
    put(tmp_path / "more", {"tasks/many.toml": MANY})
    return bench_shop(make_shop, clock, load_library(KIT, tmp_path / "more", with_shipped=False))


def task(busy: Busy, key: str) -> int:
    return busy.task(f"bench-test:{key}").id


def read(busy: Busy, key: str, slot: str, typed: str) -> None:
    busy.do(TakeReading(task(busy, key), slot, typed))


async def ready(here: Standing) -> None:
    """Nobody did anything yet: the first step with its cautions."""


async def clocks(here: Standing) -> None:
    busy = here.busy
    busy.do(ClockOn(task(busy, "open-up")))
    busy.do(ClockOn(task(busy, "measure")), "Nell")
    busy.clock.forward(minutes=7)
    busy.do(GoOnBreak(), "Nell")
    busy.clock.forward(minutes=65)


async def own_break(here: Standing) -> None:
    here.busy.do(GoOnBreak())
    here.busy.clock.forward(minutes=15)


async def grid_half_filled(here: Standing) -> None:
    busy = here.busy
    busy.do(FinishTask(task(busy, "open-up")))
    read(busy, "measure", "clearance@1 inlet|as found", "4 thou")
    read(busy, "measure", "clearance@2 inlet|as found", "6 thou")
    read(busy, "measure", "clearance@1 exhaust|as found", "9 thou")
    await here.go("measure")


async def practice_unjudged(here: Standing) -> None:
    read(here.busy, "set-gap", "points gap|as found", "0.6 mm")
    await here.go("set-gap")


async def number_missing(here: Standing) -> None:
    await here.go("pump")


async def left_out(here: Standing) -> None:
    here.busy.do(LeaveOut(task(here.busy, "pump"), "no manual for it, the customer brings one"))
    await here.go("pump")


async def second_pair_of_eyes(here: Standing) -> None:
    busy = here.busy
    read(busy, "torque", "torque|as left", "42 Nm")
    busy.do(FinishTask(task(busy, "torque")), "Nell")
    await here.go("torque")


async def barred(here: Standing) -> None:
    await here.go("run")


async def changed_by_another(here: Standing) -> None:
    busy = here.busy
    await here.go("set-gap")
    busy.do(NoteOnTask(task(busy, "set-gap"), "cam worn, Nell looked"), "Nell")
    busy.do(FinishTask(task(busy, "set-gap"), "as it stands"), "Nell")


async def refused(here: Standing) -> None:
    await here.go("run")
    await here.press("d")


async def held(here: Standing) -> None:
    here.bench.said.clear()
    here.busy.do(MoveCard(here.busy.card, "held", "waiting for the customer"), "Dora")


async def nothing_on_it(here: Standing) -> None:
    card = here.busy.do(OpenCard(here.busy.vehicle, (), title="Noise in third"), "Dora").id  # type: ignore[attr-defined]
    here.bench.show_card(card)


async def sixty_tasks(here: Standing) -> None:
    card = here.busy.do(OpenCard(here.busy.vehicle, ("many",)), "Dora").id  # type: ignore[attr-defined]
    here.bench.show_card(card)
    await here.settle()
    here.bench.choose_task(here.bench.view.tasks[29].id)  # type: ignore[union-attr]


STATES: tuple[Callable[[Standing], Awaitable[None]], ...] = (
    *(ready, clocks, own_break, grid_half_filled, practice_unjudged, number_missing, left_out),
    *(second_pair_of_eyes, barred, refused, changed_by_another, held, nothing_on_it, sixty_tasks),
)


async def walk(busy: Busy, snapshot: SnapshotAssertion, sizes: tuple[tuple[int, int], ...]) -> None:
    async with standing(busy, size=SMALL) as here:
        for state in STATES:
            await state(here)
            here.bench.read_again()
            await here.settle()
            for width, height in sizes:
                await here.pilot.resize_terminal(width, height)
                await here.settle()
                lines = [line.rstrip() for line in here.words().split("\n")]
                assert len(lines) == height
                assert "\n".join(lines) == snapshot(name=f"{state.__name__} {width}x{height}")


async def test_every_state(busy: Busy, snapshot: SnapshotAssertion) -> None:
    await walk(busy, snapshot, (SMALL, MIDDLE))


@pytest.mark.long
async def test_every_state_where_there_is_room(busy: Busy, snapshot: SnapshotAssertion) -> None:
    await walk(busy, snapshot, (LARGE,))
