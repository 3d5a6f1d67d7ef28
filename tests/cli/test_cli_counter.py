"""The counter by command: whom to ring, a call noted, the papers of a closed card, a car handed over."""

import json
from pathlib import Path

from shopcli.shop.commands import CloseCard
from shopcli.store.reads.customers import customer_entry
from tests.cli.conftest import Run
from tests.conftest import Busy
from tests.shop.test_closing import settle_everything


def test_what_a_car_came_with_by_command(run: Run, busy_shop: Busy) -> None:
    asked = ("--keys", "two", "--fuel", "half", "--damage", "wing dented", "--authority", "300")
    assert run("new", "LRK 120", *asked, "--authority-by", "Ada", "--authority-how", "signed")[0] == 0
    shown = run("show", "2")[1]
    for words in ("two", "half", "wing dented"):
        assert words in shown


def test_whom_to_ring_a_call_noted_and_the_row_that_goes(run: Run, busy_shop: Busy) -> None:
    assert run("ring") == (0, "Nobody is to be rung.\n", "")
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    out = run("ring")[1]
    assert out.splitlines()[0] == "Ada Lark  01234 567890"
    assert "  ready: ready since Wed 25 Nov, not fetched: " in out
    rows = json.loads(run("ring", "--json")[1])
    assert [(r["kind"], r["key"], r["card"]) for r in rows] == [("ready", "ready:1:closed", "J00001")]
    status, out, err = run("note-call", "ready:1:closed", "--again", "tomorrow")
    assert (status, out, err) == (0, "Call to Ada Lark noted: nobody reached.\n", "")
    assert run("ring")[1] == "Nobody is to be rung.\n"
    assert "nobody reached; again" in run("ring", "--all")[1]
    assert run("note-call", "ready:1:closed", "--reached", "Ada", "--said", "Comes on Friday.")[0] == 0
    assert run("ring", "--all")[1] == "Nobody is to be rung.\n"
    assert run("note-call", "ready:9", "--reached", "Ada", "--said", "x")[0] == 2


def test_the_papers_go_into_the_folder_and_nothing_is_written_over(
    run: Run, busy_shop: Busy, tmp_path: Path
) -> None:
    folder = tmp_path / "new" / "papers"
    status, _out, err = run("papers-of", "1", "--folder", str(folder))
    assert status == 2
    assert "no invoice" in err
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    for names in (
        ("J00001-invoice.pdf", "J00001-summary.txt"),
        ("J00001-invoice-2.pdf", "J00001-summary-2.txt"),
    ):
        out = run("papers-of", "1", "--folder", str(folder))[1]
        assert len(out.splitlines()) == 4
        for name in names:
            assert str(folder / name) in out
    assert (folder / "J00001-invoice.pdf").read_bytes().startswith(b"%PDF-")
    assert "Ada Lark" in (folder / "J00001-invoice.txt").read_text(encoding="utf-8")


def test_a_car_is_handed_over_with_what_is_due_next(run: Run, busy_shop: Busy) -> None:
    from tests.shop.test_carried import GREASE, promise

    assert "not ready" in run("hand-over", "1")[2]
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    promise(busy_shop)
    status, out, err = run("hand-over", "1", "--to", "her brother")
    assert (status, err) == (0, "")
    assert out.splitlines()[0] == "LRK 120 handed over to her brother."
    assert f"Due next: {GREASE}, at 49,213 mi" in out


def test_closed_cards_are_found_at_the_shell(run: Run, busy_shop: Busy) -> None:
    settle_everything(busy_shop)
    assert "J00001" not in run("closed", "lark")[1]
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    status, out, err = run("closed", "lark")
    assert (status, err) == (0, "")
    assert "J00001" in out
    assert "paid" in out
    assert "INV-000001" in out
    assert '"number": "J00001"' in run("closed", "inv-000001", "--json")[1]


def test_a_customer_is_changed_at_the_shell_and_the_rest_stays(run: Run, busy_shop: Busy) -> None:
    before = customer_entry(busy_shop.shop, busy_shop.customer)
    street = ("--address", "7 New Lane; Upper Proof", "--vat-number", "de136695976")
    assert run("customer-change", "lark 120", *street) == (0, "Ada Lark changed.\n", "")
    after = customer_entry(busy_shop.shop, busy_shop.customer)
    assert (after.address, after.vat_number) == ("7 New Lane\nUpper Proof", "DE136695976")
    assert (after.name, after.phone) == (before.name, before.phone)
    assert run("customer-change", "1", "--country", "britain")[0] == 2
    assert "nothing is to be changed" in run("customer-change", "1")[2]
