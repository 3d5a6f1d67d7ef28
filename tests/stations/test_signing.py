"""Signing in as people do it: at the start, at F8, and at the door that shuts after a while."""

from collections.abc import Callable
from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Input

from shopcli.screens.app import ShopApp
from shopcli.screens.askpin import AskPin
from shopcli.screens.bench.findingform import FindingForm
from shopcli.screens.desk.station import DeskScreen
from shopcli.screens.dialogs import Confirm
from shopcli.screens.signin import SignInScreen
from shopcli.screens.week.opened import OpenedScreen
from shopcli.screens.week.station import WeekScreen
from shopcli.screens.who import WhoScreen
from shopcli.shop.commands import ChangePerson, ClockOn, FinishTask, SetPin, SignIn
from shopcli.shop.pin_hash import Argon
from shopcli.store.reads import people
from shopcli.store.shop import Shop, open_shop
from tests.conftest import SETTINGS, Clock
from tests.stations.bench_help import SMALL, bench_shop, standing
from tests.stations.build import Story, press, seen, settle, story

QUICK = Argon(time_cost=1, memory_cost=8, parallelism=1)


def with_pins(shop: Shop, **pins: str) -> Story:
    told = story(shop)
    shop.hasher = QUICK
    for name, pin in pins.items():
        told.do(SetPin(told.people[name], pin), name)
    return told


async def typed(pilot: Pilot[None], text: str) -> None:
    """Type a text and Enter as quickly as hands do."""
    await pilot.press(*text, "enter")
    await settle(pilot)


async def test_whoever_must_sign_in_sees_nothing_before(shop: Shop) -> None:
    told = with_pins(shop, Dora="2468")
    app = ShopApp(shop, must_sign_in=True)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, SignInScreen)
        here = seen(app)
        assert "1  Dora" in here
        assert not any(name in here for name in ("Tom", "Olive", "LRK", "J000", "Ada"))  # no PIN, no way in
        assert app.who.id not in told.people.values()
        await pilot.press("f5", "f6", "f7", "f8", "f10", "ctrl+t", "ctrl+p", "f1", "t", "4", "escape")
        await settle(pilot)
        assert isinstance(app.screen, SignInScreen)
        app.notify("Ada Lark's card", markup=False)
        await settle(pilot)
        assert "Ada" not in seen(app)
        await press(pilot, "d")
        assert isinstance(app.screen, AskPin)
        await typed(pilot, "1x111")
        assert "that is not Dora's PIN. 4 more tries" in seen(app).replace("4 More", "4 more")
        assert app.screen.query_one(Input).value == ""
        await press(pilot, "f7", *"2468")
        assert "2468" not in seen(app)
        await press(pilot, "enter")
        assert isinstance(app.screen, DeskScreen)
        assert app.who.name == "Dora"
        assert "Dora" in seen(app)
        assert "LRK 120" in seen(app)
        await press(pilot, "f8", "t")
        assert "Tom has no PIN" in " ".join(seen(app).split())
        assert app.who.name == "Dora"


async def test_f8_asks_for_the_pin_of_whoever_has_one(shop: Shop) -> None:
    told = with_pins(shop, Olive="1357")
    app = told.app("Tom")
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await settle(pilot)
        # In one burst: no figure of the PIN falls past the question.
        await pilot.press("f8", "o", *"1357", "enter")
        await settle(pilot)
        assert (app.who.name, type(app.screen)) == ("Olive", DeskScreen)
        await press(pilot, "f8", "o")  # who stands here already proves nothing again
        assert (app.who.name, type(app.screen)) == ("Olive", DeskScreen)
        # The whole name, in one go: no letter of it falls on the list of cards, or on somebody else's name.
        await pilot.press("f8", *"tom")
        await settle(pilot)
        assert (app.who.name, type(app.screen)) == ("Tom", DeskScreen)
        assert app.screen.query_one(Input).value == ""
        await press(pilot, "f8")
        assert "PIN" in next(line for line in seen(app).splitlines() if "Olive" in line)
        await press(pilot, "3")
        await typed(pilot, "9999")
        assert "not Olive's PIN" in seen(app)
        await press(pilot, "escape")
        assert isinstance(app.screen, WhoScreen)
        await press(pilot, "escape")
        assert app.who.name == "Tom"


