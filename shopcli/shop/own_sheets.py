"""The shop's own sheets as work lists know sheets, read by SQL text: rules on their transaction, screens on theirs.

One small question tells whether anything changed: every act on a sheet moves a counter in its own transaction. So
a terminal reads the sheets again only when somebody touched them.
"""

import json
from collections.abc import Iterable

from shopcli.errors import ShopError
from shopcli.shop.fetching import Fetch
from shopcli.worklists.facts import fact_value
from shopcli.worklists.freeze import spec_from_json
from shopcli.worklists.library import GENERAL, Sheet, SpecKind
from shopcli.worklists.model import Spec
from shopcli.worklists.with_sheets import RECORDS

COUNTER = "own sheets"
Mark = tuple[object, ...]
SHEETS = "SELECT id, name, title, under, about, facts, version FROM sheet ORDER BY id"
MARK = (
    "SELECT COALESCE((SELECT value FROM counter WHERE name = ?), 0), (SELECT SUM(version) FROM sheet),"
    " (SELECT COUNT(*) FROM own_time WHERE replaced_at IS NULL),"
    " (SELECT MAX(id) FROM own_time WHERE replaced_at IS NULL),"
    " COUNT(*), MAX(id) FROM sheet_spec WHERE replaced_at IS NULL"
)
NUMBERS = "SELECT sheet_id, id, spec FROM sheet_spec WHERE replaced_at IS NULL ORDER BY id"


def changes(fetch: Fetch) -> Mark:
    """Return a mark of own sheets and own times as they stand: a different mark, and they have to be read again.

    The counter tells of every act; the rest tells of one that was taken back.
    """
    rows = fetch(MARK, (COUNTER,))
    return tuple(rows[0])


def own_sheets(fetch: Fetch) -> tuple[Sheet, ...]:
    """Return every sheet of the shop's own with the numbers that stand on it."""
    numbers: dict[int, list[tuple[int, Spec]]] = {}
    for sheet_id, key, text in fetch(NUMBERS):
        numbers.setdefault(sheet_id, []).append((key, spec_from_json(text)))
    return tuple(
        Sheet(
            name,
            title,
            RECORDS,
            f"{version}.{max((k for k, _ in numbers.get(key, ())), default=0)}",
            under or GENERAL,
            about,
            tuple(_facts(json.loads(facts).items())),
            tuple(spec for _, spec in numbers.get(key, ())),
            tuple(kind_of(spec) for _, spec in numbers.get(key, ())),
        )
        for key, name, title, under, about, facts, version in fetch(SHEETS)
    )


def kind_of(spec: Spec) -> SpecKind:
    """Return what a number of that name measures."""
    return SpecKind(spec.name, spec.label, spec.limits.quantity, spec.limits.unit)


def _facts(pairs: Iterable[tuple[str, object]]) -> Iterable[tuple[str, object]]:
    """Yield facts in the type they are kept in; one that cannot be read says nothing rather than stop the shop."""
    for name, value in pairs:
        try:
            yield name, fact_value(name, value)
        except ShopError:
            continue
