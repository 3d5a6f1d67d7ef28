"""What stands between a car and the road, in words: what was seen on it, tags, owed checks. The same on every screen."""

from shopcli.columns import shown
from shopcli.present import day, odometer, owed_state
from shopcli.shop.known import FindingView, OwedView
from shopcli.shop.views import TagView

OVERDUE = "! overdue"


def tag_words(tag: TagView) -> str:
    """Say who hung a tag, when, on which card."""
    return shown(
        f"{tag.name}, hung by {tag.hung_by} {day(tag.hung_at.date())} {tag.hung_at:%H:%M}, {tag.card}"
    )


def stop_words(finding: FindingView) -> str:
    """Say that and why a car is not to be driven."""
    return shown(f"not to be driven: {finding.what} ({finding.place})")


def stop_told(finding: FindingView) -> str:
    """Say that and why a car is not to be driven, who saw it and when."""
    return shown(f"{stop_words(finding)}, seen by {finding.seen_by} {day(finding.seen)}, {finding.card}")


def owed_words(owed: OwedView, unit: str) -> str:
    """Say what is owed and when; what falls due after the hand-over is not owed now.

    Examples
    --------
    >>> owed_words(OwedView(1, "Check the dwell", "hand-over", None, None, "owed", "", "", "", ""), "mi")
    '! owed Check the dwell, before hand-over'
    >>> oil = 1, "Change the oil", "distance", 51_213, None, "owed", "", "", "", ""
    >>> owed_words(OwedView(*oil), "mi"), owed_words(OwedView(*oil, due=True), "mi")
    ('due Change the oil, at 51,213 mi', '! overdue Change the oil, at 51,213 mi')
    """
    due = "before hand-over"
    if owed.due_odometer is not None:
        due = f"at {odometer(owed.due_odometer, unit)}"
    elif owed.due_date is not None:
        due = f"by {day(owed.due_date)} {owed.due_date.year}"
    elif owed.before != "hand-over":
        due = "later"
    state = "due" if owed.for_later else OVERDUE if owed.overdue else owed_state(owed.state)
    return shown(f"{state} {owed.title}, {due}")
