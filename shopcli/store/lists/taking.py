"""Customers, vehicles and parts out of a table another program wrote: looked at first, all or none, nothing twice.

What is there already stands as it is: a list taken in a second time changes nothing.
"""

from collections.abc import Mapping

from shopcli.errors import ShopError
from shopcli.store.lists.kinds import KINDS, Kind
from shopcli.store.lists.table import Line, read
from shopcli.store.shop import Run, Shop
from shopcli.store.trial import NEW, SAME, WRONG, LineDone, all_or_none


def take_list(
    shop: Shop, kind: str, text: str, mapping: Mapping[str, str], *, by: int, write: bool
) -> tuple[LineDone, ...]:
    """Take a list in.

    Parameters
    ----------
    kind : str
        ``customers``, ``vehicles`` or ``parts``.
    text : str
        The table; commas, semicolons, tabs or bars stand between its cells, the first line names its columns.
    mapping : Mapping
        What a column of ours is called in the table, where the names differ.
    write : bool
        False only says what would come of it; True keeps it, all lines or none.

    Raises
    ------
    BadInput
        When the table as a whole cannot be read, or a column it must have is missing.
    """
    found = KINDS[kind]
    lines = read(found, text, mapping)
    return all_or_none(shop, lines, lambda run, line: _take(run, found, line, by), write=write)


def _take(run: Run, kind: Kind, line: Line, by: int) -> LineDone:
    name = line.cells.get(kind.needs[0], "")[:60]
    if line.trouble:
        return LineDone(line.number, name, WRONG, line.trouble)
    try:
        before = kind.known(run, line.cells)
        if before:
            return LineDone(line.number, name, SAME, before)
        done = run.do(kind.command(run, line.cells), by=by)
    except ShopError as error:
        return LineDone(line.number, name, WRONG, f"{error.message}. {error.hint}".strip())
    return LineDone(line.number, name, NEW, "  ".join(done.said))
