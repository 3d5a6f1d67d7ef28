"""The invented shop, made fresh: so that everything can be tried on something that looks like three months of work.

Everything is told in ``sample_data`` and carried out by the shop's own commands in one transaction; the same
morning gives the same shop. A file that is not a demo is never touched.
"""

import os
import sqlite3
import tempfile
import time as clock
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from shopcli.errors import Refused
from shopcli.shipped import shipped
from shopcli.shop.part_commands import AddPart
from shopcli.shop.people_commands import AddCustomer, AddVehicle
from shopcli.shop.settings import Settings, load_settings
from shopcli.shop.tool_commands import AddTool
from shopcli.store.demo_days import Days
from shopcli.store.demo_stores import put_on_list, read_stores, supplier_of
from shopcli.store.demo_story import MARK, Line, Told, milli, minor, read_story, table
from shopcli.store.place import Place, find_place
from shopcli.store.schema import version
from shopcli.store.shop import Shop, open_shop, utc_now

if TYPE_CHECKING:
    from shopcli.store.demo_player import Player

DESK = "Maud"
BOOKS = time(8, 0)
BEFORE_ALL = -540  # working days; the shop wrote down its customers and parts before its first card
TOOLS_CHECKED = -70  # when it went through its measuring tools
STALE_S = 2 * 24 * 3600
_SIDES = ("", "-wal", "-shm")


@dataclass(frozen=True, slots=True)
class Sample:
    """What lies in the folder: settings, tables and the story."""

    settings: Settings
    customers: tuple[dict[str, str], ...]
    vehicles: tuple[dict[str, str], ...]
    parts: tuple[dict[str, str], ...]
    tools: tuple[dict[str, str], ...]
    suppliers: tuple[dict[str, str], ...]
    story: tuple[Told, ...]
    stores: tuple[Line, ...]


def read_sample(folder: Path, now: datetime) -> tuple[Sample, Days]:
    """Return the invented shop as its files tell it, and its calendar around `now`.

    Raises
    ------
    BadInput
        When a file cannot be read as what it is.
    """
    settings = load_settings(folder / "shop.toml")
    days = Days(now, settings.tz())
    names = ("customers", "vehicles", "parts", "tools", "suppliers")
    tables = (table(folder / f"{name}.csv") for name in names)
    story, stores = read_story(folder / "story.toml", days), read_stores(folder / "stores.toml", days)
    return Sample(settings, *tables, story=story, stores=stores), days


def demo_file() -> Path:
    """Return a path for a throw-away demo, in the user's cache; old ones are swept away."""
    from platformdirs import user_cache_path

    folder = user_cache_path("shopcli", appauthor=False) / "demo"
    folder.mkdir(parents=True, exist_ok=True)
    for old in folder.glob("demo-*.db*"):
        if clock.time() - old.stat().st_mtime > STALE_S:
            old.unlink(missing_ok=True)
    handle, name = tempfile.mkstemp(prefix="demo-", suffix=".db", dir=folder)
    os.close(handle)
    return Path(name)


def demo_shop(db: str | Path, *, now: Callable[[], datetime] = utc_now) -> Shop:
    """Make the invented shop at `db`, fresh, and open it.

    Parameters
    ----------
    db : str or Path
        A file, or the URL of an empty PostgreSQL database.
    now : callable, optional
        The clock: the story is told back from the time it shows.

    Raises
    ------
    Refused
        When something is there already that is not an untouched demo.
    StoreTrouble
        When the place cannot be written.
    """
    place = find_place(str(db))
    _see_free(place)
    at = now()
    sample, days = read_sample(shipped("sample_data"), at)
    if place.file is None:
        shop = open_shop(str(db), settings=sample.settings, now=lambda: days.at(BEFORE_ALL, BOOKS))
        _fill(shop, sample, days)
        shop.now = now
        return shop
    new = place.file.with_name(f"{place.file.name}.new-{os.getpid()}")
    try:
        shop = open_shop(str(new), settings=sample.settings, now=lambda: days.at(BEFORE_ALL, BOOKS))
        try:
            _fill(shop, sample, days)
        finally:
            shop.close()
        for side in _SIDES[1:]:
            Path(f"{place.file}{side}").unlink(missing_ok=True)
        new.replace(place.file)
    finally:
        for side in _SIDES:
            Path(f"{new}{side}").unlink(missing_ok=True)
    return open_shop(str(place.file), settings=sample.settings, now=now)


