"""The books at the command line: by account, as data, as a table; status 1 when they do not agree."""

import csv
import json
import sqlite3
from pathlib import Path

from shopcli.shop.commands import AddToBill, CloseCard, TakePayment
from tests.cli.conftest import Run
from tests.conftest import Busy
from tests.shop.test_closing import settle_everything

NOVEMBER = ("--since", "2026-11-01", "--to", "2026-11-30")


def close_with_a_sundry(busy: Busy) -> None:
    busy.do(AddToBill(busy.card, "sundry", "Cleaning materials", 2_500), "Dora")
    settle_everything(busy)
    busy.do(CloseCard(busy.card), "Dora")
    busy.do(TakePayment(busy.card, 1_000, "payment", "card"), "Dora")


def test_the_books_of_a_month(run: Run, busy_shop: Busy, tmp_path: Path) -> None:
    close_with_a_sundry(busy_shop)
    status, out, err = run("ledger", *NOVEMBER)
    assert (status, err) == (0, "")
    table = [line.split() for line in out.splitlines()]
    assert ["-", "sundry", "standard", "25.00", "5.00", "30.00"] in table
    assert ["-", "card", "0.00", "0.00", "-10.00"] in table
    assert "Every sum agrees with its document (2)." in out
    assert ["Customers", "owe", "after", "2026-11-30", "£20.00"] in table
    data = json.loads(run("ledger", *NOVEMBER, "--json")[1])
    assert (data["net"], data["tax"], data["taken"], data["closing"]) == ("25.00", "5.00", "10.00", "20.00")
    assert [line["document"] for line in data["lines"]] == ["INV-000001", "R00001"]
    file = tmp_path / "books.csv"
    assert run("ledger", *NOVEMBER, "--csv", str(file)) == (0, f"Written: {file}\n", "")
    with file.open(newline="", encoding="utf-8") as table_:
        assert [row["gross"] for row in csv.DictReader(table_)] == ["30.00", "-10.00"]
    assert (
        json.loads(run("ledger", "--since", "2026-12-01", "--to", "2026-12-31", "--json")[1])["lines"] == []
    )


def test_books_that_do_not_agree_say_so_and_end_with_a_status(run: Run, busy_shop: Busy) -> None:
    close_with_a_sundry(busy_shop)
    file = busy_shop.shop.place.file
    assert file is not None
    with sqlite3.connect(file) as connection:
        connection.execute("DROP TRIGGER invoice_no_update")
        connection.execute("UPDATE invoice SET gross_minor = 3100")
    status, out, err = run("ledger", *NOVEMBER)
    assert status == 1
    assert "Does not agree: invoice INV-000001: the sum booked is 30.00, on the document it is 31.00." in err
    assert "Every sum agrees" not in out
    assert run("ledger", "--since", "soon")[0] == 2
