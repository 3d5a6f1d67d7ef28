"""What holds for every working of this row: description and sum agree, and nothing but a clear refusal gets out."""

import importlib
import inspect
import math
import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcli.errors import ShopError
from shopcli.units.kinds import QUANTITIES, UNITS, measures
from shopcli.workings.frame import Input, Worked, Working

MODULES = (
    "fasteners", "threads", "spanners", "tightening", "wrenches", "belts", "end_float",
    "fluids", "battery", "wiring", "wheels", "brakes", "labour",
)  # fmt: skip
ALL: dict[str, Working] = {
    w.name: w for m in MODULES for w in importlib.import_module(f"shopcli.workings.{m}").WORKINGS
}
REGISTER = "small; 5; 25; Nm; 0.1; 2024-01-01; 10 | mid; 20; 100; Nm; 0.5; 2024-01-01; 10"
SAMPLES: dict[str, dict[str, object]] = {
    "thread": {"thread": "3/8 BSW", "other": "3/8 UNC"},
    "thread-find": {"major_mm": 9.45, "pitch_mm": 1.5875},
    "stress-area": {"thread": "M8"},
    "proof-load": {"thread": "M10", "grade": "8.8"},
    "bolt-torque": {"thread": "M10", "grade": "8.8", "finish": "engine oil", "handbook_nm": 40.0},
    "bolt-stretch": {"thread": "M10", "grip_mm": 60.0, "load_n": 25275.0},
    "hex-sizes": {"thread": "M10"},
    "spanner-near-fit": {"head": "1/2 AF"},
    "tightening-order": {"pattern": "head", "rows": 2, "columns": 5, "torque_nm": 60.0, "angles_deg": (90.0,)},
    "stages": {"torque_nm": 60.0, "angles_deg": (45.0, 45.0)},
    "wrench-with-extension": {"torque": 40.0, "length_mm": 400.0, "extension_mm": 60.0, "graduation": 0.5},
    "wrench-choice": {"torque_nm": 47.2, "register": REGISTER, "today": "2024-06-01"},
    "belt-length": {"large_mm": 150.0, "small_mm": 70.0, "centres_mm": 300.0},
    "belt-deflection": {"span_length_mm": 300.0, "measured_mm": 12.0},
    "split-pulley": {
        "split_mm": 70.0, "other_mm": 150.0, "centres_mm": 300.0, "spacer_mm": 0.5,
        "deflection_mm": 25.0, "wanted_mm": 16.0, "between": 3, "outside": 2,
    },
    "end-float-shims": {
        "pack_mm": 0.5, "measured_mm": 0.42, "wanted_mm": 0.1, "sense": "a thicker pack takes float away",
        "stock_mm": (0.1, 0.15, 0.25, 0.5),
    },
    "oil-grade": {"coldest_c": -18.0, "handbook_upper": 50},
    "oil-from-viscosity": {"viscosity": 18.0},
    "dipstick-fill": {"level_percent": 25.0},
    "coolant-strength": {"volume_l": 8.5, "now_percent": 25.0, "wanted_percent": 50.0, "drainable_l": 2.0},
    "coolant-freeze": {"percent": 40.0},
    "battery-charge-state": {"reading": 1.25, "temperature_c": 5.0, "full_gravity": 1.265},
    "battery-rest-voltage": {"volts": 12.4, "cells": 6, "full_gravity": 1.28, "rested_h": 12.0},
    "charge-time": {"capacity_ah": 60.0, "missing_percent": 50.0, "amps": 5.0},
    "cell-spread": {"gravities": (1.26, 1.255, 1.228)},
    "cable-drop": {"amps": 10.0, "length_m": 4.0, "kind": "mm2", "size": "2.5", "system_v": "6"},
    "toe": {"diameter_mm": 600.0, "rear_mm": 1303.0, "front_mm": 1300.0, "low_mm": 1.0, "high_mm": 2.0},
    "tyre-size": {"size": "165/80R13"},
    "road-speed": {"gear_ratio": 1.0, "axle_ratio": 4.125, "circumference_mm": 1801.0, "rpm": 3000.0},
    "speedometer": {"reference_mm": 594.2, "fitted_mm": 575.0},
    "drum": {
        "nominal_mm": 228.6, "machine_mm": 230.1, "discard_mm": 230.6, "measured_mm": (228.9, 229.4),
        "across_mm": 229.0, "cut_mm": 0.5,
    },
    "disc": {
        "nominal_mm": 12.7, "machine_mm": 11.7, "discard_mm": 11.2, "measured_mm": (12.1, 12.13), "runout_mm": 0.2,
    },
    "labour-units": {"minutes": 42, "rate": "85.00"},
    "hours": {"time": "1:05"},
    "markup": {"cost": "10.00", "bands": "0 60; 10 40"},
    "vat": {"lines": "120.00 20; 45.50 5"},
    "margin": {"cost": "60.00", "price": "100.00"},
}  # fmt: skip


