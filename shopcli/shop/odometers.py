"""What an odometer shows: a whole number in reach, and never less than before without a word about why."""

from shopcli.cleantext import clean_line
from shopcli.errors import BadInput, RunsBackwards
from shopcli.shop.fetching import Fetch

FARTHEST = 2_000_000
# Why it may show less than before; any other reason in words will do.
WHYS = ("clock changed", "misread before")
# The one written last counts, not the highest ever: after another clock, that would be asked about for ever.
LAST = """
SELECT odometer FROM card WHERE vehicle_id = ? AND id <> ? AND odometer IS NOT NULL AND state <> 'void'
ORDER BY opened_at DESC, id DESC LIMIT 1"""


def last_odometer(fetch: Fetch, vehicle_id: int, but: int = 0) -> int | None:
    """Return what the odometer of a vehicle showed last, on other cards than `but`."""
    rows = fetch(LAST, (vehicle_id, but))
    return int(rows[0][0]) if rows else None


def see_odometer(
    fetch: Fetch, vehicle_id: int, reading: int | None, why: str, *, card_id: int = 0
) -> tuple[int | None, tuple[str, ...]]:
    """Return a reading fit to be written, and what is to be said when it runs backwards for a reason.

    Raises
    ------
    BadInput
        When no odometer shows that.
    RunsBackwards
        When it showed more at an earlier visit and no reason is given.
    """
    if reading is not None and not 0 <= reading <= FARTHEST:
        raise BadInput(f"the odometer shows {reading}", hint="A whole number between 0 and 2,000,000.")
    last = None if reading is None else last_odometer(fetch, vehicle_id, card_id)
    if reading is None or last is None or reading >= last:
        return reading, ()
    reason = clean_line(why, name="reason", limit=120)
    if not reason:
        raise RunsBackwards(
            f"the odometer shows {reading:,}; the last was {last:,}",
            last,
            hint=f"Look again, or say why: {' or '.join(WHYS)}.",
        )
    return reading, (f"Odometer {reading:,}, the last was {last:,}: {reason}.",)
