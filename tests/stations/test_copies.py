"""The application copies the records by itself when a copy is due, and says so only when it cannot."""

from pathlib import Path

from textual.widget import Widget

from shopcli.screens.app import ShopApp
from shopcli.store.reads.people import person
from shopcli.store.whole.backups import backups
from tests.conftest import Busy
from tests.stations.build import until

OFTEN_S = 0.05


def app(busy: Busy, folder: Path) -> ShopApp:
    busy.shop.settings = busy.shop.settings._replace(backup_folder=str(folder))
    made = ShopApp(busy.shop, person(busy.shop, "Tom"))
    made.BACKUP_LOOK_S = OFTEN_S
    return made


async def test_a_copy_that_is_due_is_made_once(busy_shop: Busy, tmp_path: Path) -> None:
    folder = tmp_path / "copies"
    async with app(busy_shop, folder).run_test() as pilot:
        await until(pilot, lambda: backups(folder, "shop"))
        await pilot.pause(OFTEN_S * 4)
    assert len(backups(folder, "shop")) == 1
    assert [f.suffix for f in folder.iterdir()] == [".db"]


async def test_what_hinders_it_is_said_once(busy_shop: Busy, tmp_path: Path) -> None:
    folder = tmp_path / "copies"
    folder.write_text("a file, not a folder")
    here = app(busy_shop, folder)
    async with here.run_test(notifications=True) as pilot:
        await until(pilot, lambda: len(here._notifications))
        await pilot.pause(OFTEN_S * 4)
        (said,) = here._notifications
    assert said.message.startswith("No copy of the records was made: ")


async def test_what_others_write_while_the_program_ends_is_shown_nowhere(
    busy_shop: Busy, tmp_path: Path
) -> None:
    here = app(busy_shop, tmp_path / "copies")
    async with here.run_test() as pilot:
        await pilot.pause()
        prune = here._prune

        async def taken_down(screen: Widget) -> None:
            await prune(screen)
            here.on_records_changed()  # the last word of the watch, when the screen is empty already

        here._prune = taken_down  # type: ignore[method-assign, assignment]
