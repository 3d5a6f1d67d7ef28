"""Parts at the bench: two presses fit one; another instead, a serial number, what is short, an old unit, from stock."""

from collections.abc import Callable

import pytest
from textual.pilot import Pilot

from shopcli.part_words import part_words
from shopcli.screens.bench.partslist import PartsList
from shopcli.screens.dialogs import AskText
from shopcli.shop.commands import AddPart, FinishTask, MovePart, PutPart
from shopcli.shop.parts_here import not_here
from shopcli.shop.views import PartLineView
from shopcli.store.reads.lately import where_was_i
from shopcli.store.shop import Shop
from shopcli.where_words import as_text
from tests.conftest import Busy, Clock
from tests.stations.bench_help import MIDDLE, SMALL, bench_shop, standing
from tests.stations.build import HOSTILE


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock) -> Busy:
    return bench_shop(make_shop, clock)


def line(busy: Busy, name: str) -> PartLineView:
    return next(p for p in busy.view().parts if p.description == name)


def stocked(busy: Busy, number: str, name: str, **more: object) -> int:
    return busy.do(AddPart(number, name, 900, stock_milli=1000, bin="B2", **more)).id  # type: ignore[attr-defined, arg-type]


async def test_two_presses_fit_a_part_and_the_list_stays_until_esc(busy: Busy) -> None:
    busy.do(PutPart(busy.card, None, "split pin", task_id=busy.task("bench-test:set-gap").id, price_minor=5))
    busy.do(PutPart(busy.card, None, "washer", task_id=busy.task("bench-test:set-gap").id, price_minor=5))
    async with standing(busy) as here:
        await here.go("set-gap")
        await here.press("f", "f")
        assert isinstance(here.app.screen, PartsList), "the task waits for more"
        assert ": fitted by Tom." in here.words(), "the box itself says what was done"
        await here.press("n", "n", "n", "n")
        assert isinstance(here.app.screen, PartsList), "only Esc closes it"
        await here.press("escape")
        assert here.app.screen is here.bench
        states = {p.description: p.state for p in busy.view().parts}
        assert sorted(states.values()).count("fitted") == 1
        assert states["contact set"] == "wanted", "what is another step's is not touched by keys that go on"
        assert "not used" in states.values()


async def test_a_serial_number_is_asked_where_the_part_wants_one(busy: Busy) -> None:
    put = busy.do(PutPart(busy.card, stocked(busy, "D-1", "dynamo", wants_serial=True))).id  # type: ignore[attr-defined]
    async with standing(busy) as here:
        await here.press("f")
        assert "wants its serial number" in here.words()
        await here.press(*["down"] * 4, "f")
        assert isinstance(here.app.screen, AskText)
        await here.type("C40 1176")
        assert (line(busy, "dynamo").state, line(busy, "dynamo").serial) == ("fitted", "C40 1176")
        assert put == line(busy, "dynamo").id


async def test_another_part_instead_with_the_reason(busy: Busy) -> None:
    stocked(busy, "T-022", "two-piece contact set")
    async with standing(busy) as here:
        await here.press("f", "down", "i")
        await here.type("two-piece")
        await here.type("the first one is bent")
        fitted = line(busy, "two-piece contact set")
        assert (fitted.state, fitted.instead_of, fitted.reason) == (
            "fitted",
            "contact set",
            "the first one is bent",
        )
        assert line(busy, "contact set").state == "not used"


