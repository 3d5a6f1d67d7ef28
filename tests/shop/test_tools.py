"""The register of tools over real records: what goes in, what is refused, when a calibration is out, and what a reading keeps."""

from datetime import date

import pytest

from shopcli.errors import BadInput, NotFound, Refused, Stale
from shopcli.shop.commands import AddTool, ChangeTool, NoteCalibration, RetireTool, TakeReading
from shopcli.shop.week_period import Period
from shopcli.store.reads.tools import tool_named, tools
from shopcli.store.reads.week_quality import quality
from tests.conftest import Busy, journal_acts

MIDDLE = AddTool(
    "wrench 2", "torque wrench", "20 to 100 Nm", "0.5", calibrated="2026-01-10", certificate="C 17"
)
BLADES = AddTool("feelers", "feeler set", blades="2 3 4 6 8 10 thou; 0.05 mm")


def test_a_tool_goes_into_the_register(busy_shop: Busy) -> None:
    busy_shop.do(MIDDLE)
    busy_shop.do(BLADES)
    feelers, wrench = tools(busy_shop.shop)
    assert (wrench.name, wrench.kind, wrench.trouble) == ("wrench 2", "torque wrench", "")
    assert wrench.span is not None
    assert (wrench.span.low, wrench.span.high, wrench.span.unit, wrench.span.graduation) == (
        20,
        100,
        "Nm",
        0.5,
    )
    assert (wrench.calibrated, wrench.due) == (date(2026, 1, 10), date(2027, 1, 10))
    assert feelers.blades == "2 3 4 6 8 10 thou; 0.05 mm"
    assert journal_acts(busy_shop.shop)[-2:] == ["AddTool", "AddTool"]


