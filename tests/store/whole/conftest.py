"""A shop with everything in it: an issued invoice with a payment and a credit note, and a card in hand; made once."""

import shutil
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from shopcli.shop.commands import AddToBill, CloseCard, CreditInvoice, OpenCard, SetPin, TakePayment
from shopcli.shop.pin_hash import Argon
from shopcli.store.shop import Shop, open_shop
from shopcli.worklists.library import Library
from tests.conftest import SETTINGS, Clock, fill
from tests.shop.test_closing import settle_everything


@pytest.fixture(scope="session")
def whole_file(tmp_path_factory: pytest.TempPathFactory, empty_database: Path, library: Library) -> Path:
    file, clock = tmp_path_factory.mktemp("whole") / "whole.db", Clock()
    shutil.copy(empty_database, file)
    shop = open_shop(str(file), settings=SETTINGS, now=clock)
    shop.library = library
    busy = fill(shop, clock)
    busy.do(AddToBill(busy.card, "sundry", "Cleaning materials", 2_500), "Dora")
    settle_everything(busy)
    busy.do(CloseCard(busy.card), "Dora")
    busy.do(TakePayment(busy.card, 1_000, "payment", "card"), "Dora")
    busy.do(CreditInvoice(busy.card, "one pot too many", amount_minor=500, vat="standard"), "Dora")
    busy.do(OpenCard(busy.vehicle, ("oil-change",), words="It drips – again."), "Dora")
    shop.hasher = Argon(time_cost=1, memory_cost=8, parallelism=1)
    busy.do(SetPin(busy.people["Olive"], "2468"), "Olive")
    shop.close()
    with sqlite3.connect(file) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return file


@pytest.fixture
def whole(whole_file: Path, tmp_path: Path, library: Library, clock: Clock) -> Iterator[Shop]:
    shutil.copy(whole_file, tmp_path / "shop.db")
    shop = open_shop(str(tmp_path / "shop.db"), settings=SETTINGS, now=clock)
    shop.library = library
    yield shop
    shop.close()
