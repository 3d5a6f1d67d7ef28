"""The line scanner against the standard reader: every key the reader sees has its line."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.worklists.toml_lines import Lines

TEXT = '''# a remark with [[task]] in it
title = "Points # not a remark"
about = """
[[task]]
id = "not a task"
"""
literal = \'\'\'
[x]
it's
\'\'\'

applies = { ignition = "contact breaker", "odd key" = [1,
  2] }

[[task]]
id = "a"
readings = [
    { name = "one", when = ["as found",
      "as left"] },   # remark ]
    { name = "two" },
]
working = { name = "sum", with.lobes = "vehicle.cylinders" }
on = 1979-05-27 07:32:00

[[task]]   # second
"id" = 'b'
[task.working]
name = "x"

[spec."points gap"]
low = 1
[a.b]
c . d = true
'''

EXPECTED = {
    ("title",): 2,
    ("about",): 3,
    ("literal",): 7,
    ("applies",): 12,
    ("applies", "ignition"): 12,
    ("applies", "odd key", 1): 13,
    ("task", 0): 15,
    ("task", 0, "id"): 16,
    ("task", 0, "readings", 0, "when", 0): 18,
    ("task", 0, "readings", 0, "when", 1): 19,
    ("task", 0, "readings", 1, "name"): 20,
    ("task", 0, "working", "with", "lobes"): 22,
    ("task", 0, "on"): 23,
    ("task", 1): 25,
    ("task", 1, "id"): 26,
    ("task", 1, "working"): 27,
    ("task", 1, "working", "name"): 28,
    ("spec", "points gap", "low"): 31,
    ("a", "b", "c", "d"): 33,
}


def paths(value, path=()):
    if isinstance(value, dict):
        for key, inner in value.items():
            yield (*path, key)
            yield from paths(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield (*path, index)
            yield from paths(inner, (*path, index))


@pytest.mark.parametrize(("path", "line"), EXPECTED.items())
def test_line_of_each_key(path, line):
    assert Lines(TEXT).of(*path) == line


def test_scanner_sees_exactly_what_the_reader_sees():
    assert set(Lines(TEXT)) == set(paths(tomllib.loads(TEXT)))


def test_a_key_that_is_not_there_takes_the_line_around_it():
    assert Lines(TEXT).of("task", 1, "minutes") == 25
    assert Lines(TEXT).of("nothing") == 1


keys = st.from_regex(r"[a-z][a-z0-9_]{0,5}", fullmatch=True)
values = st.recursive(
    st.integers(-9, 9) | st.booleans() | st.text(st.characters(codec="ascii"), max_size=12),
    lambda inner: st.lists(inner, max_size=3),
    max_leaves=6,
)
tables = st.dictionaries(keys, values, max_size=4)


def written(value):
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int):
        return str(value)
    if isinstance(value, str):
        escaped = "".join(c if c.isalnum() or c in " #[]{}=,'" else f"\\u{ord(c):04x}" for c in value)
        return f'"{escaped}"'
    return "[\n" + "".join(f"  {written(v)}, # ] \" '\n" for v in value) + "]"


@given(top=tables, blocks=st.lists(tables, max_size=4), named=st.dictionaries(keys, tables, max_size=3))
def test_any_file_made_of_these_parts(top, blocks, named):
    lines, expected = [], {}

    def add(path, table):
        for key, value in table.items():
            expected[(*path, key)] = len(lines) + 1
            lines.extend(f"{key} = {written(value)}".split("\n"))

    add((), top)
    for index, block in enumerate(blocks):
        lines.append("[[zz-task]]")
        expected["zz-task", index] = len(lines)
        add(("zz-task", index), block)
    for name, table in named.items():
        lines.append(f"[zz-spec.{name}]")
        expected["zz-spec", name] = len(lines)
        add(("zz-spec", name), table)
    text = "\n".join(lines) + "\n"
    scanned = Lines(text)
    assert set(scanned) == set(paths(tomllib.loads(text)))
    assert {path: scanned.of(*path) for path in expected} == expected


@given(st.text(max_size=60))
def test_no_text_makes_it_fail(text):
    assert Lines(text).of("task", 0, "id") >= 1