async def test_a_part_not_from_stock_instead(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("f", "down", "i")
        await here.type("not from")
        await here.type("a set out of the drawer")
        await here.type("none on the shelf")
        assert line(busy, "a set out of the drawer").state == "fitted"


async def test_all_that_is_short_is_ordered_with_one_key(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("f")
        assert "! short: not on the shelf" in here.words()
        await here.press("l")
        assert line(busy, "cover gasket").state == "on order"
        assert line(busy, "contact set").state == "wanted"
        assert "On the order list: cover gasket." in here.says


async def test_what_is_on_order_arrives(busy: Busy) -> None:
    busy.do(MovePart(line(busy, "cover gasket").id, "on order"))
    async with standing(busy) as here:
        await here.press("f", "down", "down", "a")
        assert line(busy, "cover gasket").state == "wanted"


async def test_the_old_unit_of_an_exchange_goes_back(busy: Busy) -> None:
    put = busy.do(PutPart(busy.card, stocked(busy, "D-2", "starter", surcharge_minor=2500))).id  # type: ignore[attr-defined]
    busy.do(MovePart(put, "fitted"))
    async with standing(busy) as here:
        await here.press("f")
        assert "! old unit not back: surcharge owed" in here.words()
        await here.press(*["down"] * 4, "x")
        assert line(busy, "starter").old_unit_back
        assert "no surcharge is owed" in here.says


async def test_a_part_is_put_on_from_stock(busy: Busy) -> None:
    stocked(busy, "X-9", "split pin")
    async with standing(busy) as here:
        await here.go("set-gap")
        await here.press("f", "g")
        await here.type("split")
        put = line(busy, "split pin")
        assert (put.state, put.task_id) == ("wanted", busy.task("bench-test:set-gap").id)


async def test_a_part_the_customer_brought_is_put_on(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("f", "c")
        await here.type("his own battery")
        put = line(busy, "his own battery")
        assert (put.customers_own, put.price, put.state) == (True, 0, "wanted")


async def test_a_refusal_stays_and_the_list_comes_back(busy: Busy) -> None:
    async with standing(busy) as here:
        await here.press("f", "x")
        assert "No part is chosen" in here.words(), "none of the task's waits, so none is chosen by itself"
        await here.press("down", "x")
        assert isinstance(here.app.screen, PartsList)
        await here.press("escape")
        assert "is no exchange unit" in here.says


async def test_esc_changes_nothing(busy: Busy) -> None:
    before = busy.view().parts
    async with standing(busy) as here:
        await here.press("f", "enter", "f", "down", "i", "escape", "escape")
        assert here.app.screen is here.bench
    assert busy.view().parts == before


async def test_odd_names_are_shown_not_obeyed(busy: Busy) -> None:
    for number, text in enumerate(HOSTILE):
        busy.do(PutPart(busy.card, None, f"{number} {text}"[:110], price_minor=0))
    async with standing(busy, size=SMALL) as here:
        await here.press("f")
        assert "[/oops]" in here.words()
        await here.press("escape")


@pytest.mark.parametrize("size", [SMALL, MIDDLE], ids=["80x24", "120x40"])
def test_the_parts_of_a_task(busy: Busy, snap_compare, size: tuple[int, int]) -> None:
    from shopcli.screens.app import ShopApp
    from shopcli.store.reads.people import person
    from tests.stations.build import still

    put = busy.do(
        PutPart(busy.card, stocked(busy, "D-2", "starter", surcharge_minor=2500, wants_serial=True))
    ).id  # type: ignore[attr-defined]
    busy.do(MovePart(put, "fitted", serial="M35 2210"))
    app = ShopApp(busy.shop, person(busy.shop, "Tom"), card_id=busy.card)

    async def stand(pilot: Pilot[None]) -> None:
        await pilot.press("f6")
        await still(pilot)
        await pilot.press("f")
        await pilot.pause()
        await pilot.pause()

    assert snap_compare(app, terminal_size=size, run_before=stand)


async def test_the_keys_are_in_sight_again_when_a_box_closes(busy: Busy) -> None:
    busy.do(FinishTask(busy.task("bench-test:open-up").id))  # a tag hangs, so that the tags have a box
    condenser = next(p for p in busy.view().parts if p.description == "condenser")
    busy.do(MovePart(condenser.id, "not used"))
    async with standing(busy) as here:
        assert "d Done" in here.words()
        await here.go("set-gap")
        for keys in ("o", "p", "t", "s", "u", "fg", "f"):
            await here.press(*keys)
            assert here.app.screen is not here.bench, keys
            await here.press("escape", *["escape"] * (len(keys) - 1))
            assert here.app.screen is here.bench, keys
            assert "d Done  c Clock" in here.words(), keys
        await here.press("f", "down", "down", "f", "escape")
        assert next(p for p in busy.view().parts if p.description == "contact set").state == "fitted"
        assert "d Done  c Clock" in here.words(), (
            "it vanished while the act was under way, and did not come back"
        )


async def test_the_part_of_the_task_in_hand_is_chosen_and_stands_apart(busy: Busy) -> None:
    busy.do(PutPart(busy.card, None, "split pin", task_id=busy.task("bench-test:torque").id, price_minor=5))
    async with standing(busy) as here:
        await here.go("torque")
        await here.press("f")
        words = here.words().partition("Parts: Tighten the head bolts")[2]
        assert words.index("This task") < words.index("split pin") < words.index("Rest of the kit")
        assert words.index("Rest of the kit") < words.index("contact set")
        await here.press("enter", "escape")
        assert line(busy, "split pin").state == "fitted"
        await here.go("pump")  # no part is this task's
        await here.press("f", "enter", "escape")
        assert {line(busy, name).state for name in ("contact set", "cover gasket")} == {"wanted"}


async def test_done_with_a_part_still_wanted_asks_what_became_of_it(busy: Busy) -> None:
    torque, close_up = (busy.task(f"bench-test:{key}") for key in ("torque", "close-up"))
    busy.do(PutPart(busy.card, stocked(busy, "B-1", "head gasket"), task_id=torque.id))
    busy.do(PutPart(busy.card, stocked(busy, "B-2", "cover seal"), task_id=close_up.id))
    async with standing(busy) as here:
        await here.go("torque")
        await here.type("42 Nm")
        await here.press("d")
        assert "still wants its part: head gasket (1 pc)." in here.words()
        await here.press("enter", "escape")
        assert busy.task("bench-test:torque").state == "open"
        await here.press("d", "y")
        assert busy.task("bench-test:torque").state == "done"
        assert (line(busy, "head gasket").state, line(busy, "head gasket").in_stock) == ("fitted", 0)
        await here.go("close-up")
        await here.press("d", "w")
        await here.type("the old one is sound")
        assert busy.task("bench-test:close-up").state == "done"
        left = line(busy, "cover seal")
        assert (left.state, left.reason, left.in_stock) == ("not used", "the old one is sound", 1)


async def test_fewer_on_the_shelf_than_wanted_is_asked_before(busy: Busy) -> None:
    gasket = stocked(busy, "G-7", "sump gasket")
    busy.do(PutPart(busy.card, gasket, qty_milli=2000, task_id=busy.task("bench-test:torque").id))
    async with standing(busy) as here:
        await here.go("torque")
        await here.press("f")
        assert "! short: 1 of 2 on the shelf" in here.words()
        await here.press("enter")
        assert "sump gasket: 2 pc wanted, 1 pc in stock" in here.words()
        await here.press("enter")
        assert line(busy, "sump gasket").state == "wanted", "nothing is chosen by a stray Enter"
        await here.press("down", "enter")
        fitted, ordered = (p for p in busy.view().parts if p.description == "sump gasket")
        assert (fitted.state, fitted.qty, fitted.in_stock) == ("fitted", 1, 0)
        assert (ordered.state, ordered.qty, ordered.task_id) == ("on order", 1, fitted.task_id)
        assert "1 fitted, 1 on the order list." in here.words()
        await here.press("escape", "u", "y")
        (back,) = (p for p in busy.view().parts if p.description == "sump gasket")
        assert (back.state, back.qty, back.in_stock) == ("wanted", 2, 1)


def test_where_and_order_say_of_a_part_what_the_bench_says(busy: Busy) -> None:
    """One dynamo on the shelf, two lines that want it: one rule says which is here, in the same words everywhere."""
    dynamo = stocked(busy, "D-1", "dynamo")
    task = busy.task("bench-test:set-gap")
    first, second = (busy.do(PutPart(busy.card, dynamo, task_id=task.id)).id for _ in range(2))  # type: ignore[attr-defined]
    parts = {p.id: p for p in busy.view().parts}
    assert (parts[first].short, parts[second].short) == (False, True)
    seen_at = where_was_i(busy.shop, busy.card, busy.people["Tom"])
    told = as_text(seen_at)
    assert f"  {part_words(parts[first])}\n" in told
    assert f"  {part_words(parts[second])}, ! short: another line of this card" in told
    assert not_here(busy.shop.fetch, busy.card, [(task.id, task.task)]).by_task[task.id].count("dynamo") == 1
    assert {p.id for p in seen_at.parts} >= {first, second}
