"""What holds for every sum of the catalogue, and for the door they are all run through."""

import inspect
import math
import re
import subprocess
import sys
from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcli.errors import BadInput, NotFound, OutOfRange, ShopError
from shopcli.units.kinds import QUANTITIES, UNITS, measures
from shopcli.workings import catalogue
from shopcli.workings.frame import Input, Worked, Working

CAM = {"ivo_deg": 9, "ivc_deg": 50, "evo_deg": 47, "evc_deg": 12}
SHIMS = {
    "measured_mm": (0.33, 0.12, 0.20), "old_mm": (2.40, 2.50, 2.45), "low_mm": (0.15,), "high_mm": (0.25,),
    "stock_from_mm": 2.0, "stock_to_mm": 3.0, "step_mm": 0.05, "valves": "E1 I1 I2",
}  # fmt: skip
SAMPLES: dict[str, dict[str, object]] = {
    "inch-fraction": {"inches": "1-1/16"},
    "fuel-use": {"fuel_use": 30, "spoken_in": "mpg_imp"},
    "fuel-over-fills": {"distances_km": (320.0, 410.5), "fuels_l": (31.2, 40.0)},
    "feeler-stack": {"gap_mm": 0.4, "inch_blades_thou": (4, 6, 10, 15), "metric_blades_mm": (0.05, 0.1, 0.3)},
    "dwell-percent": {"dwell_deg": 52, "lobes": 4, "low_deg": 49, "high_deg": 55, "crank_rpm": 700},
    "dwell-degrees": {"dwell_pct": 60, "lobes": 6},
    "gap-and-dwell": {"gap_before_mm": 0.4, "gap_after_mm": 0.45, "dwell_before_deg": 52, "dwell_after_deg": 48},
    "coil-current": {"supply_v": 12, "coil_ohm": 1.5, "ballast_ohm": 1.5, "coil_rated_v": 6, "limit_a": 5},
    "spark-interval": {"firing_order": "1-3-4-2", "crank_rpm": 3000},
    "lead-order": {"firing_order": "1-8-4-3-6-5-7-2", "rotor": "cw", "banks": "1-3-5-7/2-4-6-8"},
    "timing-arc": {"diameter_mm": 150, "angle_deg": 7.5},
    "total-advance": {
        "static_deg": 6, "centrifugal": "300:0 1000:8 2000:14", "basis": "distributor", "crank_rpm": 3000,
        "vacuum": "100:0 300:6", "vacuum_at": 200, "low_deg": 20, "high_deg": 40,
    },
    "firing-companions": {"firing_order": "1-5-3-6-2-4", "cylinder": 5},
    "valve-sequence": {"firing_order": "1-4-3-2", "direction": "backwards"},
    "clearance-hot-cold": {"found_mm": 0.12, "found_state": "hot", "limit_state": "cold", "low_mm": 0.15},
    "valve-stops": {"firing_order": "1-5-3-6-2-4", **CAM},
    "valve-sum-rule": {"firing_order": "1-3-4-2", "layout": "EIIEEIIE", **CAM},
    "bucket-shim": SHIMS,
    "bucket-shim-reuse": {**SHIMS, "drawer_mm": (2.52, 2.30)},
    "compression-spread": {
        "readings_psi": (150, 140, 130, 112), "rule": "lowest of highest", "allowed_percent": 75, "minimum_psi": 100,
    },
    "compression-altitude": {"reading_psi": 120, "altitude_m": 1524},
    "wet-test": {"dry_psi": (150, 80, 85, 148), "wet_psi": (155, 84, 120, 150), "banks": "1-2-3-4"},
    "leak-down": {"supply_psi": 80, "held_psi": (74, 60, 50, 70), "limit_percent": 25, "heard": "tailpipe"},
    "displacement": {"bore_mm": 79.375, "stroke_mm": 111.125, "cylinders": 4},
    "compression-ratio": {
        "bore_mm": 77, "stroke_mm": 64, "chamber_cc": 43, "gasket_mm": 1.0, "deck_mm": 1.5, "wanted_ratio": 7.5,
    },
}  # fmt: skip
OURS = {name: catalogue.get(name) for name in SAMPLES}
TEXTS = (
    "1-3-4-2", "1-5-3-6-2-4", "1-8-4-3-6-5-7-2", "1-2", "EIIEEIIE", "EIEIEIEI", "I1 E1 I2", "300:0 900:8", "1-2/3-4",
    "7/16", "3½",
)  # fmt: skip


