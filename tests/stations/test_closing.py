"""The closing check: every hindrance on one screen, each with its way out, and no way round it."""

import pytest
from textual.pilot import Pilot
from textual.widgets import OptionList

from shopcli.errors import Refused
from shopcli.screens.desk.closing import ClosingScreen
from shopcli.screens.desk.handing import HandingScreen
from shopcli.screens.desk.mending import Now, ways
from shopcli.screens.desk.station import DeskScreen
from shopcli.screens.dialogs import Confirm, Pick
from shopcli.screens.summary import SummaryScreen
from shopcli.shop.commands import (
    AddOutwork,
    ChangeCard,
    ClockOn,
    Command,
    CorrectClock,
    FinishTask,
    LeaveOut,
    MoveCard,
    MovePart,
    OpenCard,
    PutPart,
    ReopenTask,
    TakeReading,
)
from shopcli.shop.views import Hindrance
from shopcli.store.reads import bench, people
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, seen, story, write


@pytest.fixture
def told(shop: Shop) -> Story:
    return story(shop)


async def choose(pilot: Pilot[None], key: str) -> None:
    """Choose a hindrance by the beginning of its key."""
    found = pilot.app.screen.query_one("#hindrances", OptionList)
    index = next(i for i, o in enumerate(found.options) if str(o.id).startswith(key))
    found.highlighted = index
    await pilot.pause()


def keys(told: Story, card: str) -> list[str]:
    return [h.key.partition(":")[0] for h in bench.hindrances(told.shop, told.cards[card])]


