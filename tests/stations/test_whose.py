"""Two terminals change the same field of a card: the later one is asked whose value stands, and nothing is lost unseen."""

import pytest
from textual.pilot import Pilot

from shopcli.screens.dialogs import AskKey
from shopcli.shop.commands import ChangeCard
from shopcli.shop.seen import over
from shopcli.store.reads import bench
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, seen, settle, still, story, write


@pytest.fixture
def told(shop: Shop) -> Story:
    return story(shop)


async def begin(pilot: Pilot[None], what: str) -> None:
    """Ask for a change of the chosen card, up to the field."""
    await press(pilot, "f12")
    await write(pilot, what)
    await press(pilot, "enter")


def meanwhile(told: Story, who: str, **values: object) -> None:
    """Have somebody change Ada's card at another terminal."""
    view = bench.card(told.shop, told.cards["ada"])
    told.do(over(view, ChangeCard(view.id, view.version, **values)), who)  # type: ignore[arg-type]


async def test_whose_value_stands_is_asked(told: Story) -> None:
    app = told.app("Dora")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await settle(pilot)
        await begin(pilot, "customer said")
        meanwhile(told, "Olive", words="It stalls when hot")
        await write(pilot, "It stalls [/oops]")
        await press(pilot, "enter")
        assert isinstance(app.screen, AskKey)
        picture = seen(app)
        for words in ("'It stalls when hot' from Olive at", "yours is 'It stalls [/oops]'", "Which stands?"):
            assert words in picture
        await press(pilot, "enter")  # a key too many decides nothing
        assert isinstance(app.screen, AskKey)
        await press(pilot, "escape")
        assert words_now(told) == "It stalls when hot"

        await begin(pilot, "customer said")
        meanwhile(told, "Tom", words="It stalls uphill")
        await write(pilot, "It stalls downhill")
        await press(pilot, "enter", "t")
        assert "What was there stands." in seen(app)
        assert words_now(told) == "It stalls uphill"

        await begin(pilot, "customer said")
        meanwhile(told, "Tom", words="It never stalls", fuel="half")
        await write(pilot, "It stalls on Mondays")
        await press(pilot, "enter", "m")
        assert words_now(told) == "It stalls on Mondays"
        assert bench.card(told.shop, told.cards["ada"]).fuel == "half"

        await begin(pilot, "keys")
        meanwhile(told, "Tom", damage="nearside wing")
        await write(pilot, "one")
        await press(pilot, "enter")
        assert not isinstance(app.screen, AskKey)  # apart from each other nothing is asked
    now = bench.card(told.shop, told.cards["ada"])
    assert (now.car_keys, now.damage) == ("one", "nearside wing")


def words_now(told: Story) -> str:
    return bench.card(told.shop, told.cards["ada"]).words


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=["80x24", "120x40"])
def test_picture(told: Story, snap_compare, size: tuple[int, int]) -> None:
    async def stand(pilot: Pilot[None]) -> None:
        await settle(pilot)
        await begin(pilot, "promise")
        meanwhile(told, "Olive", promised="2026-12-04")
        await write(pilot, "7.12.")
        await press(pilot, "enter")
        await still(pilot)

    assert snap_compare(told.app("Dora"), terminal_size=size, run_before=stand)
