"""Who was away from the shell, and the tables of the week put in step again."""

import json
import sqlite3

from shopcli.shop.week_rights import OF_WORD
from shopcli.store.reads import week_rows_flow
from shopcli.store.reads.week_rows import QUESTIONS
from tests.cli.conftest import Run
from tests.conftest import Busy


def test_who_was_away_is_noted_listed_and_withdrawn(run: Run) -> None:
    assert run("away", "--by", "Olive") == (0, "Nobody was away.\n", "")
    status, out, _err = run("away", "Tom", "2026-12-24", "2026-12-28", "--why", "Christmas", "--by", "Olive")
    assert (status, out) == (0, "Tom is noted as away: 2026-12-24 to 2026-12-28.\n")
    assert run("away", "Nell", "2026-12-01", "--minutes", "90", "--by", "Olive")[0] == 0
    lines = run("away", "--by", "Olive")[1].splitlines()
    assert lines[1].split() == ["1", "Tom", "2026-12-24", "2026-12-28", "whole", "day", "Christmas"]
    assert "90 min" in lines[2]
    assert json.loads(run("away", "--json", "--by", "Olive")[1])[1]["minutes"] == 90
    assert run("away", "--withdraw", "1", "--by", "Olive")[0] == 0
    assert "Christmas" not in run("away", "--by", "Olive")[1]


def test_it_is_the_owners_and_wants_a_day(run: Run) -> None:
    for argv in (("away",), ("away", "Tom", "2026-12-24"), ("away", "--withdraw", "1")):
        status, _out, err = run(*argv)
        assert status == 2
        assert "owner" in err
    assert "since when" in run("away", "Tom", "--by", "Olive")[2]


def test_the_week_is_examined_and_put_in_step(run: Run, busy_shop: Busy) -> None:
    assert run("reckon-weeks") == (0, "The week was in step with the records.\n", "")
    with sqlite3.connect(str(busy_shop.shop.place.file)) as connection:
        connection.execute("INSERT INTO taken_off (invoice_id, week, minor) VALUES (99, '2026-W48', 5)")
    status, out, _err = run("examine")
    assert status == 1
    assert "shopcli reckon-weeks" in out
    status, out, _err = run("reckon-weeks")
    assert status == 0
    assert out.splitlines()[0].startswith("! discounts: kept and not so")
    assert run("examine")[0] == 0


def test_every_figure_that_is_not_of_the_flow_says_whose_eyes_it_is_for() -> None:
    assert set(QUESTIONS) - set(week_rows_flow.QUESTIONS) <= set(OF_WORD)
