"""The sums at hand: chosen, filled in, answered while one types; nothing typed is ever lost, nothing is written."""

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from shopcli.screens.acts import ACTS
from shopcli.screens.app import ShopApp
from shopcli.screens.dialogs import Pick
from shopcli.screens.help import HelpScreen
from shopcli.screens.widgets.topbar import TopBar
from shopcli.screens.workings.hand import Hand
from shopcli.screens.workings.panel import WorkingsPanel
from shopcli.store.shop import Shop
from shopcli.worklists.model import VehicleFacts
from shopcli.worklists.workings_at_hand import every_working, working_named
from shopcli.worklists.workings_examples import example_inputs
from tests.stations.build import MIXED, MIXED_IDS, Story, press, settle, still, story, write
from tests.stations.sums_help import about, answered, at_sums, beside, field, fill, open_panel

SIZES = [(80, 24), (120, 40)]
FOUR = VehicleFacts(cylinders=("1", "2", "3", "4"), firing_order=("1", "3", "4", "2"), rotor="ccw")
PICTURES = {
    "lead-order": {},
    "tightening-order": {"pattern": "head", "rows": "2", "columns": "5", "torque_nm": "42 ftlb"},
    "compression-spread": {
        "readings_psi": "150 148 118 152",
        "rule": "lowest",
        "allowed_percent": "75",
        "minimum_psi": "8,5 bar",
    },
}


@pytest.fixture
def told(shop: Shop) -> Story:
    return story(shop)


# Choosing -------------------------------------------------------------------------------------------------


async def test_a_sum_is_chosen_by_typing(told: Story) -> None:
    async with at_sums(told) as (panel, pilot):
        assert isinstance(pilot.app.screen, Pick)
        await write(pilot, "lead order")
        await press(pilot, "enter")
        assert panel.working is working_named("lead-order")
        assert pilot.app.screen is panel
        assert isinstance(pilot.app.focused, Input)
        assert "Still wanted: Firing order; Rotor turns, seen from above." in answered(panel)
        assert "Ignition off before a lead is touched" in answered(panel)


async def test_the_subject_narrows_too_and_esc_goes_all_the_way_back(told: Story) -> None:
    async with at_sums(told) as (_panel, pilot):
        await write(pilot, "brakes")
        pick = pilot.app.screen
        assert isinstance(pick, Pick)
        assert {c.key for c in pick._shown} == {"drum", "disc"}
        await press(pilot, "escape")
        assert not isinstance(pilot.app.screen, Pick | WorkingsPanel)


async def test_esc_in_the_question_stays_where_one_was(told: Story) -> None:
    async with at_sums(told, "stages") as (panel, pilot):
        await press(pilot, "f2")
        assert isinstance(pilot.app.screen, Pick)
        await press(pilot, "escape")
        assert pilot.app.screen is panel
        await press(pilot, "escape")
        assert pilot.app.screen is not panel


# The form ---------------------------------------------------------------------------------------------------


async def test_the_answer_follows_every_key(told: Story) -> None:
    async with at_sums(told, "dwell-percent") as (panel, pilot):
        await press(pilot, *"50")
        assert "Still wanted: Lobes on this set of points." in answered(panel)
        await press(pilot, "enter", "4")
        assert "55.6 %" in answered(panel)  # 100 x 50 / 90
        assert beside(panel, "dwell_deg") == "= 50° distributor"
        await press(pilot, "backspace", "6")
        assert "83.3 %" in answered(panel)  # 100 x 50 / 60
        assert "Source: geometry" in answered(panel)


async def test_what_the_vehicle_knows_is_filled_in(told: Story) -> None:
    async with at_sums(told, "lead-order", Hand(facts=FOUR)) as (panel, pilot):
        assert field(panel, "firing_order").text == "1-3-4-2"
        assert beside(panel, "firing_order") == "from the vehicle"
        assert "╔═══╗" in answered(panel)
        await fill(panel, pilot, {"firing_order": "1-2-4-3", "no1_clock": "3"})
        assert beside(panel, "firing_order") == ""
        await press(pilot, "f3")
        assert field(panel, "firing_order").text == "1-3-4-2"
        assert field(panel, "no1_clock").text == ""


@pytest.mark.parametrize(
    ("text", "short", "full"),
    [
        ("40 psi", "! psi measures pressure", "Use one of: m, mm"),
        ("200 thou", "! out of range; allowed: 0 to 2 mm", "allowed: 0 to 2 mm"),
        ("6 mil", "! “mil” alone", "6 thou"),
        ("lots", "! “lots” does not begin with a figure", "for example 6 thou"),
    ],
)
async def test_an_error_stands_in_its_field_and_the_text_stays(
    told: Story, text: str, short: str, full: str
) -> None:
    async with at_sums(told, "gap-and-dwell") as (panel, pilot):
        await fill(panel, pilot, {"gap_after_mm": "14 thou", "gap_before_mm": text})
        wrong = field(panel, "gap_before_mm")
        assert wrong.wrong
        assert wrong.text == text
        assert beside(panel, "gap_before_mm").startswith(short)
        assert full in about(panel)
        assert "Not to be read yet: Gap before." in answered(panel)
        assert not field(panel, "gap_after_mm").wrong
        await fill(panel, pilot, {"gap_before_mm": "16 thou"})
        assert not wrong.wrong
        assert "timing retarded" in answered(panel)


