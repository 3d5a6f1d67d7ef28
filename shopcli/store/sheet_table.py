"""Numbers of a sheet or a vehicle out to a table and in from one: looked at first, all or nothing, no number twice."""

from collections.abc import Iterable
from dataclasses import replace

from shopcli.errors import BadInput, ShopError
from shopcli.shop.sheet_commands import EnterOnSheet, EnterSpec
from shopcli.shop.sheet_views import FILE, VEHICLE, SheetView, Standing
from shopcli.store.shop import Run, Shop
from shopcli.store.trial import CHANGED, NEW, SAME, WRONG, LineDone, all_or_none
from shopcli.worklists.sheet_csv import ReadLine, Row, read_csv, write_csv


def table_of(view: SheetView) -> str:
    """Return the numbers that stand on the sheet or vehicle itself, not those it lies under."""
    return write_csv(_row(one) for number in view.numbers for one in number.layers[:1] if _is_own(view, one))


def _is_own(view: SheetView, one: Standing) -> bool:
    return (one.layer.where, one.layer.key, one.layer.name) == (view.where, view.key, view.name)


def _row(one: Standing) -> Row:
    spec, source = one.spec, one.spec.provenance
    return Row(
        spec.name,
        spec.label,
        spec.limits.quantity,
        one.printed.low,
        one.printed.nominal,
        one.printed.high,
        spec.limits.unit,
        one.printed.also,
        spec.state,
        source.kind,
        source.document,
        source.page,
        source.who,
        source.on,
        spec.note,
    )


def take_table(shop: Shop, view: SheetView, text: str, *, by: int, write: bool) -> tuple[LineDone, ...]:
    """Take numbers in from a table.

    Parameters
    ----------
    shop : Shop
        Whose records.
    view : SheetView
        The own sheet or vehicle they are for.
    text : str
        The table.
    by : int
        Who acts.
    write : bool
        False only says what would come of it; True keeps it, all or nothing.

    Raises
    ------
    BadInput
        When the table as a whole cannot be read, or the sheet is a shipped one.
    """
    if view.where == FILE:
        raise BadInput(
            f"{view.name} is a shipped sheet and stays as it is", hint="Make a sheet of our own under it."
        )
    lines = _without_doubles(read_csv(text))
    return all_or_none(shop, lines, lambda run, line: _take(run, view, line, by), write=write)


def _without_doubles(lines: Iterable[ReadLine]) -> Iterable[ReadLine]:
    """Yield the lines, one that names a number again as a fault: nobody knows which of the two is meant."""
    first: dict[str, int] = {}
    for line in lines:
        if line.row is not None:
            name = line.row.name.strip()
            at = first.setdefault(name, line.line)
            if at != line.line:
                yield replace(line, row=None, trouble=f"names {name[:60]} again, like line {at}")
                continue
        yield line


def _take(run: Run, view: SheetView, line: ReadLine, by: int) -> LineDone:
    row = line.row
    if row is None:
        return LineDone(line.line, "", WRONG, line.trouble)
    name = row.name.strip()
    number = view.number(name)
    standing = next((one for one in number.layers if _is_own(view, one)), None) if number else None
    try:
        done = run.do(_command(view, row), by=by)
    except ShopError as error:
        return LineDone(line.line, name[:60], WRONG, f"{error.message}. {error.hint}".strip())
    if standing is not None and done.id == standing.row:
        return LineDone(line.line, name, SAME, "stands so already")
    return LineDone(line.line, name, CHANGED if standing else NEW, "  ".join(done.said))


def _command(view: SheetView, row: Row) -> EnterSpec | EnterOnSheet:
    make = EnterSpec if view.where == VEHICLE else EnterOnSheet
    return make(
        view.key,
        row.name.strip(),
        row.low,
        row.nominal,
        row.high,
        state=row.state.strip() or "-",
        kind=row.source.strip() or "handbook",
        document=row.document,
        page=row.page,
        also=row.also,
        note=row.note,
        why="from a table",
        label=row.label,
        quantity=row.quantity.strip(),
        unit=row.unit,
        who=row.who,
        on=row.on,
    )