@pytest.mark.parametrize(
    ("command", "words"),
    [
        (AddTool("x", "shouting stick"), "no kind of tool"),
        (AddTool(" ", "strobe lamp"), "name is empty"),
        (AddTool("x", "torque wrench"), "has a range"),
        (AddTool("x", "torque wrench", "20 to 100 Nm"), "has a graduation"),
        (AddTool("x", "torque wrench", "100 to 20 Nm", "1"), "must rise"),
        (AddTool("x", "torque wrench", "20 to 100 psi", "1"), "torque"),
        (AddTool("x", "torque wrench", "20 to 100 Nm", "200"), "as long as the scale"),
        (AddTool("x", "torque wrench", "1 to 10 daNm", "0.1"), "daNm"),
        (AddTool("x", "feeler set"), "0 blades"),
        (AddTool("x", "feeler set", blades="2 3 potato"), "cannot be read"),
        (AddTool("x", "strobe lamp", blades="2 thou"), "no blades"),
        (AddTool("x", "strobe lamp", calibrated="soon"), "not a date"),
        (AddTool("x", "strobe lamp", calibrated="2027-01-01"), "still to come"),
        (AddTool("x", "strobe lamp", cycles=-1), "-1 cycles"),
        (AddTool("x" * 41, "strobe lamp"), "characters"),
    ],
)
def test_what_makes_no_sense_is_refused(busy_shop: Busy, command: AddTool, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        busy_shop.do(command)
    assert tools(busy_shop.shop) == ()


def test_two_tools_have_two_names(busy_shop: Busy) -> None:
    busy_shop.do(MIDDLE)
    with pytest.raises(Refused, match="called 'wrench 2' already"):
        busy_shop.do(AddTool(" WRENCH  2", "strobe lamp"))


def test_a_tool_is_changed_and_a_stale_change_refused(busy_shop: Busy) -> None:
    key = busy_shop.do(MIDDLE).id  # type: ignore[attr-defined]
    busy_shop.do(ChangeTool(key, 1, graduation="1", note="by the lift"))
    tool = tool_named(busy_shop.shop, "wrench")
    assert tool.span is not None
    assert (tool.span.low, tool.span.graduation, tool.note, tool.version) == (20, 1, "by the lift", 2)
    with pytest.raises(Stale):
        busy_shop.do(ChangeTool(key, 1, note="late"))


# Source of the interval: BS EN ISO 6789:2003 as quoted by secondary pages, 12 months or 5000 cycles.
@pytest.mark.parametrize(
    ("calibrated", "cycles", "words"),
    [
        ("2025-11-26", 0, ""),
        ("2025-11-25", 0, "calibration ran out on 2026-11-25"),
        ("2026-11-01", 4999, ""),
        ("2026-11-01", 5000, "calibration due: 5000 cycles"),
        ("", 0, "no calibration is noted"),
    ],
)
def test_a_calibration_runs_out_by_the_calendar_or_by_use(
    busy_shop: Busy, calibrated: str, cycles: int, words: str
) -> None:
    busy_shop.do(AddTool("w", "torque wrench", "20 to 100 Nm", "1", calibrated=calibrated, cycles=cycles))
    assert tool_named(busy_shop.shop, "w").trouble == words
    for late in quality(busy_shop.shop, Period(date(2026, 11, 23))).tools:
        assert (late.detail, late.on) == (
            words.removesuffix(f" on {late.on}"),
            tool_named(busy_shop.shop, "w").due,
        )
        assert str(late.on) not in late.detail, "the day stands as a day, once"


def test_a_calibration_begins_the_count_anew(busy_shop: Busy) -> None:
    key = busy_shop.do(
        AddTool("w", "torque wrench", "20 to 100 Nm", "1", calibrated="2024-01-01", cycles=9)
    ).id  # type: ignore[attr-defined]
    said = busy_shop.do(NoteCalibration(key, "2026-11-20", "C 18")).said  # type: ignore[attr-defined]
    assert said == ("w: calibrated 2026-11-20, due again 2027-11-20.",)
    tool = tool_named(busy_shop.shop, "w")
    assert (tool.cycles, tool.trouble, tool.certificate) == (0, "", "C 18")
    with pytest.raises(BadInput, match="still to come"):
        busy_shop.do(NoteCalibration(key, "2026-11-26"))
    with pytest.raises(BadInput, match="missing"):
        busy_shop.do(NoteCalibration(key, ""))


def test_a_tool_out_of_use_is_not_offered_and_not_changed(busy_shop: Busy) -> None:
    key = busy_shop.do(MIDDLE).id  # type: ignore[attr-defined]
    with pytest.raises(BadInput, match="reason"):
        busy_shop.do(RetireTool(key, " "))
    busy_shop.do(RetireTool(key, "dropped"))
    assert tools(busy_shop.shop) == ()
    assert [t.retired_for for t in tools(busy_shop.shop, retired=True)] == ["dropped"]
    with pytest.raises(Refused, match="out of use: dropped"):
        busy_shop.do(NoteCalibration(key, "2026-11-01"))
    with pytest.raises(NotFound):
        tool_named(busy_shop.shop, "wrench 2")


def _gap(busy: Busy) -> TakeReading:
    task = busy.task("points:set-gap")
    slot = next(s for s in task.task.readings if s.phase == "as left")
    return TakeReading(task.id, slot.key, "16 thou", tool="FEELERS")


def test_a_reading_keeps_its_tool_and_what_is_against_it(busy_shop: Busy) -> None:
    busy_shop.do(AddTool("feelers", "feeler set", blades="8 thou", calibrated="2024-01-01"))
    done = busy_shop.do(_gap(busy_shop))
    assert done.said[-1] == "Taken with feelers: calibration ran out on 2025-01-01."  # type: ignore[attr-defined]
    (kept,) = busy_shop.task("points:set-gap").readings
    assert (kept.tool, kept.tool_note) == ("feelers", "calibration ran out on 2025-01-01")
    rows = busy_shop.shop.fetch("SELECT tool_id FROM reading")
    assert rows == [(tool_named(busy_shop.shop, "feelers").id,)]


def test_a_tool_not_in_the_register_is_only_named(busy_shop: Busy) -> None:
    busy_shop.do(_gap(busy_shop))
    (kept,) = busy_shop.task("points:set-gap").readings
    assert (kept.tool, kept.tool_note) == ("FEELERS", "")


def test_every_pull_counts_even_a_struck_one(busy_shop: Busy) -> None:
    busy_shop.do(AddTool("w", "torque wrench", "20 to 100 Nm", "1", calibrated="2026-11-01", cycles=4998))
    command = _gap(busy_shop)
    for _ in range(2):
        busy_shop.do(TakeReading(command.task_id, command.slot, "16 thou", tool="w"))
    tool = tool_named(busy_shop.shop, "w")
    assert (tool.cycles, tool.trouble) == (5000, "calibration due: 5000 cycles")