async def test_a_refusal_of_the_sum_itself_is_said(told: Story) -> None:
    async with at_sums(told, "lead-order") as (panel, pilot):
        await fill(panel, pilot, {"firing_order": "1-3-3-2", "rotor": "cw"})
        assert panel.answer is not None
        assert panel.answer.worked is None
        assert "Still wanted" not in answered(panel)
        assert panel.answer.words in answered(panel).replace("\n", " ")


async def test_what_was_typed_is_there_when_one_comes_back(told: Story) -> None:
    async with at_sums(told, "stages") as (panel, pilot):
        await fill(panel, pilot, {"torque_nm": "45 ftl"})
        await press(pilot, "f2")
        await write(pilot, "belt length")
        await press(pilot, "enter")
        assert panel.working is working_named("belt-length")
        await press(pilot, "f2")
        await write(pilot, "torque in stages")
        await press(pilot, "enter")
        assert field(panel, "torque_nm").text == "45 ftl"
        assert field(panel, "torque_nm").wrong


async def test_enter_and_the_arrows_go_round_the_fields(told: Story) -> None:
    async with at_sums(told, "displacement") as (panel, pilot):
        names = []
        for key in ("enter", "down", "enter", "up"):
            names.append(panel._open)
            await press(pilot, key)
        assert names == ["bore_mm", "stroke_mm", "cylinders", "bore_mm"]
        assert panel._open == "cylinders"
        assert about(panel) == "Cylinders: whole, 1 to 12"


async def test_a_long_answer_can_be_read_to_its_end(told: Story) -> None:
    async with at_sums(told, "compression-spread", size=(80, 24)) as (panel, pilot):
        await fill(panel, pilot, PICTURES["compression-spread"])
        more = panel.query_one("#more")
        assert more.display
        for _ in range(6):
            await press(pilot, "pagedown")
        assert not more.display
        await press(pilot, *["pageup"] * 6)
        assert more.display
        assert panel.query_one("#answer-scroll").scroll_offset.y == 0


async def test_the_units_of_whoever_stands_here(told: Story) -> None:
    """Tom reads imperial; a result in newton metres says pounds beside it."""
    async with at_sums(told, "wrench-with-extension") as (panel, pilot):
        await fill(panel, pilot, {"torque": "54 Nm", "length_mm": "400", "extension_mm": "100"})
        assert "43.20 N·m (32 lbf·ft)" in answered(panel)
        assert beside(panel, "torque") == "= 54 N·m"


async def test_plain_pictures_where_the_application_says_so(told: Story) -> None:
    async with at_sums(told, "lead-order", Hand(facts=FOUR), plain=True) as (panel, _pilot):
        assert "+===+" in answered(panel)
        assert answered(panel).isascii()
    async with at_sums(told, "leak-down", plain=True) as (panel, pilot):
        await fill(panel, pilot, {"supply_psi": "80", "held_psi": "72 71 58 73"})
        assert "#####" in answered(panel)


async def test_help_explains_the_sums_and_their_keys(told: Story) -> None:
    async with at_sums(told, "stages") as (_panel, pilot):
        await press(pilot, "f1")
        assert isinstance(pilot.app.screen, HelpScreen)
        await press(pilot, "escape")


async def test_the_running_clock_stays_in_sight(told: Story) -> None:
    async with at_sums(told, "stages") as (panel, _pilot):
        bar = panel.query_one(TopBar)
        assert bar.says == "Tom  ● 1:10 on J00001"


async def test_a_sum_writes_nothing(told: Story) -> None:
    before = told.shop.fetch("SELECT count(*) FROM journal")
    async with at_sums(told, "lead-order", Hand(facts=FOUR)) as (panel, pilot):
        await fill(panel, pilot, {"rotor": "cw"})
        await press(pilot, "f3", "escape")
    assert told.shop.fetch("SELECT count(*) FROM journal") == before


def test_every_act_of_the_sums_has_its_action() -> None:
    ids = [a.id for a in ACTS if a.id.startswith("workings.")]
    assert len(ids) == 7
    for each in ids:
        assert callable(getattr(WorkingsPanel, "action_" + each.removeprefix("workings.")))


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES[:1])
async def test_every_sum_has_a_form_that_answers_its_example(told: Story, size: tuple[int, int]) -> None:
    async with at_sums(told, "convert", size=size) as (panel, pilot):
        for working in every_working().values():
            await panel.show(working)
            await fill(panel, pilot, example_inputs(working))
            assert panel.answer is not None
            assert panel.answer.working is working
            assert panel.answer.worked is not None, (working.name, panel.answer.words)
            assert max(len(line) for line in answered(panel).splitlines()) <= size[0] - 2, working.name


@pytest.mark.parametrize("text", MIXED, ids=MIXED_IDS)
async def test_hostile_text_is_only_text(told: Story, text: str) -> None:
    async with at_sums(told, "bucket-shim") as (panel, pilot):
        for each in panel.fields:
            each.put(text)
        await settle(pilot)
        assert pilot.app.screen is panel
        await press(pilot, "f3", "escape")


# Pictures -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES, ids=["80x24", "120x40"])
@pytest.mark.parametrize("name", PICTURES)
def test_picture(told: Story, snap_compare, name: str, size: tuple[int, int]) -> None:  # type: ignore[no-untyped-def]
    app: ShopApp = told.app("Tom")

    async def stand(pilot: Pilot[None]) -> None:
        await settle(pilot)
        panel = await open_panel(pilot, Hand(facts=FOUR), name)
        await fill(panel, pilot, PICTURES[name])
        await still(pilot)

    assert snap_compare(app, terminal_size=size, run_before=stand)
