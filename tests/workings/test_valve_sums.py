"""Valve order, stops and the sum rule: laws, trying-all as the second route, golden pictures."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings import catalogue
from shopcli.workings.cam_events import (
    CamEvents,
    Valve,
    full_lift_deg,
    in_hand_deg,
    parse_layout,
    valve_in_hand_deg,
)
from shopcli.workings.firing import companion_of, companions, firing_angle_deg, turned_sequence
from shopcli.workings.sum_rule import sum_rule_in_hand_deg, sum_rule_partner
from shopcli.workings.valve_plan import adjustable, all_valves, candidate_stops, fewest_stops, shared_out
from shopcli.workings.valve_stops import stops_picture
from shopcli.workings.valves import may_judge

CLASSIC = CamEvents(ivo=9, ivc=50, evo=47, evc=12)  # published timing of a 134 cu in side-valve four
CAM = {"ivo_deg": 9, "ivc_deg": 50, "evo_deg": 47, "evc_deg": 12}
orders = st.integers(2, 12).flatmap(lambda n: st.permutations(range(2, n + 1))).map(lambda rest: (1, *rest))
even_orders = orders.filter(lambda order: len(order) % 2 == 0)
short_orders = orders.filter(lambda order: len(order) <= 6)
events = st.floats(-20, 90)
cams = st.builds(CamEvents, ivo=events, ivc=events, evo=events, evc=events)


@given(even_orders)
def test_companions_are_a_turn_apart_and_mutual(order: tuple[int, ...]) -> None:
    assert sorted(c for pair in companions(order) for c in pair) == sorted(order)
    for one in order:
        mate = companion_of(order, one)
        assert companion_of(order, mate) == one
        assert abs(firing_angle_deg(order, one) - firing_angle_deg(order, mate)) == pytest.approx(360)


@given(even_orders, cams.filter(lambda cam: cam.overlap_deg > 1))
def test_the_companion_rocks_while_a_cylinder_fires(order: tuple[int, ...], cam: CamEvents) -> None:
    for one in order:
        crank, mate = firing_angle_deg(order, one), companion_of(order, one)
        middle = crank + (cam.evc - cam.ivo) / 2  # between inlet opening and exhaust closing
        assert valve_in_hand_deg(cam, order, Valve("I", mate), middle) < 0
        assert valve_in_hand_deg(cam, order, Valve("E", mate), middle) < 0


@given(orders, st.data())
def test_backwards_is_forwards_read_backwards(order: tuple[int, ...], data: st.DataObject) -> None:
    start = data.draw(st.sampled_from(order))
    ahead, back = turned_sequence(order, "forwards", start), turned_sequence(order, "backwards", start)
    assert ahead[0] == back[0] == start
    assert ahead[1:] == back[:0:-1]


def test_flat_four_comes_up_in_order_backwards() -> None:
    """Firing order 1-4-3-2, backwards 1, 2, 3, 4: common practice, no source."""
    worked = catalogue.run("valve-sequence", firing_order="1-4-3-2", direction="backwards")
    assert worked["sequence"] == (1, 2, 3, 4)
    assert worked["turned_deg"] == (0.0, 180.0, 360.0, 540.0)
    assert worked["rocking"] == (3, 4, 1, 2)
    assert any("backwards only" in caution for caution in worked.cautions)
    ahead = catalogue.run("valve-sequence", firing_order="1-4-3-2", start=3)
    assert ahead["sequence"] == (3, 2, 1, 4)


def test_odd_engines_have_no_companions() -> None:
    with pytest.raises(OutOfRange, match="even"):
        catalogue.run("firing-companions", firing_order="1-2-3")
    with pytest.raises(KeyError):
        catalogue.run("valve-sequence", firing_order="1-2-3")["rocking"]
    told = catalogue.run("firing-companions", firing_order="1-3-4-2", cylinder=1)
    assert told.verdict == "to set No. 1, turn until the valves of No. 4 rock"
    with pytest.raises(BadInput, match="no cylinder 7"):
        catalogue.run("firing-companions", firing_order="1-3-4-2", cylinder=7)


def is_open(cam: CamEvents, kind: str, cycle: float) -> bool:
    """Second route: walk the two open spans as the handbook draws them."""
    opens, closes = (180 - cam.evo, 360 + cam.evc) if kind == "E" else (360 - cam.ivo, 540 + cam.ivc)
    return any(opens <= cycle % 720 + turn <= closes for turn in (-720, 0, 720))


@given(cams, st.sampled_from("IE"), st.floats(0, 720, exclude_max=True))
def test_in_hand_is_below_zero_exactly_while_open(cam: CamEvents, kind: str, cycle: float) -> None:
    hand = in_hand_deg(cam, kind, cycle)
    if abs(hand) > 1e-6:
        assert (hand < 0) == is_open(cam, kind, cycle)
        for way in (-1, 1):
            assert is_open(cam, kind, cycle + way * (abs(hand) - 1e-7)) == (hand < 0)


@given(cams, st.sampled_from("IE"), st.floats(0, 720), st.floats(0, 30))
def test_in_hand_changes_no_faster_than_the_crank(
    cam: CamEvents, kind: str, cycle: float, turn: float
) -> None:
    assert abs(in_hand_deg(cam, kind, cycle + turn) - in_hand_deg(cam, kind, cycle)) <= turn + 1e-6


@given(short_orders, cams, st.floats(0, 720), st.floats(0, 30), st.floats(0, 30))
def test_more_margin_never_adds_a_valve(
    order: tuple[int, ...], cam: CamEvents, crank: float, margin: float, more: float
) -> None:
    assert set(adjustable(cam, order, crank, margin + more)) <= set(adjustable(cam, order, crank, margin))


@settings(deadline=None)
@given(short_orders, cams, st.sampled_from([0.0, 10.0, 20.0, 40.0]), st.sampled_from([None, 60, 90]))
def test_plan_is_the_shortest_and_roomiest_by_trying_all(
    order: tuple[int, ...], cam: CamEvents, margin: float, step: int | None
) -> None:
    stops, valves = candidate_stops(len(order), step), set(all_valves(len(order)))
    held = {stop: set(adjustable(cam, order, stop, margin)) for stop in stops}

    def worst(plan: tuple[float, ...]) -> float:
        return min(max(valve_in_hand_deg(cam, order, valve, stop) for stop in plan) for valve in valves)

    plans: list[tuple[float, ...]] = []
    for size in range(1, len(stops) + 1):
        plans = [p for p in combinations(stops, size) if set.union(*(held[s] for s in p)) == valves]
        if plans:
            break
    plan = fewest_stops(cam, order, margin, stops)
    assert plan in plans
    rivals = [p for p in plans if 0.0 in p] or plans
    assert (0.0 in plan) == (0.0 in rivals[0])
    assert worst(plan) == pytest.approx(max(worst(p) for p in rivals))
    assert min(hand for _, hand in shared_out(cam, order, plan).values()) == pytest.approx(worst(plan))


@pytest.mark.parametrize("order", ["1-3-4-2", "1-5-3-6-2-4", "1-8-4-3-6-5-7-2", "1-7-5-11-3-9-6-12-2-8-4-10"])
def test_a_mild_cam_takes_two_stops_and_every_valve_once(order: str) -> None:
    worked = catalogue.run("valve-stops", firing_order=order, **CAM)
    assert worked["stops_deg"] == (0.0, 360.0)
    named = [*worked["stop_1"], *worked["stop_2"]]
    assert len(named) == len(set(named)) == 2 * len(order.split("-"))


def test_a_finer_wheel_never_makes_it_worse() -> None:
    marks = catalogue.run("valve-stops", firing_order="1-2-3", **CAM)
    wheel = catalogue.run("valve-stops", firing_order="1-2-3", **CAM, step_deg=1)
    assert len(wheel["stops_deg"]) <= len(marks["stops_deg"])
    assert wheel["least_in_hand_deg"] >= marks["least_in_hand_deg"]


def test_a_wild_cam_takes_three_and_says_so() -> None:
    wild = {"ivo_deg": 90, "ivc_deg": 110, "evo_deg": 110, "evc_deg": 90, "margin_deg": 60}
    worked = catalogue.run("valve-stops", firing_order="1-7-5-11-3-9-6-12-2-8-4-10", **wild)
    assert worked["stops_deg"] == (0.0, 240.0, 480.0)
    assert worked.verdict == "3 stops"


def test_margin_keeps_out_what_the_printed_chart_keeps_out() -> None:
    """The six-cylinder chart of an Army manual leaves out I5 and E4 at the first stop."""
    worked = catalogue.run("valve-stops", firing_order="1-5-3-6-2-4", **CAM)
    assert worked["kept_out"] == "I5 (10° from moving), E4 (13° from moving)"
    assert any("wrongly" in step for step in worked.steps)


def test_positions_that_cannot_do_are_refused() -> None:
    with pytest.raises(OutOfRange, match="none of the positions"):
        fewest_stops(CLASSIC, (1, 3, 4, 2), 20, [0.0])
    with pytest.raises(OutOfRange, match="whole part of 720"):
        catalogue.run("valve-stops", firing_order="1-3-4-2", **CAM, step_deg=7)


CHART = """\
cylinder │   1   2   3   4   5   6
─────────┼────────────────────────
inlet    │   1   1   2   1   2   2
exhaust  │   1   2   1   2   1   2

