"""One test for each key of the bench: pressed as a person presses it, checked in the records."""

from collections.abc import Callable
from itertools import groupby

import pytest
from textual.widgets import Input

from shopcli.screens.acts import ACTS
from shopcli.screens.app import ShopApp
from shopcli.screens.bench.findingform import FindingForm
from shopcli.screens.bench.inhand import InHand
from shopcli.screens.bench.partslist import PartsList
from shopcli.screens.bench.station import BenchScreen
from shopcli.screens.bench.taskpane import TaskPane
from shopcli.screens.dialogs import AskText, Confirm, Pick
from shopcli.shop.commands import AddFinding, ClockOn, FinishTask, MoveCard, SettleFinding, TakeReading
from shopcli.store.reads import people
from shopcli.store.shop import Shop
from tests.conftest import Busy, Clock
from tests.stations.bench_help import MIDDLE, SMALL, Standing, bench_shop, standing
from tests.stations.build import until


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    return bench_shop(make_shop, clock)


def state(busy: Busy, key: str) -> str:
    return busy.task(f"bench-test:{key}").state


async def test_every_act_of_the_bench_has_its_action() -> None:
    for act in ACTS:
        if act.id.startswith("bench."):
            assert callable(getattr(BenchScreen, "action_" + act.id.removeprefix("bench.")))


