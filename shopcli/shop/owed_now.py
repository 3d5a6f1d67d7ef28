"""Which promised checks are to be done before a card is handed over: one answer for desk, bench and closing check."""

from datetime import date


def is_due(before: str, due_odometer: int | None, due_date: str, odometer: int | None, today: date) -> bool:
    """Say whether a promised check is due now; one from a visit that is over and had no later term is.

    Examples
    --------
    >>> day = date(2026, 11, 25)
    >>> is_due("distance", 48_700, "", 48_700, day), is_due("date", None, "2026-11-26", 50_000, day)
    (True, False)
    >>> is_due("distance", 48_700, "", None, day), is_due("hand-over", None, "", None, day)
    (False, True)
    """
    if due_odometer is None and not due_date:
        return before == "hand-over"
    far = due_odometer is not None and odometer is not None and odometer >= due_odometer
    return far or bool(due_date and due_date <= today.isoformat())


def is_owed_here(before: str, *, mine: bool, over: bool, due: bool) -> bool:
    """Whether a check is owed on a card: promised on it, or left by another visit and due now.

    Parameters
    ----------
    before : str
        Before what it was promised: ``hand-over``, else a day or a distance.
    mine, over : bool
        Whether it was promised on this very card, and whether the card it was promised on is closed or void.
    due : bool
        Whether its day or its distance has come.

    Examples
    --------
    >>> is_owed_here("hand-over", mine=True, over=False, due=True), is_owed_here("distance", mine=True, over=False, due=True)
    (True, False)
    >>> is_owed_here("distance", mine=False, over=True, due=True), is_owed_here("hand-over", mine=False, over=False, due=True)
    (True, False)
    """
    return before == "hand-over" if mine else due and (before != "hand-over" or over)
