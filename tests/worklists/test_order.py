"""Order: every `after` holds, nothing is lost, earlier comes first where there is a choice, circles are named."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput
from shopcli.worklists.circles import find_circle
from shopcli.worklists.model import Task
from shopcli.worklists.order import in_order


def tasks_of(waits):
    return [
        Task(str(i), "t", "1", f"task {i}", "", after=tuple(map(str, after))) for i, after in enumerate(waits)
    ]


graphs = st.integers(0, 12).flatmap(
    lambda n: st.lists(st.lists(st.integers(0, 13), max_size=3, unique=True), min_size=n, max_size=n)
)


def reaches(waits, start):
    """Return whether `start` waits for itself in the end: the slow, plain way."""
    seen, todo = set(), list(waits[start])
    while todo:
        i = todo.pop()
        if i == start:
            return True
        if i < len(waits) and i not in seen:
            seen.add(i)
            todo.extend(waits[i])
    return False


@given(graphs)
def test_any_graph_is_ordered_or_its_circle_named(waits):
    waits = [[w for w in after if w != i] for i, after in enumerate(waits)]
    tasks = tasks_of(waits)
    if any(reaches(waits, i) for i in range(len(waits))):
        with pytest.raises(BadInput, match="waits for"):
            in_order(tasks)
        return
    ordered = in_order(tasks)
    assert sorted(t.key for t in ordered) == sorted(t.key for t in tasks)
    place = {t.key: i for i, t in enumerate(ordered)}
    assert all(place[k] < place[t.key] for t in tasks for k in t.after if k in place)
    # Stable: a task that comes earlier than a lower-numbered one does so because something waits for it.
    for index, task in enumerate(ordered):
        ready = [
            t for t in tasks if t not in ordered[:index] and all(place.get(k, -1) < index for k in t.after)
        ]
        assert task == ready[0]


@given(graphs)
def test_a_named_circle_is_one(waits):
    graph = {str(i): [str(w) for w in after] for i, after in enumerate(waits)}
    circle = find_circle(graph)
    if circle:
        assert circle[0] == circle[-1]
        assert all(b in graph[a] for a, b in pairwise(circle))
    else:
        assert not any(reaches(waits, i) for i in range(len(waits)))


def test_an_order_without_waiting_stays_as_written():
    tasks = tasks_of([[], [], []])
    assert in_order(tasks) == tuple(tasks)


def test_the_circle_is_named_with_titles():
    with pytest.raises(BadInput) as caught:
        in_order(tasks_of([[2], [0], [1], []]))
    assert (
        '"task 0" (0) waits for "task 2" (2) waits for "task 1" (1) waits for "task 0"'
        in caught.value.message
    )
    assert caught.value.hint


def test_a_chain_of_thousands_does_not_break():
    waits = [[i + 1] for i in range(5000)] + [[]]
    assert in_order(tasks_of(waits))[0].key == "5000"
    with pytest.raises(BadInput):
        in_order(tasks_of([*waits[:-1], [0]]))
