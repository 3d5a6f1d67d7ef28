"""Customers found while it is typed: by name, telephone and registration, through indexes, whoever wrote them down."""

import importlib
import sqlite3

import pytest
from alembic.migration import MigrationContext
from alembic.operations import Operations
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import create_engine

from shopcli.folded import folded, folds, spellings
from shopcli.shop.commands import AddCustomer, AddPerson, AddVehicle, ChangeCustomer, OpenCard
from shopcli.store.reads.found import find_customers, query
from shopcli.store.reads.open_cards import open_cards
from shopcli.store.reads.people import person
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
# What a keyboard without a letter types for it: Unicode CLDR, common/transforms/Latin-ASCII.xml and de-ASCII.xml; letters
# spelt out by passports: ICAO Doc 9303, part 3, section 6. What is not in them is not folded.
FOREIGN = (
    ("Søren Aakjær", ("soren", "SØREN", "soeren", "aakjaer", "AAKJÆR", "aakjær", "kjaer", "so", "sø")),
    ("Jürgen Müller-Weiß", ("muller", "mueller", "Müller", "MUELLER", "weiss", "WEIẞ", "jürg", "mu", "ju")),
    ("Łukasz Żądło", ("lukasz", "ŁUKASZ", "zadlo", "żądło", "lu", "łu")),
    ("Þórður Guðmundsson", ("thordur", "þórð", "gudmund", "th")),
    ("Åsa Ångström", ("asa", "aasa", "angstrom", "aangstroem", "ångström")),
    ("Zoe\u0308 Đurić", ("zoe", "zoë", "duric", "đurić")),
    ("Ελένη Σίσυφος", ("ελενη", "ΕΛΕΝΗ", "σισυφος", "ΣΊΣΥΦΟΣ", "ε")),
    ("İbrahim Çağlı", ("ibrahim", "İBRAHİM", "cagli", "ÇAĞLI")),
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


def test_foreign_letters_are_found_as_they_are_and_as_a_plain_keyboard_has_them(full: Shop) -> None:
    with full.many() as run:
        for n, (name, _texts) in enumerate(FOREIGN):
            key = run.do(AddCustomer(name), by=1).id
            car = run.do(AddVehicle(key, f"ŁÓ {n}", "Lark"), by=1).id
            run.do(OpenCard(car, words="oil"), by=1)
    missed = [
        (name, text)
        for name, texts in FOREIGN
        for text in texts
        if name not in names(full, text) or name not in [card.customer for card in open_cards(full, text)]
    ]
    assert not missed
    assert len(names(full, "lo1")) == len(open_cards(full, "lo1")) == 1
    # Written plainly, they are found by their own letters as well.
    key = full.do(AddCustomer("Juergen Muller"), by=1).id
    assert [c.id for c in find_customers(full, "jürgen müller") if c.id == key] == [key]


def test_the_triggers_hold_the_same_table_of_letters(full: Shop) -> None:
    name = " ".join(f"q{letter}q" for letter in (*folds(), *"äöüåøÄÖÜÅØ", "e\u0301", "한", "か"))
    every = [part for at in range(0, len(name), 160) for part in [name[at : at + 160]]]
    with full.many() as run:
        keys = [run.do(AddCustomer(part), by=1).id for part in every]
    for key, part in zip(keys, every, strict=True):
        kept = {w for (w,) in full.fetch("SELECT word FROM find_word WHERE customer_id = ?", (key,))}
        assert kept == {way for word in part.split() for way in spellings(word)}
        assert {folded(word) for word in kept} == kept


@pytest.mark.sqlite_only("a file of an older version is made by hand")
def test_who_was_there_before_letters_were_folded_is_found_by_them(full: Shop) -> None:
    full.close()
    context = MigrationContext.configure(create_engine(f"sqlite:///{full.place.file}").connect())
    context.connection.exec_driver_sql(
        "DELETE FROM find_word WHERE word > '~' OR word GLOB 'z*' OR word GLOB 'o*'"
    )
    with Operations.context(context):
        importlib.import_module("shopcli.store.migrations.versions.v0020_folded").upgrade()
    context.connection.commit()
    context.connection.close()
    assert names(full, "zoe") == names(full, "ubk") == ["Zoë O'Quick"]
    assert names(full, "orjan") == names(full, "oerj") == ["Örjan Berg"]


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


def test_people_are_named_by_plain_letters(full: Shop) -> None:
    full.do(AddPerson("Łukasz", "mechanic"), by=1)
    assert person(full, "lukasz") == person(full, "łuk") == person(full, "Łukasz")
