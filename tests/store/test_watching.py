"""Another terminal's change shows by itself: a second process writes to the same file while somebody types."""

import asyncio
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from textual.widgets import Input

from shopcli.errors import Refused
from shopcli.screens.app import ShopApp
from shopcli.screens.bench.station import BenchScreen
from shopcli.shop.commands import AddCustomer, ClockOff, NoteOnTask
from shopcli.store.place import find_place
from shopcli.store.reads import people
from shopcli.store.shop import Shop, open_shop
from shopcli.store.watching import FileWatch, ServerWatch, Watcher, watch
from tests.conftest import SETTINGS, Busy, Clock
from tests.postgres import Cluster, found_or_skip
from tests.stations.bench_help import bench_shop
from tests.stations.build import press, seen, until

WRITER = """
import sys
from shopcli.shop.commands import ChangeCard, LeaveOut
from shopcli.store.shop import open_shop
shop = open_shop(sys.argv[1])
shop.do(LeaveOut(int(sys.argv[2]), "told so by telephone"), by=4)
version = shop.fetch("SELECT version FROM card WHERE id = 1")[0][0]
shop.do(ChangeCard(1, version, title="Written elsewhere"), by=4)
"""


def write_elsewhere(busy: Busy, task_id: int) -> None:
    """Leave a task out and change the title, from another process."""
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    command = [sys.executable, "-c", WRITER, str(busy.shop.place.file), str(task_id)]
    subprocess.run(command, check=True, env=env, timeout=120)


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    return bench_shop(make_shop, clock)


def test_a_watch_sees_what_others_write_and_nothing_else(busy: Busy) -> None:
    seen = watch(busy.shop.place)
    assert isinstance(seen, FileWatch)
    assert not seen.changed(), "the first time it only looks"
    assert not seen.changed()
    busy.shop.fetch("SELECT COUNT(*) FROM task")
    assert not seen.changed(), "reading is no change"
    busy.do(NoteOnTask(busy.task("bench-test:pump").id, "leaks"))
    assert seen.changed()
    assert not seen.changed(), "each change is told once"
    write_elsewhere(busy, busy.task("bench-test:pump").id)
    assert seen.changed()
    seen.close()


def heard(watched: ServerWatch) -> bool:
    """Ask until something is heard; a busy machine may take its time."""
    return any(watched.changed() for _ in range(20))


def test_a_server_tells_what_others_write(postgres_url: str) -> None:
    shop = open_shop(postgres_url, settings=SETTINGS, now=Clock())
    seen = ServerWatch(shop.place, wait_s=0.2)
    assert not seen.changed(), "the first time it only begins to listen"
    shop.fetch("SELECT COUNT(*) FROM task")
    assert not seen.changed(), "reading is no change"
    shop.do(AddCustomer("Ada"), by=1)
    assert heard(seen)
    assert not seen.changed(), "each change is told once"
    with pytest.raises(Refused):
        shop.do(ClockOff(), by=1)
    assert not seen.changed(), "what was refused is no change"
    seen.close()
    shop.close()


def test_a_server_that_goes_away_is_told_and_comes_back() -> None:
    server = Cluster(found_or_skip())
    told: list[str] = []
    try:
        server.start()
        place = find_place(server.make("watched"))
        watcher = Watcher(
            place,
            lambda: told.append("changed"),
            0.05,
            lambda there: told.append("back" if there else "gone"),
        )
        watcher.start()
        wait_until(lambda: watcher._watch._heard_once)  # type: ignore[attr-defined]
        server.again()
        wait_until(lambda: "changed" in told)
        watcher.stop()
        watcher._thread.join(10)
    finally:
        server.stop()
    assert told == ["gone", "back", "changed"], "what was missed meanwhile counts as a change"


def wait_until(holds: Callable[[], object]) -> None:
    end = time.monotonic() + 30
    while not holds():
        assert time.monotonic() < end
        time.sleep(0.02)


def test_a_watcher_survives_records_out_of_reach(busy: Busy) -> None:
    told: list[int] = []
    watcher = Watcher(busy.shop.place, lambda: told.append(1), every_s=0.01)
    watcher._watch.changed = lambda: 1 / 0  # type: ignore[method-assign,assignment,return-value]
    watcher.start()
    watcher.stop()
    watcher._thread.join(5)
    assert not watcher._thread.is_alive()
    assert told == []


def test_out_of_reach_is_told_once_and_asked_again_after_a_longer_while(busy: Busy) -> None:
    waits: list[float] = []
    told: list[bool] = []
    watcher = Watcher(busy.shop.place, lambda: None, 0.5, told.append)
    watcher._watch.changed = lambda: 1 / 0  # type: ignore[method-assign,assignment,return-value]

    def waited(seconds: float) -> None:
        waits.append(seconds)
        if len(waits) == 7:
            watcher.stop()

    watcher._end.wait = waited  # type: ignore[method-assign,assignment]
    watcher._run()
    assert told == [False]
    assert waits == [1.0, 2.0, 4.0, 8.0, 10.0, 10.0, 10.0]


async def test_records_out_of_reach_stand_on_top_until_they_are_back(busy: Busy) -> None:
    who = next(p for p in people.people(busy.shop) if p.name == "Tom")
    app = ShopApp(busy.shop, who, card_id=busy.card)
    async with app.run_test(notifications=True) as pilot:
        await press(pilot, "f6")
        assert app._watcher
        app._watcher._reach(False)
        await until(pilot, lambda: "! records out of reach, asking again" in seen(app))
        assert "no clock" not in seen(app).splitlines()[0]
        app._watcher._reach(True)
        await until(pilot, lambda: "records out of reach" not in seen(app))
        assert [n.message for n in app._notifications] == ["The records can be reached again."]


async def test_at_the_bench_the_task_and_what_is_typed_stay(busy: Busy) -> None:
    who = next(p for p in people.people(busy.shop) if p.name == "Tom")
    app = ShopApp(busy.shop, who, card_id=busy.card)
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await pilot.press("f6")
        await until(pilot, lambda: isinstance(app.screen, BenchScreen) and app.screen.view is not None)
        bench = app.screen
        assert isinstance(bench, BenchScreen)
        gap = busy.task("bench-test:set-gap").id
        bench.choose_task(gap)
        await pilot.press("1", "6", "space", "t", "h")
        await asyncio.to_thread(write_elsewhere, busy, busy.task("bench-test:pump").id)
        pump = "bench-test:pump"

        def shows() -> bool:
            view = bench.view
            return view is not None and next(t.state for t in view.tasks if t.task.key == pump) == "left out"

        await until(pilot, shows)
        assert bench.chosen == gap
        assert bench.entry.is_open
        assert bench.entry.query_one(Input).value == "16 th"


async def test_at_the_desk_the_text_and_the_chosen_card_stay(busy: Busy) -> None:
    who = next(p for p in people.people(busy.shop) if p.name == "Dora")
    app = ShopApp(busy.shop, who)
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        find = app.screen.query_one("#find", Input)
        await pilot.press("a", "d", "a")
        await asyncio.to_thread(write_elsewhere, busy, busy.task("bench-test:pump").id)

        def shows() -> bool:
            from shopcli.screens.desk.card_list import CardList

            row = app.screen.query_one(CardList).chosen
            return row is not None and row.title == "Written elsewhere"

        await until(pilot, shows)
        assert find.value == "ada"
        assert app.focused is find
