"""Threads: the tables against printed figures, the formulas against each other, and reading what people write."""

import csv
import importlib.util
import math
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcli.errors import BadInput, NotFound, OutOfRange, ShopError
from shopcli.workings import thread_forms, thread_table, threads
from shopcli.workings.thread_table import find

# UNC and UNF stress areas, [in2]: ASME B1.1 as printed in two public thread tables
UNIFIED_AREAS = {
    "1/4-20 UNC": 0.0318, "9/16-12 UNC": 0.182, "5/8-11 UNC": 0.226, "3/4-10 UNC": 0.334, "7/8-9 UNC": 0.462,
    "1-8 UNC": 0.606, "1/4-28 UNF": 0.0364, "5/16-24 UNF": 0.058, "9/16-18 UNF": 0.203, "5/8-18 UNF": 0.256,
    "3/4-16 UNF": 0.373, "7/8-14 UNF": 0.509, "1-12 UNF": 0.663, "#10-32 UNF": 0.0200, "#8-36 UNF": 0.01474,
}  # fmt: skip
# BSW pitch and minor diameter, [in]: BS 84 as printed in a public thread table
BSW_PRINTED = {
    "1/8": (40, 0.1090, 0.0930), "3/16": (24, 0.1608, 0.1341), "1/4": (20, 0.2180, 0.1860),
    "5/8": (11, 0.5668, 0.5086), "3/4": (10, 0.6860, 0.6220), "7/8": (9, 0.8039, 0.7327), "1": (8, 0.9200, 0.8400),
}  # fmt: skip
# BSF threads per inch: a gauge maker's public table of BS 84
BSF_PRINTED = {
    "3/16": 32, "7/32": 28, "1/4": 26, "5/16": 22, "3/8": 20, "7/16": 18, "1/2": 16, "9/16": 16, "5/8": 14,
    "11/16": 14, "3/4": 12, "7/8": 11, "1": 10,
}  # fmt: skip
# BA diameters and pitches, [mm]: an article on the BA system
BA_PRINTED = {0: (6.0, 1.0), 1: (5.3, 0.90), 2: (4.7, 0.81), 3: (4.1, 0.73), 4: (3.6, 0.66), 12: (1.3, 0.28)}


@pytest.mark.parametrize(("name", "area"), UNIFIED_AREAS.items())
def test_unified_areas_as_printed(name: str, area: float) -> None:
    assert find(name).stress_area_mm2 / 25.4**2 == pytest.approx(area, rel=0.012)


@pytest.mark.parametrize("size", BSW_PRINTED)
def test_bsw_as_printed(size: str) -> None:
    turns, effective, minor = BSW_PRINTED[size]
    thread = find(f"{size} BSW")
    assert thread.turns_per_inch == turns
    assert thread.effective_mm / 25.4 == pytest.approx(effective, abs=1.1e-4)
    assert thread.minor_mm / 25.4 == pytest.approx(minor, abs=1.1e-4)


def test_bsf_as_printed() -> None:
    assert thread_table.BSF == BSF_PRINTED


@pytest.mark.parametrize("number", BA_PRINTED)
def test_ba_as_printed(number: int) -> None:
    pitch, major, _, _ = thread_forms.ba_sizes_mm(number)
    assert (major, pitch) == BA_PRINTED[number]


def test_metric_and_inch_sizes_against_a_parts_library() -> None:
    """Second route: the tapping-hole table of bd_warehouse 0.4.0 lists the same pairs of size and pitch."""
    spec = importlib.util.find_spec("bd_warehouse")
    if spec is None or not spec.submodule_search_locations:
        pytest.skip("bd_warehouse is not installed")
    data = Path(spec.submodule_search_locations[0]) / "data" / "tap_hole_sizes.csv"
    with data.open(encoding="utf-8") as file:
        sizes = {row["Size"] for row in csv.DictReader(file)}
    coarse = {f"M{d:g}-{p:g}" for d, p in thread_table.METRIC_COARSE.items() if d not in {7, 24}}
    unified = {f"{size}-{n}" for table in (thread_table.UNC, thread_table.UNF) for size, n in table.items()}
    assert coarse <= sizes
    assert unified <= sizes