def test_all_subjects_are_there() -> None:
    assert len(catalogue.WORKINGS) == len(catalogue.all_workings()) >= 60
    assert set(SAMPLES) <= set(catalogue.WORKINGS)
    assert {w.subject for w in OURS.values()} == {
        "conversions",
        "ignition",
        "valves",
        "compression",
        "engine",
    }


@pytest.mark.parametrize("working", OURS.values(), ids=OURS)
def test_description_and_sum_agree(working: Working) -> None:
    parameters = inspect.signature(working.run).parameters
    assert set(parameters) == {each.name for each in working.inputs}
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", working.name)
    assert working.source
    assert working.good_for
    for each in working.inputs:
        default = parameters[each.name].default
        assert each.required == (default is inspect.Parameter.empty)
        if each.default is not None:
            assert each.default == default
        assert (each.kind == "choice") == bool(each.choices)
        if each.quantity:
            assert each.quantity in QUANTITIES
            assert each.unit == "" or measures(each.unit, each.quantity)
        assert each.unit in ("", *UNITS)


@pytest.mark.parametrize("name", SAMPLES)
def test_sample_is_told_in_full(name: str) -> None:
    worked = catalogue.run(name, **SAMPLES[name])
    assert worked.results
    assert worked.steps
    assert len({r.name for r in worked.results}) == len(worked.results)
    for result in worked.results:
        assert result.label
        assert worked[result.name] == result.value
        assert result.text or result.value == ""
        assert result.unit == "" or result.unit in UNITS
    for line in (*worked.steps, *worked.cautions, worked.verdict):
        assert "nan" not in line
        assert "-0 " not in line
        assert "  " not in line


def _values(described: Input) -> st.SearchStrategy[object]:
    low = described.low if described.low is not None else -1e4
    high = described.high if described.high is not None else 1e4
    number = st.floats(low, high)
    kinds: dict[str, st.SearchStrategy[object]] = {
        "number": number | st.floats(),
        "whole": st.integers(math.floor(low), math.ceil(high)) | st.integers(),
        "choice": st.sampled_from(described.choices or ("",)) | st.text(max_size=10),
        "text": st.sampled_from(TEXTS) | st.text(max_size=60),
        "numbers": st.lists(number, max_size=6).map(tuple),
        "yesno": st.booleans(),
    }
    made = kinds[described.kind]
    return made if described.required else made | st.none()


def _answered_or_refused(inputs: dict[str, object], run: Callable[..., Worked]) -> None:
    try:
        worked = run(**inputs)
    except ShopError as error:
        assert error.message
        return
    for result in worked.results:
        if isinstance(result.value, float):
            assert math.isfinite(result.value)
    assert all(len(line) <= 80 for line in worked.picture.splitlines())


