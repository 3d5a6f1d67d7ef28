"""The factor of an own expected time, in thousandths: alone in a file, for who only asks what is listed today."""

WHOLE = 1000


def scaled(minutes: int, per_mille: int) -> int:
    """Return minutes by a factor, to the nearest whole one; what took time still takes a minute at least.

    Examples
    --------
    >>> scaled(60, 1350), scaled(1, 250), scaled(0, 2000), scaled(5, 1100)
    (81, 1, 0, 6)
    """
    return max(1, (minutes * per_mille + WHOLE // 2) // WHOLE) if minutes else 0
