"""Closed cards, found by their customer, car, number or job: there are years of them, so none is looked at unasked."""

import re

from shopcli.shop.balance import balance
from shopcli.shop.bill_numbers import bill_number
from shopcli.shop.handing_view import ClosedRow
from shopcli.store.reads.found import TRIGRAM, WORDS_MOST, holding
from shopcli.store.reads.open_cards import like, vehicle_name
from shopcli.store.shop import Shop

FIGURES = re.compile(r"\d{1,9}")
# What is joined to the state keeps its index out of the search: almost every card is closed.
CLOSED_CARDS = """
SELECT c.id, c.number, k.name, k.phone, v.registration, v.make, v.model, v.year, c.title, c.closed_at,
       COALESCE(i.number, 0), c.handed_at
FROM card c JOIN customer k ON k.id = c.customer_id JOIN vehicle v ON v.id = c.vehicle_id
LEFT JOIN invoice i ON i.card_id = c.id
WHERE c.state || '' = 'closed' AND c.id IN ({where}) {narrow} ORDER BY c.closed_at DESC, c.id DESC LIMIT ?"""
OF_CUSTOMER = "SELECT id FROM card WHERE customer_id IN ({found})"
NUMBERED = "SELECT id FROM card WHERE number IN (?, ?)"
# Makes and jobs are no words of an index: they are looked for in the newest cards alone.
NEWEST = 3_000
NEW = """
SELECT id FROM (SELECT id FROM card WHERE state || '' = 'closed' AND closed_at IS NOT NULL ORDER BY closed_at DESC LIMIT ?) AS n"""
INVOICED = "SELECT card_id FROM invoice WHERE number = ?"
NARROW = """AND (c.id IN ({found}) OR lower(c.title) LIKE ? ESCAPE '!'
OR lower(v.make || ' ' || v.model) LIKE ? ESCAPE '!')"""


def closed_cards(shop: Shop, text: str, limit: int = 30) -> tuple[ClosedRow, ...]:
    """Return closed cards, the newest first, that fit every word of `text`; none for fewer than three letters.

    A word is of the customer (name, telephone, registration), the number of the card or its invoice, the make or the job.
    By make and job alone the `NEWEST` cards are found; of older ones another word has to be of the customer or a number.
    """
    words = text.split()[:WORDS_MOST]
    if not any(len(word) >= TRIGRAM for word in words):
        return ()
    found = [_cards_of(shop, word) for word in words]
    first = [one for word, one in zip(words, found, strict=True) if len(word) >= TRIGRAM]
    params: list[object] = [p for _sql, given in first for p in given]
    params.append(NEWEST)
    narrow = []
    for word, (sql, given) in zip(words, found, strict=True):
        narrow.append(NARROW.format(found=sql))
        params += [*given, like(word), like(word)]
    sql = CLOSED_CARDS.format(
        where=" UNION ".join((*(sql for sql, _given in first), NEW)), narrow=" ".join(narrow)
    )
    return tuple(
        ClosedRow(
            *row[:5],
            vehicle_name(*row[5:8]),
            row[8],
            shop.local(row[9]).date(),
            bill_number(shop.settings.invoice_prefix, row[10]),
            balance(shop.fetch, row[0]).due,
            None if row[11] is None else shop.local(row[11]).date(),
        )
        for row in shop.fetch(sql, (*params, limit))
    )


def _cards_of(shop: Shop, word: str) -> tuple[str, list[object]]:
    """Return the SQL of the cards a word names: of a customer who holds it, numbered so, or invoiced so."""
    prefix = shop.settings.invoice_prefix.lower()
    plain = word.lower()
    bare = plain.removeprefix(prefix) if prefix else plain
    sqls, params = [NUMBERED], [word.upper(), word]
    parts = holding(word, sqlite=shop.place.file is not None)
    if parts:
        sqls.append(" INTERSECT ".join(OF_CUSTOMER.format(found=sql) for sql, _given in parts))
        params += [p for _sql, given in parts for p in given]
    found: list[object] = list(params)
    if FIGURES.fullmatch(bare):
        sqls.append(INVOICED)
        found.append(int(bare))
        if bare == plain:
            sqls[0] = "SELECT id FROM card WHERE number IN (?, ?, ?)"
            found.insert(2, f"J{int(bare):05d}")
    return " UNION ".join(f"SELECT * FROM ({sql}) AS x{i}" for i, sql in enumerate(sqls)), found
