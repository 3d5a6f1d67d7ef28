"""The forecast from the shop's own weeks: laws it keeps, and how often what it says comes true."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import OutOfRange
from shopcli.workings.weeks_ahead import (
    FEWEST,
    Held,
    by_week,
    clears,
    tried_by_week,
    tried_clears,
)

PLAYS = 200
days = st.tuples(*[st.integers(0, 6)] * 5, st.integers(0, 1), st.just(0))
pasts = st.lists(days, min_size=FEWEST, max_size=30)


def poisson(rng, mean):
    """Draw a count of that mean (D. E. Knuth, The Art of Computer Programming 2, 3rd edition, 3.4.1)."""
    limit, product, count = math.exp(-mean), rng.random(), 0
    while product > limit:
        product *= rng.random()
        count += 1
    return count


def a_shop(seed, weeks=104):
    """Return the weeks of a shop with a pace, a scatter and a shut fortnight of its own, and what stood there."""
    rng = random.Random(seed)
    pace, shape = rng.uniform(4, 16), rng.uniform(2, 20)
    past, stood, here = [], [], rng.randint(8, 40)
    for week in range(weeks):
        shut = week % 52 in (50, 51)
        today = 0.0 if shut else pace * rng.gammavariate(shape, 1 / shape) / 5
        stood.append(here)
        gone = [min(poisson(rng, today), 9) for _ in range(5)]
        past.append((*gone, 0, 0))
        here = max(4, here - sum(gone) + poisson(rng, pace * 50 / 52))
    return past, stood


def over_shops(count):
    queue = cards = Held(0, 0, 0)
    for seed in range(count):
        past, stood = a_shop(seed)
        queue = queue.with_(tried_clears(past, stood, 400))
        cards = cards.with_(tried_by_week(past, 6, 400))
    return queue, cards


@given(pasts, st.integers(1, 60))
@settings(max_examples=40, deadline=None)
def test_the_sure_day_is_never_before_the_usual_one_and_more_cards_never_go_sooner(past, cards):
    said, more = clears(past, cards, PLAYS), clears(past, cards + 5, PLAYS)
    far = 10**6
    assert (said.usual_day or far) <= (said.sure_day or far)
    assert (said.usual_day or far) <= (more.usual_day or far)
    if said.sure_day is not None:
        assert said.sure_day <= 104 * 7


@given(pasts, st.integers(1, 12))
@settings(max_examples=40, deadline=None)
def test_counts_grow_with_the_weeks_and_the_sure_one_is_the_lower(past, ahead):
    said = by_week(past, ahead, PLAYS)
    assert [one.ahead for one in said] == list(range(1, ahead + 1))
    for before, one in zip((None, *said), said, strict=False):
        assert 0 <= one.sure <= one.usual <= max(sum(w) for w in past) * one.ahead
        if before:
            assert before.sure <= one.sure
            assert before.usual <= one.usual


@given(pasts, st.integers(1, 40))
@settings(max_examples=40, deadline=None)
def test_day_and_count_are_one_statement_told_two_ways(past, cards):
    """Whole weeks in which the queue surely goes are those whose sure count reaches it."""
    said = clears(past, cards, 1_000)
    if said.sure_day is None or said.sure_day > 7 * 13:
        return
    weeks = -(-said.sure_day // 7)
    counts = by_week(past, 13, 1_000)
    # The two draw as many weeks ahead as they need; by a play or two of a thousand they may part.
    assert counts[weeks - 1].sure >= cards - max(sum(w) for w in past) * 0.15
    assert weeks == 1 or counts[weeks - 2].sure <= cards + max(sum(w) for w in past) * 0.15


def test_a_week_drawn_is_likelier_to_come_again_as_the_urn_has_it():
    """With one good week in eight, two ahead are both good with 1/8 · 2/9 (Blackwell and MacQueen 1973)."""
    past = [(0,) * 7] * 7 + [(1, 0, 0, 0, 0, 0, 0)]
    plays = 40_000
    from shopcli.workings.weeks_ahead import _urn

    both = sum(one == (7, 7) or (one[0] == 7 and one[1] in (7, 8)) for one in _urn(8, 2, plays)) / plays
    assert both == pytest.approx(1 / 8 * 2 / 9, abs=0.003)
    assert clears(past, 200, PLAYS).sure_day is None


def test_too_little_known_is_said_as_nothing_and_no_cards_need_no_day():
    few = [(1, 1, 1, 1, 1, 0, 0)] * (FEWEST - 1)
    assert clears(few, 3) is None
    assert by_week(few, 3) == ()
    assert tried_clears(few, [3] * len(few)) == Held(0, 0, 0)
    assert Held(0, 0, 0).sure_part is None
    assert clears([*few, few[0]], 0).sure_day == 0


def test_what_is_no_week_is_refused():
    with pytest.raises(OutOfRange):
        clears([(1, 2)] * 9, 3)
    with pytest.raises(OutOfRange):
        clears([(1, 1, 1, 1, 1, 0, -1)] * 9, 3)
    with pytest.raises(OutOfRange):
        by_week([(1,) * 7] * 9, 0)
    with pytest.raises(OutOfRange):
        tried_clears([(1,) * 7] * 9, [1])


def test_a_try_is_counted_when_its_day_has_passed_not_when_it_was_kept():
    """Eight quiet weeks, then a great one at the very end: kept at once, but the day named lies ahead."""
    past = [(0, 0, 1, 0, 0, 0, 0)] * 8 + [(9, 0, 0, 0, 0, 0, 0)]
    assert tried_clears(past, [5] * 9) == Held(0, 0, 0)


def test_of_twelve_shops_the_85_per_cent_are_kept_about_so_often():
    queue, cards = over_shops(12)
    assert queue.tries > 300
    assert 0.76 <= queue.sure_part <= 0.94
    assert 0.76 <= cards.sure_part <= 0.94


@pytest.mark.long
def test_of_two_hundred_shops_85_of_100_statements_come_true():
    queue, cards = over_shops(200)
    print(queue, queue.sure_part, queue.usual_part, cards, cards.sure_part, cards.usual_part)
    assert 0.80 <= queue.sure_part <= 0.90
    assert 0.80 <= cards.sure_part <= 0.90


@given(pasts, st.integers(1, 30), st.integers(0, 7))
@settings(max_examples=40, deadline=None)
def test_days_that_are_over_bring_nothing_more(past, cards, begun):
    said, whole = clears(past, cards, PLAYS, begun=begun), clears(past, cards, PLAYS)
    far = 10**6
    assert (said.usual_day or far) >= (whole.usual_day or far)
    assert said.usual_day is None or said.usual_day > begun
    for less, more in zip(by_week(past, 4, PLAYS, begun=begun), by_week(past, 4, PLAYS), strict=True):
        assert 0 <= less.sure <= more.sure
