"""Sheets over one another: the nearest wins, the others stay visible; facts fill in from the family."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput, NotFound, ShopError
from shopcli.units import Limits
from shopcli.worklists.library import Library, Sheet
from shopcli.worklists.model import Provenance, Spec, VehicleFacts
from shopcli.worklists.sheets import chain, facts, facts_from_json, facts_to_json, lookup
from tests.worklists.small import small_library

FAMILY = """title = "Family"
[facts]
cylinders = 4
firing_order = "1-3-4-2"
ignition = "contact breaker"
volts = 12
heads = "iron"
[spec.points_gap]
nominal = 15
unit = "thou"
from = "practice"
[spec.belt_deflection]
low = 10
unit = "mm"
from = "practice"
"""
ENGINE = """title = "Engine"
under = "family"
[facts]
rotor = "anticlockwise"
volts = 6
[spec.points_gap]
low = 0.35
high = 0.40
unit = "mm"
from = "handbook"
document = "Own manual"
page = "12"
"""
FILES = {"sheets/family.toml": FAMILY, "sheets/engine.toml": ENGINE}


@pytest.fixture
def library(tmp_path):
    return small_library(tmp_path, FILES)


def own_gap():
    limits = Limits.of("length", "thou", nominal=14)
    return Spec(
        "points_gap", "points gap", limits, "", Provenance("measured", who="Tom", on="2026-01-02"), "vehicle"
    )


def test_chain_goes_from_the_nearest_to_the_general(library):
    assert library.problems == ()
    assert chain(library, "engine") == ("engine", "family", "general")
    assert chain(library, "general") == ("general",)
    assert chain(library, "") == ("general",)


def test_chain_without_a_general_sheet():
    sheet = Sheet("a", "A", "a.toml", "1", under="general")
    assert chain(Library(sheets={"a": sheet}), "a") == ("a",)
    assert chain(Library(), "") == ()


def test_chain_refuses_a_circle_and_an_unknown_sheet(library):
    circle = {n: Sheet(n, n, f"{n}.toml", "1", under=u) for n, u in (("a", "b"), ("b", "a"))}
    with pytest.raises(BadInput, match='"a" under "b" under "a"'):
        chain(Library(sheets=circle), "a")
    with pytest.raises(NotFound) as caught:
        chain(library, "famly")
    assert caught.value.hint == 'Write "family" instead.'


def test_sheets_in_a_circle_are_listed_and_left_out(tmp_path):
    def under(name):
        return f'title = "S"\nunder = "{name}"\n'

    library = small_library(
        tmp_path, {"sheets/a.toml": under("b"), "sheets/b.toml": under("a"), "sheets/c.toml": under("a")}
    )
    assert list(library.sheets) == ["general"]
    assert [p.line for p in library.problems] == [2, 2, 2]
    assert sum("lie in a circle" in p.message for p in library.problems) == 2


def test_the_nearest_number_wins_and_the_others_stay(library):
    book = lookup(library, "engine", [own_gap()])
    assert book.get("points_gap") == own_gap()
    assert [s.sheet for s in book.others("points_gap")] == ["engine", "family", "general"]
    assert lookup(library, "engine").get("points_gap").provenance.page == "12"
    assert book.get("belt_deflection").sheet == "family"
    assert book.get("plug_gap").sheet == "general"
    assert book.get("oil_fill") is None
    assert book.others("oil_fill") == ()
    assert book.names == ("belt_deflection", "plug_gap", "points_gap")


def test_digits_of_a_sheet_are_kept_as_printed(library):
    assert lookup(library, "engine").get("points_gap").limits.text() == "0.35 to 0.40 mm"


def test_facts_come_from_the_widest_to_the_nearest_then_the_vehicle(library):
    found = facts(library, "engine", {"earth": "positive", "wheel nuts": 4})
    assert found.volts == 6
    assert found.rotor == "ccw"
    assert found.firing_order == ("1", "3", "4", "2")
    assert found.valves[:3] == ("1 inlet", "1 exhaust", "2 inlet")
    assert len(found.valves) == 8
    assert found.earth == "positive"
    assert found.fact("wheel nuts") == "4"
    assert found.fact("heads") == "iron"
    assert found.fact("cylinders") == "4"


def test_facts_as_a_form_gives_them(library):
    found = facts(library, "", {"cylinders": "2", "volts": "6", "carburettors": "1", "firing_order": "1, 2"})
    assert (found.cylinders, found.volts, found.firing_order) == (("1", "2"), 6, ("1", "2"))


def test_other_cylinders_set_aside_the_familys_order_and_valves(library):
    found = facts(library, "engine", {"cylinders": 2})
    assert found.firing_order == ()
    assert found.valves == ("1 inlet", "1 exhaust", "2 inlet", "2 exhaust")


def test_a_sheet_may_name_the_valves(tmp_path):
    text = 'title = "E"\n[facts]\ncylinders = 2\nvalves = ["1 exhaust", "1 inlet", "2 inlet", "2 exhaust"]\n'
    library = small_library(tmp_path, {"sheets/e.toml": text})
    assert facts(library, "e").valves == ("1 exhaust", "1 inlet", "2 inlet", "2 exhaust")


@pytest.mark.parametrize(
    "wrong",
    [
        {"firing_order": "1-2-3"},
        {"firing_order": "1-2-3-3"},
        {"firing_order": 4},
        {"volts": "many"},
        {"volts": -1},
        {"volts": True},
        {"cylinders": 4000},
        {"cylinders": None},
        {"wheels": ["a", 3.5]},
        {"rotor": "left"},
        {"ignition": ["a"]},
    ],
)
def test_wrong_facts_are_refused_with_a_hint(library, wrong):
    with pytest.raises(BadInput) as caught:
        facts(library, "engine", wrong)
    assert caught.value.hint


texts = st.text(max_size=12)
names = st.lists(texts, max_size=4).map(tuple)


@given(
    st.builds(
        VehicleFacts,
        cylinders=names,
        layout=texts,
        firing_order=names,
        rotor=texts,
        valves=names,
        wheels=names,
        carburettors=st.integers(0, 9),
        volts=st.integers(0, 64),
        earth=texts,
        drive_belt=texts,
        other=st.dictionaries(texts, texts, max_size=3).map(lambda d: tuple(d.items())),
    )
)
def test_facts_round_trip(found):
    assert facts_from_json(facts_to_json(found)) == found


def test_an_empty_vehicle_writes_nothing():
    assert facts_to_json(VehicleFacts()) == "{}"


@given(st.text(max_size=30))
def test_facts_from_any_text_give_facts_or_a_clear_refusal(text):
    try:
        facts_from_json(text)
    except ShopError as error:
        assert error.hint


@pytest.mark.parametrize("text", ["[]", "3", '{"voltz": 6}', '{"other": 3}', "nonsense", ""])
def test_facts_that_are_none(text):
    with pytest.raises(ShopError):
        facts_from_json(text)
