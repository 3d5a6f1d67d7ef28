"""What the tables of the week hold: shares that come to their whole, labour of a bill by who did it, waits told by words."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.shop.week_parts import Stand, moved, off_of, shared, sold_of, stays_of, told_by

LABOUR = {"id": "L7", "kind": "labour", "qty": "1.1", "unit": "h", "net": "66.00"}


@given(st.integers(-10_000, 10_000), st.dictionaries(st.integers(1, 9), st.integers(0, 5_000), min_size=1))
def test_shares_come_to_their_whole_and_are_fair_to_one(whole: int, parts: dict[int, int]) -> None:
    found = shared(whole, parts)
    assert sum(found.values()) == whole
    assert set(found) == set(parts)
    every = sum(parts.values())
    for key, part in parts.items() if every else ():
        assert abs(found[key] - whole * part / every) < 1


def test_labour_is_shared_among_who_did_the_task() -> None:
    bill = {"lines": [LABOUR, {"id": "P1", "kind": "part", "qty": "1", "unit": "pc", "net": "9.00"}]}
    sold = sold_of(bill, [(7, 2, 1_200), (7, 3, 2_400), (7, 2, 300), (8, 2, 999)])
    assert [(s.task_id, s.person_id, s.seconds, s.minor) for s in sold] == [
        (7, 2, 1_523, 2_538),
        (7, 3, 2_437, 4_062),
    ]
    in_minutes = sold_of({"lines": [{**LABOUR, "qty": "70", "unit": "min"}]}, [(7, 2, 60)])
    assert in_minutes[0].seconds == 4_200


def test_what_was_taken_off_and_put_on() -> None:
    line = {**LABOUR, "allowance": "6.60", "charge": "1.00"}
    foot = [{"charge": False, "amount": "10.00"}, {"charge": True, "amount": "2.50"}]
    assert off_of({"lines": [line], "allowances": foot}) == 660 - 100 + 1_000 - 250
    # Bills of the first versions know of neither.
    assert off_of({"lines": [LABOUR]}) == 0


@pytest.mark.parametrize(
    ("reason", "waits"),
    [
        ("Radiator away for a new core", "outwork"),
        ("Cylinder head at the machinist, sent out Monday", "outwork"),
        ("Customer to say whether both calipers are to be renewed", "authority"),
        ("ring him first", "authority"),
        ("Waiting for the belt: the right one is on its way", "parts"),
        ("gasket set on order", "parts"),
        ("ramp broken", "other"),
        ("", "other"),
    ],
)
def test_what_a_held_card_waits_for_is_told_by_its_reason(reason: str, waits: str) -> None:
    assert told_by(reason) == waits


stands = st.sampled_from([Stand("booked", "bay"), Stand("in hand"), Stand("held", "parts", "x"), Stand("")])


@given(st.lists(st.tuples(st.integers(0, 1_000), stands), max_size=12))
def test_stays_follow_one_another(events: list[tuple[int, Stand]]) -> None:
    events.sort(key=lambda event: event[0])
    found = stays_of(events)
    assert [stay.nth for stay in found] == list(range(len(found)))
    for one, two in pairwise(found):
        assert one.ended_at is not None
        assert one.started_at <= one.ended_at <= two.started_at
    assert all(stay.stand.state for stay in found)
    if events and events[-1][1].state:
        assert (found[-1].stand, found[-1].ended_at) == (events[-1][1], None)
        assert moved(found, 2_000, events[-1][1]) == found
