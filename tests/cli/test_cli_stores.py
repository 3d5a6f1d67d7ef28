"""The stores by commands: shelf and counts, suppliers, orders from draft to goods, outwork, exchanges and credits."""

import json
from pathlib import Path
from typing import Any

from tests.cli.conftest import Run


def data(run: Run, *words: str) -> Any:
    status, out, err = run(*words, "--json")
    assert status == 0, err
    return json.loads(out)


def test_the_shelf_is_listed_counted_and_corrected(run: Run, tmp_path: Path) -> None:
    (contact,) = data(run, "stock", "list", "contact")
    assert (contact["number"], contact["stock"], contact["wanted"], contact["low"]) == (
        "T-002",
        "2",
        "1",
        False,
    )
    assert run("stock", "count", "T-002", "5", "t-003", "1")[1].splitlines() == [
        "contact set: 5 counted, 3 more than written.",
        "condenser: 1, as it should be.",
    ]
    table = tmp_path / "counts.csv"
    table.write_text("T-001,19.5\nT-002,\n", encoding="utf-8")
    assert "19.5 counted, 0.5 fewer" in run("stock", "count", "--file", str(table))[1]
    assert run("stock", "correct", "T-002", "-0.5", "dropped")[1] == "contact set: 4.5 now (dropped).\n"
    assert "how many of T-002 are there" in run("stock", "count", "T-002")[2]
    assert "cannot read" in run("stock", "count", "--file", str(tmp_path / "none.csv"))[2]
    story = data(run, "stock", "show", "T-002")
    assert [m["why"] for m in story["moves"]] == ["correction", "stock-taking", "stock-taking"]
    assert "changed" not in run("stock", "show", "T-002")[1]
    assert run("stock", "check") == (0, "Every stock is the sum of its movements.\n", "")
    assert "dropped" in run("stock", "undo", "--look")[1]
    assert run("stock", "undo")[1].startswith("Taken back: contact set: 4.5 now")
    assert data(run, "stock", "list", "contact")[0]["stock"] == "5"
    assert "condenser" in run("stock", "list", "--low")[1]


def test_a_supplier_is_written_down_and_changed(run: Run) -> None:
    run("supplier", "add", "Sparkwell Electrics", "--phone", "01632 960111", "--days", "2")
    assert run("supplier", "change", "spark", "--rename", "Sparkwell & Daughter", "--account", "TL 4")[0] == 0
    (row,) = data(run, "supplier", "list")
    assert (row["name"], row["account"], row["usual_days"]) == ("Sparkwell & Daughter", "TL 4", 2)
    assert "Sparkwell & Daughter" in run("supplier", "list")[1]
    assert "no supplier is 'Fenn'" in run("supplier", "change", "Fenn")[2]


def test_an_order_from_the_list_to_the_card(run: Run, tmp_path: Path) -> None:
    run("supplier", "add", "Sparkwell Electrics", "--days", "2")
    run(
        "part-add",
        "L-1",
        "lamp",
        "1",
        "--stock",
        "2",
        "--reorder",
        "4",
        "--pack",
        "5",
        "--supplier",
        "Sparkwell Electrics",
    )
    run("put", "1", "L-1")
    run("order", "1", "lamp")
    key = next(n["key"] for n in data(run, "to-order") if n["name"] == "lamp")
    assert (
        "Order P00001, Sparkwell Electrics: 5 pc lamp." in run("purchase", "draft", "spark", "--only", key)[1]
    )
    assert "lamp" not in [n["name"] for n in data(run, "to-order")]
    assert "20 pc condenser" in run("purchase", "add", "spark", "T-003", "20")[1]
    assert "off order P00001" in run("purchase", "change", "1", "condenser", "--qty", "0")[1]
    assert run("purchase", "change", "1", "lamp", "--cost", "1.20")[0] == 0
    run("hold", "1", "waiting for the lamp", "--parts")
    assert "Order P00001 is sent, due " in run("purchase", "send", "1")[1]
    paper = run("paper", "order", "1")[1]
    assert "P00001" in paper
    assert "Sparkwell Electrics" in paper
    assert "£6.00" in paper
    run("paper", "order", "1", "--pdf", str(tmp_path / "order.pdf"))
    assert (tmp_path / "order.pdf").read_bytes().startswith(b"%PDF")
    assert "which part of order P00001 is 'rim'" in run("purchase", "in", "1", "rim")[2]
    assert "say that it is more" in run("purchase", "in", "1", "lamp", "9")[2]
    assert "To bin" not in run("purchase", "in", "1", "lamp", "2", "--cost", "1.30")[1]
    assert "3" in run("purchase", "show", "P00001")[1]
    (order,) = data(run, "purchase", "list")
    assert (order["state"], order["lines"][0]["rest"]) == ("part in", "3")
    assert "In: 3 pc lamp" in run("purchase", "all-in", "1")[1]
    (here,) = data(run, "purchase", "arrived")
    assert (here["card"], here["state"], here["parts"], here["all_here"]) == (
        "J00001",
        "in hand",
        ["lamp"],
        True,
    )
    assert data(run, "purchase", "list") == []
    assert "P00001" in run("purchase", "list", "--all")[1]
    assert "no order '7'" in run("purchase", "show", "7")[2]