async def test_done_hangs_the_tag_and_goes_to_the_next_task(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("d")
        assert state(busy, "open-up") == "done"
        assert "Done: Take the cover off." in here.says
        assert "Tag hung: test cover off." in here.says
        assert "No time is clocked on it." in here.says
        assert here.says.endswith("c starts the clock on the next one.")
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == "bench-test:measure"
        assert "test cover off" in here.words()


async def test_done_passes_over_barred_tasks(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("d")
        for key in ("measure", "set-gap", "pump", "torque"):
            busy.do(FinishTask(busy.task(f"bench-test:{key}").id, "for the test"))
        await here.go("close-up")
        await here.press("d")
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == "bench-test:run"


async def test_a_barred_task_is_refused_in_words(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("d")
        await here.go("run")
        assert (
            "Barred by test cover off. First: 'Tighten the head bolts'; then 'Refit the cover'." in here.says
        )
        await here.press("d")
        assert state(busy, "run") == "open"
        for words in ("barred", "test cover off", "Hung by Tom on Wed 25 Nov 10:15", "Take the cover off"):
            assert words in here.says
        await here.pilot.pause(0.2)
        assert "Hung by Tom" in here.words().replace("\n", " "), "it stays until the next key"
        await here.press("j")
        assert "Hung by Tom on" not in here.says


async def test_no_clock_starts_on_a_barred_task(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("d")
        await here.go("run")
        await here.press("c")
        assert not here.rows("SELECT id FROM clock_entry")
        assert here.says.startswith("Barred: 'Run the engine and look for leaks' is barred: test cover off.")
        assert "lift the tag by hand with a reason" in here.says
        await here.go("close-up")
        await here.press("c")
        assert here.rows("SELECT task_id FROM clock_entry") == [(busy.task("bench-test:close-up").id,)], (
            "the task that lifts it is the way out"
        )


async def test_barred_is_said_whatever_the_clock_does(busy: Busy) -> None:
    busy.do(ClockOn(busy.task("bench-test:run").id))
    busy.do(FinishTask(busy.task("bench-test:open-up").id), by="Nell")
    async with standing(busy) as here:
        assert "⊠ barred" in here.words()
        listed = [line.lstrip("│▌ ◦").split("│")[0].strip() for line in here.words().splitlines()]
        assert "(test cover off, clock runs)" in " ".join(listed), listed


async def test_done_without_its_reading_asks_for_a_note(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("torque")
        await here.press("d")
        assert isinstance(here.app.screen, AskText)
        assert "torque" in here.words()
        await here.type("bolt sheared, on order")
        assert state(busy, "torque") == "done"
        assert busy.task("bench-test:torque").note == "bolt sheared, on order"


async def test_clock_on_and_off(busy: Busy, clock: Clock) -> None:
    async with standing(busy) as here:
        await here.press("c")
        assert here.rows("SELECT person_id, ended_at FROM clock_entry") == [(busy.people["Tom"], None)]
        clock.forward(minutes=7, seconds=5)
        here.bench.tick()
        await here.pilot.pause()
        assert "● running: Tom" in here.words()
        assert "0:07 on J00001" in here.words()
        await here.press("c")
        assert here.rows("SELECT ended_at - started_at FROM clock_entry") == [(425,)]
        assert "after 7 min" in here.says


async def test_clock_on_another_task_stops_the_first(busy: Busy, clock: Clock) -> None:
    async with standing(busy) as here:
        await here.press("c")
        clock.forward(minutes=3)
        await here.press("j", "c")
        open_on = here.rows("SELECT task_id FROM clock_entry WHERE ended_at IS NULL")
        assert open_on == [(busy.task("bench-test:measure").id,)]
        assert len(here.rows("SELECT id FROM clock_entry")) == 2


async def test_the_clock_ticks_without_reading(
    busy: Busy, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    busy.do(ClockOn(busy.task("bench-test:open-up").id))
    async with standing(busy, size=SMALL) as here:
        monkeypatch.setattr(busy.shop.reader, "fetch", lambda *_: pytest.fail("the clock read the records"))
        clock.forward(minutes=61, seconds=1)
        here.bench.tick()
        await here.pilot.pause()
        assert "task 1:01:01 of 5 min" in here.words()
        monkeypatch.undo()


async def test_keys_wait_for_the_card_and_for_the_task_that_follows(
    busy: Busy, monkeypatch: pytest.MonkeyPatch
) -> None:
    in_hand: list[str] = []
    show = TaskPane.show

    def seen(pane: TaskPane, hand: InHand | None, *words: str) -> None:
        in_hand.append(hand.task.task.key.removeprefix("bench-test:") if hand else "")
        show(pane, hand, *words)

    monkeypatch.setattr(TaskPane, "show", seen)
    tom = next(p for p in people.people(busy.shop) if p.name == "Tom")
    app = ShopApp(busy.shop, tom, card_id=busy.card)
    async with app.run_test(size=MIDDLE, notifications=True) as pilot:
        here = Standing(busy, app, pilot)
        here.at_once("f8", "t", "f6", "c", "d", "c", "6", "enter")
        await until(pilot, lambda: busy.task("bench-test:measure").readings)
        tasks = [busy.task(f"bench-test:{key}") for key in ("open-up", "measure")]
        assert [t.state for t in tasks] == ["done", "open"]
        assert here.rows("SELECT task_id FROM clock_entry ORDER BY id") == [(t.id,) for t in tasks]
        assert [r.slot for r in tasks[1].readings] == ["clearance@1 inlet|as found"]
        busy.do(ClockOn(busy.task("bench-test:set-gap").id), by="Nell")
        here.at_once("d", "7")
        await until(pilot, lambda: here.bench.entry.typing)
        await here.settle()
        taken = [key for key, _ in groupby(in_hand) if key]
        assert taken == ["open-up", "measure", "pump"], "what follows is decided once, as things stand then"
        assert here.bench.entry.typing == "7"


async def test_leave_out_with_a_reason(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("pump")
        await here.press("o")
        await here.type("customer declined")
        assert state(busy, "pump") == "left out"
        assert busy.task("bench-test:pump").left_out_for == "customer declined"
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == "bench-test:open-up", "the first of the order of work"


async def test_esc_backs_out_of_leaving_out(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("o", "escape")
        assert state(busy, "open-up") == "open"
        await here.press("d")
        assert state(busy, "open-up") == "done"
        await here.go("open-up")
        await here.press("d")
        assert here.says == "Already done by Tom 10:15, Wed 25 Nov. u opens it again."
        await here.press("c")
        assert "Start your clock on it?" in " ".join(here.words().split()), "a question, not a clock"
        await here.press("escape")
        assert not here.rows("SELECT id FROM clock_entry")
        await here.press("c", "y")
        assert here.rows("SELECT ended_at FROM clock_entry") == [(None,)]
        assert "It is done already and stays so." in here.says
        await here.press("c")
        assert "Clock stopped" in here.says


async def test_fit_a_part_takes_it_from_stock(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("set-gap")
        await here.press("f")
        assert isinstance(here.app.screen, PartsList)
        await here.press("down", "f")  # what the task names in its own kit stands first
        await here.press("escape")
        line = next(p for p in busy.view().parts if p.description == "contact set")
        assert (line.state, line.task_id, line.in_stock) == ("fitted", busy.task("bench-test:set-gap").id, 1)
        assert "contact set: fitted by Tom." in here.says


@pytest.mark.parametrize(("key", "then"), [("o", "on order"), ("n", "not used")])
async def test_a_part_on_order_or_not_used(busy: Busy, key: str, then: str) -> None:
    async with standing(busy) as here:
        await here.press("f", "down", "down", key)
        assert next(p for p in busy.view().parts if p.description == "cover gasket").state == then


async def test_a_finding_is_kept(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("s")  # the place of the task stands there
        await here.type("fuel hose perished")
        await here.type("1")
        await here.type("a metre of hose")
        assert isinstance(here.app.screen, FindingForm), "which job would mend it is left open by Enter"
        await here.press("enter")
        (found,) = busy.view().findings
        assert (found.place, found.what, found.severity, found.takes) == (
            "engine bay",
            "fuel hose perished",
            "stop",
            "a metre of hose",
        )
        assert (found.seen_by, found.wanted) == ("Tom", "")


async def test_how_bad_it_is_has_to_be_said(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("s")
        await here.type("cover cracked")
        await here.press("enter", "enter", "enter", "f2")
        assert isinstance(here.app.screen, FindingForm)
        assert "Type 1 stop, 2 soon, 3 watch." in " ".join(here.words().split())
        assert not busy.view().findings
        await here.type("s", enter=False)
        await here.press("f2")
        assert not busy.view().findings, "s could be stop or soon"
        await here.type("o", enter=False)
        await here.press("f2")
        assert [f.severity for f in busy.view().findings] == ["soon"]


async def test_esc_does_not_take_what_is_typed_of_a_finding(busy: Busy) -> None:
    async with standing(busy, size=SMALL) as here:
        await here.press("s", "escape")
        assert here.app.screen is here.bench, "nothing was typed"
        await here.press("s")
        await here.type("cover cracked", enter=False)
        await here.press("escape")
        assert isinstance(here.app.screen, Confirm)
        await here.press("n")
        assert "cover cracked" in here.words()
        await here.press("escape", "y")
        assert here.app.screen is here.bench
        assert not busy.view().findings


async def test_a_finding_names_the_job_that_would_mend_it(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("s")
        await here.type("cover cracked")
        await here.type("watch")
        await here.press("enter")
        await here.settle()
        await here.type("bench")
        assert [f.wanted for f in busy.view().findings] == ["bench-test"]


async def test_typing_fast_after_a_question_key_does_not_act(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.pilot.press("s", "d", "u", "d")
        await here.settle()
        assert state(busy, "open-up") == "open"


async def test_second_check_is_signed_by_another(busy: Busy) -> None:
    busy.do(FinishTask(busy.task("bench-test:torque").id, "for the test"))
    async with standing(busy) as here:
        await here.go("torque")
        assert "wants a second person's check" in here.words()
        await here.press("v")
        assert isinstance(here.app.screen, Pick)
        assert "Tom  mechanic" not in here.words()
        await here.type("nell")
        assert busy.task("bench-test:torque").second_by == "Nell"
        acts = here.rows(
            "SELECT person_id FROM journal WHERE act = 'second_check' OR act LIKE '%SecondCheck%'"
        )
        assert acts == [(busy.people["Nell"],)]


async def test_second_check_finds_the_task_that_waits(busy: Busy) -> None:
    busy.do(FinishTask(busy.task("bench-test:torque").id, "for the test"))
    async with standing(busy) as here:
        await here.press("v")
        await here.press("enter")
        await here.type("olive")
        assert busy.task("bench-test:torque").second_by == "Olive"


async def test_no_second_check_wanted_is_said(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("v")
        assert here.says == "No done task of this card waits for a second check."


async def test_take_back_from_the_next_task(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("d")
        assert busy.view().tags
        await here.press("u", "y")
        assert state(busy, "open-up") == "open"
        assert not busy.view().tags
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == "bench-test:open-up"


async def test_nothing_to_take_back_is_said(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("u")
        assert "nothing to take back" in here.says


async def test_lift_a_tag_by_hand(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("d", "t")
        assert "hung by Tom Wed 25 Nov 10:15" in here.words()
        await here.press("enter")
        await here.press("enter")
        assert isinstance(here.app.screen, Confirm), "only a plain y"
        await here.press("y")
        await here.type("6 thou")
        assert isinstance(here.app.screen, AskText), "a figure is no reason"
        assert "'6 thou' is none" in here.words()
        here.app.screen.query_one(Input).value = ""
        await here.type("cover is on, seen")
        assert not busy.view().tags
        assert here.rows("SELECT lifted_for FROM tag") == [("cover is on, seen",)]


async def test_settle_an_owed_check(busy: Busy) -> None:
    busy.do(FinishTask(busy.task("bench-test:close-up").id))
    async with standing(busy) as here:
        await here.press("t")
        await here.type("again")
        await here.type("waived")
        await here.type("customer does it")
        owed = next(o for o in busy.view().owed if o.title == "Tighten the head bolts again")
        assert (owed.state, owed.settled_for) == ("waived", "customer does it")


async def test_nothing_owed_is_said(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("t")
        assert "No tag hangs" in here.says


async def test_units_are_the_persons(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("torque")
        assert "29.6 to 33.1 lbf·ft" in here.words() or "lbf·ft" in here.words()
        await here.press("m")
        assert here.rows("SELECT units FROM person WHERE name = 'Tom'") == [("metric",)]
        assert here.app.who.units == "metric"
        assert "40 to 45 N·m" in here.words()


async def test_up_and_down_move_between_tasks(busy: Busy) -> None:
    async with standing(busy) as here:
        keys = []
        for key in ("down", "j", "up", "i", "i"):
            await here.press(key)
            assert here.bench.in_hand is not None
            keys.append(here.bench.in_hand.task.key.removeprefix("bench-test:"))
        assert keys == ["measure", "set-gap", "measure", "open-up", "open-up"]


async def test_a_click_chooses_a_task(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.pilot.click("#list", offset=(15, 5))
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == "bench-test:set-gap"


async def test_without_a_card_the_way_is_shown(busy: Busy) -> None:
    async with standing(busy, card=False) as here:
        await here.press("d")
        assert "F5 goes to the desk" in here.says, "what to press is said, whatever was pressed"
        for key in (
            "d",
            "c",
            "5",
            "t",
            "escape",
            "r",
            "o",
            "f",
            "s",
            "v",
            "u",
            "n",
            "t",
            "y",
            "k",
            "j",
            "i",
            "pagedown",
        ):
            await here.press(key)
        assert isinstance(here.app.screen, BenchScreen)
        await here.press("j")
        assert "F5 goes to the desk" in here.says
        busy.do(ClockOn(busy.task("bench-test:measure").id))
        await here.press("f5", "f6")
        assert here.bench.in_hand is not None, "the card one's own clock runs on is the one wanted"
        assert here.bench.in_hand.task.key == "bench-test:measure"


async def test_another_terminals_work_appears(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("set-gap")
        busy.do(FinishTask(busy.task("bench-test:open-up").id), by="Nell")
        here.bench.read_again()
        await here.settle()
        assert "hung by Nell" in here.words()
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == "bench-test:set-gap", "the chosen task is kept"


async def test_a_held_card_refuses_and_gives_the_typing_back(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.go("measure")
        busy.do(MoveCard(busy.card, "held", "waits for the engine shop"), by="Dora")
        await here.type("6 thou")
        assert "held: waits for the engine shop" in here.says
        assert here.bench.entry.is_open
        assert here.bench.query_one(Input).value == "6 thou"
        assert not here.rows("SELECT id FROM reading")


async def test_where_was_i_after_another_card(busy: Busy) -> None:
    busy.do(TakeReading(busy.task("bench-test:measure").id, "clearance@1 inlet|as found", "6 thou"))
    async with standing(busy) as here:
        await here.go("set-gap")
        await here.press("f5", "f6")
        assert here.bench.in_hand is not None
        assert here.bench.in_hand.task.key == "bench-test:set-gap"


async def test_what_forbids_driving_stands_with_the_tags(busy: Busy) -> None:
    finding = busy.do(AddFinding(busy.card, "front axle", "brake hose [weeps]", "stop"), "Nell").id
    busy.do(AddFinding(busy.card, "body", "sill soft", "watch"), "Nell")
    for size in (SMALL, MIDDLE):
        async with standing(busy, size=size) as here:
            shown = " ".join(here.words().replace("│", " ").split())
            assert "⊠ not to be driven: brake hose" in shown
            assert "[weeps]" in shown
            assert "sill soft" not in shown
    busy.do(SettleFinding(finding, "done"), "Nell")
    async with standing(busy) as here:
        assert "not to be driven" not in here.words()
