"""What is wrong in the records is found, named, and nothing is changed by looking."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from shopcli.errors import StoreTrouble
from shopcli.shop.commands import AddCustomer, ClockOn
from shopcli.store.shop import Shop
from shopcli.store.whole.examining import examine
from shopcli.store.whole.written import lines

OPEN_TASK = "(SELECT MAX(id) FROM task)"
LAST_CARD = "(SELECT MAX(id) FROM card)"


def tamper(shop: Shop, script: str) -> None:
    """Change the file behind the program's back, its guards off."""
    assert shop.place.file
    shop.close()
    with closing(sqlite3.connect(shop.place.file)) as file:
        file.executescript(script)


def without_guard(table: str, script: str) -> str:
    return "".join(f"DROP TRIGGER {table}_no_{act};" for act in ("update", "delete", "replace")) + script


def test_a_shop_at_work_holds(whole: Shop) -> None:
    whole.do(ClockOn(whole.fetch("SELECT MAX(id) FROM task")[0][0]), by=2)
    before = list(lines(whole.place))
    assert examine(whole) == ()
    assert list(lines(whole.place)) == before


@pytest.mark.parametrize(
    ("script", "what"),
    [
        ("PRAGMA foreign_keys=OFF; DELETE FROM customer", "reference: card.customer_id to customer"),
        ("UPDATE card SET offer_id = 77", "reference: card.offer_id to offer"),
        ("UPDATE card SET state = 'in hand'", "card: an invoice is of a closed card"),
        (f"UPDATE card SET state = 'closed' WHERE id = {LAST_CARD}", "card: a closed card has its invoice"),
        ("UPDATE task SET position = 1", "card: tasks of a card have places of their own"),
        ("UPDATE part SET stock_milli = stock_milli + 1 WHERE id = 1", "stock: the shelf is the sum of its movements"),
        ("UPDATE counter SET value = 5 WHERE name = 'invoice'", "numbers: invoices have no gap"),
        (without_guard("credit_note", "UPDATE credit_note SET number = 2"), "numbers: credit notes have no gap"),
        (without_guard("invoice", "UPDATE invoice SET gross_minor = gross_minor + 1"), "money: net and tax are the whole of an invoice"),
        (without_guard("invoice", "UPDATE invoice SET net_minor = 1, vat_minor = 0, gross_minor = 1"), "money: no more is credited than was invoiced"),
        (without_guard("invoice", "UPDATE invoice SET issued_at = issued_at - 1"), "journal: every invoice was written down"),
        (without_guard("journal", "DELETE FROM journal WHERE act = 'CloseCard'"), "journal: every invoice was written down"),
        (without_guard("journal", "UPDATE journal SET undid = id + 1 WHERE id = 1"), "journal: what was taken back was done before"),
        (without_guard("payment", "UPDATE payment SET amount_minor = 1; SELECT 1"), "schema: what is issued is fixed for good"),
        (f"INSERT INTO clock_entry (version, person_id, card_id, task_id, started_at, ended_at, corrected) VALUES (1, 2, {LAST_CARD}, {OPEN_TASK}, 200, 100, '')", "clock: a time ends after it began"),
        (f"INSERT INTO clock_entry (version, person_id, card_id, task_id, started_at, ended_at, corrected) VALUES (1, 2, 1, {OPEN_TASK}, 100, 200, '')", "clock: a time is on a task of its card"),
        (f"INSERT INTO clock_entry (version, person_id, card_id, task_id, started_at, ended_at, corrected) VALUES (1, 2, {LAST_CARD}, {OPEN_TASK}, 100, 200, ''), (1, 2, {LAST_CARD}, {OPEN_TASK}, 150, 250, '')", "clock: nobody is on two tasks at once"),
        ("INSERT INTO clock_entry (version, person_id, card_id, task_id, started_at, corrected) VALUES (1, 2, 1, 1, 100, '')", "card: no clock runs on a closed card"),
        ("UPDATE person SET role = 'desk'", "people: the shop has an owner"),
        ("INSERT INTO pin VALUES (2, 'x', 0, 1, 0, 0); UPDATE person SET active = 0 WHERE id = 2", "people: who left has no PIN"),
        ("UPDATE alembic_version SET version_num = '0001'", "schema: the version of this program"),
    ],
)  # fmt: skip
def test_what_was_tampered_with_is_named(whole: Shop, script: str, what: str) -> None:
    tamper(whole, script)
    found = examine(whole)
    assert what in [wrong.what for wrong in found]
    assert all(wrong.remedy and wrong.rows > 0 for wrong in found)


def test_a_torn_page_is_found(whole: Shop, tmp_path: Path) -> None:
    assert whole.place.file
    with whole.many() as run:
        for number in range(400):
            run.do(AddCustomer(f"Customer {number}", "01632 960000"), by=1)
    tamper(whole, "PRAGMA wal_checkpoint(TRUNCATE); PRAGMA journal_mode=DELETE")
    with whole.place.file.open("r+b") as file:
        file.seek(-4096 * 3, 2)
        file.write(b"\xa5" * 4096)
    try:
        found = [wrong.what for wrong in examine(whole)]
    except StoreTrouble as error:
        assert "damaged" in error.message
    else:
        assert "file: every page is whole" in found


def test_on_a_server_it_is_the_same(whole: Shop, postgres_url: str) -> None:
    from shopcli.store.place import find_place
    from shopcli.store.shop import open_shop
    from shopcli.store.whole.moving import move
    from tests.conftest import SETTINGS, Clock

    move(whole.place, find_place(postgres_url))
    there = open_shop(postgres_url, settings=SETTINGS, now=Clock())
    try:
        assert examine(there) == ()
        import psycopg

        with psycopg.connect(there.place.dsn, autocommit=True) as server:
            server.execute("ALTER TABLE invoice DISABLE TRIGGER ALL")
            server.execute("DROP TRIGGER invoice_fixed ON invoice")
            server.execute("UPDATE invoice SET gross_minor = 1")
            server.execute("UPDATE counter SET value = 9 WHERE name = 'invoice'")
        assert {
            "schema: what is issued is fixed for good",
            "numbers: invoices have no gap",
            "money: net and tax are the whole of an invoice",
        } <= {wrong.what for wrong in examine(there)}
    finally:
        there.close()