@pytest.mark.parametrize("name", SAMPLES)
@settings(suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_anything_is_answered_or_refused_clearly(name: str, data: st.DataObject) -> None:
    inputs = {each.name: data.draw(_values(each), label=each.name) for each in OURS[name].inputs}
    _answered_or_refused(inputs, lambda **given_inputs: catalogue.run(name, **given_inputs))


@pytest.mark.parametrize("name", SAMPLES)
@settings(suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_a_sample_with_one_input_changed_is_answered_or_refused(name: str, data: st.DataObject) -> None:
    each = data.draw(st.sampled_from(OURS[name].inputs))
    inputs = {**SAMPLES[name], each.name: data.draw(_values(each))}
    _answered_or_refused(inputs, lambda **given_inputs: catalogue.run(name, **given_inputs))


@pytest.mark.parametrize(
    "name", [name for name, w in OURS.items() if any(i.name == "ascii_only" for i in w.inputs)]
)
def test_pictures_have_a_plain_twin(name: str) -> None:
    drawn = catalogue.run(name, **SAMPLES[name]).picture
    plain = catalogue.run(name, **SAMPLES[name], ascii_only=True).picture
    assert drawn
    assert plain.isascii()
    assert not drawn.isascii()
    assert [len(line) for line in drawn.splitlines()] == [len(line) for line in plain.splitlines()]


def test_unknown_names_are_told_with_the_nearest() -> None:
    with pytest.raises(NotFound) as missed:
        catalogue.get("dwel-percent")
    assert "dwell-percent" in missed.value.hint
    with pytest.raises(NotFound) as far:
        catalogue.get("carpet")
    assert far.value.hint
    with pytest.raises(BadInput, match="has no input 'lobe'") as wrong:
        catalogue.run("dwell-percent", dwell_deg=50, lobe=4)
    assert "lobes" in wrong.value.hint


@pytest.mark.parametrize(
    ("name", "inputs", "refusal", "told"),
    [
        ("dwell-percent", {"lobes": 4}, BadInput, "Dwell on the meter"),
        ("dwell-percent", {"dwell_deg": "52", "lobes": 4}, BadInput, "'52'"),
        ("dwell-percent", {"dwell_deg": True, "lobes": 4}, BadInput, "True"),
        ("dwell-percent", {"dwell_deg": 52, "lobes": 4.5}, BadInput, "4.5"),
        ("dwell-percent", {"dwell_deg": 52, "lobes": 13}, OutOfRange, "13"),
        ("dwell-percent", {"dwell_deg": math.nan, "lobes": 4}, OutOfRange, "nan"),
        ("dwell-percent", {"dwell_deg": 52, "lobes": math.inf}, OutOfRange, "inf"),
        ("dwell-percent", {"dwell_deg": 95, "lobes": 4}, OutOfRange, "below 90"),
        ("fuel-use", {"fuel_use": 30, "spoken_in": "mpg"}, BadInput, "'mpg'"),
        ("fuel-use", {"fuel_use": 0, "spoken_in": "mpg_us"}, OutOfRange, "above 0"),
        ("lead-order", {"firing_order": " ", "rotor": "cw"}, BadInput, "Firing order"),
        ("lead-order", {"firing_order": "1" * 3000, "rotor": "cw"}, BadInput, "Firing order"),
        ("lead-order", {"firing_order": "1-3-3-2", "rotor": "cw"}, BadInput, "no No. 4"),
        ("fuel-over-fills", {"distances_km": (), "fuels_l": (1,)}, BadInput, "no figures"),
        ("fuel-over-fills", {"distances_km": 100, "fuels_l": (1,)}, BadInput, "100"),
        ("fuel-over-fills", {"distances_km": (100,) * 601, "fuels_l": (1,)}, BadInput, "601"),
        ("gap-and-dwell", {"dwell_before_deg": 1, "dwell_after_deg": 2, "symmetric_lobe": 1}, BadInput, "1"),
        ("valve-stops", {"firing_order": "1-3-4-2", **CAM, "margin_deg": 0}, OutOfRange, "from 10"),
    ],
)
def test_inputs_are_checked_at_the_door(
    name: str, inputs: dict[str, object], refusal: type[ShopError], told: str
) -> None:
    with pytest.raises(refusal) as caught:
        catalogue.run(name, **inputs)
    assert told in caught.value.message


def test_a_margin_of_nothing_is_refused_with_the_reason() -> None:
    with pytest.raises(OutOfRange) as caught:
        catalogue.run("valve-stops", firing_order="1-3-4-2", **CAM, margin_deg=0)
    assert "ramp" in caught.value.hint


def test_lists_and_whole_floats_are_taken() -> None:
    assert catalogue.run("dwell-percent", dwell_deg=52, lobes=4.0)["sector_deg"] == 90.0
    assert catalogue.run("fuel-over-fills", distances_km=[100, 300], fuels_l=[20, 30])["l_per_100km"] == 12.5


def test_the_catalogue_is_light_and_stands_alone() -> None:
    code = (
        "import sys; from shopcli.workings import catalogue; catalogue.all_workings();"
        "heavy = {'pint', 'scipy', 'numpy', 'textual', 'rich', 'sqlmodel', 'sqlalchemy'} & set(sys.modules);"
        "rest = {m for m in sys.modules if m.startswith('shopcli.')"
        " and not m.startswith('shopcli.workings') and m != 'shopcli.errors'};"
        "print(sorted(heavy | rest))"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"
