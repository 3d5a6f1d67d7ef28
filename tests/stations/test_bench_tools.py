"""The tool for the number: named at the bench, noted with the reading, and said when its calibration is out."""

from collections.abc import Callable
from pathlib import Path

import pytest
from textual.widgets import Input

from shopcli.shop.commands import AddTool
from shopcli.store.shop import Shop
from tests.conftest import Busy, Clock
from tests.stations.bench_help import MIDDLE, SMALL, bench_shop, standing


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    made = bench_shop(make_shop, clock)
    made.do(AddTool("wrench 2", "torque wrench", "20 to 100 Nm", "0.5", calibrated="2026-01-10"))
    made.do(AddTool("feelers", "feeler set", blades="2 3 4 5 6 8 10 12 15 thou"))
    return made


async def test_the_wrench_and_its_setting_stand_by_the_number(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("torque")
        assert "Tool: wrench 2, 20 to 100 N·m, set 42.5 N·m" in here.words()
        words = " ".join(here.words().split())
        assert "limits" not in words
        assert "= 30 to 33 lbf·ft" in words, "Tom reads lbf·ft: beside the figure on the wrench"
        await here.press("4", "2")
        assert "A bare figure" not in here.words()
        assert "= 42 N·m" in " ".join(here.words().split())


async def test_the_blades_stand_by_the_gap_also_on_a_small_terminal(busy: Busy) -> None:
    async with standing(busy, size=SMALL) as here:
        await here.go("set-gap")
        assert "Tool: feelers: 15 thou" in here.words()


async def test_the_wrench_is_named_where_there_is_little_room(busy: Busy) -> None:
    async with standing(busy, size=SMALL) as here:
        await here.go("torque")
        assert "set 42.5 N·m" in here.words()


async def test_the_reading_notes_the_tool(busy: Busy) -> None:
    async with standing(busy, size=MIDDLE) as here:
        await here.go("set-gap")
        await here.type("15")
        (reading,) = busy.task("bench-test:set-gap").readings
        assert (reading.typed, reading.tool, reading.tool_note) == ("15", "feelers", "")


async def test_a_tool_past_its_calibration_is_said_before_and_noted_after(busy: Busy, clock: Clock) -> None:
    clock.forward(days=100)
    async with standing(busy) as here:
        await here.go("torque")
        assert "! wrench 2, 20 to 100 N·m, set 42.5 N·m: calibration ran out" in here.words()
        await here.type("42")
        (reading,) = busy.task("bench-test:torque").readings
        assert (reading.tool, reading.tool_note) == ("wrench 2", "calibration ran out on 2027-01-10")
        assert "Taken with wrench 2: calibration ran out" in here.says


async def test_another_tool_is_chosen_for_the_task(busy: Busy) -> None:
    busy.do(AddTool("old wrench", "torque wrench", "10 to 80 Nm", "1"))
    async with standing(busy) as here:
        await here.go("torque")
        await here.press("p")
        await here.type("say which tool")
        await here.type("old wr")
        assert "old wrench: no calibration is noted. It is noted with the reading." in here.says
        assert "! old wrench, 10 to 80 N·m: no calibration is noted" in here.words()
        await here.type("42")
        (reading,) = busy.task("bench-test:torque").readings
        assert (reading.tool, reading.tool_note) == ("old wrench", "no calibration is noted")


async def test_the_register_is_reached_from_the_bench(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("p")
        await here.type("register")
        assert "20 to 100 N·m, marked every 0.5" in here.words()
        await here.press("escape")
        assert here.app.screen is here.bench


async def test_the_bench_sheet_is_written_from_the_bench(busy: Busy, tmp_path: Path) -> None:
    async with standing(busy) as here:
        for kind, name in (("pdf", "sheet.pdf"), ("text", "sheet.txt")):
            await here.press("p")
            await here.type("hang on the car")
            await here.type(kind)
            field = here.app.focused
            assert isinstance(field, Input)
            field.value = str(tmp_path / name)
            await here.press("enter")
            await here.app.workers.wait_for_complete()
            await here.settle()
            assert f"Written: {tmp_path}" in here.says.replace("\n", "")
        assert (tmp_path / "sheet.pdf").read_bytes().startswith(b"%PDF-")
        assert "BENCH SHEET J00001" in (tmp_path / "sheet.txt").read_text(encoding="utf-8")