figures: the stop at which the valve is set"""
PLAIN_CHART = """\
cylinder |   1   2   3   4   5   6
---------+------------------------
inlet    |   1   1   2   1   2   2
exhaust  |   1   2   1   2   1   2

figures: the stop at which the valve is set"""


def test_chart_of_a_six() -> None:
    order = (1, 5, 3, 6, 2, 4)
    shares = shared_out(CLASSIC, order, fewest_stops(CLASSIC, order))
    assert stops_picture(shares) == CHART
    assert stops_picture(shares, ascii_only=True) == PLAIN_CHART


@given(st.integers(1, 12), st.data())
def test_sum_rule_partner_is_mutual(cylinders: int, data: st.DataObject) -> None:
    valve = data.draw(st.integers(1, 2 * cylinders))
    assert sum_rule_partner(sum_rule_partner(valve, cylinders), cylinders) == valve


@given(cams)
def test_in_a_mirrored_head_the_partner_is_opposite(cam: CamEvents) -> None:
    for layout, order in (("EIIEEIIE", (1, 3, 4, 2)), ("EIIEEIIEEIIE", (1, 5, 3, 6, 2, 4))):
        row = parse_layout(layout, len(order))
        hands = sum_rule_in_hand_deg(row, order, cam)
        opposite = [in_hand_deg(cam, valve.kind, full_lift_deg(cam, valve.kind) - 360) for valve in row]
        assert hands == pytest.approx(opposite)


def test_sum_rule_holds_only_where_it_does() -> None:
    good = catalogue.run("valve-sum-rule", firing_order="1-3-4-2", layout="EIIEEIIE", **CAM)
    assert good["holds"] is True
    assert good.verdict.endswith("set valve 9 less the number of the one fully open")
    bad = catalogue.run("valve-sum-rule", firing_order="1-3-4-2", layout="EIEIEIEI", **CAM)
    assert bad["holds"] is False
    assert bad["least_in_hand_deg"] == 22.5
    flat = catalogue.run("valve-sum-rule", firing_order="1-4-3-2", layout="EIIEEIIE", engine="flat", **CAM)
    assert flat["holds"] is False
    assert "not for this engine" in flat.verdict
    v_order = catalogue.run("valve-sum-rule", firing_order="1-6-3-5-4-2", layout="EIIEEIIEEIIE", **CAM)
    assert v_order["holds"] is False
    with pytest.raises(BadInput, match="two of a kind"):
        catalogue.run("valve-sum-rule", firing_order="1-3-4-2", layout="EEIIEEII", **CAM)
    with pytest.raises(BadInput, match="8 letters"):
        catalogue.run("valve-sum-rule", firing_order="1-3-4-2", layout="EIIE", **CAM)


def test_hot_is_never_judged_by_cold() -> None:
    assert may_judge("hot", "hot")
    hot = catalogue.run(
        "clearance-hot-cold", found_mm=0.12, found_state="hot", limit_state="cold", low_mm=0.15, high_mm=0.2
    )
    assert hot["standing"] == "not judged"
    assert len(hot.cautions) == 2
    cold = {"found_state": "cold", "limit_state": "cold", "low_mm": 0.15, "high_mm": 0.2}
    told = {
        gap: catalogue.run("clearance-hot-cold", found_mm=gap, **cold)["standing"]
        for gap in (0.12, 0.15, 0.25)
    }
    assert told == {0.12: "tight by 0.03 mm", 0.15: "in limits", 0.25: "wide by 0.05 mm"}
    with pytest.raises(BadInput, match="no limit"):
        catalogue.run("clearance-hot-cold", found_mm=0.1, found_state="hot", limit_state="hot")
    with pytest.raises(BadInput, match="engine state"):
        may_judge("warm", "cold")
