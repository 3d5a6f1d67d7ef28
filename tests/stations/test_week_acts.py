"""What is done at the week: a time taken over, who was away, papers and tables."""

import csv
import json
from pathlib import Path

import pytest

from shopcli.store.reads.absences import absences
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, seen
from tests.stations.week_help import slow_points, told_week


@pytest.fixture
def told(shop: Shop) -> Story:
    return told_week(shop)


async def test_a_time_is_taken_over_with_one_key_and_back_with_another(told: Story) -> None:
    slow_points(told)
    app = told.app("Olive")
    listed = told.shop.library.template("points")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "5")
        assert "! longer, × 2.00" in seen(app)
        await press(pilot, "t")
        now = told.shop.library.template("points")
        assert sum(t.minutes for t in now.tasks) == 2 * sum(t.minutes for t in listed.tasks)
        assert told.shop.fetch("SELECT template, per_mille, cases FROM own_time") == [("points", 2000, 10)]
        picture = seen(app)
        assert "leave it" in picture
        assert "! longer" not in picture
        await press(pilot, "t")
        assert "t takes over a time" in seen(app)
        await press(pilot, "u")
        assert "! longer, × 2.00" in seen(app)
    assert told.shop.library.template("points") == listed


async def test_paper_and_tables_are_written_where_the_shop_keeps_its_papers(
    told: Story, tmp_path: Path
) -> None:

    told.shop.settings = told.shop.settings._replace(papers_folder=str(tmp_path / "papers"))
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "p", "x")
        assert "files are in" in seen(app)
    folder = tmp_path / "papers"
    assert (folder / "2026-W48-report.pdf").read_bytes().startswith(b"%PDF")
    data = json.loads((folder / "2026-W48-report.json").read_text())
    rows = list(csv.DictReader((folder / "2026-W48-flow-weeks.csv").read_text().splitlines()))
    assert [(r["week"], r["opened"], r["closed"]) for r in rows][-1] == ("2026-W48", "2", "1")
    assert data["tables"]["flow-weeks"][-1]["opened"] == 2
    assert not list(folder.glob("*-2.*"))


async def test_who_was_away_is_noted_with_one_key_and_withdrawn(told: Story) -> None:
    app = told.app("Olive")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "3", "a", *"nell", "enter")
        await press(pilot, *"24.11. 90 min dentist")
        assert "Tuesday 24 November 2026, 90 min of each, dentist" in seen(app)
        await press(pilot, "enter")
        (noted,) = absences(told.shop)
        assert (noted.person, str(noted.first), noted.minutes, noted.why) == (
            "Nell",
            "2026-11-24",
            90,
            "dentist",
        )
        await press(pilot, "a", *"dentist", "enter")
        assert absences(told.shop) == ()
    app = told.app("Tom")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f7", "a")
        assert "for the owner" in seen(app)
