"""Dates and figures as the desk types them: read or refused, never guessed. The calendar of 2026 is the source."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput
from shopcli.screens.desk.dates import in_words, read_date
from shopcli.shop.typed_figures import read_odometer, read_sum, read_year

WEDNESDAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("2026-12-04", date(2026, 12, 4)),
        ("4.12.", date(2026, 12, 4)),
        ("4.12", date(2026, 12, 4)),
        ("04.12.2026", date(2026, 12, 4)),
        ("4/12", date(2026, 12, 4)),
        ("4/12/26", date(2026, 12, 4)),
        ("4 Dec", date(2026, 12, 4)),
        ("4 december 2026", date(2026, 12, 4)),
        ("4dec", date(2026, 12, 4)),
        ("fri", date(2026, 11, 27)),
        ("Friday", date(2026, 11, 27)),
        ("thurs", date(2026, 11, 26)),
        ("wed", date(2026, 12, 2)),
        ("today", WEDNESDAY),
        ("tomorrow", date(2026, 11, 26)),
        ("+3", date(2026, 11, 28)),
        ("+ 3 days", date(2026, 11, 28)),
        ("+2w", date(2026, 12, 9)),
        ("24.11.", date(2027, 11, 24)),
        ("25.11.", WEDNESDAY),
        ("3/1", date(2027, 1, 3)),
        ("29.2.", date(2028, 2, 29)),
    ],
)
def test_a_date_is_read(text: str, meant: date) -> None:
    assert read_date(text, WEDNESDAY) == meant


def test_nothing_typed_is_no_date() -> None:
    assert read_date("  ", WEDNESDAY) is None


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("soon", "not a date"),
        ("t", "not a date"),
        ("fr", "not a date"),
        ("31.2.", "no 31 February"),
        ("29.2.2027", "no 29 February 2027"),
        ("4/13", "no 4 month 13"),
        ("0/1", "no 0 January"),
        ("24.11.2026", "past"),
        ("2026-01-01", "past"),
        ("4.12.2126", "years away"),
        ("+9999", "years away"),
        ("12", "not a date"),
        ("4 ju", "not a date"),
        ("1" * 400, "not a date"),
        ("[/oops]", "not a date"),
    ],
)
def test_what_is_no_promise_is_refused_in_words(text: str, words: str) -> None:
    with pytest.raises(BadInput) as refused:
        read_date(text, WEDNESDAY)
    assert words in refused.value.message
    assert refused.value.hint


@given(st.dates(WEDNESDAY, date(2031, 11, 1)))
def test_every_way_of_writing_a_date_means_the_same(day: date) -> None:
    for text in (
        day.isoformat(),
        f"{day.day}.{day.month}.{day.year}",
        f"{day:%d/%m/%Y}",
        f"{day.day} {day:%B %Y}",
    ):
        assert read_date(text, WEDNESDAY) == day


@given(st.text(max_size=40))
def test_whatever_is_typed_is_a_date_or_a_refusal(text: str) -> None:
    try:
        meant = read_date(text, WEDNESDAY)
    except BadInput:
        return
    assert meant is None or meant >= WEDNESDAY


def test_a_date_is_said_back_with_its_weekday_and_year() -> None:
    assert in_words(date(2027, 1, 2), WEDNESDAY) == "Sat 2 Jan 2027, in 38 days"
    assert in_words(WEDNESDAY, WEDNESDAY) == "Wed 25 Nov 2026, today"


@pytest.mark.parametrize(
    ("text", "minor"),
    [
        ("400", 40_000),
        ("399.50", 39_950),
        ("399,5", 39_950),
        ("1,200", 120_000),
        ("£1,200.00", 120_000),
        ("€ 12", 1_200),
        ("1 200", 120_000),
        ("0", 0),
        ("", None),
    ],
)
def test_a_sum_is_read(text: str, minor: int | None) -> None:
    assert read_sum(text) == minor


@pytest.mark.parametrize(
    "text", ["-5", "1,20,0", "1.2.3", "1e3", "12,3456", "a lot", "٣٠", "9" * 5000, "1000001"]
)
def test_what_is_no_sum_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        read_sum(text)


@pytest.mark.parametrize(
    ("text", "reading"), [("48213", 48_213), ("48,213", 48_213), ("48 213", 48_213), ("", None)]
)
def test_an_odometer_is_read(text: str, reading: int | None) -> None:
    assert read_odometer(text) == reading


@pytest.mark.parametrize("text", ["-1", "2000001", "48.2", "many", "1" * 99])
def test_what_is_no_odometer_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        read_odometer(text)


def test_a_year_lies_within_the_age_of_the_motor_car() -> None:
    assert read_year("1964") == 1964
    for text in ("64", "1879", "2101", "19.64"):
        with pytest.raises(BadInput):
            read_year(text)
