"""What the records know of who a customer is and was, gathered before it is erased."""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from sqlmodel import Session

from shopcli.shop.fetch import fetcher

# What says who somebody is, by table; and how the rows of a customer are found.
PERSONAL: Mapping[str, tuple[str, ...]] = {
    "customer": ("name", "phone", "email", "address", "note", "city", "post_code", "vat_number"),
    "vehicle": ("registration", "chassis_number", "engine_number", "note"),
    "card": ("words", "left_with", "car_keys", "damage", "authority_by", "handed_to"),
    "call_note": ("reached", "said"),
    "offer_answer": ("said_by", "reason"),
    "outwork": ("ring",),
    "finding": ("declined_by",),
    "photo": ("caption",),
}
OF_CARDS = "card_id IN (SELECT id FROM card WHERE customer_id = ?)"
THEIRS: Mapping[str, str] = {
    "customer": "id = ?",
    "vehicle": "customer_id = ?",
    "card": "customer_id = ?",
    "call_note": "customer_id = ?",
    "offer_answer": "offer_id IN (SELECT id FROM offer WHERE customer_id = ?)",
    "outwork": OF_CARDS,
    "finding": OF_CARDS,
    "photo": OF_CARDS,
}

JOURNAL_THEIRS = """
SELECT id FROM journal WHERE (subject = 'customer' AND subject_id = ?)
OR (subject = 'vehicle' AND subject_id IN (SELECT id FROM vehicle WHERE customer_id = ?))
OR card_id IN (SELECT id FROM card WHERE customer_id = ?)
OR (subject = 'offer' AND subject_id IN (SELECT id FROM offer WHERE customer_id = ?))
OR (subject = 'call' AND subject_id IN (SELECT id FROM call_note WHERE customer_id = ?))"""
WHO: Mapping[str, tuple[str, ...]] = {
    "customer": ("name", "phone", "email", "address", "vat_number"),
    "vehicle": ("registration", "chassis_number", "engine_number"),
}
FORMERLY = f"SELECT subject, before, after FROM journal WHERE id IN ({JOURNAL_THEIRS})"


def theirs_now(session: Session, customer_id: int) -> dict[str, list[dict[str, Any]]]:
    """Return what says who the customer is, by table, row by row with its id."""
    found = {}
    for table, columns in PERSONAL.items():
        rows = fetcher(session)(
            f"SELECT id, {', '.join(columns)} FROM {table} WHERE {THEIRS[table]}",
            (customer_id,),
        )
        found[table] = [dict(zip(("id", *columns), row, strict=True)) for row in rows]
    return found


def _values(theirs: Mapping[str, list[dict[str, Any]]], table: str, *columns: str) -> list[str]:
    return [str(row[column]) for row in theirs[table] for column in columns if row[column]]


def who(theirs: Mapping[str, list[dict[str, Any]]]) -> list[str]:
    """Return what means them wherever it stands: names, telephones, plates and the like."""
    return [text for table, columns in WHO.items() for text in _values(theirs, table, *columns)]


def lines(theirs: Mapping[str, list[dict[str, Any]]]) -> list[str]:
    """Return the lines of the address; a street in a note of the customer's own card means them."""
    return [line for text in _values(theirs, "customer", "address") for line in text.splitlines()]


def said_words(theirs: Mapping[str, list[dict[str, Any]]]) -> list[str]:
    """Return what they said, were called or left, on their cards, calls and offers."""
    tables = [table for table in PERSONAL if table not in {"customer", "vehicle"}]
    return [text for table in tables for text in _values(theirs, table, *PERSONAL[table])]


def formerly(session: Session, customer_id: int) -> tuple[list[str], list[str]]:
    """Return who the customer was before, as the journal has it, and what they said before: names, plates and words change."""
    names, words = [], []
    for subject, before, after in fetcher(session)(FORMERLY, (customer_id,) * 5):
        for text in (before, after):
            values = json.loads(text) if text[:1] == "{" else {}
            names += _named(values, WHO.get(subject, ()))
            words += _named(values, PERSONAL.get(subject, ()))
    return names, words


def _named(values: Mapping[str, Any], names: Iterable[str]) -> list[str]:
    return [values[name] for name in names if isinstance(values.get(name), str) and values[name]]
