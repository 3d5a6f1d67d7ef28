"""What a picture of figures is made of, and how it is drawn with typewriter signs.

A chart holds values and the texts that stand for them; the terminal, the page and the typewriter draw it each in its own
way. Two series differ by their fill and are named: nothing depends on colour.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from shopcli.columns import cut, pad

HEIGHT = 6
SIGNS = "#="
LEAST_TOP = 4
STEPS = (2, 4, 6, 8, 10)
NAME_MOST = 30
LEAST_SLOT = 3  # two bars and the room between


@dataclass(frozen=True, slots=True)
class Series:
    """One row of bars, and the texts of their values."""

    name: str
    values: tuple[float, ...]
    said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Bars:
    """One or two series over the same names, all from nothing upwards."""

    IS: ClassVar[str] = "bars"
    title: str
    names: tuple[str, ...]
    series: tuple[Series, ...]

    @property
    def there(self) -> bool:
        """Whether there is anything to draw."""
        return bool(self.names)


@dataclass(frozen=True, slots=True)
class Range:
    """Where the values of something lie: half of them from `low` to `high`, the `middle` one between, and their text."""

    name: str
    low: float
    middle: float
    high: float
    said: str = ""


@dataclass(frozen=True, slots=True)
class Ranges:
    """Ranges below one another over one scale; `mark` is where they are held against."""

    IS: ClassVar[str] = "ranges"
    title: str
    rows: tuple[Range, ...]
    mark: float = 1.0
    marked: str = ""

    @property
    def there(self) -> bool:
        """Whether there is anything to draw."""
        return bool(self.rows)


Chart = Bars | Ranges


def top_of(values: Sequence[float]) -> int:
    """Return where the scale ends: the next round figure with a whole half.

    Examples
    --------
    >>> top_of([0, 3]), top_of([7.5]), top_of([41.2]), top_of([101]), top_of([])
    (4, 8, 60, 200, 4)
    """
    most = max((*values, LEAST_TOP))
    size = 1
    while most > STEPS[-1] * size:
        size *= 10
    return next(step * size for step in STEPS if most <= step * size)


def top_of_bars(chart: Bars) -> int:
    """Return where the scale of bars ends."""
    return top_of([value for one in chart.series for value in one.values])


def ends_of(chart: Ranges) -> tuple[float, float]:
    """Return where the scale of ranges begins and ends: a tenth beyond them and their mark."""
    values = [chart.mark, *(v for row in chart.rows for v in (row.low, row.high))]
    low, high = min(values), max(values)
    room = (high - low or 1.0) / 10
    return low - room, high + room


def alt(chart: Chart) -> str:
    """Return a chart in words, for who cannot see it.

    Examples
    --------
    >>> alt(Bars("Cards", ("W1", "W2"), (Series("opened", (1, 2), ("1", "2")),)))
    'Cards. opened: W1 1, W2 2.'
    """
    if isinstance(chart, Ranges):
        rows = "; ".join(f"{row.name}: {row.said}" for row in chart.rows)
        return f"{chart.title}. {rows}."
    parts = []
    for one in chart.series:
        values = zip(chart.names, one.said or (f"{v:g}" for v in one.values), strict=True)
        parts.append(f"{one.name}: {', '.join(f'{name} {said}' for name, said in values)}.")
    return " ".join([f"{chart.title}.", *parts])


def chart_text(chart: Chart, width: int) -> list[str]:
    """Return a chart typewritten, no line wider than the page."""
    return _ranges_text(chart, width) if isinstance(chart, Ranges) else _bars_text(chart, width)


def _bars_text(chart: Bars, width: int) -> list[str]:
    label = len(str(top_of_bars(chart))) + 1
    chart = _last_of(chart, (width - 4 - label) // LEAST_SLOT)
    if not chart.names:
        return []
    top = top_of_bars(chart)
    longest = max(map(len, chart.names))
    slot = min(max(8, longest + 1), (width - 4 - label) // len(chart.names))
    bar = max(1, (slot - 1) // max(1, len(chart.series)))
    key = "   ".join(f"{sign}{sign} {one.name}" for sign, one in zip(SIGNS, chart.series, strict=False))
    lines = _under(chart.title, key, width)
    for row in range(HEIGHT, 0, -1):
        tick = str(top) if row == HEIGHT else str(top // 2) if row == HEIGHT // 2 else ""
        cells = [_slot(chart, nth, row, top, bar, slot) for nth in range(len(chart.names))]
        lines.append(f"  {tick:>{label - 1}} {''.join(cells)}".rstrip())
    short = longest >= slot
    names = [pad(name[-(LEAST_SLOT - 1) :] if short else name, slot) for name in chart.names]
    return [*lines, f"  {'0':>{label - 1}} {''.join(names)}".rstrip()]


def _under(title: str, key: str, width: int) -> list[str]:
    """Return the title with what the signs mean, in one line or two."""
    one = f"  {title}: {key}".rstrip()
    return (
        [one]
        if len(one) <= width
        else [f"  {cut(title, width - 2, plain=True)}", f"  {cut(key, width - 2, plain=True)}"]
    )


def _last_of(chart: Bars, most: int) -> Bars:
    """Return a chart with no more than its last names."""
    series = tuple(Series(one.name, one.values[-most:], one.said[-most:]) for one in chart.series)
    return Bars(chart.title, chart.names[-most:], series)


def _slot(chart: Bars, nth: int, row: int, top: int, bar: int, slot: int) -> str:
    reach = (row - 0.5) * top / HEIGHT
    cells = [
        (sign if one.values[nth] >= reach or (row == 1 and one.values[nth] > 0) else " ") * bar
        for sign, one in zip(SIGNS, chart.series, strict=False)
    ]
    return "".join(cells).ljust(slot)


def _ranges_text(chart: Ranges, width: int) -> list[str]:
    if not chart.rows:
        return []
    names = min(NAME_MOST, max(len(row.name) for row in chart.rows))
    said = max(len(row.said) for row in chart.rows)
    room = width - 4 - names - said - 2
    low, high = ends_of(chart)
    lines = _under(chart.title, f"half of them from [ to ], * the middle one, | {chart.marked}", width)
    for row in chart.rows:
        at = [
            min(room - 1, max(0, round((v - low) / (high - low) * (room - 1))))
            for v in (chart.mark, row.low, row.high, row.middle)
        ]
        cells = ["-" if at[1] < i < at[2] else " " for i in range(room)]
        for place, sign in zip(at, "|[]*", strict=True):
            cells[place] = sign
        lines.append(
            f"  {pad(cut(row.name, names, plain=True), names)} {''.join(cells)} {row.said:>{said}}".rstrip()
        )
    return lines
