"""Every conversion figure a published source prints, against the table and against the registry."""

import csv
import re
from pathlib import Path

import pytest

from shopcli.units import UNITS, from_canonical, to_canonical
from shopcli.units.registry import convert

ROWS = tuple(csv.DictReader((Path(__file__).parent / "units_checks.csv").open(encoding="utf-8", newline="")))
OURS = {"N.m": "Nm", "mL": "ml"}


def _inputs(row):
    pairs = (part.split("=", 1) for part in row["inputs"].split(";"))
    return {key.strip(): value.strip().strip("'") for key, value in pairs}


def _question(row):
    """Figure, unit it is in, unit it is wanted in."""
    given = _inputs(row)
    if "mpg" in given:
        return float(given["mpg"]), f"mpg_{given['gallon']}", "L/100km"
    if "f" in given:
        return float(given["f"]), "degF", "degC"
    source, target = (OURS.get(given[k], given[k]) for k in ("frm", "to"))
    return float(given.get("value", "1")), source, target


def _allowed(row):
    kind, size = row["tolerance"].split()
    return {kind: float(size)} | ({"abs": 0.0} if kind == "rel" else {"rel": 0.0})


def _name(row):
    return re.sub(r"\s+", " ", f"{row['quantity']} | {row['source']} | {row['mark']}")


def test_no_row_was_lost():
    assert len(ROWS) == 43
    assert all(row["source"] and row["mark"] for row in ROWS)


@pytest.mark.parametrize("row", ROWS, ids=_name)
def test_table_agrees_with_the_print(row):
    value, source, target = _question(row)
    assert UNITS[source].quantity == UNITS[target].quantity or {source, target} == {"mi", "m"}
    said = from_canonical(to_canonical(value, source), target)
    assert said == pytest.approx(float(row["expected"]), **_allowed(row))


@pytest.mark.parametrize("row", ROWS, ids=_name)
def test_registry_agrees_with_the_print(row):
    value, source, target = _question(row)
    assert convert(value, source, target) == pytest.approx(float(row["expected"]), **_allowed(row))
