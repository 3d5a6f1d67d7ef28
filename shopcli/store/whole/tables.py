"""Every table in an order in which rows find what they refer to, and the references that have to wait.

A reference waits when its table comes later (two tables that refer to each other) or when a row refers to a later row
of its own table: the row is read in without it, and it is filled in at the end.
"""

from typing import NamedTuple

from sqlalchemy import Table
from sqlmodel import SQLModel

import shopcli.shop.records  # noqa: F401 - names every table


class Ordered(NamedTuple):
    """A table, and which of its columns have to wait."""

    table: Table
    waiting: tuple[str, ...]
    own: tuple[str, ...]  # columns that refer to rows of the table itself


def in_order() -> tuple[Ordered, ...]:
    """Return every table, what is referred to first."""
    left = {table.name: table for table in SQLModel.metadata.tables.values()}
    placed: list[Ordered] = []
    while left:
        name = _next(left)
        table = left.pop(name)
        waits = tuple(sorted(c for c, target in _references(table) if target in left))
        placed.append(Ordered(table, waits, tuple(sorted(c for c, t in _references(table) if t == name))))
    return tuple(placed)


def _references(table: Table) -> list[tuple[str, str]]:
    return [(key.parent.name, key.column.table.name) for key in table.foreign_keys]


def _next(left: dict[str, Table]) -> str:
    """Return the first table by name that refers to none that is left.

    Where tables wait for each other: of those whose references may be empty for a while, the one most others want.
    """
    for name in sorted(left):
        if not _wanted(left, name):
            return name
    able = [name for name in sorted(left) if all(left[name].c[c].nullable for c in _wanted(left, name))]
    return max(
        able, key=lambda name: sum(t == name for table in left.values() for _c, t in _references(table))
    )


def _wanted(left: dict[str, Table], name: str) -> list[str]:
    return [column for column, target in _references(left[name]) if target in left and target != name]
