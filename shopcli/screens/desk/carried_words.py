"""What earlier visits left, in words: the same in the intake form, in its pop-up and at the command line."""

from shopcli.present import day, odometer, severity
from shopcli.shop.known import Carried


def carried_title(one: Carried) -> str:
    """Say what was left: a finding with how bad it is, a check as what is owed."""
    return f"{severity(one.severity)}: {one.title}" if one.severity else f"! owed: {one.title}"


def carried_note(one: Carried, unit: str) -> str:
    """Say who left it, when and on which card, when it falls due, what it takes, and the job it wants.

    Examples
    --------
    >>> from datetime import date
    >>> hose = Carried("finding:3", "bay: hose", "Tom", date(2026, 11, 25), "J00001", severity="soon", takes="2 m")
    >>> carried_note(hose, "mi")
    'Tom, Wed 25 Nov, J00001; takes: 2 m'
    """
    told = [", ".join(filter(None, (one.by, day(one.on), one.card)))]
    told += [f"due {due}" if one.due else f"not due yet: {due}"] if (due := due_words(one, unit)) else []
    told += [f"takes: {one.takes}"] if one.takes else []
    told += [f"wants the job {one.wanted}"] if one.wanted else []
    told += [f"photo {one.photo}"] if one.photo else []
    return "; ".join(told)


def due_words(one: Carried, unit: str) -> str:
    """Say at which odometer or on which day a check is due; nothing for a finding."""
    far = f"at {odometer(one.due_odometer, unit)}" if one.due_odometer is not None else ""
    when = f"{day(one.due_date)} {one.due_date.year}" if one.due_date else ""
    return " or ".join(filter(None, (far, when)))
