"""Customers found while it is typed: by name, telephone and registration, through indexes, whoever wrote them down."""

import sqlite3

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcli.shop.commands import AddCustomer, AddVehicle, ChangeCustomer
from shopcli.store.reads.found import find_customers, query
from shopcli.store.shop import Shop
from tests.conftest import Busy

# Letters of Latin, Greek and Cyrillic names that have one small and one large form.
LETTERS = "".join(
    c for c in map(chr, range(0x61, 0x460)) if c.isalpha() and c.lower() == c and c.upper().lower() == c
)
PEOPLE = (
    ("Ada Lark", "01234 567890", "LRK 120"),
    ("Ben Marrow-Field", "+44 (0)20 7946-0018", "BRW 16"),
    ("Zoë O'Quick", "", "ÜBK-77"),
    ("Örjan Berg", "555 1", "A 1"),
)


@pytest.fixture
def full(shop: Shop) -> Shop:
    with shop.many() as run:
        for name, phone, registration in PEOPLE:
            key = run.do(AddCustomer(name, phone), by=1).id
            run.do(AddVehicle(key, registration, "Lark"), by=1)
    return shop


def names(shop: Shop, text: str) -> list[str]:
    return [c.name for c in find_customers(shop, text)]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("lar", "Ada Lark"),
        ("LARK", "Ada Lark"),
        ("ar la", ""),
        ("ad la", "Ada Lark"),
        ("l", "Ada Lark"),
        ("lrk", "Ada Lark"),
        ("LRK 120", "Ada Lark"),
        ("lrk-120", "Ada Lark"),
        ("rk1", "Ada Lark"),
        ("567", "Ada Lark"),
        ("01234567890", "Ada Lark"),
        ("234 56789", "Ada Lark"),
        ("field", "Ben Marrow-Field"),
        ("fi", "Ben Marrow-Field"),
        ("79460018", "Ben Marrow-Field"),
        ("7946 0018", "Ben Marrow-Field"),
        ("zoë", "Zoë O'Quick"),
        ("qui", "Zoë O'Quick"),
        ("übk", "Zoë O'Quick"),
        ("ör", "Örjan Berg"),
        ("ÖRJ", "Örjan Berg"),
        ("a 1", "Ada Lark, Örjan Berg"),
        ("%", ""),
        ("_da", ""),
        ('"', ""),
        ("lark NOT ada", ""),
        ("\x00\x1b", "Ada Lark, Ben Marrow-Field, Zoë O'Quick, Örjan Berg"),
    ],
)
def test_found_by_a_few_letters(full: Shop, text: str, found: str) -> None:
    assert ", ".join(names(full, text)) == found


def test_who_begins_so_comes_first(full: Shop) -> None:
    full.do(AddCustomer("Alarice Quay"), by=1)
    assert names(full, "lar") == ["Ada Lark", "Alarice Quay"]
    assert find_customers(full, "lar")[0].vehicles == ("LRK 120",)


def test_words_follow_their_customer(full: Shop) -> None:
    ada = find_customers(full, "ada lark")[0]
    full.do(ChangeCustomer(ada.id, ada.version, "Eve Stone", "777 42"), by=1)
    assert names(full, "ada") == []
    assert names(full, "ston") == names(full, "7774") == names(full, "lrk") == ["Eve Stone"]


def test_letters_are_looked_up_and_nothing_is_read_through(busy_shop: Busy) -> None:
    file = busy_shop.shop.place.file
    assert file is not None
    for text in ("lark", "la", "ada la", "ö"):
        sql, params = query(text, sqlite=True)
        with sqlite3.connect(file) as connection:
            rows = connection.execute("EXPLAIN QUERY PLAN " + sql, (*params, 20)).fetchall()
        plan = [row[3] for row in rows]
        assert any("USING INTEGER PRIMARY KEY" in step and "k" in step.split() for step in plan), plan
        assert not [step for step in plan if step.startswith("SCAN") and "VIRTUAL TABLE INDEX" not in step], (
            plan
        )


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(max_size=12), st.text(LETTERS, max_size=8))
def test_whatever_is_typed_is_answered_and_a_name_finds_itself(full: Shop, typed: str, more: str) -> None:
    find_customers(full, typed + more)
    name = f"q{more}"
    full.do(AddCustomer(name), by=1)
    for text in (name, name[:2], name.upper()):
        assert name in [c.name for c in find_customers(full, text, limit=500)]
