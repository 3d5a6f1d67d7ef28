"""Makes the README's pictures from the running application on the demo: ``python -m tests.pictures``."""

import asyncio
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from shopcli.screens.app import ShopApp
from shopcli.store.demo import demo_shop
from shopcli.store.reads.people import people
from tests.stations.build import press, still, write

FOLDER = Path(__file__).parents[1] / ".pictures"
MORNING = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)


async def main() -> None:
    """Export desk, bench and week."""
    with tempfile.TemporaryDirectory() as folder:
        shop = demo_shop(str(Path(folder) / "demo.db"), now=lambda: MORNING)
        tom, ivy = (next(p for p in people(shop) if p.name.startswith(name)) for name in ("Tom", "Ivy"))
        app = ShopApp(shop, tom)
        async with app.run_test(size=(120, 36)) as pilot:
            await still(pilot)
            app.save_screenshot("desk.svg", path=str(FOLDER))
            await write(pilot, "YFN")
            await press(pilot, "enter", "down")
            await still(pilot)
            app.save_screenshot("bench.svg", path=str(FOLDER))
            app.who = ivy  # the week is the owner's
            await press(pilot, "f7")
            await still(pilot)
            app.save_screenshot("week.svg", path=str(FOLDER))
        shop.close()


if __name__ == "__main__":
    asyncio.run(main())
