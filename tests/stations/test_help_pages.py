"""F1 explains every screen there is: what it is for, its own keys first, and how it is left."""

import re
from pathlib import Path

import pytest

from shopcli.screens import help as help_page
from shopcli.screens.acts import acts_of
from shopcli.store.shop import Shop
from tests.stations.build import press, seen, story

SCREENS = Path(help_page.__file__).parent
NAMED = re.compile(r'HELP_STATION = "(\w+)"')
STATIONS = sorted(
    {"desk", "bench", "week"}
    | {name for file in SCREENS.rglob("*.py") for name in NAMED.findall(file.read_text())}
)


@pytest.mark.parametrize("station", STATIONS)
def test_every_screen_says_what_it_is_for_and_how_it_is_left(station: str) -> None:
    assert help_page.ABOUT[station]
    own = [act for act in acts_of(station) if act.id.startswith(f"{station}.")]
    if station not in {"desk", "bench", "week"}:
        assert any("escape" in act.keys for act in own), f"no key leaves {station}"


async def test_help_opens_over_the_stores_with_their_own_keys_first(shop: Shop) -> None:
    app = story(shop).app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "ctrl+t", "f1")
        picture = seen(app)
        assert "What lies on the shelf" in picture
        assert "History: Show the movements" in " ".join(picture.split())
        assert "Go to the list of open cards." not in picture, "keys of every screen come after its own"
        await press(pilot, "escape")
        assert "What lies on the shelf" not in seen(app)
