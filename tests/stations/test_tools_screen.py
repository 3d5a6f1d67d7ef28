"""The register of tools on the screen: written, changed, calibrated, out of use, each in the records."""

import pytest
from textual.pilot import Pilot

from shopcli.screens.app import ShopApp
from shopcli.screens.desk.tools import ToolsScreen
from shopcli.screens.dialogs import AskText
from shopcli.shop.commands import AddTool
from shopcli.store.reads.people import person
from shopcli.store.reads.tools import tools
from shopcli.store.shop import Shop
from tests.stations.build import HOSTILE, press, seen, settle, still, write


def fill(shop: Shop) -> Shop:
    for command in (
        AddTool(
            "wrench 1", "torque wrench", "5 to 25 Nm", "0.1", calibrated="2026-03-02", certificate="C 11"
        ),
        AddTool("wrench 2", "torque wrench", "20 to 100 Nm", "0.5", calibrated="2025-10-20", cycles=812),
        AddTool("feelers", "feeler set", blades="1.5 2 3 4 5 6 8 10 12 15 20 25 thou"),
        AddTool("tyre gauge", "tyre gauge", "0 to 60 psi", note="the long hose leaks"),
    ):
        shop.do(command, by=1)
    return shop


def app(shop: Shop) -> ShopApp:
    return ShopApp(shop, person(shop, "Dora"))


async def open_tools(pilot: Pilot[None]) -> ToolsScreen:
    await settle(pilot)
    pilot.app.action_tools()  # type: ignore[attr-defined]
    await settle(pilot)
    assert isinstance(pilot.app.screen, ToolsScreen)
    return pilot.app.screen


async def answer(pilot: Pilot[None], *texts: str) -> None:
    for text in texts:
        await write(pilot, text)
        await press(pilot, "enter")


async def ask(pilot: Pilot[None], key: str) -> None:
    """Press a key that asks something: waiting for the worker would mean waiting for the answer."""
    await pilot.press(key)
    await pilot.pause()


async def type_in(pilot: Pilot[None], *texts: str) -> None:
    for text in texts:
        field = pilot.app.focused
        assert field is not None
        field.value = text  # type: ignore[attr-defined]
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()


async def done(pilot: Pilot[None]) -> None:
    for _ in range(4):
        busy = [w for w in pilot.app.workers if w.group in {"acts", "looks"}]
        if busy:
            await pilot.app.workers.wait_for_complete(busy)
        await pilot.pause()


async def test_a_wrench_is_written_down(shop: Shop) -> None:
    async with app(shop).run_test(size=(120, 40), notifications=True) as pilot:
        await open_tools(pilot)
        assert "No tool is written down yet" in seen(pilot.app)  # type: ignore[arg-type]
        await ask(pilot, "f2")
        await type_in(pilot, "torque", "wrench 2", "20 to 100 Nm", "0.5", "2.3.2026")
        await done(pilot)
        (tool,) = tools(shop)
        assert (tool.name, tool.kind, str(tool.calibrated)) == ("wrench 2", "torque wrench", "2026-03-02")
        assert "wrench 2, torque wrench, 20 to 100 N·m, marked every 0.5" in seen(pilot.app)  # type: ignore[arg-type]


async def test_a_wrong_range_is_refused_in_its_field(shop: Shop) -> None:
    async with app(shop).run_test(size=(80, 24), notifications=True) as pilot:
        await open_tools(pilot)
        await ask(pilot, "f2")
        await type_in(pilot, "torque", "wrench 2", "20 to 100 psi")
        assert isinstance(pilot.app.screen, AskText)
        assert "torque is wanted" in seen(pilot.app)  # type: ignore[arg-type]
        await press(pilot, "escape")
        assert tools(shop) == ()


async def test_a_feeler_set_is_asked_for_its_blades(shop: Shop) -> None:
    async with app(shop).run_test(size=(120, 40), notifications=True) as pilot:
        await open_tools(pilot)
        await ask(pilot, "n")
        await type_in(pilot, "feeler", "feelers", "2 3 4 thou", "")
        await done(pilot)
        (tool,) = tools(shop)
        assert (tool.blades, tool.calibrated) == ("2 3 4 thou", None)


async def test_a_calibration_is_noted(shop: Shop) -> None:
    fill(shop)
    async with app(shop).run_test(size=(120, 40), notifications=True) as pilot:
        await open_tools(pilot)
        assert "! calibration ran out on 2026-10-20" in seen(pilot.app)  # type: ignore[arg-type]
        await press(pilot, "down", "down")
        chosen = pilot.app.screen.chosen()  # type: ignore[attr-defined]
        assert chosen.name == "wrench 2"
        await ask(pilot, "c")
        await type_in(pilot, "today", "C 20")
        await done(pilot)
        noted = next(t for t in tools(shop) if t.id == chosen.id)
        assert (str(noted.calibrated), noted.certificate) == ("2026-11-25", "C 20")


async def test_a_name_is_changed_and_a_tool_goes_out_of_use(shop: Shop) -> None:
    fill(shop)
    async with app(shop).run_test(size=(120, 40), notifications=True) as pilot:
        screen = await open_tools(pilot)
        first = screen.chosen()
        assert first is not None
        await ask(pilot, "enter")
        await type_in(pilot, "name", "the old one")
        await done(pilot)
        assert "the old one" in {t.name for t in tools(shop)}
        await ask(pilot, "o")
        await type_in(pilot, "dropped")
        await done(pilot)
        gone = [t for t in tools(shop, retired=True) if t.retired_for]
        assert [g.retired_for for g in gone] == ["dropped"]
        await press(pilot, "a")
        assert "out of use: dropped" in seen(pilot.app)  # type: ignore[arg-type]
        await press(pilot, "escape")
        assert not isinstance(pilot.app.screen, ToolsScreen)


async def test_odd_names_are_shown_not_obeyed(shop: Shop) -> None:
    for number, text in enumerate(HOSTILE):
        shop.do(AddTool(f"{number} {text}"[:40], "strobe lamp", note=text[:400]), by=1)
    async with app(shop).run_test(size=(80, 24), notifications=True) as pilot:
        await open_tools(pilot)
        await still(pilot)
        assert "[/oops]" in seen(pilot.app)  # type: ignore[arg-type]


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 50)], ids=["80x24", "120x40", "200x50"])
def test_the_register(shop: Shop, snap_compare, size: tuple[int, int]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await open_tools(pilot)
        await still(pilot)

    assert snap_compare(app(fill(shop)), terminal_size=size, run_before=stand)