def test_what_does_not_come_is_given_up(run: Run) -> None:
    run("supplier", "add", "Sparkwell Electrics")
    run("purchase", "add", "spark", "T-003", "20")
    run("purchase", "add", "spark", "T-002", "20")
    assert "not coming (gone)" in run("purchase", "not-coming", "1", "T-003", "gone")[1]
    assert "given up (too dear)" in run("purchase", "cancel", "1", "too dear")[1]
    assert data(run, "purchase", "list", "--all")[0]["state"] == "cancelled"


def test_outwork_out_and_back(run: Run) -> None:
    run("supplier", "add", "Fell & Co", "--phone", "01632 960222")
    assert "before it was sent" in run("outwork", "send", "1", "skim", "fell & co", "--due", "2001-01-01")[2]
    run("outwork", "send", "1", "skim", "fell & co", "--due", "2199-12-02", "--price", "40")
    (one,) = data(run, "outwork", "list")
    assert (one["ring"], one["due"], one["days_over"]) == ("01632 960222", "2199-12-02", 0)
    run("outwork", "change", str(one["id"]), "--due", "2199-12-03", "--ring", "Jo, 01632 960333")
    assert "Jo, 01632 960333" in run("outwork", "list")[1]
    assert run("outwork", "back", str(one["id"]), "--price", "45")[1] == "Back: skim.\n"
    assert data(run, "outwork", "list") == []
    assert data(run, "outwork", "list", "--all")[0]["price"] == "45.00"
    assert "there is no outwork 9" in run("outwork", "back", "9")[2]


def test_old_units_and_credits(run: Run) -> None:
    run(
        "part-add", "D-1", "dynamo", "90", "--stock", "2", "--surcharge", "25", "--supplier", "Armature & Son"
    )
    run("fit", "1", "D-1")
    (one,) = data(run, "exchange", "list")
    assert (one["stands"], one["credit"], one["phone"]) == ("customer owes", "25.00", "01234 567890")
    run("old-unit", "1", "dynamo")
    assert data(run, "exchange", "list")[0]["stands"] == "here"
    assert "to Armature & Son" in run("exchange", "sent", "1", "dynamo")[1]
    assert run("stock", "back", "D-1", "1", "wrong one", "--credit", "90")[0] == 0
    keys = {x["key"].split(":")[0]: x["key"] for x in data(run, "exchange", "list")}
    assert "Credit for dynamo: 25.00" in run("exchange", "credit", keys["unit"])[1]
    assert "90.00 was expected" in run("exchange", "credit", keys["part"], "80")[1]
    assert data(run, "exchange", "list") == []
    assert [x["stands"] for x in data(run, "exchange", "list", "--all")] == ["credited", "credited"]
    assert "no credit is to come" in run("exchange", "credit", "unit:77")[2]


def test_the_customers_own_part_costs_nothing(run: Run) -> None:
    assert run("put-own", "1", "his own battery")[1] == "On the card: his own battery.\n"
    assert not [n for n in data(run, "to-order") if n["name"] == "his own battery"]
