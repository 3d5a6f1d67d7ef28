"""Bills, credit notes, payments and accounts at the command line, on real records."""

import json
from typing import Any

from tests.cli.conftest import Run
from tests.conftest import Busy
from tests.shop.test_closing import settle_everything


def asked(run: Run, *words: str) -> Any:
    """Return what a command prints as JSON."""
    status, out, complaints = run(*words, "--json")
    assert status == 0, complaints
    return json.loads(out)


def told(run: Run, *words: str) -> str:
    """Return what a command at the desk says."""
    status, out, complaints = run(*words, "--by", "Dora")
    assert status == 0, complaints
    return out


def test_a_bill_from_its_lines_to_a_settled_account(run: Run, busy_shop: Busy) -> None:
    settle_everything(busy_shop)
    told(run, "extra", "1", "sundry", "Cleaning materials", "12.50", "--qty", "2")
    told(run, "extra", "1", "fee", "Roadworthiness test fee", "54.85", "--vat", "zero")
    assert "10 % off line I1" in told(run, "discount", "1", "10%", "long wait", "--line", "I1")
    # 25.00 less 2.50 is 22.50, 20 % on it 4.50; 54.85 without tax
    assert asked(run, "bill", "1")["due"] == "81.85"
    assert "D1  off line I1: 10 % (long wait)" in told(run, "bill", "1")
    told(run, "off-bill", "D1")
    assert asked(run, "bill", "1")["due"] == "84.85"
    assert "INV-000001, due £84.85" in told(run, "close", "1")
    told(run, "pay", "1", "50", "--method", "card")
    owing = told(run, "owing")
    assert "INV-000001" in owing
    assert "34.85" in owing
    assert "CN-000001 over £15.00" in told(run, "credit", "1", "one not used", "--line", "I1=1")
    assert told(run, "pay", "1", "19.85").strip().endswith("Paid in full.")
    assert asked(run, "owing")["unsettled"] == []
    account = told(run, "paper", "statement", "Ada Lark")
    for document in ("INV-000001", "CN-000001", "payment R00001"):
        assert document in account
    told(run, "reverse-payment", "2", "another card's")
    assert asked(run, "owing")["unsettled"][0]["due"] == "19.85"
    status, _, complaints = run("refund", "1", "5", "too much", "--by", "Dora")
    assert status
    assert "in the customer's favour" in complaints


def test_signs_and_rates_that_are_none_are_named(run: Run) -> None:
    for words, complaint in (
        (("off-bill", "X1"), "no sundry"),
        (("discount", "1", "ten%", "so"), "no per cent"),
        (("paper", "statement", "Nobody at all"), "no customers are found"),
        (("credit", "1", "so"), "no invoice yet"),
    ):
        status, _, complaints = run(*words, "--by", "Dora")
        assert status
        assert complaint in complaints
