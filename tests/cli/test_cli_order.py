"""The order of work at the command line: the text with its picture, data, wishes, and refusals with the reason."""

import json

from shopcli.columns import display_width
from tests.cli.conftest import Run
from tests.conftest import Busy


def numbers(run: Run, *words: str) -> list[int]:
    return [step["number"] for step in json.loads(run("plan", "1", "--json", *words)[1])["steps"]]


def test_the_plan_shows_figures_picture_steps_and_reasons(run: Run) -> None:
    status, out, _err = run("plan", "1")
    assert status == 0
    assert "ORDER OF WORK J00001" in out
    assert "2 h 14 hands-on" in out
    assert "with 1 pair of hands. From top to bottom" in out.replace("\n", " ")
    assert "person 1  " in out
    assert "draining: Drain the oil" in out
    assert "+0:00" in out
    assert "parts missing: strainer gasket" in out.replace("\n             ", " ")
    assert max(map(display_width, out.splitlines())) <= 80


def test_ascii_draws_with_plain_characters(run: Run) -> None:
    out = run("plan", "1", "--ascii", "--width", "100")[1]
    assert out.isascii()
    assert max(map(len, out.splitlines())) <= 100
    assert run("plan", "1", "--width", "20")[0] == 2


def test_hands_for_one_look_keep_nothing(run: Run) -> None:
    two = json.loads(run("plan", "1", "--json", "--hands", "2")[1])
    assert two["hands"] == 2
    assert {s["who"] for s in two["steps"]} == {"person 1", "person 2"}
    assert json.loads(run("plan", "1", "--json")[1])["hands"] == 1
    assert "for 9 people" in run("plan", "1", "--hands", "9")[2]


def test_hands_of_the_card_are_kept(run: Run) -> None:
    assert run("hands", "1", "2")[1] == "Card J00001: 2 pairs of hands.\n"
    assert json.loads(run("plan", "1", "--json")[1])["from_card"] == 2
    assert run("hands", "1", "0")[1].startswith("Card J00001: as many hands")
    assert run("hands", "1", "9")[0] == 2


def test_pin_next_last_place_after_and_by_somebody(run: Run) -> None:
    as_planned = numbers(run)
    assert run("pin", "1", "read the dipstick before", "--place", "3")[1].endswith("in place 3, as asked.\n")
    assert numbers(run)[2] == 1
    assert run("pin", "1", "road test", "--last")[0] == 0
    assert run("pin", "1", "gap-found", "--after", "drain")[0] == 0
    assert run("pin", "1", "gap-found", "--person", "nell")[0] == 0
    assert run("pin", "1", "points:make-safe", "--next")[0] == 0
    out = run("plan", "1")[1]
    assert "Asked for" in out
    for words in ("in place 3", "last", "after 'Drain the oil'", "by Nell", "next"):
        assert f": {words}, asked by Tom" in out.replace("\n    ", " ")
    data = json.loads(run("plan", "1", "--json")[1])
    assert data["steps"][0]["wish"] == "next"
    assert run("give-back", "1", "road test")[1] == "One wish given back.\n"
    assert run("give-back", "1")[1] == "4 wishes given back.\n"
    assert numbers(run) == as_planned


def test_move_from_where_it_stands_now(run: Run, busy_shop: Busy) -> None:
    waste = busy_shop.task("oil-change:waste").position
    run("pin", "1", "waste", "--place", "16")
    assert numbers(run).index(waste) == 15
    assert run("move", "1", "waste", "later")[0] == 0
    assert numbers(run).index(waste) == 16
    assert run("move", "1", "waste", "later", "3")[0] == 0
    assert numbers(run).index(waste) == 19
    assert run("move", "1", "waste", "earlier", "2")[0] == 0
    assert numbers(run).index(waste) == 17


def test_refusals_say_the_reason(run: Run) -> None:
    status, _out, err = run("pin", "1", "fill with", "--next")
    assert status == 2
    assert "come before it" in err
    assert "take the wish back" in err
    assert "Places run from 1" in run("move", "1", "1", "earlier", "50")[2]
    run("clock", "on", "1", "1")
    assert "in hand" in run("move", "1", "1", "later")[2]
    assert "nothing was asked" in run("give-back", "1")[2]


def test_show_lists_in_the_order_of_work_with_the_tasks_own_numbers(run: Run, busy_shop: Busy) -> None:
    run("leave-out", "1", "waste", "customer takes it")
    out = run("show", "1")[1]
    heads = [
        line.split(".")[0].strip()
        for line in out.splitlines()
        if line[4:5] == "." and line[:4].strip().isdigit()
    ]
    waste = busy_shop.task("oil-change:waste").position
    assert heads == [str(waste), *map(str, numbers(run))]


def test_nothing_left_is_said(run: Run, busy_shop: Busy) -> None:
    assert run("new", "LRK 120", "--words", "Rattles")[0] == 0
    assert "nothing left to do" in run("plan", "2")[1]