def _see_free(place: Place) -> None:
    """Refuse what is not ours to replace.

    Raises
    ------
    Refused
        When the place holds anything but a demo nobody has worked in since.
    """
    if place.file is None:
        if version(place) is not None:
            raise Refused(f"{place.label} has records in it", hint="Give the demo an empty database.")
        return
    if not place.file.exists() or place.file.stat().st_size == 0:
        return
    marked, last_marked, last = _acts(place.file)
    hint = "Name another file for the demo, or move this one away first."
    if not marked:
        raise Refused(f"{place.file} is there already and is not a demo", hint=hint)
    if last > last_marked:
        raise Refused(
            f"the demo in {place.file} has been worked in since it was made",
            hint=f"Go on with it: shopcli --db {place.file}. {hint}",
        )


def _acts(file: Path) -> tuple[int, int, int]:
    """Return how many acts carry the demo's mark, the last of them, and the last act of all; zeros for no shop."""
    sql = "SELECT COUNT(*), MAX(id), (SELECT MAX(id) FROM journal) FROM journal WHERE op LIKE ?"
    try:
        connection = sqlite3.connect(file.absolute().as_uri() + "?mode=ro", uri=True)
        try:
            marked, last_marked, last = connection.execute(sql, (f"{MARK}%",)).fetchone()
        finally:
            connection.close()
    except sqlite3.Error:
        return 0, 0, 0
    return marked, last_marked or 0, last or 0


def _fill(shop: Shop, sample: Sample, days: Days) -> None:
    """Carry out the whole story in one transaction."""
    from shopcli.store.demo_bench import Planner
    from shopcli.store.demo_player import Cast, Player, Who
    from shopcli.store.demo_verbs import VERBS
    from shopcli.store.reads.people import people

    cast = Cast({p.name.split()[0]: Who(p.id, p.units == "imperial") for p in people(shop)})
    with shop.many() as run:
        player = Player(run, days, Planner(days, shop.library.tags), cast, shop.settings)
        _write_down(player, sample, days)
        put_on_list(player, sample.stores)
        player.play(sample.story, VERBS)


def _write_down(player: "Player", sample: Sample, days: Days) -> None:
    """Write down customers, cars, parts and tools, as the desk does before the first card."""
    at, desk, cast = days.at(BEFORE_ALL, BOOKS), DESK, player.cast
    owners: dict[str, int] = {}
    for row in sample.customers:
        address = row["address"].replace("|", "\n")
        command = AddCustomer(row["name"], row["phone"], row["email"], address)
        owners[row["name"]] = player.do(command, desk, at).id
    for row in sample.vehicles:
        facts = tuple(_pair(fact) for fact in row["facts"].split(";") if fact)
        car = AddVehicle(
            owners[row["customer"]],
            row["registration"],
            row["make"],
            row["model"],
            int(row["year"]),
            row["sheet"],
            row["distance_unit"],
            row["chassis"],
            row["engine"],
            facts,
        )
        cast.cars[row["registration"]] = player.do(car, desk, at).id
    for row in sample.suppliers:
        player.do(supplier_of(row), desk, at)
    for row in sample.parts:
        cast.parts[row["number"]] = player.do(_part(row), desk, at).id
        cast.steps[row["name"]] = tuple(row["goes_with"].split())
    checked = days.at(TOOLS_CHECKED, BOOKS)
    for row in sample.tools:
        player.at(checked, partial(player.do, _tool(row, checked.date()), desk, checked))


def _pair(text: str) -> tuple[str, str]:
    name, _, value = text.partition("=")
    return name.strip(), value.strip()


def _tool(row: dict[str, str], today: date) -> AddTool:
    """Return a tool; its calibration is told in days before the shop wrote its books."""
    on = (today - timedelta(days=int(row["calibrated"]))).isoformat() if row["calibrated"] else ""
    return AddTool(
        row["name"],
        row["kind"],
        row["range"],
        row["graduation"],
        row["blades"],
        on,
        row["certificate"],
        note=row["note"],
    )


def _part(row: dict[str, str]) -> AddPart:
    return AddPart(
        row["number"],
        row["name"],
        minor(row["cost"]),
        price_minor=minor(row["price"]) if row["price"] else None,
        stock_milli=milli(row["stock"]),
        reorder_milli=milli(row["reorder"]),
        surcharge_minor=minor(row["surcharge"] or "0"),
        bin=row["bin"],
        supplier=row["supplier"],
        vat=row["vat"],
        unit=row["unit"],
    )
