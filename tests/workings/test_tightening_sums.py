"""Tightening orders, their pictures, and stages."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings import tightening, torque_patterns

ORDER, STAGES = tightening.WORKINGS

HEAD = """\
╭──────────────────────────────╮
│  7     3     1     5     9   │
│                              │
│  10    6     2     4     8   │
╰──────────────────────────────╯"""
COVER_PLAIN = """\
+------------------------+
|  7     1     3     9   |
|                        |
|  6                 5   |
|                        |
|  10    4     2     8   |
+------------------------+"""
FIVE_STUD = """\
           1


 3                   4
           ○


     5           2"""


@given(st.integers(3, 24))
def test_star_visits_each_once_and_crosses_over(count: int) -> None:
    order = torque_patterns.star_order(count)
    assert sorted(order) == list(range(1, count + 1))
    for first, second in zip(order[::2], order[1::2], strict=False):
        apart = abs(first - second)
        assert min(apart, count - apart) == count // 2  # straight across, or the nearest to it


@given(st.integers(1, 6), st.integers(1, 12))
def test_head_goes_from_the_middle_outwards(rows: int, columns: int) -> None:
    order = torque_patterns.centre_out(rows, columns)
    assert sorted(order) == list(range(1, rows * columns + 1))

    def away(place: int) -> int:
        row, column = divmod(place - 1, columns)
        return (2 * row - rows + 1) ** 2 + (2 * column - columns + 1) ** 2

    distances = [away(place) for place in order]
    assert distances == sorted(distances)


@given(st.integers(2, 6), st.integers(2, 12))
def test_cover_follows_each_by_its_opposite(rows: int, columns: int) -> None:
    order = torque_patterns.cross_order(rows, columns)
    places = torque_patterns.rim_places(rows, columns)
    assert sorted(order) == list(range(1, len(places) + 1))
    for first, second in zip(order[::2], order[1::2], strict=True):
        (r1, c1), (r2, c2) = places[first - 1], places[second - 1]
        assert (r1 + r2, c1 + c2) == (rows - 1, columns - 1)


def test_twelve_studs_as_drawn_on_flanges() -> None:
    """Common practice, no source: 1 7 4 10 2 8 5 11 3 9 6 12."""
    assert torque_patterns.star_order(12) == (1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12)


def test_pictures() -> None:
    assert torque_patterns.head_picture(2, 5) == HEAD
    assert torque_patterns.cover_picture(3, 4, ascii_only=True) == COVER_PLAIN
    assert torque_patterns.ring_picture(5) == FIVE_STUD


@given(st.integers(3, 24))
def test_ring_picture_shows_every_turn_once(count: int) -> None:
    for plain in (False, True):
        picture = torque_patterns.ring_picture(count, ascii_only=plain)
        found = sorted(int(word) for word in picture.replace("○", " ").replace("o", " ").split())
        assert found == list(range(1, count + 1))
        assert max(len(line) for line in picture.splitlines()) <= 80
    assert picture.isascii()


@given(st.integers(1, 6), st.integers(1, 12))
def test_head_picture_shows_every_turn_once(rows: int, columns: int) -> None:
    picture = torque_patterns.head_picture(rows, columns, ascii_only=True)
    found = sorted(int(w) for w in picture.replace("|", " ").replace("+", " ").replace("-", " ").split())
    assert found == list(range(1, rows * columns + 1))
    assert max(len(line) for line in picture.splitlines()) <= 80


@given(st.floats(10, 500), st.integers(1, 6))
def test_stages_rise_to_the_full_torque(torque: float, stages: int) -> None:
    made = tightening.stage_torques(torque, stages)
    assert len(made) == stages
    assert made[-1] == torque
    assert list(made) == sorted(set(made))


def test_tiny_torque_in_many_stages_is_refused() -> None:
    with pytest.raises(BadInput):
        tightening.stage_torques(2.0, 6)


def test_head_in_rounds_then_angles() -> None:
    worked = ORDER.run(pattern="head", rows=2, columns=5, torque_nm=60.0, angles_deg=(45.0, 45.0))
    assert worked["order"] == (3, 8, 2, 9, 4, 7, 1, 10, 5, 6)
    assert worked["turns"] == (7, 3, 1, 5, 9, 10, 6, 2, 4, 8)
    assert "Round 1: all of them to 20 N·m." in worked.steps
    assert "Then all of them 45 deg further (90 deg in all)." in worked.steps
    assert any("used once" in c for c in worked.cautions)
    assert worked.picture == HEAD


def test_wheel_has_its_cautions() -> None:
    worked = ORDER.run(pattern="wheel or drum", count=4)
    assert worked["order"] == (1, 3, 2, 4)
    assert any("on its wheels" in c for c in worked.cautions)


def test_what_is_missing_is_asked_for() -> None:
    with pytest.raises(BadInput, match="count"):
        ORDER.run(pattern="round flange")
    with pytest.raises(BadInput, match="rows"):
        ORDER.run(pattern="cover", columns=3)
    with pytest.raises(OutOfRange):
        ORDER.run(pattern="round flange", count=25)


def test_graduation_of_the_wrench_is_kept() -> None:
    assert STAGES.run(torque_nm=50.0, stages=3, step_nm=5.0)["torques_nm"] == (15.0, 30.0, 50.0)
