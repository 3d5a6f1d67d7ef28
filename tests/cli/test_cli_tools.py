"""The register of tools by commands: written, listed, changed, calibrated, out of use; and what a task calls for."""

import json

import pytest

from tests.cli.conftest import Run


def test_a_tool_from_the_box_to_the_scrap(run: Run) -> None:
    assert run("tools")[1] == "The register of tools is empty.\n"
    status, out, _ = run(
        "tool-add", "wrench 2", "torque wrench", "--range", "20-100 Nm", "--graduation", "0.5"
    )
    assert (status, out) == (0, "wrench 2 is in the register.\nwrench 2: no calibration is noted.\n")
    status, out, _ = run("tools")
    assert status == 1
    assert "20 to 100 N·m by 0.5" in out
    assert "! no calibration is noted" in out
    assert "due again" in run("tool-calibrated", "wrench", "2024-06-01", "--certificate", "C 1")[1]
    assert run("tool-change", "wrench 2", "--note", "by the lift", "--rename", "wrench two")[0] == 0
    (tool,) = json.loads(run("tools", "--json")[1])
    assert (tool["name"], tool["note"], tool["calibrated"]) == ("wrench two", "by the lift", "2024-06-01")
    assert run("tool-retire", "wrench two", "dropped")[0] == 0
    assert "empty" in run("tools")[1]
    assert "out of use: dropped" in run("tools", "--all")[1]


def test_what_a_task_calls_for(run: Run) -> None:
    assert "no tool" in run("tool-for", "1", "set-gap")[1]
    run("tool-add", "feelers", "feeler set", "--blades", "2 4 6 8 10 thou")
    status, out, _ = run("tool-for", "1", "set-gap")
    assert (status, out) == (0, "feelers: 6 + 10 thou\n")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("tool-add", "x", "hammer"), "no kind of tool"),
        (("tool-calibrated", "nobody", "2024-01-01"), "no tool is"),
        (("tool-add", "w", "torque wrench"), "has a range"),
    ],
)
def test_refusals_say_the_way_out(run: Run, words: tuple[str, ...], message: str) -> None:
    status, _, err = run(*words)
    assert status == 2
    assert message in err
    assert len(err.splitlines()) == 2
