"""The shop's hours and time by the day: nothing lost at midnight, nor when the clocks change."""

import itertools
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import BadInput
from shopcli.shop.hours import USUAL, by_day, midnight, ran_over, shuts_at
from shopcli.shop.settings import read_settings

LONDON = ZoneInfo("Europe/London")
# When the clocks change in London in 2026: from the zone database (tzdata), last Sundays of March and October, 1:00 UTC.
SPRING, AUTUMN = date(2026, 3, 29), date(2026, 10, 25)
ZONES = st.sampled_from(["Europe/London", "Australia/Lord_Howe", "Asia/Kathmandu", "UTC"])


def at(text: str, zone: ZoneInfo = LONDON) -> int:
    return int(datetime.fromisoformat(text).replace(tzinfo=zone).timestamp())


@given(st.integers(1_735_689_600, 1_830_297_600), st.integers(0, 5 * 86_400), ZONES)
def test_hours_by_day_sum_to_the_whole(start: int, length: int, zone: str) -> None:
    days = by_day(start, start + length, ZoneInfo(zone))
    assert sum(days.values()) == length
    assert all(seconds > 0 for seconds in days.values())
    assert list(days) == sorted(days)


@given(
    st.lists(st.integers(0, 40 * 86_400), min_size=2, max_size=12, unique=True),
    st.sampled_from([SPRING, AUTUMN]),
)
def test_cutting_time_in_pieces_changes_no_days_sum(cuts: list[int], change: date) -> None:
    begin = midnight(change - timedelta(days=3), LONDON)
    moments = sorted(begin + cut for cut in cuts)
    whole = by_day(moments[0], moments[-1], LONDON)
    pieces: dict[date, int] = {}
    for one, two in itertools.pairwise(moments):
        for day, seconds in by_day(one, two, LONDON).items():
            pieces[day] = pieces.get(day, 0) + seconds
    assert pieces == whole


@pytest.mark.parametrize(("day", "hours"), [(SPRING, 23), (AUTUMN, 25), (date(2026, 11, 25), 24)])
def test_the_days_the_clocks_change_are_shorter_and_longer(day: date, hours: int) -> None:
    start, end = midnight(day, LONDON), midnight(day + timedelta(days=1), LONDON)
    assert by_day(start, end, LONDON) == {day: hours * 3600}


@pytest.mark.parametrize(
    ("start", "upto", "why", "until"),
    [
        ("2026-11-25T10:00", "2026-11-25T17:40", "", ""),
        ("2026-11-25T10:00", "2026-11-25T17:46", "the shop shut at 17:30", "2026-11-25T17:30"),
        ("2026-11-25T10:00", "2026-11-26T08:00", "the shop shut at 17:30", "2026-11-25T17:30"),
        ("2026-11-25T19:00", "2026-11-25T23:00", "", ""),
        ("2026-11-25T19:00", "2026-11-26T00:10", "it ran past midnight", "2026-11-26T00:00"),
        ("2026-11-28T10:00", "2026-11-28T22:00", "", ""),
        ("2026-11-28T10:00", "2026-11-29T01:00", "it ran past midnight", "2026-11-29T00:00"),
        ("2026-06-25T10:00", "2026-06-25T20:00", "the shop shut at 17:30", "2026-06-25T17:30"),
    ],
)
def test_when_a_clock_is_asked_about(start: str, upto: str, why: str, until: str) -> None:
    over = ran_over(at(start), at(upto), None, USUAL, 15, LONDON)
    assert (over.why if over else "") == why
    assert over is None or over.until == at(until)


def test_what_somebody_stood_by_is_not_asked_about_again() -> None:
    start, late = at("2026-11-25T10:00"), at("2026-11-25T20:00")
    assert ran_over(start, late, late, USUAL, 15, LONDON) is None
    assert ran_over(start, at("2026-11-26T00:30"), late, USUAL, 15, LONDON) is not None


@given(st.integers(0, 86_400 * 6), st.integers(1, 86_400 * 2), ZONES)
@settings(max_examples=200)
def test_the_end_offered_lies_within_the_time(offset: int, length: int, zone: str) -> None:
    start = 1_774_000_000 + offset
    over = ran_over(start, start + length, None, USUAL, 15, ZoneInfo(zone))
    assert over is None or start <= over.until < start + length


def test_hours_in_the_settings() -> None:
    chosen = read_settings('[hours]\nmonday = "07:30-16:00"\nsaturday = "9:00-24:00"\n').hours
    assert chosen == ((450, 960), None, None, None, None, (540, 1440), None)
    assert shuts_at(date(2026, 11, 28), chosen, UTC) == midnight(date(2026, 11, 29), UTC)
    assert shuts_at(date(2026, 11, 29), chosen, UTC) is None


@pytest.mark.parametrize(
    "text",
    [
        'someday = "8:00-9:00"',
        'monday = "8-9"',
        'monday = "9:00-8:00"',
        'monday = "8:00-25:00"',
        "monday = 8",
    ],
)
def test_hours_that_are_none_are_refused(text: str) -> None:
    with pytest.raises(BadInput, match="hours"):
        read_settings(f"[hours]\n{text}\n")


def test_hours_must_be_a_table() -> None:
    with pytest.raises(BadInput, match="table"):
        read_settings('hours = "all day"')
