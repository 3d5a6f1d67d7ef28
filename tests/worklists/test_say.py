"""What a step says: numbers in the units of the bench, marks on what is not confirmed, words for what is missing."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.units import AS_PRINTED, IMPERIAL, METRIC, Limits
from shopcli.worklists.model import Provenance, Spec, Task, VehicleFacts
from shopcli.worklists.say import fill_facts, not_known, placeholders, say_text, spec_text


def spec(*args, kind="demo", who="", **more):
    return Spec("points_gap", "points gap", Limits.of(*args, **more), "", Provenance(kind, who=who), "sheet")


GAP = spec("length", "thou", nominal=16)


@pytest.fixture
def task():
    return Task("a:b", "a", "1", "Set", "ignition", say="Drag at {{ spec.points_gap }}.", specs=(GAP,))


def test_number_in_the_unit_of_the_bench_and_the_other(task):
    assert say_text(task, IMPERIAL) == "Drag at 16 thou (0.41 mm)."
    assert say_text(task, METRIC) == "Drag at 0.41 mm (16 thou)."
    assert say_text(task, AS_PRINTED) == "Drag at 16 thou (0.41 mm)."


def test_other_unit_as_the_document_prints_it():
    also = (Limits.of("length", "in", low="0.018", high="0.022"),)
    both = spec("length", "mm", low="0.45", high="0.55", also=also)
    assert spec_text(both, AS_PRINTED) == "0.45 to 0.55 mm (0.018 to 0.022 in)"


def test_a_unit_without_a_fellow_stands_alone():
    assert spec_text(spec("voltage", "V", low="12.4", high="12.9"), IMPERIAL) == "12.4 to 12.9 V"


def test_common_practice_is_marked_until_it_is_confirmed():
    practice = spec("length", "thou", nominal=16, kind="practice")
    assert spec_text(practice, IMPERIAL) == "16 thou (0.41 mm) [practice, to be confirmed]"
    assert spec_text(replace(practice, provenance=Provenance("practice", who="Tom")), IMPERIAL).endswith(
        "mm)"
    )


def test_a_missing_number_says_so(task):
    assert say_text(replace(task, specs=()), METRIC) == "Drag at [points gap: not known, enter it]."
    assert not_known("oil_fill") == "[oil fill: not known, enter it]"


def test_facts_and_places_are_filled_and_numbers_left_open():
    facts = VehicleFacts(firing_order=("1", "3", "4", "2"), rotor="ccw")
    text = "{{vehicle.firing_order}}, {{ vehicle.rotor }}, {{ each }}, {{ spec.x }}, {{ vehicle.fuel }}"
    assert fill_facts(text, facts, "cylinder 2") == (
        "1-3-4-2, anticlockwise, cylinder 2, {{ spec.x }}, [fuel: not known, enter it]"
    )


def test_a_fact_that_looks_like_a_placeholder_stays_text(task):
    facts = VehicleFacts(fuel="{{ vehicle.layout }}", layout="x")
    assert fill_facts("{{ vehicle.fuel }}", facts) == "{{ vehicle.layout }}"


@given(st.text(alphabet="{} .abcspevhil_x\n", max_size=30))
def test_text_without_a_known_placeholder_stays_as_it_is(text):
    task = Task("a:b", "a", "1", "T", "s", say=text)
    if all(kind == "" for kind, _ in placeholders(text)):
        assert say_text(task, METRIC) == text
        assert fill_facts(text, VehicleFacts()) == text
