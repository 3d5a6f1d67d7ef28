"""Spanners by thread and by near fit."""

import csv
import importlib.util
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput, NotFound, ShopError
from shopcli.workings import hexagons, spanners
from shopcli.workings.thread_table import BSF, find

HEX, NEAR = spanners.WORKINGS

# BS 1083 Table 1, most width across flats, [in] (a public copy of the table)
BS_1083 = {
    "1/4": 0.445, "5/16": 0.525, "3/8": 0.600, "7/16": 0.710, "1/2": 0.820, "9/16": 0.920, "5/8": 1.010,
    "3/4": 1.200, "7/8": 1.300, "1": 1.480,
}  # fmt: skip
# Whitworth nuts across flats, [in]: an encyclopedia of mechanics of about 1900, 4 decimals
OLD_WHITWORTH = {
    "1/2": 0.9191, "9/16": 1.011, "5/8": 1.101, "11/16": 1.2011, "3/4": 1.3012, "7/8": 1.4788, "1": 1.6701,
}  # fmt: skip


def test_small_hexagon_as_printed() -> None:
    for size, width in BS_1083.items():
        assert hexagons.SMALL_HEX[size] == width


def test_large_hexagon_as_printed() -> None:
    for size, width in OLD_WHITWORTH.items():
        assert hexagons.WHITWORTH_JAW[size] == pytest.approx(width, abs=0.0015)


def test_bs_marking_is_the_next_size_up() -> None:
    """A jaw marked W for one thread is BS for the next: the two tables hold the same widths."""
    sizes = list(hexagons.WHITWORTH_JAW)
    for size, width in hexagons.SMALL_HEX.items():
        if size in {"3/4", "7/8", "1"}:  # the odd sixteenths were left out of the small series
            continue
        below = sizes[sizes.index(size) - 1]
        assert hexagons.WHITWORTH_JAW[below] == width


def test_metric_heads_against_a_parts_library() -> None:
    """Second route: head widths of bd_warehouse 0.4.0 for DIN 931, ISO 4014 and nuts ISO 4032."""
    spec = importlib.util.find_spec("bd_warehouse")
    if spec is None or not spec.submodule_search_locations:
        pytest.skip("bd_warehouse is not installed")
    data = Path(spec.submodule_search_locations[0]) / "data"
    found = 0
    with (data / "hex_head_parameters.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            size = float(row["Size"].removeprefix("M").split("-")[0])
            if size in hexagons.METRIC_HEX:
                assert (float(row["din931:s"]), float(row["iso4014:s"])) == hexagons.METRIC_HEX[size]
                found += 1
    assert found == len(hexagons.METRIC_HEX)


def test_din_and_iso_are_kept_apart() -> None:
    assert HEX.run(thread="M12")["spanners"] == ("19 mm", "18 mm")
    assert HEX.run(thread="M8")["spanners"] == ("13 mm",)


def test_whitworth_goes_by_thread_and_by_age() -> None:
    assert HEX.run(thread="3/8 BSW")["spanners"] == ("3/8 W spanner", "3/8 BS spanner")
    assert HEX.run(thread="3/8 BSF")["spanners"] == ("3/8 BS spanner",)
    with pytest.raises(NotFound):
        HEX.run(thread="3/16 BSF")


def test_unified_nut_and_bolt_may_differ() -> None:
    assert HEX.run(thread="7/16 UNF")["spanners"] == ("5/8 in AF", "11/16 in AF")


def test_every_bsf_size_from_a_quarter_has_a_head() -> None:
    for size in BSF:
        if size not in {"3/16", "7/32"}:
            assert hexagons.hexagons(find(f"{size} BSF"))


def test_near_fit_of_half_inch_af() -> None:
    worked = NEAR.run(head="1/2 AF", have="metric")
    assert worked["fits"] == ()
    assert worked["nearly"] == ("13 mm",)
    assert "Leave 13 mm alone" in worked.verdict


def test_three_quarters_and_nineteen_interchange() -> None:
    """Encyclopedia, width across flats: 19 mm is close enough to 3/4 in."""
    assert "19 mm" in NEAR.run(head="3/4 AF")["fits"]
    assert "3/4 in AF" in NEAR.run(head="19 mm")["fits"]


@given(st.floats(5, 40), st.floats(1.0, 1.15))
def test_slack_turn_by_walking_the_hexagon(head: float, part: float) -> None:
    """Second route: turn the six corners and see when the hexagon is as tall as the jaw."""
    jaw = head * part
    slack = spanners.slack_turn_deg(head, jaw)
    corner = head / math.sqrt(3)
    tall = max(2 * corner * abs(math.sin(math.radians(60 * k + slack))) for k in range(3))
    assert tall == pytest.approx(jaw, rel=1e-6)
    assert 0 <= slack <= 30


@given(st.floats(5, 40), st.floats(1.0, 1.07), st.floats(1.001, 1.07))
def test_wider_jaw_more_slack(head: float, part: float, more: float) -> None:
    assert spanners.slack_turn_deg(head, head * part * more) > spanners.slack_turn_deg(head, head * part)


@given(st.text(max_size=60))
def test_any_marking_is_read_or_refused(text: str) -> None:
    try:
        _, width = hexagons.width_of(text)
    except ShopError as error:
        assert error.message
        return
    assert 1 < width < 60


def test_unreadable_marking_is_helped() -> None:
    with pytest.raises(BadInput) as caught:
        hexagons.width_of("big one")
    assert "13 mm" in caught.value.hint
