"""The published check rows, read and judged in one place: the tests and the count come from here.

Run it for the count: ``python -m tests.published.checks_table``.
"""

import ast
import csv
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Literal

from shopcli.errors import OutOfRange
from tests.published.route_a import ROUTE as ROUTE_A
from tests.published.route_b import LOOKUP
from tests.published.route_b import ROUTE as ROUTE_B

ROUTE: dict[str, Callable[..., object]] = {**ROUTE_B, **ROUTE_A}
ELSEWHERE = ("unit", "unit_pair", "f_to_c")
Status = Literal["passed", "failed", "skipped", "disagrees", "still agrees"]


@dataclass(frozen=True)
class Row:
    area: str
    quantity: str
    inputs: dict[str, object]
    expected: str
    tolerance: str
    source: str
    mark: str

    @property
    def name(self) -> str:
        return self.quantity.split(":")[0]

    @property
    def label(self) -> str:
        return f"{self.area} | {self.quantity} | {self.source} [{self.mark}]"


@dataclass(frozen=True)
class Outcome:
    status: Status
    note: str


def _inputs(text: str) -> dict[str, object]:
    parts = (part.split("=", 1) for part in text.split(";") if part.strip())
    return {key.strip(): ast.literal_eval(value.strip()) for key, value in parts}


def rows() -> list[Row]:
    with Path(__file__).with_name("checks.csv").open(encoding="utf-8", newline="") as file:
        return [
            Row(
                line["area"],
                line["quantity"],
                {} if line["quantity"].startswith("lookup") else _inputs(line["inputs"]),
                line["expected"],
                line["tolerance"],
                line["source"],
                line["mark"],
            )
            for line in csv.DictReader(file)
        ]


def _plain(text: str) -> object:
    try:
        return ast.literal_eval(text)
    except (ValueError, SyntaxError):
        return text


def agrees(got: object, expected: str, tolerance: str) -> bool:
    """Tell whether a value is the printed one within the row's tolerance."""
    if isinstance(got, Decimal):
        return got == Decimal(expected)
    want = _plain(expected)
    if isinstance(want, tuple) or isinstance(got, tuple):
        pair = isinstance(want, tuple) and isinstance(got, tuple) and len(want) == len(got)
        return pair and all(agrees(g, repr(w), tolerance) for g, w in zip(got, want, strict=True))
    if isinstance(want, bool) or isinstance(got, bool | str) or isinstance(want, str):
        return str(got) == str(want)
    kind, _, size = tolerance.partition(" ")
    allowed = {
        "exact": 1e-9 * max(1.0, abs(want)),
        "abs": float(size or 0),
        "rel": float(size or 0) * abs(want),
    }
    return abs(got - want) <= allowed[kind] * (1 + 1e-9)


def _skip_reason(row: Row) -> str:
    if row.name in ELSEWHERE:
        return "units layer: tests/published/test_units_published.py"
    if row.name == "lookup" and row.quantity not in LOOKUP:
        return "a maker's or an engine's figure: none is shipped, so nothing of ours to hold it against"
    return ""


def _work(row: Row) -> object:
    try:
        return LOOKUP[row.quantity]() if row.name == "lookup" else ROUTE[row.name](**row.inputs)
    except OutOfRange:
        return None  # refused; a row without an expected value wants just that


def judge(row: Row) -> Outcome:
    """Work one row and say how it went, with both values in the note."""
    reason = _skip_reason(row)
    if reason:
        return Outcome("skipped", reason)
    got = _work(row)
    note = f"ours {got!r}, printed {row.expected!r} ({row.tolerance}), source: {row.source} [{row.mark}]"
    same = got is None if not row.expected else got is not None and agrees(got, row.expected, row.tolerance)
    if row.name.startswith("disagree_"):
        return Outcome("still agrees" if same else "disagrees", note)
    return Outcome("passed" if same else "failed", note)


def count() -> dict[str, Counter[str]]:
    """Outcomes by area."""
    table: dict[str, Counter[str]] = {}
    for row in rows():
        table.setdefault(row.area, Counter())[judge(row).status] += 1
    return table


def count_text() -> str:
    names = ("passed", "skipped", "disagrees", "failed", "still agrees")
    lines = [f"{'area':<16}" + "".join(f"{name:>14}" for name in names)]
    table = count()
    lines += [f"{area:<16}" + "".join(f"{got[name]:>14}" for name in names) for area, got in table.items()]
    total = sum(table.values(), Counter())
    return "\n".join([*lines, f"{'all':<16}" + "".join(f"{total[name]:>14}" for name in names)])


if __name__ == "__main__":
    sys.stdout.write(count_text() + "\n")
