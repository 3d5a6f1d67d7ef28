"""The settings file: what may stand in it, and what is said when something else does."""

from decimal import Decimal
from pathlib import Path

import pytest

from shopcli.errors import BadInput, StoreTrouble
from shopcli.shop.settings import Settings, load_settings, read_settings

GOOD = """
shop_name = "Test Lane"
address = ["1 Lane", "Town"]
currency = "EUR"
labour_minor = 7250
labour_unit_minutes = 15
labour_rounding = "nearest"
units = "imperial"
zone = "Europe/Dublin"
[[vat_rates]]
name = "standard"
percent = 23
[[vat_rates]]
name = "reduced"
percent = "13.5"
[[staff]]
name = "Ina"
role = "owner"
[[markup]]
from = 0
percent = 40
[[markup]]
from = 50
percent = 25
"""


def test_everything_a_shop_chooses() -> None:
    s = read_settings(GOOD)
    assert s.vat("reduced").percent == Decimal("13.5")
    assert s.markup == ((0, Decimal(40)), (5000, Decimal(25)))
    assert s.staff[0].role == "owner"
    assert str(s.tz()) == "Europe/Dublin"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("colour = 'red'", "unknown key 'colour'"),
        ("shop_name = 3", "text is wanted"),
        ("labour_minor = '3'", "whole number is wanted"),
        ("labour_unit_minutes = 0", "1 or more"),
        ("labour_rounding = 'down'", "'up' or 'nearest'"),
        ("zone = 'Mars/North'", "not known"),
        ("zone = '../../etc/passwd'", "not known"),
        ("units = 'furlong'", "'metric' or 'imperial'"),
        ("vat_rates = 20", "wants tables"),
        ("[[vat_rates]]\nname = 'x'", "lacks 'percent'"),
        ("[[vat_rates]]\nname = 'standard'\npercent = -1", "below zero"),
        ("[[vat_rates]]\nname = 'standard'\npercent = 'much'", "number is wanted"),
        ("[[vat_rates]]\nname = 'other'\npercent = 1", "no VAT rate is called 'standard'"),
        ("shop_name = ", "settings"),
    ],
)
def test_what_is_wrong_is_named(text: str, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        read_settings(text)


def test_no_file_means_defaults_and_an_unreadable_one_says_so(tmp_path: Path) -> None:
    assert load_settings(tmp_path / "none.toml") == Settings()
    folder = tmp_path / "folder.toml"
    folder.mkdir()
    with pytest.raises(StoreTrouble):
        load_settings(folder)


def test_how_many_people_usually_work_on_a_car() -> None:
    assert read_settings("").hands == 1
    assert read_settings("hands = 3").hands == 3
    for text in ("hands = 0", "hands = 9", 'hands = "two"'):
        with pytest.raises(BadInput, match="hands"):
            read_settings(text)