@pytest.mark.parametrize("working", ALL.values(), ids=ALL)
def test_description_and_sum_agree(working: Working) -> None:
    parameters = inspect.signature(working.run).parameters
    assert list(parameters) == [i.name for i in working.inputs]
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", working.name)
    assert working.source
    assert working.good_for
    for given_input in working.inputs:
        default = parameters[given_input.name].default
        assert given_input.required == (default is inspect.Parameter.empty)
        if not given_input.required:
            assert given_input.default == default
        if given_input.kind == "choice":
            assert given_input.choices
        if given_input.quantity:
            assert given_input.quantity in QUANTITIES
            assert given_input.unit in UNITS
            assert measures(given_input.unit, given_input.quantity)


@pytest.mark.parametrize("name", ALL)
def test_sample_is_told_in_full(name: str) -> None:
    worked = ALL[name].run(**SAMPLES[name])
    assert worked.results
    assert worked.steps
    assert len({r.name for r in worked.results}) == len(worked.results)
    for r in worked.results:
        assert r.text, r
        assert r.label
        assert worked[r.name] == r.value
    for line in (*worked.steps, *worked.cautions, worked.verdict):
        assert "-0 " not in line
        assert "nan" not in line
        assert "  " not in line


def _values(described: Input) -> st.SearchStrategy[object]:
    low = described.low if described.low is not None else -1e4
    high = described.high if described.high is not None else 1e4
    number = st.floats(low, high) | st.floats(allow_nan=True, allow_infinity=True)
    kinds: dict[str, st.SearchStrategy[object]] = {
        "number": number,
        "whole": st.integers(math.floor(low), math.ceil(high)) | st.integers(),
        "choice": st.sampled_from(described.choices or ("",)) | st.text(max_size=10),
        "text": st.text(max_size=60)
        | st.sampled_from(
            ["M8", "3/8 UNF", "13 mm", "44/0.30", "2.5", "165/80R13", "12.50", "0 60", "1:05", REGISTER]
        ),
        "numbers": st.lists(st.floats(0, 300) | number, max_size=4).map(tuple),
        "yesno": st.booleans(),
    }
    made = kinds[described.kind]
    return made if described.required else made | st.none() if described.default is None else made


@pytest.mark.parametrize("working", ALL.values(), ids=ALL)
@settings(suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_anything_is_answered_or_refused_clearly(working: Working, data: st.DataObject) -> None:
    inputs = {i.name: data.draw(_values(i), label=i.name) for i in working.inputs}
    try:
        worked = working.run(**inputs)
    except ShopError as error:
        assert error.message
        return
    assert isinstance(worked, Worked)
    for r in worked.results:
        if isinstance(r.value, float):
            assert math.isfinite(r.value)


@pytest.mark.parametrize("name", ["tightening-order", "cell-spread"])
def test_pictures_have_an_ascii_twin_and_fit(name: str) -> None:
    drawn = ALL[name].run(**SAMPLES[name]).picture
    plain = ALL[name].run(**SAMPLES[name], ascii_only=True).picture
    assert drawn
    assert plain.isascii()
    assert [len(line) for line in drawn.splitlines()] == [len(line) for line in plain.splitlines()]
    assert max(len(line) for line in drawn.splitlines()) <= 80


def test_workings_need_neither_scipy_nor_pint() -> None:
    for m in MODULES:
        source = inspect.getsource(importlib.import_module(f"shopcli.workings.{m}"))
        assert "pint" not in source.replace("point", "")
        assert not re.search(r"^(import|from) scipy", source, re.MULTILINE)
