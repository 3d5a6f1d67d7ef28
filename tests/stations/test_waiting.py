"""A screen that breaks before it stands is told at once, instead of being waited for."""

import pytest

from shopcli.screens.desk import station
from shopcli.store.shop import Shop
from tests.stations import build


async def test_a_screen_that_breaks_before_it_is_painted_is_not_waited_for(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    def breaks(_self: object) -> None:
        raise RuntimeError("no first picture")

    monkeypatch.setattr(station.DeskScreen, "_look_at_left", breaks)
    monkeypatch.setattr(build, "PATIENCE", 40)
    app = build.story(shop).app()
    with pytest.raises(RuntimeError, match="no first picture"):
        async with app.run_test(size=(80, 24), notifications=True) as pilot:
            await build.still(pilot)
