"""The page of people, one test a key, each checked in the records."""

import pytest
from textual.pilot import Pilot

from shopcli.screens.app import ShopApp
from shopcli.screens.askpin import AskPin
from shopcli.screens.desk.station import DeskScreen
from shopcli.screens.people.station import PeopleScreen
from shopcli.screens.signin import SignInScreen
from shopcli.shop.commands import SetPin, SignIn
from shopcli.store.reads.people import everybody
from shopcli.store.shop import Shop
from tests.stations.bench_help import MIDDLE, SMALL
from tests.stations.build import HOSTILE, Story, press, seen, settle, still
from tests.stations.test_signing import QUICK, typed, with_pins


async def open_people(pilot: Pilot[None]) -> ShopApp:
    await press(pilot, "f8", "f2")
    assert isinstance(pilot.app, ShopApp)
    assert isinstance(pilot.app.screen, PeopleScreen)
    return pilot.app


def known(told: Story, name: str) -> tuple[str, bool, bool]:
    one = next(p for p in everybody(told.shop) if p.name == name)
    return one.role, one.active, one.has_pin


async def test_an_owner_takes_on_changes_and_lets_go(shop: Shop) -> None:
    told = with_pins(shop)
    async with told.app("Olive").run_test(size=SMALL, notifications=True) as pilot:
        app = await open_people(pilot)
        assert "! no PIN: the name alone will do" in seen(app)
        await press(pilot, "n")
        await typed(pilot, "Ned")
        await press(pilot, *"desk", "down", "enter")
        await typed(pilot, "imp")
        assert known(told, "Ned") == ("desk, mechanic", True, False)
        await press(pilot, "home", "down", "enter", "enter")
        await typed(pilot, "owner,")
        assert known(told, "Ned") == ("owner, mechanic", True, False)
        await press(pilot, "o", "y")
        assert known(told, "Ned") == ("owner, mechanic", False, False)
        await press(pilot, "a", "end")
        assert "Ned\n" in "\n".join(line.strip() + "\n" for line in seen(app).splitlines())
        await press(pilot, "o", "y")
        assert known(told, "Ned") == ("owner, mechanic", True, False)
        await press(pilot, "escape")
        assert isinstance(app.screen, DeskScreen)


async def test_a_pin_is_set_changed_and_taken_away_by_whose_it_is(shop: Shop) -> None:
    told = with_pins(shop, Olive="1357")
    tom = told.people["Tom"]
    async with told.app("Tom").run_test(size=SMALL, notifications=True) as pilot:
        app = await open_people(pilot)
        await press(pilot, "p")
        await typed(pilot, "12")
        assert "a PIN is 4 to 12 figures" in seen(app)
        await typed(pilot, "2468")
        await typed(pilot, "2469")
        assert "that is not the same" in seen(app)
        await typed(pilot, "2468")
        assert known(told, "Tom")[2]
        await press(pilot, "p")
        assert "As it is now" in seen(app)
        await typed(pilot, "0000")
        assert "not Tom's PIN" in seen(app)
        await typed(pilot, "2468")
        await typed(pilot, "8642")
        await typed(pilot, "8642")
        shop.do(SignIn(tom, "8642"), by=tom)
        await press(pilot, "x")
        await typed(pilot, "8642")
        await press(pilot, "y")
        assert not known(told, "Tom")[2]
        await press(pilot, "up", "p")  # Olive's
        assert "that is Olive's PIN" in seen(app)
        assert isinstance(app.screen, PeopleScreen)
        hashes = "".join(str(row) for row in shop.fetch("SELECT * FROM journal"))
        assert "8642" not in hashes
        assert "argon2" not in hashes


async def test_an_owner_sets_a_forgotten_one_and_who_leaves_stands_here_no_longer(shop: Shop) -> None:
    told = with_pins(shop, Nell="2468")
    nell = told.people["Nell"]
    async with told.app("Olive").run_test(size=SMALL, notifications=True) as pilot:
        app = await open_people(pilot)
        await press(pilot, "home", "down", "p")
        await typed(pilot, "97531")
        await typed(pilot, "97531")
        shop.do(SignIn(nell, "97531"), by=nell)
        await press(pilot, "o", "y")
        assert known(told, "Nell") == ("mechanic", False, False)
        await press(pilot, "end", "o", "y")
        assert "Tom's clock still runs" in seen(app)
        await press(pilot, "up", "o", "y")
        assert "only owner" in seen(app)
        await press(pilot, "home", "enter", "enter")
        await typed(pilot, "owner")
        await press(pilot, "end", "up", "o", "y")
        await settle(pilot)
        assert isinstance(app.screen, SignInScreen)
        await press(pilot, "d")
        assert app.who.name == "Dora"


@pytest.mark.parametrize("size", [SMALL, MIDDLE], ids=["80x24", "120x40"])
def test_the_page(shop: Shop, snap_compare: object, size: tuple[int, int]) -> None:
    told = with_pins(shop, Nell="1357")

    async def look(pilot: Pilot[None]) -> None:
        await open_people(pilot)
        await still(pilot)

    assert snap_compare(told.app("Tom"), terminal_size=size, run_before=look)  # type: ignore[operator]


@pytest.mark.parametrize("at", ["list", "pin"])
def test_the_shut_door(shop: Shop, snap_compare: object, at: str) -> None:
    told = with_pins(shop, Tom="2468")

    async def look(pilot: Pilot[None]) -> None:
        await settle(pilot)
        await press(pilot, *(("escape",) if at == "list" else ("2", "4")))
        await still(pilot)

    size = MIDDLE if at == "list" else SMALL
    assert snap_compare(told.app("Tom"), terminal_size=size, run_before=look)  # type: ignore[operator]


@pytest.mark.long
async def test_odd_names_are_shown_not_obeyed(shop: Shop) -> None:
    told = with_pins(shop)
    shop.hasher = QUICK
    async with told.app("Olive").run_test(size=SMALL, notifications=True) as pilot:
        app = await open_people(pilot)
        for odd in HOSTILE:
            from shopcli.shop.commands import AddPerson

            key = told.do(AddPerson(odd[:40]), "Olive").id
            told.do(SetPin(key, "2468"), "Olive")
        app.screen.records_changed()  # type: ignore[attr-defined]
        await settle(pilot)
        await press(pilot, "end", "p", "escape", "escape", "f8", "9")
        assert isinstance(app.screen, AskPin)
        await press(pilot, "escape", "escape")
        app.shut()
        await settle(pilot)
        assert "\x1b" not in seen(app)
