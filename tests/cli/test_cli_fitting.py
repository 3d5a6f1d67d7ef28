"""Parts at the task by commands: put, ordered, arrived, another instead, old units, the order list and the stock."""

import json

from tests.cli.conftest import Run


def test_from_the_order_list_to_the_shelf(run: Run) -> None:
    assert "condenser" in run("to-order")[1], "the shelf is at its reorder point"
    assert "On the order list: " in run("order-short", "1")[1]
    listed = json.loads(run("to-order", "--json")[1])
    assert {"J00001 LRK 120", ""} <= {" ".join(o["cards"]) for o in listed}
    waiting = next(o["name"] for o in listed if o["cards"])
    assert run("arrived", "1", waiting)[1].startswith(f"Here: {waiting}.")
    assert run("arrived", "1", waiting)[0] == 2


def test_a_part_is_put_on_by_its_number(run: Run) -> None:
    assert (
        run("part-add", "X-9", "split pin", "0.10", "--stock", "50", "--bin", "C1")[1] == "split pin added.\n"
    )
    assert run("put", "1", "x-9", "--task", "set-gap")[1] == "On the card: split pin.\n"
    assert "fitted by Tom" in run("fit", "1", "split")[1]
    assert run("returned", "1", "split")[1] == "split pin: returned.\n"
    assert "no part has the number" in run("put", "1", "Y-1")[2]


def test_another_part_instead(run: Run) -> None:
    run("part-add", "T-022", "two-piece set", "7.00", "--stock", "1")
    status, out, _ = run("instead", "1", "contact set", "bent", "--number", "T-022", "--task", "set-gap")
    assert (status, "instead of contact set (bent)" in out) == (0, True)
    assert "Give --number" in run("instead", "1", "condenser", "why")[2]
    assert (
        "from the drawer: fitted" in run("instead", "1", "condenser", "none", "--what", "from the drawer")[1]
    )


def test_serial_numbers_and_old_units(run: Run) -> None:
    run("part-add", "D-1", "dynamo", "90", "--stock", "1", "--surcharge", "25", "--serial", "yes")
    run("put", "1", "D-1")
    assert "wants its serial number" in run("fit", "1", "dynamo")[2]
    assert "25.00 surcharge is owed" in run("fit", "1", "dynamo", "--serial", "C40")[1]
    assert "no surcharge" in run("old-unit", "1", "dynamo")[1]
    assert "owed again" in run("old-unit", "1", "dynamo", "--not-back")[1]


def test_the_stock_is_counted(run: Run) -> None:
    assert (
        "condenser: 12 counted, 11 more than written."
        in run("part-change", "T-003", "--stock", "12", "--bin", "D4")[1]
    )
    assert not [o for o in json.loads(run("to-order", "--json")[1]) if o["name"] == "condenser"]
    assert "not an amount" in run("part-change", "T-003", "--cost", "lots")[2]
