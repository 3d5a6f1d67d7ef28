"""Earlier visits of a reading in words: what it was last time, when, and where it has been going since."""

from dataclasses import dataclass

from shopcli.columns import shown
from shopcli.present import day, odometer
from shopcli.screens.bench.numberwords import unit_label
from shopcli.shop.earlier import EarlierView, Memory, same_before, way_of
from shopcli.units import on_tool, spoken
from shopcli.workings.trend import Trend
from shopcli.worklists.model import ReadingSlot, Task

ARROWS = {-1: "↘", 0: "→", 1: "↗"}
BURNING = "Tighter at every visit: a valve that does so is burning. s writes it down."
KEEPS_ON = "It has gone the same way at every visit."
# What goes on, and what has gone, by the end of a reading's name: falling, rising.
_WAYS = (
    (("clearance",), ("tightening", "opening up"), ("tighter", "wider")),
    (("gap",), ("closing", "opening"), ("smaller", "wider")),
    (("thickness", "depth", "length"), ("wearing", "growing"), ("less", "more")),
)
_OTHER = (("falling", "rising"), ("lower", "higher"))


@dataclass(frozen=True, slots=True)
class Past:
    """The earlier visits of one reading.

    `last` is what it was as typed, `figure` the same in today's unit, `way` where it goes, `warning` what that means.
    """

    last: str = ""
    arrow: str = ""
    when: str = ""
    way: str = ""
    warning: str = ""
    value: float | None = None
    figure: str = ""

    def __bool__(self) -> bool:
        """Whether there is anything to tell."""
        return bool(self.last)

    def sentence(self) -> str:
        """Say all of it but the warning.

        Examples
        --------
        >>> Past("6 thou", "↘", "Wed 12 Nov 2025, 61,230 mi", "2 thou tighter since").sentence()
        'last time 6 thou (Wed 12 Nov 2025, 61,230 mi) ↘ 2 thou tighter since'
        """
        way = f" {self.arrow} {self.way}" if self.way else ""
        return f"last time {self.last} ({self.when}){way}" if self.last else ""


def past(
    memory: Memory, task: Task, slot: ReadingSlot, unit: str, distance: str, now: tuple[float | None, float]
) -> Past:
    """Say what a reading was before.

    Parameters
    ----------
    memory : Memory
        What the vehicle brings along.
    task, slot
        Which reading.
    unit, distance : str
        Unit it is spoken in, unit of the odometer.
    now : tuple
        What is read now, None where nothing is yet, [canonical unit]; and when, [s] since the epoch.
    """
    before = same_before(memory, task, slot)
    if not before or not unit:
        return Past()
    last = before[-1]
    miles = f", {odometer(last.odometer, distance)}" if last.odometer is not None else ""
    found = way_of(before, *now, unit)
    taken = now[0] is not None
    return Past(
        last=value_words(last, unit),
        arrow=ARROWS[found.way] if found else "",
        when=f"{day(last.at.date())} {last.at.year}{miles}",
        way=way_words(found, slot.name, unit, taken=taken) if found else "",
        warning=warning_words(found, slot.name) if found else "",
        value=last.value,
        figure=on_tool(last.value, unit),
    )


def value_words(one: EarlierView, unit: str) -> str:
    """Return an earlier reading as it was typed, in the unit of today behind it where that is another one.

    Examples
    --------
    >>> from datetime import datetime
    >>> one = EarlierView("J1", datetime(2025, 1, 1), None, "t", "s", "", 0.0001524, "thou", "length", "6", "in")
    >>> value_words(one, "thou"), value_words(one, "mm")
    ('6 thou', '6 thou = 0.15 mm')
    """
    label = unit_label(one.unit)
    bare = not any(c.isalpha() or c in "\"'°%" for c in one.typed)
    typed = shown(f"{one.typed} {label}".strip() if bare else one.typed)
    return typed if one.unit == unit else f"{typed} = {on_tool(one.value, unit)}"


def _said(name: str) -> tuple[tuple[str, str], tuple[str, str]]:
    return next(((going, gone) for ends, going, gone in _WAYS if name.casefold().endswith(ends)), _OTHER)


def way_words(found: Trend, name: str, unit: str, *, taken: bool = True) -> str:
    """Say where a reading goes: from three visits on by the year, else by how much it has moved.

    Examples
    --------
    >>> two = Trend(2, 1.0, -0.00005, None, -1, False)
    >>> way_words(two, "clearance", "mm"), way_words(Trend(3, 2.0, -1e-4, -5e-5, -1, True), "clearance", "mm")
    ('0.05 mm tighter since', 'tightening 0.05 mm a year over 3 visits')
    >>> way_words(Trend(3, 2.0, 0.0, 0.0, 0, False), "points gap", "mm")
    'steady over 3 visits'
    """
    going, gone = _said(name)
    side = 0 if found.way < 0 else 1
    visits = f"over {found.visits} visits" if taken else f"over the last {found.visits} visits"
    if not found.way:
        return f"steady {visits}"
    if found.per_year is None:
        since = "since" if taken else "than the time before"
        return f"{spoken(abs(found.change), unit)} {gone[side]} {since}"
    return f"{going[side]} {spoken(abs(found.per_year), unit)} a year {visits}"


def warning_words(found: Trend, name: str) -> str:
    """Say what it means when a reading goes one way at every visit."""
    if not found.keeps:
        return ""
    return BURNING if name.casefold().endswith("clearance") and found.way < 0 else KEEPS_ON
