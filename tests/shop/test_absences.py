"""Who was away, and what is paid: the shop's hours less unpaid breaks, holidays and absences."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput, NotFound, Refused
from shopcli.shop.commands import NoteAbsence, TakeBack, WithdrawAbsence
from shopcli.shop.paid_hours import Away, PaidDays, day_seconds
from shopcli.shop.settings import read_settings
from shopcli.shop.week_views import Period
from shopcli.store.reads.week_hours import hours
from shopcli.store.reads.week_rows import rows_of
from tests.conftest import SETTINGS, Busy

LAST_WEEK = Period(date(2026, 11, 16))
DAY_S = 34_200  # 8:00 to 17:30, the usual hours of the settings
HERE = date(2026, 11, 2)


def paid(busy: Busy) -> dict[str, int | None]:
    return {p.name: p.paid_s for p in hours(busy.shop, LAST_WEEK).people}


@pytest.fixture
def long_here(busy_shop: Busy) -> Busy:
    """Return a shop where Tom has worked for some weeks."""
    from shopcli.shop.commands import AddClock

    task = busy_shop.view().tasks[0].id
    began = 1_793_613_600  # Monday 2 November 2026, 10:00 in London
    busy_shop.do(AddClock(task, began, began + 3_600, "written on paper"), "Tom")
    return busy_shop


def test_days_away_are_not_paid(long_here: Busy) -> None:
    busy, tom = long_here, long_here.people["Tom"]
    assert paid(busy) == {"Tom": 5 * DAY_S}
    busy.do(NoteAbsence(tom, "2026-11-17", "2026-11-18", why="course"), "Olive")
    busy.do(NoteAbsence(tom, "2026-11-20", minutes=90), "Olive")
    assert paid(busy) == {"Tom": 3 * DAY_S - 5_400}
    rows = rows_of(busy.shop, LAST_WEEK, f"paid:person:{tom}").rows
    assert [row.detail for row in rows] == ["", "away", "away", "", "away"]
    one = hours(busy.shop, LAST_WEEK).unclocked[0]
    assert (one.open_s, one.absent_s, one.rest_s) == (5 * DAY_S, 2 * DAY_S + 5_400, one.paid_s)


def test_an_absence_is_withdrawn_or_taken_back(long_here: Busy) -> None:
    busy, tom = long_here, long_here.people["Tom"]
    busy.do(NoteAbsence(tom, "2026-11-17"), "Olive")
    busy.do(WithdrawAbsence(1), "Olive")
    assert paid(busy) == {"Tom": 5 * DAY_S}
    with pytest.raises(Refused, match="withdrawn before"):
        busy.do(WithdrawAbsence(1), "Olive")
    busy.do(NoteAbsence(tom, "2026-11-17"), "Olive")
    act = busy.shop.fetch("SELECT MAX(id) FROM journal")[0][0]
    busy.do(TakeBack(act), "Olive")
    assert paid(busy) == {"Tom": 5 * DAY_S}


@pytest.mark.parametrize(
    ("first", "last", "minutes", "said"),
    [
        ("", "", None, "no days"),
        ("2026-11-18", "2026-11-17", None, "no days"),
        ("2026-11-18", "2028-11-17", None, "no days"),
        ("soon", "", None, "soon"),
        ("2026-11-18", "", 0, "0 minutes"),
        ("2026-11-18", "", 1440, "1440 minutes"),
    ],
)
def test_days_that_are_none_are_refused(
    busy_shop: Busy, first: str, last: str, minutes: int | None, said: str
) -> None:
    with pytest.raises(BadInput, match=said):
        busy_shop.do(NoteAbsence(2, first, last, minutes), "Olive")


def test_only_the_owner_says_who_was_away_and_no_day_twice(busy_shop: Busy) -> None:
    with pytest.raises(Refused, match="owner"):
        busy_shop.do(NoteAbsence(2, "2026-11-18"), "Tom")
    busy_shop.do(NoteAbsence(2, "2026-11-18", "2026-11-20"), "Olive")
    with pytest.raises(Refused, match="already"):
        busy_shop.do(NoteAbsence(2, "2026-11-20", "2026-11-23"), "Olive")
    busy_shop.do(NoteAbsence(3, "2026-11-20"), "Olive")
    with pytest.raises(NotFound):
        busy_shop.do(NoteAbsence(99, "2026-11-20"), "Olive")


def test_nobody_is_paid_before_they_came(busy_shop: Busy) -> None:
    # The people of this shop were taken on today, the 25th.
    assert paid(busy_shop) == {}


def test_holidays_breaks_and_shut_days() -> None:
    settings = SETTINGS._replace(holidays="GB-ENG", closed_days=("2026-12-24",), unpaid_break_minutes=30)
    days = PaidDays(settings)
    assert day_seconds(settings, date(2026, 12, 23)) == DAY_S - 1_800
    found = days.between(date(2026, 12, 21), date(2026, 12, 29))
    # 24 December is the shop's own, 25 and 28 December 2026 are bank holidays in England, from memory.
    assert sorted(day.day for day in found) == [21, 22, 23, 29]


@given(
    minutes=st.integers(1, 1_439), whole=st.booleans(), start=st.integers(-3, 9), lasting=st.integers(0, 9)
)
def test_nobody_is_away_for_longer_than_the_shop_is_open(
    minutes: int, whole: bool, start: int, lasting: int
) -> None:
    first = date.fromordinal(HERE.toordinal() + start)
    away = Away(first, date.fromordinal(first.toordinal() + lasting), None if whole else minutes)
    for day, one in PaidDays(SETTINGS).between(HERE, date(2026, 11, 8), (away,)).items():
        assert 0 <= one.paid_s <= one.open_s == DAY_S
        inside = away.first <= day <= away.last
        assert one.absent_s == (0 if not inside else DAY_S if whole else min(DAY_S, minutes * 60))


def test_the_settings_say_what_an_hour_costs() -> None:
    kept = read_settings("unpaid_break_minutes = 45\nhour_cost_minor = 2600")
    assert (kept.unpaid_break_minutes, kept.hour_cost_minor) == (45, 2600)
    for wrong in ("unpaid_break_minutes = 241", "hour_cost_minor = -1"):
        with pytest.raises(BadInput, match="unpaid_break_minutes is 0 to 240"):
            read_settings(wrong)
