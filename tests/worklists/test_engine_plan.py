"""Every place of every reading of every family lies somewhere, once; arrows reach all of them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import ShopError
from shopcli.worklists.engine_plan import Plan, banks, plan
from shopcli.worklists.library import Library
from shopcli.worklists.model import VehicleFacts
from shopcli.worklists.places import Place, places
from shopcli.worklists.sheets import facts as facts_of

FOUR = ("1", "2", "3", "4")
EIGHT = tuple("12345678")
NOUNS = (
    "cylinder",
    "plug",
    "lead",
    "valve",
    "inlet valve",
    "exhaust valve",
    "wheel",
    "front wheel",
    "rear wheel",
)
MORE = ("cell", "carburettor", "belt", "nipple")


def spots(each: str, facts: VehicleFacts) -> tuple[Place, ...]:
    return places(each, facts)


def cells(laid: Plan) -> list[list[list[str | None]]]:
    return [[list(row) for row in block.cells] for block in laid.blocks]


def once(laid: Plan, there: tuple[Place, ...]) -> None:
    names = [name for block in laid.blocks for row in block.cells for name in row if name is not None]
    assert sorted(names) == sorted(p.name for p in there)
    assert len(set(laid.where().values())) == len(names), "no two in one spot"
    for block in laid.blocks:
        assert len({len(row) for row in block.cells}) == 1, "rows of one length"
        assert len(block.heads) in {0, len(block.cells[0])}
        assert len(block.sides) in {0, len(block.cells)}


def test_each_place_of_every_family_once(library: Library) -> None:
    seen = set()
    for sheet in library.sheets:
        facts = facts_of(library, sheet, {})
        for each in (*NOUNS, *MORE):
            try:
                there = spots(each, facts)
            except ShopError:  # this vehicle has none
                continue
            laid = plan(there, facts)
            once(laid, there)
            seen.add(laid.shape)
    assert {"row", "inline", "banks", "facing", "car"} <= seen


def test_an_inline_four_is_a_row_of_its_own_numbers() -> None:
    facts = VehicleFacts(cylinders=FOUR, layout="inline four")
    laid = plan(spots("cylinder", facts), facts)
    assert laid.shape == "inline"
    assert cells(laid) == [[["1", "2", "3", "4"]]]


def test_valves_stand_at_their_cylinder_inlet_above_exhaust() -> None:
    valves = ("1 exhaust", "1 inlet", "2 inlet", "2 exhaust")
    facts = VehicleFacts(cylinders=("1", "2"), layout="inline two", valves=valves)
    laid = plan(spots("valve", facts), facts)
    assert cells(laid) == [[["1 inlet", "2 inlet"], ["1 exhaust", "2 exhaust"]]]
    assert laid.blocks[0].heads == ("1", "2")
    assert laid.blocks[0].sides == ("inlet", "exhaust")


def test_a_vee_has_two_banks_where_they_are_told() -> None:
    facts = VehicleFacts(cylinders=EIGHT, layout="vee eight", other=(("banks", "1-3-5-7/2-4-6-8"),))
    laid = plan(spots("plug", facts), facts)
    assert laid.shape == "banks"
    assert cells(laid) == [[["1", "3", "5", "7"]], [["2", "4", "6", "8"]]]


def test_a_vee_nobody_told_of_is_a_row() -> None:
    facts = VehicleFacts(cylinders=EIGHT, layout="vee eight")
    assert plan(spots("cylinder", facts), facts).shape == "row"
    wrong = VehicleFacts(cylinders=EIGHT, layout="vee eight", other=(("banks", "1-3-5/2-4-6-8"),))
    assert plan(spots("cylinder", wrong), wrong).shape == "row"
    assert plan(spots("cylinder", facts)).shape == "row", "no facts at all"


def test_a_flat_four_is_two_facing_pairs() -> None:
    valves = tuple(f"{c} {k}" for c in FOUR for k in ("inlet", "exhaust"))
    facts = VehicleFacts(cylinders=FOUR, layout="flat four", valves=valves, other=(("banks", "1-2/3-4"),))
    laid = plan(spots("valve", facts), facts)
    assert laid.shape == "facing"
    assert cells(laid) == [
        [["1 inlet", "1 exhaust"], ["2 inlet", "2 exhaust"]],
        [["3 inlet", "3 exhaust"], ["4 inlet", "4 exhaust"]],
    ]


@pytest.mark.parametrize(
    ("layout", "shape"), [("boxer twin", "facing"), ("flat two", "facing"), ("vee twin", "banks")]
)
def test_a_twin_faces_itself(layout: str, shape: str) -> None:
    facts = VehicleFacts(cylinders=("1", "2"), layout=layout)
    assert plan(spots("cylinder", facts), facts).shape == shape


def test_a_car_is_seen_from_above_its_front_at_the_top() -> None:
    facts = VehicleFacts()
    laid = plan(spots("wheel", facts), facts)
    assert laid.shape == "car"
    assert cells(laid) == [[["front left", "front right"], ["rear left", "rear right"]]]
    three = VehicleFacts(wheels=("front", "rear left", "rear right", "spare"))
    laid = plan(spots("wheel", three), three)
    assert cells(laid) == [[[None, "front", None], ["rear left", None, "rear right"]], [["spare"]]]


def test_fasteners_in_rows_or_round() -> None:
    bolts = [Place(str(i), f"head bolt {i}") for i in range(1, 11)]
    facts = VehicleFacts(other=(("head_bolt_rows", "2"),))
    assert cells(plan(bolts, facts)) == [[["1", "2", "3", "4", "5"], ["6", "7", "8", "9", "10"]]]
    assert plan(bolts).shape == "row"
    nuts = tuple(Place(str(i), f"wheel nut {i}") for i in range(1, 6))
    laid = plan(nuts)
    assert laid.shape == "ring"
    assert cells(laid) == [[[None, "1", None], ["5", None, "2"], ["4", None, "3"]]]
    once(laid, nuts)


def test_arrows_reach_every_place_and_stop_at_the_ends() -> None:
    facts = VehicleFacts(cylinders=EIGHT, layout="vee eight", other=(("banks", "1-3-5-7/2-4-6-8"),))
    laid = plan(spots("cylinder", facts), facts)
    walked = ["1"]
    for _ in range(9):
        walked.append(laid.beside(walked[-1], 1, 0))
    assert walked == ["1", "3", "5", "7", "2", "4", "6", "8", "8", "8"]
    assert laid.beside("5", 0, 1) == "6"
    assert laid.beside("6", 0, -1) == "5"
    assert laid.beside("1", 0, -1) == "1"
    assert laid.beside("nothing", 1, 0) == "nothing"


NAMES = st.lists(st.text(min_size=1, max_size=12), min_size=1, max_size=14, unique=True)
LABELS = st.sampled_from(
    ["cylinder {0}", "valve {0}", "{0} wheel", "wheel nut {0}", "head bolt {0}", "{0}", "odd"]
)


@given(NAMES, LABELS, st.text(max_size=20), st.text(max_size=30))
def test_whatever_they_are_called_each_lies_once(
    names: list[str], label: str, layout: str, told: str
) -> None:
    there = tuple(Place(n, label.format(n)) for n in names)
    facts = VehicleFacts(
        cylinders=tuple(names), layout=layout, other=(("banks", told), ("head_bolt_rows", told))
    )
    laid = plan(there, facts)
    once(laid, there)
    assert set(laid.order) == set(names)


@given(st.permutations(EIGHT), st.integers(1, 7))
def test_banks_are_kept_as_told(order: list[str], cut: int) -> None:
    told = "-".join(order[:cut]) + "/" + "-".join(order[cut:])
    facts = VehicleFacts(cylinders=EIGHT, layout="vee eight", other=(("banks", told),))
    assert banks(facts) == (tuple(order[:cut]), tuple(order[cut:]))
