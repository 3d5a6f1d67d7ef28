"""Pictures of the sheets at three sizes: what is known and where from, what speaks against it, and the form."""

import pytest
from textual.pilot import Pilot

from shopcli.shop.commands import EnterSpec
from shopcli.shop.sheet_commands import ChangeVehicleFacts, EnterOnSheet, MakeSheet
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, still, story, write

THREE = pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 50)], ids=["80x24", "120x40", "200x50"])
BOOK = {"document": "Lark 1200 owner's handbook, 1961"}
# Invented for the pictures.
NUMBERS = (
    ("plug_gap", "length", "plug gap", ("24 thou", "25 thou", "28 thou"), "14", ""),
    ("valve_clearance", "length", "valve clearance, inlet", ("", "0.15 mm", ""), "16", "cold"),
    ("head_torque", "torque", "cylinder head nut torque", ("22 lbf ft", "", "25 lbf ft"), "17", ""),
    ("intake_vacuum", "pressure", "intake vacuum", ("", "-430 mmHg", ""), "18", "hot"),
    ("idle_speed", "rotation", "idle speed", ("700 rpm", "", "800 rpm"), "19", "warm"),
)


@pytest.fixture
def told(shop: Shop) -> Story:
    """The Lark under an own sheet with numbers from its handbook, one contradicted, one of common practice."""
    told = story(shop)
    sheet = told.do(MakeSheet("lark-1200-late", "Lark 1200, 1961 to 1964", "demo-lark")).id
    for name, quantity, label, (low, nominal, high), page, state in NUMBERS:
        command = EnterOnSheet(
            sheet,
            name,
            low,
            nominal,
            high,
            state,
            "handbook",
            **BOOK,
            page=page,
            quantity=quantity,
            label=label,
        )
        told.do(command)
    told.do(
        EnterOnSheet(
            sheet, "oil_fill", "", "2.5 L", kind="practice", quantity="volume", label="engine oil fill",
            note="with the strainer cleaned",
        )
    )  # fmt: skip
    car = told.vehicles["LRK 120"]
    told.do(ChangeVehicleFacts(car, 1, sheet="lark-1200-late", facts=(("volts", "6"),)))
    told.do(EnterSpec(car, "points_gap", "", "0.50 mm", document="Leaflet in the glovebox", page="2"))
    return told


@THREE
@pytest.mark.parametrize("keys", [(), ("enter",)], ids=["list", "typing"])
def test_sheets(told: Story, snap_compare, size: tuple[int, int], keys: tuple[str, ...]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f10", *keys)
        if keys:
            await write(pilot, "14-16-18 thou")
        await still(pilot)

    assert snap_compare(told.app("Tom"), terminal_size=size, run_before=stand)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=["80x24", "120x40"])
def test_sheets_facts(told: Story, snap_compare, size: tuple[int, int]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f10", "f12")
        await still(pilot)

    assert snap_compare(told.app("Tom"), terminal_size=size, run_before=stand)


def test_sheets_history(told: Story, snap_compare) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f10", "f3")
        await still(pilot)

    assert snap_compare(told.app("Tom"), terminal_size=(80, 24), run_before=stand)
