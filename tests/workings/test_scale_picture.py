"""The scale of a number: the band in limits where it belongs, every reading in sight, nothing wider than its room."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.columns import display_width
from shopcli.workings.scale_picture import Hung, Labels, reach, scale_rows

FIGURES = st.floats(-1e6, 1e6, allow_nan=False)
WIDTHS = st.integers(1, 160)
WORDS = st.text(max_size=40).map(lambda t: " ".join(t.split())).filter(str.isprintable)


def text(row: tuple[tuple[str, str], ...]) -> str:
    return "".join(piece for piece, _ in row)


def drawn(*limits: float | None, labels: Labels, hung: tuple[Hung, ...] = (), width: int = 60) -> list[str]:
    return [text(row) for row in scale_rows(*limits, labels, hung, width=width)]


def test_two_limits_and_the_aim_between_them() -> None:
    line = drawn(5, 6, 7, labels=Labels("5", "6", "7", "thou"))[0]
    assert line.index("5 ├") < line.index(" 6 ") < line.index("┤ 7 thou")
    assert line.startswith("low ")
    assert line.endswith(" high")


def test_one_limit_is_open_on_its_other_side() -> None:
    least = drawn(9, None, None, labels=Labels(low="9", unit="bar"))[0]
    assert "9 bar ├" in least
    assert least.endswith("▶")
    assert "high" not in least
    most = drawn(None, None, 20, labels=Labels(high="20", unit="%"))[0]
    assert "┤ 20 %" in most
    assert "low" not in most
    assert "in limits" in most


def test_a_reading_stands_under_its_value() -> None:
    line, below = drawn(40, None, 50, labels=Labels("40", "", "50", "Nm"), hung=(Hung(40, "found 40"),))
    assert below.index("▲") == line.index("├")


def test_far_out_stands_at_the_edge_and_says_how_far() -> None:
    far = (Hung(0.1, "found 0.1", "found 0.1, 4.9 below"), Hung(99, "left 99", "left 99, 92 above"))
    _, below = drawn(5, 6, 7, labels=Labels("5", "6", "7"), hung=far)
    assert below.startswith("◀ found 0.1, 4.9 below")
    assert below.endswith("left 99, 92 above ▶")


def test_readings_alike_do_not_cover_each_other() -> None:
    rows = drawn(5, 6, 7, labels=Labels("5", "6", "7"), hung=(Hung(6, "found 6"), Hung(6, "left 6")))
    assert [row.strip() for row in rows[1:]] == ["▲ found 6", "▲ left 6"]


def test_nothing_is_lost_in_plain_characters() -> None:
    hung = (Hung(3, "found 3"), Hung(-9, "a", "far below"), Hung(99, "b", "far above"))
    rows = scale_rows(5, 6, 7, Labels("5", "6", "7", "thou"), hung, width=70, ascii_only=True)
    assert all(text(row).isascii() for row in rows)
    same = scale_rows(5, 6, 7, Labels("5", "6", "7", "thou"), hung, width=70)
    assert [len(text(row)) for row in rows] == [len(text(row)) for row in same]


def test_no_room_no_scale() -> None:
    assert scale_rows(5, 6, 7, Labels("5", "6", "7"), (), width=23) == []


@given(FIGURES, st.floats(0, 1e6))
def test_the_band_lies_inside_the_scale(low: float, span: float) -> None:
    left, right = reach(low, None, low + span)
    assert left <= low <= low + span <= right
    assert left < right
    assert left >= 0 or low <= 0


@given(FIGURES, st.booleans())
def test_a_single_limit_lies_inside_the_scale(limit: float, least: bool) -> None:
    left, right = reach(limit, None, None) if least else reach(None, None, limit)
    assert left <= limit <= right
    assert left < right


@given(
    st.tuples(FIGURES, FIGURES, FIGURES).map(sorted), st.lists(st.tuples(FIGURES, WORDS), max_size=5), WIDTHS
)
def test_no_row_is_wider_than_the_room(
    limits: list[float], marks: list[tuple[float, str]], width: int
) -> None:
    hung = [Hung(value, words or "x", f"{words} far", str(i)) for i, (value, words) in enumerate(marks)]
    rows = scale_rows(*limits, Labels("1.25", "1.5", "12,000", "lbf·ft"), hung, width=width)
    assert all(display_width(text(row)) <= width for row in rows)
    if rows:
        tags = [tag for row in rows for _, tag in row if tag]
        assert sorted(tags) == sorted(str(i) for i in range(len(marks))), "each reading once"


def test_a_scale_needs_a_limit() -> None:
    with pytest.raises(ValueError, match="low or a high"):
        reach(None, 5, None)
