"""The shop's own clock, the one nobody injects: aware, in UTC, and right while the clocks change."""

from datetime import UTC, datetime

from freezegun import freeze_time

from shopcli.shop.commands import ClockOff, ClockOn
from shopcli.store.shop import utc_now
from tests.conftest import Busy


@freeze_time("2026-10-25 00:30:00")
def test_the_clock_is_aware_and_in_utc() -> None:
    assert utc_now() == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)


def test_an_hour_over_the_end_of_summer_time_is_an_hour(busy_shop: Busy) -> None:
    # At 01:00 UTC on 25 October 2026 the clocks of the shop's zone go back: 01:30 is there twice.
    shop, task = busy_shop.shop, busy_shop.view().tasks[0]
    shop.now = utc_now
    with freeze_time("2026-10-25 00:30:00") as frozen:
        busy_shop.do(ClockOn(task.id))
        first = shop.at()
        frozen.tick(3600)
        busy_shop.do(ClockOff())
        again = shop.at()
    assert shop.local(first).strftime("%H:%M %Z") == "01:30 BST"
    assert shop.local(again).strftime("%H:%M %Z") == "01:30 GMT"
    assert busy_shop.view().clocked_seconds == 3600
