"""The docs page of the workings is never older than the workings."""

from pathlib import Path

from shopcli.worklists.workings_at_hand import every_working
from shopcli.worklists.workings_page import page_text

PAGE = Path(__file__).parents[2] / "shopcli" / "workings" / "README.md"


def test_the_page_is_as_the_descriptions_are():
    again = "it is stale: shopcli workings --page > shopcli/workings/README.md"
    assert PAGE.read_text(encoding="utf-8") == page_text(), again


def test_the_page_tells_of_every_working_with_its_source():
    text = page_text()
    for working in every_working().values():
        assert f"### {working.name}\n" in text
        assert f"Source: {working.source}" in text
        assert f"$ shopcli work {working.name} " in text
