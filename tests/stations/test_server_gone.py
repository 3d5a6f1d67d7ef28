"""The server stops while somebody works: told in words, nothing half done, and the same terminal goes on when it is back."""

from shopcli.screens.app import ShopApp
from shopcli.store.reads.people import person
from shopcli.store.shop import open_shop
from tests.conftest import SETTINGS, Clock, fill
from tests.postgres import Cluster, found_or_skip
from tests.stations.build import press, seen, until


async def test_the_server_goes_and_comes_back() -> None:
    server, clock = Cluster(found_or_skip()), Clock()
    try:
        server.start()
        shop = open_shop(server.make("shop"), settings=SETTINGS, now=clock)
        busy = fill(shop, clock)
        app = ShopApp(shop, person(shop, "Tom"), card_id=busy.card)
        async with app.run_test(size=(120, 40), notifications=True) as pilot:
            await press(pilot, "f6")
            first = seen(app)
            assert "Ignition off, key out" in first
            server.halt()
            await until(pilot, lambda: "records out of reach" in seen(app))
            await press(pilot, "c", "d", "j", "f5", "k", "f6", "f8", "escape", "f7", "f6")
            assert "Ignition off, key out" in seen(app), "what was read is still there"
            assert any(
                "cannot be reached" in n.message for n in app._notifications
            ) or "cannot be reached" in seen(app)
            server.serve()
            await until(pilot, lambda: "records out of reach" not in seen(app))
            assert shop.fetch("SELECT COUNT(*) FROM clock_entry") == [(0,)]
            await press(pilot, "c")
            assert shop.fetch("SELECT COUNT(*) FROM clock_entry WHERE ended_at IS NULL") == [(1,)]
        shop.close()
    finally:
        server.stop()
