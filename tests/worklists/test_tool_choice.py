"""Which tool a number calls for: the range, the scale, the blades; and that what is said can be done with what is owned."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput
from shopcli.units import IMPERIAL, METRIC, Limits, to_canonical
from shopcli.workings.wrench_sums import due_date
from shopcli.worklists.model import Provenance, ReadingSlot, Spec, Task
from shopcli.worklists.tool_choice import Advice, advice, fitting, said_blades, tool_for
from shopcli.worklists.tool_units import with_tools
from shopcli.worklists.tools import (
    TOOL_KINDS,
    OwnedTool,
    Span,
    blades_text,
    read_blades,
    read_span,
    trouble_of,
)

WRENCH = TOOL_KINDS["torque wrench"]
SMALL = OwnedTool(1, "wrench 1", "torque wrench", Span(5, 25, "Nm", 0.1))
MID = OwnedTool(2, "wrench 2", "torque wrench", Span(20, 100, "Nm", 0.5))
LONG = OwnedTool(
    3, "wrench 3", "torque wrench", Span(30, 150, "lbf.ft", 1), trouble="calibration ran out on 2026-10-01"
)
INCH = OwnedTool(4, "feelers", "feeler set", blades="1.5 2 3 4 5 6 8 10 12 15 20 25 thou")
MM = OwnedTool(5, "mm feelers", "feeler set", blades="0.05 0.1 0.15 0.2 0.25 0.3 0.35 0.4 0.5 mm")
EVERY = (SMALL, MID, LONG, INCH, MM)


def one(
    limits: Limits, label: str = "", owned: tuple[OwnedTool, ...] = EVERY, prefs: object = IMPERIAL
) -> Advice | None:
    return fitting("", label, limits.quantity, limits, owned, prefs)  # type: ignore[arg-type]


def test_the_wrench_whose_range_holds_the_torque_and_its_setting() -> None:
    found = one(Limits.of("torque", "Nm", nominal=47))
    assert found == Advice("", "wrench 2, 20 to 100 N·m, set 47 N·m", "wrench 2", unit="Nm")
    small = one(Limits.of("torque", "Nm", nominal=12))
    assert small is not None
    assert small.text == "wrench 1, 5 to 25 N·m, set 12 N·m"


def test_a_wrench_past_its_calibration_is_named_only_where_no_other_fits() -> None:
    found = one(Limits.of("torque", "Nm", nominal=150))
    assert found is not None
    # 150 N·m / 1.3558179483314004 = 110.6 lbf·ft (NIST SP 811, Appendix B.8), nearest mark 111
    assert (found.text, found.trouble) == (
        "wrench 3, 30 to 150 lbf·ft, set 111 lbf·ft",
        "calibration ran out on 2026-10-01",
    )
    both = one(Limits.of("torque", "Nm", nominal=60))
    assert both is not None
    assert (both.tool, both.trouble) == ("wrench 2", "")


def test_a_fine_scale_is_said_to_its_last_mark() -> None:
    fine = OwnedTool(9, "fine", "torque wrench", Span(2, 10, "Nm", 0.05))
    found = one(Limits.of("torque", "Nm", nominal="6.35"), owned=(fine,))
    assert found is not None
    assert found.text.endswith("set 6.35 N·m")


def test_a_torque_no_wrench_reaches_is_said() -> None:
    found = one(Limits.of("torque", "Nm", nominal=400))
    assert found is not None
    assert found.tool == ""
    assert found.text.startswith("no torque wrench of ours fits (wrench 3: range 30.0 to 150.0")


def test_a_shop_without_such_a_tool_is_told_nothing() -> None:
    assert one(Limits.of("torque", "Nm", nominal=47), owned=(INCH,)) is None
    assert one(Limits.of("crank angle", "deg_crank", nominal=8)) is None


def test_a_scale_too_coarse_for_the_limits_is_not_taken() -> None:
    coarse = OwnedTool(9, "bar", "torque wrench", Span(0, 100, "Nm", 20))
    found = one(Limits.of("torque", "Nm", low=47, high=53), owned=(coarse,))
    assert found is not None
    assert found.tool == ""
    assert "too coarse" in found.text


def test_blades_for_a_gap_in_the_units_of_whoever_stands_there() -> None:
    gap = Limits.of("length", "thou", nominal=18)
    imperial, metric = one(gap, "points gap"), one(gap, "points gap", prefs=METRIC)
    assert imperial is not None
    assert metric is not None
    assert imperial.text == "feelers: 8 + 10 thou"
    assert metric.tool == "mm feelers"


def test_a_thickness_calls_for_no_blades() -> None:
    assert one(Limits.of("length", "mm", low=2), "lining thickness") is None
    vernier = OwnedTool(7, "vernier", "vernier", Span(0, 150, "mm"))
    found = one(Limits.of("length", "mm", low=2), "lining thickness", owned=(*EVERY, vernier))
    assert found is not None
    assert found.text == "vernier, 0 to 150 mm"


def test_a_gauge_is_taken_when_its_scale_holds_the_pressure() -> None:
    low = OwnedTool(7, "tyre gauge", "tyre gauge", Span(0, 60, "psi"))
    high = OwnedTool(8, "big gauge", "pressure gauge", Span(0, 20, "bar"))
    tyre = one(Limits.of("pressure", "psi", nominal=24), "tyre pressure, front", owned=(low, high))
    oil = one(Limits.of("pressure", "bar", nominal=4), "oil pressure", owned=(low, high))
    assert tyre is not None
    assert oil is not None
    assert (tyre.tool, oil.tool) == ("tyre gauge", "big gauge")
    assert one(Limits.of("pressure", "bar", nominal=30), "oil pressure", owned=(low, high)) is None


def test_a_task_says_each_tool_once_and_a_reading_finds_its_own() -> None:
    torque = Spec("t", "nuts", Limits.of("torque", "Nm", nominal=47), "", Provenance("demo"), "s")
    again = Spec("u", "bolts", Limits.of("torque", "Nm", nominal=47), "", Provenance("demo"), "s")
    gap = Spec(
        "points_gap", "points gap", Limits.of("length", "thou", nominal=15), "", Provenance("demo"), "s"
    )
    slots = (ReadingSlot("g", "gap", "", "as left", "points_gap"), ReadingSlot("w", "words", "", "as left"))
    task = Task("k", "t", "1", "T", "engine", specs=(torque, again, gap), readings=slots)
    assert [a.text for a in advice(task, EVERY, IMPERIAL)] == [
        "wrench 2, 20 to 100 N·m, set 47 N·m",
        "feelers: 15 thou",
    ]
    found = tool_for(task, slots[0], EVERY, IMPERIAL)
    assert found is not None
    assert found.tool == "feelers"
    assert tool_for(task, slots[1], EVERY, IMPERIAL) is None


def test_stacks_are_said_thinnest_first() -> None:
    assert said_blades(("10 thou", "8 thou", "2 thou")) == "2 + 8 + 10 thou"


@given(st.integers(20, 1000))
def test_a_setting_is_on_the_scale_and_near_the_torque(tenths: int) -> None:
    torque = tenths / 10
    found = one(Limits.of("torque", "Nm", nominal=torque), owned=(SMALL, MID))
    assert found is not None
    if found.tool:
        span = {"wrench 1": SMALL.span, "wrench 2": MID.span}[found.tool]
        setting = float(found.text.rpartition(", set ")[2].removesuffix(" N·m"))
        assert span is not None
        assert span.low <= setting <= span.high
        # ISO 6789 as quoted by secondary pages: 4 %, and from memory 6 % up to 10 N·m
        assert abs(setting / torque - 1) <= (0.06 if torque <= 10 else 0.04)


@given(st.sets(st.integers(1, 40), min_size=1, max_size=12), st.integers(1, 100))
def test_a_stack_is_made_of_blades_that_are_owned(sizes: set[int], thou: int) -> None:
    owned = OwnedTool(1, "set", "feeler set", blades=f"{' '.join(map(str, sizes))} thou")
    found = one(Limits.of("length", "thou", nominal=thou), "gap", owned=(owned,))
    assert found is not None
    if "no stack" not in found.text:
        laid = [int(part) for part in found.text.removeprefix("set: ").removesuffix(" thou").split(" + ")]
        assert set(laid) <= sizes
        assert len(set(laid)) == len(laid)
        assert abs(sum(laid) - thou) * 0.0254 <= 0.0127 + 1e-9, "within half the last printed digit"


@given(st.sets(st.integers(1, 390), max_size=10), st.sets(st.integers(1, 999), max_size=10))
def test_blades_are_written_as_they_are_read(thou: set[int], hundredths: set[int]) -> None:
    if not thou and not hundredths:
        with pytest.raises(BadInput):
            read_blades("")
        return
    sets = (tuple(float(t) for t in sorted(thou)), tuple(h / 100 for h in sorted(hundredths)))
    assert read_blades(blades_text(*sets)) == sets


@pytest.mark.parametrize(
    "text", ["20-100 Nm", "20 to 100 Nm", "20 Nm to 100 Nm", "20–100 Nm", "2 daNm to 100 Nm", "20 - 100 N m"]
)
def test_a_range_as_it_is_printed(text: str) -> None:
    assert read_span(text, WRENCH, "0.5 Nm") == Span(20, 100, "Nm", 0.5)


@pytest.mark.parametrize(
    "text", ["100", "20 to", "to 100 Nm", "[/oops]", "9" * 400, "20 to 100 lb", "1-2-3 Nm"]
)
def test_a_range_that_cannot_be_read_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        read_span(text, WRENCH, "1")


@given(st.dates(date(1990, 1, 1), date(2100, 1, 1)), st.integers(1, 120))
def test_a_tool_is_in_date_until_the_day_it_is_due(on: date, months: int) -> None:
    due = due_date(on, months)
    assert (due.year * 12 + due.month) - (on.year * 12 + on.month) == months
    assert trouble_of("torque wrench", on, 0, on, months, 5000) == ""
    assert trouble_of("torque wrench", on, 0, due, months, 5000) == f"calibration ran out on {due}"
    assert to_canonical(1, "Nm") == 1


GAUGE = OwnedTool(6, "tyre gauge", "tyre gauge", Span(0, 60, "psi", 1))


def numbers(**limits: Limits) -> Task:
    specs = tuple(
        Spec(name, name.replace("_", " "), one, "", Provenance("demo"), "x") for name, one in limits.items()
    )
    slots = (ReadingSlot("spare tyre|", "spare tyre", "", "as left", quantity="pressure", unit="bar"),)
    return Task("k", "t", "1", "Set", "x", specs=specs, readings=slots)


def test_what_is_read_off_a_tool_stands_in_the_unit_of_its_scale() -> None:
    task = numbers(
        tyre_front=Limits.of("pressure", "bar", nominal=1.8),
        head_torque=Limits.of("torque", "Nm", nominal=47),
        wheel_torque=Limits.of("torque", "Nm", nominal=150),
        gap=Limits.of("length", "mm", nominal=0.4),
        volts=Limits.of("voltage", "V", nominal=14),
    )
    for prefs, gap in ((METRIC, "mm"), (IMPERIAL, "thou")):
        told = with_tools(prefs, task, (*EVERY, GAUGE))
        units = {
            s.name: told.for_number(s.name).unit_for(s.limits.quantity, s.limits.unit) for s in task.specs
        }
        assert units == {
            "tyre_front": "psi",
            "head_torque": "Nm",
            "wheel_torque": "lbf.ft",
            "gap": gap,
            "volts": "V",
        }
        assert told.for_number("spare tyre").unit_for("pressure", "bar") == "psi"
        assert told.unit_for("pressure", "bar") == prefs.unit_for("pressure", "bar")
    taken = with_tools(IMPERIAL, task, EVERY, chosen="mm feelers")
    assert taken.for_number("gap").unit_for("length", "mm") == "mm"
    assert taken.for_number("head_torque").unit_for("torque", "Nm") == "lbf.ft", "it reads no torque"
    assert with_tools(METRIC, task, ()) is METRIC
