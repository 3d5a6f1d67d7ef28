"""The file of the records is deleted or replaced while a terminal has it open: told, and nothing written into the void."""

import shutil
from pathlib import Path

import pytest

from shopcli.errors import StoreTrouble
from shopcli.shop.commands import AddCustomer
from tests.conftest import Busy


@pytest.mark.parametrize("wrote_before", [False, True])
def test_deleted_under_us(busy_shop: Busy, wrote_before: bool) -> None:
    file = busy_shop.shop.place.file
    assert file
    if wrote_before:
        busy_shop.do(AddCustomer("Written before"), "Dora")
    aside = file.with_name("aside.db")
    file.rename(aside)
    with pytest.raises(StoreTrouble, match="deleted under this terminal"):
        busy_shop.do(AddCustomer("Nobody would find"), "Dora")
    assert not file.exists(), "no empty records are made in its place"
    aside.rename(file)
    busy_shop.do(AddCustomer("Put back"), "Dora")
    assert busy_shop.shop.fetch("SELECT COUNT(*) FROM customer WHERE name = 'Put back'") == [(1,)]


def test_replaced_under_us(busy_shop: Busy, tmp_path: Path) -> None:
    file = busy_shop.shop.place.file
    assert file
    busy_shop.do(AddCustomer("Written before"), "Dora")
    other = tmp_path / "other.db"
    shutil.copy(file, other)
    other.replace(file)
    with pytest.raises(StoreTrouble, match="replaced"):
        busy_shop.do(AddCustomer("Nobody would find"), "Dora")
