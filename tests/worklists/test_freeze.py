"""A frozen task comes back exactly, and garbage is refused clearly."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput
from shopcli.units import Limits
from shopcli.worklists.expand import expand
from shopcli.worklists.freeze import spec_from_json, spec_to_json, task_from_json, task_to_json
from shopcli.worklists.load import load_library
from shopcli.worklists.model import (
    Caution,
    KitLine,
    OwedSlot,
    Provenance,
    ReadingSlot,
    Spec,
    Task,
    WorkingCall,
)
from shopcli.worklists.sheets import facts, lookup

texts = st.text(max_size=10)
lists = st.lists(texts, max_size=3).map(tuple)
small = st.integers(0, 10_000)


def rows(build):
    return st.lists(build, max_size=2).map(tuple)


@st.composite
def limits(draw):
    figures = sorted(draw(st.lists(st.floats(0, 1e4), min_size=3, max_size=3)))
    keep = draw(st.lists(st.booleans(), min_size=3, max_size=3).filter(any))
    low, nominal, high = (f if k else None for f, k in zip(figures, keep, strict=True))
    unit = draw(st.sampled_from(["mm", "thou", "in"]))
    plain = Limits.of("length", unit, low, nominal, high)
    return Limits.of("length", unit, low, nominal, high, also=draw(st.sampled_from([(), (plain,)])))


specs = st.builds(
    Spec,
    texts,
    texts,
    limits(),
    texts,
    st.builds(Provenance, texts, texts, texts, texts, texts),
    texts,
    texts,
)
tasks = st.builds(
    Task,
    *[texts] * 5,
    say=texts,
    specs=rows(specs),
    missing=lists,
    readings=rows(st.builds(ReadingSlot, *[texts] * 7)),
    minutes=small,
    waits=small,
    place=texts,
    after=lists,
    needs=lists,
    makes=lists,
    acts=lists,
    hangs=lists,
    lifts=lists,
    barred=lists,
    owes=rows(st.builds(OwedSlot, texts, texts, texts, texts, small, small)),
    cautions=rows(st.builds(Caution, texts, texts)),
    working=st.none() | st.builds(WorkingCall, texts, rows(st.tuples(texts, texts))),
    second=st.booleans(),
    kit=rows(st.builds(KitLine, texts, texts, st.booleans(), texts, st.booleans(), texts)),
    fits=lists,
)


@given(tasks)
def test_a_task_comes_back_exactly(task):
    assert task_from_json(task_to_json(task)) == task


@given(specs)
def test_a_number_comes_back_exactly(spec):
    assert spec_from_json(spec_to_json(spec)) == spec


def test_every_field_of_a_task_is_kept():
    """A field added to the model and forgotten here would silently be lost; this fails first."""
    full = Task(
        *"abcde",
        say="s",
        specs=(
            Spec(
                "n", "l", Limits.of("length", "mm", nominal="0.10"), "cold", Provenance("demo"), "sh", "note"
            ),
        ),
        missing=("m",),
        readings=(ReadingSlot(*"abcdefg"),),
        minutes=1,
        waits=2,
        place="p",
        after=("a",),
        needs=("n",),
        makes=("k",),
        acts=("t",),
        hangs=("h",),
        lifts=("l",),
        barred=("b",),
        owes=(OwedSlot("c", "t", "k", "date", 3, 4),),
        cautions=(Caution("c", "t"),),
        working=WorkingCall("w", (("a", "b"),)),
        second=True,
        kit=(KitLine("p", "2", optional=True, number="n", exchange=True, unit="L"),),
        fits=("f",),
    )
    assert all(getattr(full, name) for name in Task.__dataclass_fields__)
    assert task_from_json(task_to_json(full)) == full
    assert task_from_json(task_to_json(full)).specs[0].limits.text() == "0.10 mm"


def test_whole_work_lists_come_back():
    library = load_library()
    work = expand(
        library,
        ["engine-service", "brakes-adjust"],
        facts(library, "demo-lark-1200"),
        lookup(library, "demo-lark-1200"),
    )
    assert len(work.tasks) > 60
    assert tuple(task_from_json(task_to_json(t)) for t in work.tasks) == work.tasks


@given(st.text(max_size=40) | st.recursive(st.none() | st.integers() | texts, st.lists).map(json.dumps))
def test_garbage_is_refused(text):
    with pytest.raises(BadInput):
        task_from_json(text)
    with pytest.raises(BadInput):
        spec_from_json(text)


@pytest.mark.parametrize("change", [{"form": 2}, {"key": None}, {"specs": [[1, 2]]}, {"readings": [[1] * 9]}])
def test_a_damaged_task_is_refused(change):
    data = {**json.loads(task_to_json(Task(*"abcde"))), **change}
    if change == {"key": None}:
        del data["key"]
    with pytest.raises(BadInput):
        task_from_json(json.dumps(data))
