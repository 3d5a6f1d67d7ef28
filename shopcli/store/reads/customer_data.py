"""Everything the records hold of one customer, table by table, as it is stored: to be shown, or given to them."""

from typing import Any, NamedTuple

from shopcli.errors import NotFound
from shopcli.store.reads.found import find_customers
from shopcli.store.shop import Shop

CARDS = "(SELECT id FROM card WHERE customer_id = ?)"
OF_CARDS = f"card_id IN {CARDS}"
# Each part of what is held, in the order it is told: what it is called, the table, and which rows are theirs.
PARTS = (
    ("customer", "customer", "id = ?"),
    ("vehicles", "vehicle", "customer_id = ?"),
    ("vehicle numbers", "vehicle_spec", "vehicle_id IN (SELECT id FROM vehicle WHERE customer_id = ?)"),
    ("cards", "card", "customer_id = ?"),
    ("tasks", "task", OF_CARDS),
    ("times", "clock_entry", OF_CARDS),
    ("readings", "reading", f"task_id IN (SELECT id FROM task WHERE {OF_CARDS})"),
    ("parts", "card_part", OF_CARDS),
    ("outwork", "outwork", OF_CARDS),
    ("tags", "tag", OF_CARDS),
    ("owed checks", "owed", OF_CARDS),
    ("findings", "finding", OF_CARDS),
    ("photos", "photo", OF_CARDS),
    ("calls", "call_note", "customer_id = ?"),
    ("offers", "offer", "customer_id = ?"),
    ("answers to offers", "offer_answer", "offer_id IN (SELECT id FROM offer WHERE customer_id = ?)"),
    ("bill items", "bill_item", OF_CARDS),
    ("discounts", "discount", OF_CARDS),
    ("waivers", "waiver", OF_CARDS),
    ("invoices", "invoice", OF_CARDS),
    ("credit notes", "credit_note", OF_CARDS),
    ("payments", "payment", OF_CARDS),
    ("erasures", "erasure", "customer_id = ?"),
)
JOURNAL = f"""
(subject = 'customer' AND subject_id = ?) OR {OF_CARDS}
OR (subject = 'vehicle' AND subject_id IN (SELECT id FROM vehicle WHERE customer_id = ?))
OR (subject = 'offer' AND subject_id IN (SELECT id FROM offer WHERE customer_id = ?))"""
# What a row says of ours and not of the customer.
NOT_TOLD = frozenset({"version", "frozen", "touched", "asked", "op"})


class Held(NamedTuple):
    """A part of what is held: what it is called, and its rows, each column by name."""

    name: str
    rows: tuple[dict[str, Any], ...]


def chosen(shop: Shop, wanted: str) -> int:
    """Return the id of the customer meant by an id or by words of a name, a telephone or a plate.

    Raises
    ------
    NotFound
        When nobody is that, or several are.
    """
    text = wanted.strip()
    is_id = text.isdecimal() and len(text) < len("01234 5678")  # and no telephone
    if is_id and shop.fetch("SELECT 1 FROM customer WHERE id = ?", (int(text),)):
        return int(text)
    found = find_customers(shop, text) if text else ()
    same = [one for one in found if one.name.casefold() == text.casefold()] or list(found)
    if len(same) != 1:
        listed = "; ".join(f"{one.id} {one.name}, {one.phone}" for one in same[:8])
        raise NotFound(f"which customer is '{text[:40]}'?", hint=listed or "See: shopcli customers")
    return same[0].id


def customer_data(shop: Shop, customer_id: int) -> tuple[Held, ...]:
    """Return everything held of a customer; parts without a row are left out."""
    parts = [(name, table, where) for name, table, where in PARTS] + [("journal", "journal", JOURNAL)]
    found = []
    for name, table, where in parts:
        columns = _columns(shop, table)
        params = (customer_id,) * where.count("?")
        rows = shop.fetch(f"SELECT {', '.join(columns)} FROM {table} WHERE {where} ORDER BY id", params)
        if rows:
            found.append(Held(name, tuple(dict(zip(columns, row, strict=True)) for row in rows)))
    return tuple(found)


def _columns(shop: Shop, table: str) -> list[str]:
    sql = (
        "SELECT name FROM pragma_table_info(?)"
        if shop.place.file
        else "SELECT column_name FROM information_schema.columns WHERE table_name = ? ORDER BY ordinal_position"
    )
    return [str(name) for (name,) in shop.fetch(sql, (table,)) if name not in NOT_TOLD]
