"""Screens are thin: files read at one go, no SQL, no sums, no way of writing a figure of their own."""

import ast
import inspect
import re
from functools import cache
from importlib import import_module
from pathlib import Path

import pytest
from textual.message_pump import MessagePump
from textual.widgets import Static

ROOT = Path(__file__).parents[1]
SCREENS = sorted((ROOT / "shopcli" / "screens").rglob("*.py"))
LONGEST = 300
SQL = re.compile(
    r"\b(SELECT\s.+\sFROM|INSERT\s+INTO|UPDATE\s+\w+\s+SET|DELETE\s+FROM|CREATE\s+TABLE|PRAGMA)\b",
    re.IGNORECASE | re.DOTALL,
)
STORAGE = {"sqlite3", "sqlalchemy", "sqlmodel", "psycopg", "alembic"}
ARITHMETIC = {"decimal", "fractions", "statistics", "numpy"}
ROUNDING = {"round", "quantize", "fsum", "half_up", "rounded"}
# The height of a bar and the place of a sign on a scale are drawing, not a figure anybody reads.
DRAWS = {"plot.py", "bigfigures.py", "scalelines.py", "pictures.py"}
FIGURES = re.compile(r"(\.\d+)?[eEfFgGn%]$")


def names_imported(tree: ast.AST) -> set[str]:
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module.split(".")[0])
    return found


def texts(tree: ast.AST) -> list[str]:
    return [n.value for n in ast.walk(tree) if isinstance(n, ast.Constant) and isinstance(n.value, str)]


def formats(tree: ast.AST) -> list[str]:
    """Return how f-strings write what they hold."""
    specs = (n.format_spec for n in ast.walk(tree) if isinstance(n, ast.FormattedValue))
    return ["".join(texts(spec)) for spec in specs if spec is not None]


def called(tree: ast.AST) -> set[str]:
    calls = (n.func for n in ast.walk(tree) if isinstance(n, ast.Call))
    return {f.attr if isinstance(f, ast.Attribute) else getattr(f, "id", "") for f in calls}


def faults(source: str, name: str) -> list[str]:
    """Return what a screen file does that is not a screen's."""
    tree = ast.parse(source)
    found = [f"{name} is over {LONGEST} lines"] if len(source.splitlines()) > LONGEST else []
    imported = names_imported(tree)
    found += [f"{name} imports {module}" for module in sorted(imported & STORAGE)]
    found += [f"{name} holds SQL: {text[:40]}" for text in texts(tree) if SQL.search(text)]
    if name not in DRAWS:
        found += [f"{name} reckons with {module}" for module in sorted(imported & ARITHMETIC)]
        found += [f"{name} rounds by {call}" for call in sorted(called(tree) & ROUNDING)]
        found += [f"{name} writes a figure as {spec}" for spec in formats(tree) if FIGURES.search(spec)]
    return found


def test_screens_are_thin() -> None:
    assert [fault for path in SCREENS for fault in faults(path.read_text(encoding="utf-8"), path.name)] == []


@pytest.mark.parametrize(
    "source",
    [
        "x = 1\n" * 301,
        'shop.fetch("SELECT id FROM card")',
        'shop.fetch("update card set state = 1")',
        "from sqlalchemy import text",
        "import sqlite3",
        "from decimal import Decimal",
        "x = round(total, 2)",
        "x = total.quantize(cent)",
        'x = f"{total:.2f}"',
        'x = f"{total:>8,.2f}"',
    ],
)
def test_a_screen_that_is_not_thin_is_found(source: str) -> None:
    assert len(faults(source, "station.py")) == 1


def test_words_and_columns_are_no_figures() -> None:
    assert (
        faults('x = f"{name:<20} {count:02d} {day:%Y-%m-%d}"\ny = "select from the list"', "station.py") == []
    )


@cache
def classes_in(file: str) -> dict[str, ast.ClassDef]:
    tree = ast.parse(Path(file).read_text(encoding="utf-8"))
    return {n.name: n for n in ast.walk(tree) if isinstance(n, ast.ClassDef)}


@cache
def names_set(cls: type) -> frozenset[str]:
    """Return the private names a class gives its instances: what it sets on itself, what it defines."""
    body = list(ast.walk(classes_in(inspect.getfile(cls))[cls.__name__]))
    stored = {
        n.attr
        for n in body
        if isinstance(n, ast.Attribute) and isinstance(n.ctx, ast.Store) and ast.unparse(n.value) == "self"
    }
    defined = {n.name for n in body if isinstance(n, ast.FunctionDef | ast.AsyncFunctionDef)}
    return frozenset(n for n in stored | defined if n.startswith("_") and not n.startswith("__"))


# Overridden on purpose, each calling what it overrides: the shop's own errors are told and end nothing.
MEANT = [
    "Careful._dispatch_message of MessagePump",
    "WatchingApp._handle_exception of App",
]


def clashes(cls: type) -> list[str]:
    """Return the private names of a class of ours that the framework uses for something of its own."""
    theirs = (base for base in cls.__mro__ if base.__module__.startswith("textual."))
    return sorted(
        {f"{cls.__name__}.{n} of {b.__name__}" for b in theirs for n in names_set(cls) & names_set(b)}
    )


def test_no_private_name_of_ours_hides_one_of_the_frameworks() -> None:
    """A widget that keeps rows as `_closed` would tell its message pump that it is closed, and wait for ever."""
    found: list[str] = []
    for path in SCREENS:
        module = import_module(".".join(path.relative_to(ROOT).with_suffix("").parts))
        for cls in vars(module).values():
            if inspect.isclass(cls) and cls.__module__ == module.__name__ and issubclass(cls, MessagePump):
                found += clashes(cls)
    assert sorted(found) == MEANT


def test_a_hidden_name_is_found() -> None:
    class Rows(Static):
        def __init__(self) -> None:
            super().__init__()
            self._closed = True

    assert clashes(Rows) == ["Rows._closed of MessagePump"]