async def test_the_door_shuts_after_a_while_and_opens_to_where_it_was(shop: Shop, clock: Clock) -> None:
    told = with_pins(shop, Tom="2468", Olive="1357")
    app = told.app("Nell")
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await settle(pilot)
        clock.forward(minutes=40)
        assert not app.see_idle()  # Nell has no PIN
        await press(pilot, "f8", "t")
        await typed(pilot, "2468")
        app.open_card(told.cards["ada"])
        await settle(pilot)
        await press(pilot, "s")  # a finding, half typed
        await pilot.press(*"hose")
        clock.forward(minutes=14)
        assert not app.see_idle()
        clock.forward(minutes=2)
        assert app.see_idle()
        await settle(pilot)
        assert isinstance(app.screen, AskPin)
        here = seen(app)
        assert "PIN of Tom" in here
        assert "Your clock runs" in here
        assert not any(word in here for word in ("LRK", "J000", "hose", "Ada"))
        app.notify("Fitted: a contact set", markup=False)
        await settle(pilot)
        assert "Fitted" not in seen(app)
        await typed(pilot, "2468")
        assert isinstance(app.screen, FindingForm)
        assert "hose" in seen(app)
        assert "Fitted: a contact set" in seen(app)  # what was told meanwhile is told to whom it was told
        app.shut()
        app.open_card(told.cards["ben"])  # what is still under way does not open the door
        app.push_screen(Confirm("Is J00002 the card?"))
        await settle(pilot)
        assert isinstance(app.screen, AskPin)
        assert "J000" not in seen(app)
        await typed(pilot, "2468")
        assert isinstance(app.screen, Confirm)
        assert app.who.name == "Tom"


async def test_somebody_else_comes_in_and_no_clock_is_touched(shop: Shop, clock: Clock) -> None:
    told = with_pins(shop, Olive="1357")
    told.do(ClockOn(told.task("ada", "points:gap")), "Tom")
    app = told.app("Olive")
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await settle(pilot)
        assert "PIN of Olive" in seen(app)  # at the start, too
        await typed(pilot, "1357")
        await press(pilot, "f7")
        assert isinstance(app.screen, WeekScreen)
        app.push_screen(OpenedScreen(app.screen.period, "invoiced"))  # rows only the owner sees
        await settle(pilot)
        before = shop.fetch("SELECT id, ended_at FROM clock_entry ORDER BY id")
        clock.forward(minutes=16)
        await pilot.press("x")  # the first key finds it shut, and does nothing else
        await settle(pilot)
        assert isinstance(app.screen, AskPin)
        await press(pilot, "escape")
        here = seen(app)
        assert "clock runs" in next(line for line in here.splitlines() if "Tom" in line)
        assert not any(word in here for word in ("points", "J000", "£"))
        await press(pilot, "t")
        assert (app.who.name, app.current_mode) == ("Tom", "week")
        assert isinstance(app.screen, WeekScreen)
        assert "£" not in seen(app)
        assert shop.fetch("SELECT id, ended_at FROM clock_entry ORDER BY id") == before
        assert shop.fetch("SELECT COUNT(*) FROM journal WHERE act = 'SignIn'") == [(0,)]
        tom = next(p for p in people.everybody(shop) if p.name == "Tom")
        told.do(
            ChangePerson(tom.id, tom.version, "Thomas", "owner, mechanic"), "Olive"
        )  # at another terminal
        app.look_round()
        assert (app.who.name, app.who.role) == ("Thomas", "owner, mechanic")
        shop.do(SignIn(told.people["Olive"], "1357"), by=told.people["Olive"])


async def test_who_signs_the_second_check_types_their_pin(
    make_shop: Callable[..., Shop], clock: Clock
) -> None:
    busy = bench_shop(make_shop, clock)
    busy.shop.hasher = QUICK
    busy.do(SetPin(busy.people["Nell"], "2468"), "Nell")
    busy.do(FinishTask(busy.task("bench-test:torque").id, "for the test"))
    async with standing(busy) as here:
        for pin in ("1111", "2468"):
            await here.go("torque")
            await here.press("v")
            await here.type("nell")
            assert isinstance(here.app.screen, AskPin)
            await here.type(pin)
            if pin == "1111":
                assert "not Nell's PIN" in seen(here.app)
                await here.press("escape")
                assert busy.task("bench-test:torque").second_by == ""
        assert busy.task("bench-test:torque").second_by == "Nell"
        assert here.app.who.name == "Tom"


async def test_the_first_start_asks_whose_shop_it_is(tmp_path: Path) -> None:
    shop = open_shop(str(tmp_path / "new.db"), settings=SETTINGS._replace(staff=()), now=Clock())
    shop.hasher = QUICK
    (owner,) = people.people(shop)
    assert (owner.name, owner.role) == ("Owner", "owner")
    app = ShopApp(shop, owner)
    app.is_first_start = people.unnamed_owner(shop) is not None
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await settle(pilot)
        assert "Whose shop is this?" in seen(app)
        await typed(pilot, "Ada")
        assert app.who.name == "Ada"
        await typed(pilot, "2468")
        await typed(pilot, "2468")
        assert isinstance(app.screen, DeskScreen)
        assert "Ada" in seen(app)
        shop.do(SignIn(owner.id, "2468"), by=owner.id)
        assert people.unnamed_owner(shop) is None
    rows = shop.fetch("SELECT act, person_id FROM journal ORDER BY id")
    assert rows == [("AddPerson", None), ("ChangePerson", owner.id), ("SetPin", owner.id)]
    shop.close()
