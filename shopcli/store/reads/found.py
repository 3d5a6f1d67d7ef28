"""Customers found by a few letters of a name, some figures of a telephone, or a registration: while it is typed.

The words to find by are kept by triggers (`find_word`). Three letters and more are found anywhere in a word, by
trigrams; fewer at its beginning, by a range of the index. Every word typed must be found, with its own letters or with
those of a plain keyboard: both sides are folded alike (`folded.py`).
"""

from shopcli.folded import folded, spellings
from shopcli.shop.known import CustomerView
from shopcli.store.shop import Shop

TRIGRAM = 3
WORDS_MOST = 6
# Beyond every sign a word can begin with.
LAST = "\U0010ffff"
DROPPED = str.maketrans({"(": "", ")": "", "+": "", "-": " ", "/": " ", ".": " "})
CUSTOMERS = """
SELECT k.id, k.name, k.phone, k.email, k.address, k.version FROM customer k
{where} ORDER BY {first}k.name, k.id LIMIT ?"""
VEHICLES = (
    "SELECT customer_id, registration FROM vehicle WHERE customer_id IN ({marks}) ORDER BY registration"
)
# By the engine: a word that begins so, and one that holds it anywhere.
BEGINS = {
    True: "SELECT customer_id FROM find_word WHERE word >= ? AND word < ?",
    False: "SELECT customer_id FROM find_word WHERE word LIKE ? ESCAPE '!'",
}
HOLDS = {
    True: "SELECT customer_id FROM find_word WHERE id IN (SELECT rowid FROM find_text WHERE find_text MATCH ?)",
    False: "SELECT customer_id FROM find_word WHERE word LIKE ? ESCAPE '!'",
}


def words_of(text: str) -> tuple[str, ...]:
    """Return what is looked for: the words of a text folded, without the signs of plates and telephones.

    Examples
    --------
    >>> words_of("(01234) 567-890"), words_of("LRK-120"), words_of("Aakjær")
    (('01234', '567', '890'), ('lrk', '120'), ('aakjaer',))
    """
    return tuple(map(folded, _typed(text)))


def _typed(text: str) -> list[str]:
    plain = "".join(c if c.isprintable() else " " for c in text).translate(DROPPED)
    return [word for word in plain.split() if folded(word)][:WORDS_MOST]


def find_customers(shop: Shop, text: str, limit: int = 20) -> tuple[CustomerView, ...]:
    """Return customers whose name, telephone or a car's registration hold every word of the text.

    Those with a word that begins so come first, then by name.
    """
    sql, params = query(text, sqlite=shop.place.file is not None)
    rows = shop.fetch(sql, (*params, limit))
    cars: dict[int, list[str]] = {row[0]: [] for row in rows}
    if cars:
        for key, registration in shop.fetch(VEHICLES.format(marks=", ".join("?" * len(cars))), tuple(cars)):
            cars[key].append(registration)
    return tuple(CustomerView(*row[:5], tuple(cars[row[0]]), row[5]) for row in rows)


def query(text: str, *, sqlite: bool) -> tuple[str, tuple[str, ...]]:
    """Return the SQL that finds the customers of a text, and its parameters but for the last, the limit."""
    words = _typed(text)
    if not words:
        return CUSTOMERS.format(where="", first=""), ()
    conditions, params = [], []
    for found, given in holding(text, sqlite=sqlite):
        conditions.append(f"k.id IN ({found})")
        params += given
    begins, given = _any_of([_begins(way, sqlite=sqlite) for way in spellings(words[0])])
    first = f"CASE WHEN k.id IN ({begins}) THEN 0 ELSE 1 END, "
    return CUSTOMERS.format(where="WHERE " + " AND ".join(conditions), first=first), (*params, *given)


def holding(text: str, *, sqlite: bool) -> tuple[tuple[str, list[str]], ...]:
    """Return for each word of a text the SQL of the customers that hold it, and its parameters."""
    return tuple(
        _any_of([(_holds if len(way) >= TRIGRAM else _begins)(way, sqlite=sqlite) for way in spellings(word)])
        for word in _typed(text)
    )


def _any_of(found: list[tuple[str, list[str]]]) -> tuple[str, list[str]]:
    return " UNION ALL ".join(sql for sql, _given in found), [p for _sql, given in found for p in given]


def _holds(word: str, *, sqlite: bool) -> tuple[str, list[str]]:
    return HOLDS[sqlite], [_quoted(word) if sqlite else f"%{_taken_literally(word)}%"]


def _begins(word: str, *, sqlite: bool) -> tuple[str, list[str]]:
    return BEGINS[sqlite], [word, word + LAST] if sqlite else [f"{_taken_literally(word)}%"]


def _quoted(word: str) -> str:
    return '"' + word.replace('"', '""') + '"'


def _taken_literally(word: str) -> str:
    for sign in "!%_":
        word = word.replace(sign, "!" + sign)
    return word