@given(st.floats(3, 40), st.floats(0.3, 4))
def test_metric_area_is_that_of_the_mean_diameter(diameter: float, pitch: float) -> None:
    """ISO 898-1 defines the area by the mean of effective and minor diameter: two ways to one number."""
    assume(pitch < 0.3 * diameter)
    mean = thread_forms.mean_area_mm2(diameter - 0.649519 * pitch, diameter - 1.226869 * pitch)
    assert thread_forms.metric_stress_area_mm2(diameter, pitch) == pytest.approx(mean, rel=1e-4)


@given(st.floats(7, 40), st.floats(0.05, 0.2))
def test_unified_rule_lies_just_below_the_metric_one(diameter: float, part: float) -> None:
    """Both are 60 degree forms; the Unified rule takes the sharper root and so a few per cent less."""
    pitch = diameter * part
    unified = thread_forms.unified_stress_area_in2(diameter / 25.4, 25.4 / pitch) * 25.4**2
    metric = thread_forms.metric_stress_area_mm2(diameter, pitch)
    assert 0.98 * metric < unified < metric


@given(st.floats(0.1, 2), st.floats(4, 80))
def test_whitworth_diameters_step_evenly(diameter: float, turns: float) -> None:
    assume(1 / turns < 0.3 * diameter)
    effective, minor = thread_forms.whitworth_diameters_in(diameter, turns)
    assert diameter - effective == pytest.approx(effective - minor)
    assert 0 < minor < effective < diameter


def test_every_thread_is_sound_and_found_again() -> None:
    for thread in thread_table.table():
        assert find(thread.name) == thread
        assert thread.minor_mm < thread.effective_mm < thread.major_mm
        assert 0 < thread.stress_area_mm2 < math.pi / 4 * thread.major_mm**2
        if thread.major_mm >= 1:
            assert thread in threads.candidates(thread.major_mm, thread.pitch_mm)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("m 10 x 1,25", "M10x1.25"),
        ("M10×1", "M10x1"),
        ("1/4W", "1/4-20 BSW"),
        ('5/16" UNF', "5/16-24 UNF"),
        ("3/8 in BSF", "3/8-20 BSF"),
        ("7/16-20 unf", "7/16-20 UNF"),
        ("0ba", "0BA"),
    ],
)
def test_read_as_people_write(text: str, name: str) -> None:
    assert find(text).name == name


def test_fraction_without_series_is_asked() -> None:
    with pytest.raises(BadInput, match="which thread"):
        find("3/8")


def test_unknown_size_names_its_neighbours() -> None:
    with pytest.raises(NotFound) as caught:
        find("3/8-18 UNC")
    assert "3/8-16 UNC" in caught.value.hint


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        find(text)
    except ShopError as error:
        assert error.hint


def test_bsw_into_unc_is_refused_though_it_meshes() -> None:
    """Known trap: the pitch agrees except at 1/2 in (12 against 13), the flanks are 55 against 60 degrees."""
    match, why = threads.mates(find("3/8 BSW"), find("3/8 UNC"))
    assert not match
    assert "55 and 60 degree" in why
    match, why = threads.mates(find("1/2 BSW"), find("1/2 UNC"))
    assert not match
    assert "12 threads per inch against 13" in why


def test_m6_and_0ba_are_told_apart() -> None:
    worked = threads.WORKINGS[1].run(major_mm=5.95, pitch_mm=1.0)
    assert worked["threads"] == ("M6x1", "0BA")
    assert "thread gauge" in worked.cautions[0]


def test_pitch_beyond_the_table_is_refused() -> None:
    with pytest.raises(OutOfRange):
        thread_forms.metric_stress_area_mm2(8, 5)
    with pytest.raises(OutOfRange):
        thread_forms.ba_sizes_mm(17)
