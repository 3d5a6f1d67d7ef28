"""Days the shop works: hours, public holidays, days of its own; minutes of work become a date."""

from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput
from shopcli.shop.settings import Settings, read_settings
from shopcli.shop.workdays import Workdays, open_share, public_holidays

# Wednesday 25 November 2026, 10:15 in London; the usual hours are 8:00 to 17:30, Monday to Friday.
NOW = int(datetime(2026, 11, 25, 10, 15, tzinfo=UTC).timestamp())
WHOLE = Settings(work_share=100)


def test_today_counts_from_now_and_a_day_is_its_hours() -> None:
    days = Workdays(WHOLE, NOW)
    left = 17 * 60 + 30 - (10 * 60 + 15)
    assert days.day_of(0) == days.day_of(left) == date(2026, 11, 25)
    assert days.day_of(left + 1) == date(2026, 11, 26)
    assert days.minutes_before(date(2026, 11, 26)) == left
    assert days.minutes_before(date(2026, 11, 25)) == 0
    assert days.minutes_through(date(2026, 11, 26)) == left + 570
    assert days.minutes_before(date(2026, 11, 30)) == left + 2 * 570  # the weekend adds nothing


def test_only_the_share_that_goes_into_cars_counts() -> None:
    half = Workdays(WHOLE._replace(work_share=50), NOW)
    assert half.minutes_before(date(2026, 11, 26)) == 435 / 2


def test_after_hours_today_has_nothing_left() -> None:
    late = int(datetime(2026, 11, 25, 19, 0, tzinfo=UTC).timestamp())
    assert Workdays(WHOLE, late).day_of(1) == date(2026, 11, 26)


def test_holidays_and_own_days_are_shut() -> None:
    eve = int(datetime(2026, 12, 24, 9, 0, tzinfo=UTC).timestamp())
    own = WHOLE._replace(holidays="GB-ENG", closed_days=("2026-12-29/2026-12-31",))
    days = Workdays(own, eve)
    # 25 and 28 December (26 is a Saturday, its day off moves to Monday) and 1 January 2027: the bank holidays as
    # published by the government at gov.uk/bank-holidays; from memory.
    assert days.day_of(days.minutes_through(date(2026, 12, 24)) + 1) == date(2027, 1, 4)
    plain = Workdays(WHOLE, eve)
    assert plain.day_of(plain.minutes_through(date(2026, 12, 24)) + 1) == date(2026, 12, 25)


def test_parts_of_a_country_keep_their_own_holidays() -> None:
    # St Andrew's Day is a bank holiday in Scotland only; from memory.
    andrew = date(2026, 11, 30)
    assert andrew in public_holidays("GB-SCT", (2026,))
    assert andrew not in public_holidays("gb-eng", (2026,))
    for code in ("XX", "GB-XXX", "england"):
        with pytest.raises(BadInput, match="no such country"):
            public_holidays(code, (2026,))


def test_a_shop_that_never_opens_has_no_day() -> None:
    assert Workdays(WHOLE._replace(hours=(None,) * 7), NOW).day_of(1) is None
    assert open_share(WHOLE._replace(hours=(None,) * 7)) == 0
    assert open_share(WHOLE) == pytest.approx(5 * 570 / 10_080)


@given(st.floats(0, 50_000), st.floats(0, 5_000))
def test_more_work_is_never_over_earlier(minutes: float, more: float) -> None:
    days = Workdays(WHOLE, NOW)
    first, then = days.day_of(minutes), days.day_of(minutes + more)
    assert first is not None
    assert then is not None
    assert first <= then
    assert days.minutes_before(first) <= minutes + 1e-6
    assert minutes <= days.minutes_through(first) + 1e-6


def test_settings_say_what_cannot_be() -> None:
    kept = read_settings(
        'holidays = "GB-ENG"\nclosed_days = ["2026-12-24", "2026-12-29/2026-12-31"]\noffer_days = 14'
    )
    assert (kept.holidays, kept.offer_days, len(kept.closed_days)) == ("GB-ENG", 14, 2)
    for text in (
        'closed_days = ["soon"]',
        'closed_days = ["2026-12-31/2026-12-29"]',
        "offer_days = 0",
        "work_share = 101",
    ):
        with pytest.raises(BadInput):
            read_settings(text)
