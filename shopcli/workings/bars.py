"""One bar for each cylinder, so that a weak one is seen before a figure is read."""

from collections.abc import Sequence

from shopcli.workings.say import plain_picture

_WIDTH = 40


def bar_picture(
    values: Sequence[float],
    texts: Sequence[str],
    *,
    full: float,
    mark: float | None = None,
    mark_text: str = "",
    ascii_only: bool = False,
    names: Sequence[str] = (),
) -> str:
    """Bars of readings, cylinder after cylinder, with a line at a limit.

    Parameters
    ----------
    values : sequence of float
        One for each cylinder, 0 to `full`, [any unit]
    texts : sequence of str
        What stands behind each bar.
    full : float
        Value of a bar of full length, above 0, [the same]
    mark : float, optional
        Where to draw the limit, [the same]
    mark_text : str, optional
        What the limit is.
    ascii_only : bool, optional
        Draw with plain keyboard characters.
    names : sequence of str, optional
        How the cylinders are called; from 1 on when left out.

    Returns
    -------
    str
        Lines of at most 80 columns where the names are short.

    Examples
    --------
    >>> print(bar_picture([100.0, 50.0], ["100", "50"], full=100.0, mark=75.0, ascii_only=True))
    No.  1 |##############################:#########| 100
    No.  2 |####################..........:.........| 50
    """
    column = None if mark is None else round(_WIDTH * mark / full)
    called = names or [str(number) for number in range(1, len(values) + 1)]
    wide = max((len(name) for name in called), default=0)
    lines = []
    for name, value, text in zip(called, values, texts, strict=True):
        filled = max(0, min(_WIDTH, round(_WIDTH * value / full)))
        bar = list("█" * filled + "░" * (_WIDTH - filled))
        if column is not None and 0 <= column < _WIDTH:
            bar[column] = "┊"
        lines.append(f"No. {name:>{max(2, wide)}} │{''.join(bar)}│ {text}".rstrip())
    if mark_text:
        lines.append(f"┊ {mark_text}")
    drawn = "\n".join(lines)
    return plain_picture(drawn) if ascii_only else drawn