async def test_everything_that_hinders_stands_there_with_its_way_out(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f3")
        picture = " ".join(seen(app).replace("▌", " ").split())
    for words in (
        "7 things hinder the hand-over",
        "Tag on the car: sump dry",
        "Hung by Tom on Wed 25 Nov 09:00.",
        "Not done: Set the points gap",
        "Clock still running: Tom",
        "Part wanted: engine oil",
        "Finding marked stop: front left: brake hose perished",
        "£151.20 with VAT, £151.20 due; odometer 48,213 mi",
    ):
        assert words in picture


async def test_it_cannot_be_closed_while_anything_hinders(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f3", "f3")
        assert "It cannot be closed yet" in seen(app)
        assert isinstance(app.screen, ClosingScreen)
    assert told.state("ada") == "in hand"


async def test_enter_goes_to_the_task_at_the_bench(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f3")
        await choose(pilot, f"task:{told.task('ada', 'oil:leaks')}")
        await press(pilot, "enter")
        assert app.current_mode == "bench"
        assert "Look for leaks" in seen(app)
        await press(pilot, "f5")
        assert isinstance(app.screen, DeskScreen)


async def test_one_s_own_clock_stops_at_once(told: Story) -> None:
    app = told.app("Tom")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f3")
        await choose(pilot, "clock")
        await press(pilot, "enter")
        assert "Clock stopped on 'Set the points gap' after 70 min." in seen(app)
        assert "Clock still running" not in seen(app)
    assert people.running_clocks(told.shop) == ()


async def test_another_s_clock_is_corrected_openly(told: Story) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f3")
        await choose(pilot, "clock")
        await press(pilot, "enter")
        await write(pilot, "Tom went home")
        await press(pilot, "enter")
    rows = told.shop.fetch("SELECT ended_at - started_at, corrected FROM clock_entry WHERE corrected <> ''")
    assert rows == [(70 * 60, "Tom went home")]


async def test_a_tag_is_lifted_by_hand_with_a_reason(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f3")
        await choose(pilot, "tag")
        await press(pilot, "enter")
        assert isinstance(app.screen, Pick)
        await press(pilot, "down", "enter")
        await write(pilot, "oil is in, seen by Olive")
        await press(pilot, "enter")
    assert "tag" not in keys(told, "ada")


async def test_a_part_is_said_to_be_unused(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f3")
        await choose(pilot, "part")
        await press(pilot, "enter", "down", "enter")
    assert "part" not in keys(told, "ada")


async def test_a_finding_is_waived_by_name_with_a_reason(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f3")
        await choose(pilot, "finding")
        await press(pilot, "w")
        await write(pilot, "Ada fetches it on a trailer")
        await press(pilot, "enter")
        assert "Waived: Finding marked stop" in seen(app)
    rows = told.shop.fetch("SELECT reason, waived_by FROM waiver")
    assert rows == [("Ada fetches it on a trailer", told.people["Dora"])]


async def test_what_nobody_may_waive_is_refused_in_words(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f3", "w")
        assert "Cannot be waived" in seen(app)


async def test_the_odometer_is_written_here(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await write(pilot, "J00003")
        await press(pilot, "f3")
        assert "No odometer reading" in seen(app)
        await choose(pilot, "odometer")
        await press(
            pilot, "enter", "down", "enter"
        )  # the second choice waives it: go back and take the first
        await press(pilot, "escape", "o")
        await write(pilot, "12 004")
        await press(pilot, "enter")
        assert "Nothing hinders the hand-over." in seen(app)
        assert "odometer 12,004 km" in seen(app)


async def test_a_held_card_goes_on_from_here(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await write(pilot, "J00002")
        await press(pilot, "f3")
        await choose(pilot, "held")
        await press(pilot, "enter")
        assert told.state("ben") == "in hand"
        await choose(pilot, "second")
        await press(pilot, "enter", "enter")
        assert "Checked by Dora: Adjust the brakes, all wheels." in seen(app)


async def test_an_empty_list_closes_after_a_yes_and_goes_on_to_the_hand_over(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await write(pilot, "J00004")
        await press(pilot, "f3")
        assert "Nothing hinders the hand-over." in seen(app)
        await press(pilot, "f3", "enter")
        assert isinstance(app.screen, Confirm)  # Enter is not a yes
        await press(pilot, "n")
        assert told.state("hallam") == "in hand"
        await press(pilot, "f3", "y")
        assert isinstance(app.screen, HandingScreen)
        assert told.state("hallam") == "closed"
        await press(pilot, "escape")
        assert isinstance(app.screen, DeskScreen)
        assert "Closed cards, the newest first" in seen(app)


async def test_what_came_up_meanwhile_still_hinders(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await write(pilot, "J00004")
        await press(pilot, "f3", "f3")
        told.do(ReopenTask(told.task("hallam", "oil:leaks"), "it drips"), by="Nell")
        await press(pilot, "y")
        assert told.state("hallam") == "in hand"
        assert "Not done: Look for leaks" in seen(app)


def now(told: Story, card: str, who: str = "Dora") -> Now:
    view = bench.card(told.shop, told.cards[card])
    clocks = people.running_clocks(told.shop)
    return Now(view, told.people[who], who, clocks, told.shop.at())


def hindered(told: Story, card: str, kind: str) -> Hindrance:
    found = bench.hindrances(told.shop, told.cards[card])
    return next(h for h in found if h.key.partition(":")[0] == kind)


def mend(told: Story, card: str, kind: str, way: str, text: str = "", who: str = "Dora") -> None:
    """Go a way out as the screen would, and see that it leads out."""
    hindrance = hindered(told, card, kind)
    chosen = next(w for w in ways(hindrance, now(told, card, who)) if w.key == way)
    assert chosen.act is not None
    assert bool(text) == bool(chosen.question)
    told.do(chosen.act(text), by=who)
    assert hindrance.key not in [h.key for h in bench.hindrances(told.shop, told.cards[card])]


def test_every_kind_of_hindrance_has_a_way_out(told: Story) -> None:
    card = told.cards["ada"]
    setup: list[Command] = [
        AddOutwork(card, "skim the drum", "a firm"),
        PutPart(card, description="drain washer", price_minor=100),
        FinishTask(told.task("ada", "oil:fill")),
        LeaveOut(told.task("ada", "oil:leaks"), "no lamp"),
        TakeReading(told.task("ada", "points:gap"), "points gap|as left", "0.6 mm"),
        FinishTask(told.task("ada", "points:gap")),
        ChangeCard(card, bench.card(told.shop, card).version, authority_minor=100),
        ClockOn(told.task("ada", "oil:fill")),
    ]
    for command in setup:
        told.do(command)
    mend(told, "ada", "outwork", "back")
    mend(told, "ada", "owed", "done", "dry")
    mend(told, "ada", "reading", "waive", "points are worn, ordered")
    mend(told, "ada", "finding", "done")
    with pytest.raises(Refused, match="that is Tom's time"):
        mend(told, "ada", "clock", "stop", "went home")
    mend(told, "ada", "clock", "stop", "went home", who="Olive")
    mend(told, "ada", "part", "fitted")
    tie = told.do(PutPart(card, description="cable tie", price_minor=0)).id
    told.do(MovePart(tie, "fitted"))
    mend(told, "ada", "price", "price", "1.50")
    assert [w.asks for w in ways(hindered(told, "ada", "authority"), now(told, "ada"))] == ["authority", ""]
    told.do(MoveCard(card, "held", "no lamp"))
    mend(told, "ada", "held", "go on")


def test_a_clock_set_back_never_ends_before_it_began(told: Story) -> None:
    hindrance = hindered(told, "ada", "clock")
    early = Now(
        **{**{k: getattr(now(told, "ada"), k) for k in ("view", "person_id", "person", "clocks")}, "at": 0}
    )
    act = ways(hindrance, early)[0].act
    assert act is not None
    command = act("why")
    assert isinstance(command, CorrectClock)
    assert command.ended_at == command.started_at


def test_a_check_that_a_task_does_leads_to_the_task(told: Story) -> None:
    told.do(FinishTask(told.task("ada", "oil:fill")))
    way = ways(hindered(told, "ada", "owed"), now(told, "ada"))[0]
    assert (way.key, way.task) == ("bench", told.task("ada", "oil:leaks"))


async def test_a_void_or_closed_card_says_so(told: Story) -> None:
    told.do(OpenCard(told.vehicles["HLM 35"]), by="Dora")
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.push_screen(ClosingScreen(told.cards["wipers"]))
        await press(pilot, "f4")
        assert isinstance(app.screen, SummaryScreen)
        await press(pilot, "escape")
        assert "The card is closed." in seen(app)
        await press(pilot, "f3")
        assert isinstance(app.screen, HandingScreen)
