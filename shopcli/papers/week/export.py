"""The tables of the report for other programs: CSV by RFC 4180, one table a file, or all of it as JSON."""

import csv
import io
from datetime import date
from decimal import Decimal
from typing import Any

from shopcli.papers.week.model import Report, Sheet, Value
from shopcli.worklists.sheet_csv import guarded


def _plain(value: Value) -> Any:
    if isinstance(value, Decimal):
        return format(value, "f")
    if isinstance(value, date):
        return value.isoformat()
    return value


def sheet_csv(sheet: Sheet) -> str:
    """Return one table: times in seconds, sums and factors with a dot; a text a spreadsheet would work out is guarded."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([head.field for head in sheet.heads])
    for line in sheet.lines:
        writer.writerow([_cell(cell.value) for cell in line.cells])
    return out.getvalue()


def _cell(value: Value) -> str:
    plain = _plain(value)
    return "" if plain is None else guarded(plain) if isinstance(value, str) else str(plain)


def report_data(report: Report) -> dict[str, Any]:
    """Return the report as plain data: every table with its rows by field, times in seconds, sums as decimal text."""
    return {
        "shop": report.shop,
        "weeks": list(report.period.names),
        "from": report.period.monday.isoformat(),
        "to": report.period.last.isoformat(),
        "made": report.dated.isoformat(),
        "to_do": [f"{line.cells[-1].said} {line.note}".rstrip() for line in report.todo],
        "tables": {sheet.name: _rows(sheet) for sheet in report.sheets},
    }


def _rows(sheet: Sheet) -> list[dict[str, Any]]:
    return [
        {head.field: _plain(cell.value) for head, cell in zip(sheet.heads, line.cells, strict=True)}
        for line in sheet.lines
    ]
