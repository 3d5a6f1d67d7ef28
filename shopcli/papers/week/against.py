"""What a period is called beside the one it is held against, and what is said where only a part of them is."""

from datetime import timedelta

from shopcli.papers.week.seen import Seen
from shopcli.present import DAYS
from shopcli.shop.week_period import Period


def short(period: Period) -> str:
    """Return the weeks of a period without their year.

    Examples
    --------
    >>> from datetime import date
    >>> short(Period(date(2026, 11, 23))), short(Period(date(2026, 8, 31), 13))
    ('W48', 'W36-W48')
    """
    return "-".join(dict.fromkeys((period.names[0][-3:], period.names[-1][-3:])))


def runs(seen: Seen) -> bool:
    """Return whether the period still runs, so that it is held against a part of the one before."""
    return seen.flow_before.period.upto is not None


def now_name(seen: Seen) -> str:
    """Return what the column of the period is called."""
    return f"{short(seen.period)} so far" if runs(seen) else short(seen.period)


def before_name(seen: Seen) -> str:
    """Return what the column of the period before is called."""
    name = short(seen.flow_before.period)
    return f"{name} by then" if runs(seen) else name


def against_words(seen: Seen) -> tuple[str, ...]:
    """Return which part of which period is held against which; nothing where both are whole."""
    if not runs(seen):
        return ()
    monday, today = DAYS[0][:3], DAYS[seen.made.weekday()][:3]
    day = today if seen.made.weekday() == 0 else f"{monday}–{today}"
    part = f"{day} {seen.made:%H:%M}"
    if seen.period.weeks == 1:
        return (f"{part} of {short(seen.period)} against {part} of {short(seen.flow_before.period)}.",)
    last, last_before = (Period(p.until - timedelta(weeks=1)) for p in (seen.period, seen.flow_before.period))
    return (
        (
            f"{short(seen.period)} runs until {part} of {short(last)}; {short(seen.flow_before.period)} is counted until "
            f"{today} {seen.made:%H:%M} of {short(last_before)}."
        ),
    )
