"""Style sheets are read once: what a screen opened for the first time costs is its own sheet, and a theme is still followed."""

import pytest
import textual.css.stylesheet as stylesheets
from textual.css.stylesheet import Stylesheet, StylesheetParseError

from shopcli.screens.app import ShopApp
from shopcli.screens.readonce import ReadOnce
from shopcli.store.shop import Shop

DESK, WEEK = ("Desk { color: $ink; }", ("desk.tcss", "")), ("Week { background: $ink; }", ("week.tcss", ""))


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What was read of sheets, in order."""
    found: list[str] = []
    parse = stylesheets.parse

    def reading(scope: str, css: str, *given: object, **how: object) -> object:
        found.append(css)
        return parse(scope, css, *given, **how)  # type: ignore[arg-type]

    monkeypatch.setattr(stylesheets, "parse", reading)
    return found


def colours(sheet: Stylesheet) -> list[str]:
    return [line for rule in sheet.rules for line in rule.styles.css_lines]


def test_a_sheet_that_comes_later_is_read_alone_and_the_rest_not_again(asked: list[str]) -> None:
    sheet = ReadOnce(variables={"ink": "red"})
    sheet.add_source(*DESK)
    sheet.reparse()
    sheet.add_source(*WEEK)
    sheet.set_variables({"ink": "red"})
    sheet.reparse()
    sheet.reparse()
    assert asked == [DESK[0], WEEK[0]]
    assert colours(sheet) == ["color: #FF0000;", "background: #FF0000;"]


def test_other_colours_are_read_into_every_sheet() -> None:
    sheet = ReadOnce(variables={"ink": "red"})
    sheet.add_source(*DESK)
    sheet.reparse()
    sheet.set_variables({"ink": "blue"})
    sheet.reparse()
    assert colours(sheet) == ["color: #0000FF;"]


def test_a_wrong_sheet_is_told_and_leaves_the_rules_as_they_were() -> None:
    sheet = ReadOnce(variables={"ink": "red"})
    sheet.add_source(*DESK)
    sheet.reparse()
    sheet.add_source("Week { colour: red; }", ("week.tcss", ""))
    with pytest.raises(StylesheetParseError):
        sheet.reparse()
    assert colours(sheet) == ["color: #FF0000;"]


def test_the_application_reads_its_sheets_so(shop: Shop) -> None:
    assert isinstance(ShopApp(shop).stylesheet, ReadOnce)
