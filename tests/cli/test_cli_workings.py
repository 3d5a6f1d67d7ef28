"""The sums on the command line: listed, described, worked; data that another program can read; refusals."""

import json
import shlex

import pytest

from shopcli.worklists.workings_at_hand import every_working
from shopcli.worklists.workings_examples import EXAMPLES


@pytest.fixture
def run(shell):
    return shell


def test_the_list(run):
    status, out, _err = run("workings")
    assert status == 0
    lines = out.splitlines()
    assert len(lines) == 1 + len(every_working())
    assert any(line.startswith("lead-order") and "Lead order round the cap" in line for line in lines)
    rows = json.loads(run("workings", "--json")[1])
    assert rows[0] == {"name": "convert", "subject": "conversions", "title": "Any workshop unit into another"}
    assert [r["name"] for r in rows] == list(every_working())


def test_one_described(run):
    status, out, _err = run("working", "wrench-with-extension")
    assert status == 0
    assert "length_mm     Wrench, drive to handle: 20 to 3000 mm (needed)" in out
    assert "source: TM 1-1500-204-23-9" in out
    assert "good for: adapters" in out
    assert max(len(line) for line in out.splitlines() if not line.startswith("example")) <= 80
    told = json.loads(run("working", "lead-order", "--json")[1])
    assert told.keys() == {"name", "title", "subject", "inputs", "source", "good_for", "cautions", "example"}
    rotor = next(i for i in told["inputs"] if i["name"] == "rotor")
    assert rotor["choices"] == ["cw", "ccw"]
    assert rotor["required"] is True


def test_one_worked_with_units_as_typed(run):
    status, out, _err = run("work", "gap-and-dwell", "gap_before=16 thou", "gap_after=0,35mm", "--json")
    assert status == 0
    told = json.loads(out)
    assert set(told) == {"working", "inputs", "results", "steps", "source", "cautions", "verdict"}
    assert told["working"] == "gap-and-dwell"
    assert told["inputs"] == {"gap_before_mm": 0.4064, "gap_after_mm": 0.35}
    assert told["results"]["gap_change_mm"] == {
        "value": pytest.approx(-0.0564),
        "unit": "mm",
        "text": "-0.06 mm",
    }
    assert told["verdict"].startswith("trend: timing retarded")
    status, out, _err = run(
        "work", "wrench-with-extension", "torque=40 ftlb", "length=16 in", "extension=4 in"
    )
    assert "Set 32.00 lbf·ft for 40.0 lbf·ft at the fastener." in out  # 40 x 16 / (16 + 4)


def test_pictures(run):
    words = ("work", "lead-order", "order=1-3-4-2", "rotor=anticlockwise")
    assert "╔═══╗" in run(*words)[1]
    plain = run(*words, "--ascii")[1]
    assert "+===+" in plain
    assert plain.isascii()
    told = json.loads(run(*words, "--ascii", "--json")[1])
    assert told["picture"].isascii()
    assert "ascii_only" not in told["inputs"]
    assert "╔═══╗" in json.loads(run(*words, "--json")[1])["picture"]


def test_any_unit_into_any_other(run):
    assert "40 lbf·ft = 54.23 N·m" in run("work", "convert", "40 ftlb", "Nm")[1]
    told = json.loads(run("work", "convert", "value=28 psi", "--json")[1])
    assert told["results"]["bar"]["value"] == pytest.approx(1.930532)  # 1 psi = 6.894757 kPa: NIST SP 811


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("gap-and-dwell", "gap_before=16 psi"), "Gap before (gap_before_mm): psi measures pressure"),
        (("gap-and-dwell", "gap_before=200 thou"), "allowed: 0 to 2 mm"),
        (("gap-and-dwell", "gap=16 thou"), "gap_before_mm or gap_after_mm"),
        (("gap-and-dwell", "gapp=16 thou"), "no input 'gapp'"),
        (("lead-ordre",), "lead-order"),
        (("lead-order", "order=1-3-4-2"), "Rotor turns, seen from above (rotor) is missing"),
        (("lead-order", "order=1-3-4-2", "rotor=left"), "Allowed: cw or ccw."),
        (("stages", "torque=40 lb"), "40 lbf·ft or 40 lbf·in?"),
        (("convert", "3 pints", "L"), "3 imp pt, 3 US pt"),
        (("convert", "1 m", "mm", "more"), "one word too many"),
        (("dwell-percent", "dwell=\x1b[2J", "lobes=4"), "hidden character"),
    ],
)
def test_refusals_name_the_input_and_what_is_allowed(run, words, message):
    status, out, err = run("work", *words)
    assert status == 2
    assert out == ""
    assert message in err
    assert "\x1b" not in err


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_example_runs_as_it_is_printed(run, name):
    words = shlex.split(EXAMPLES[name])
    status, out, err = run("work", name, *words, "--json")
    assert (status, err) == (0, "")
    told = json.loads(out)
    required = {"working", "inputs", "results", "steps", "source", "cautions"}
    assert required <= set(told) <= required | {"verdict", "picture"}
    assert all(set(r) == {"value", "unit", "text"} for r in told["results"].values())
    status, out, _err = run("work", name, *words)
    assert status == 0
    assert f"source: {told['source'][:40]}" in out


def test_the_page(run):
    status, out, _err = run("workings", "--page")
    assert status == 0
    assert out.startswith("# Workings")
