"""Pictures people would rather look at than read: cap and leads, tightening order, bars of the cylinders.

Each is made from what is known of the vehicle and the task; where that is not enough there is no picture. The
task's own sum says which stands first.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shopcli.errors import ShopError
from shopcli.workings.bars import bar_picture
from shopcli.workings.frame import Value
from shopcli.worklists.engine_plan import banks
from shopcli.worklists.model import Task, VehicleFacts
from shopcli.worklists.sums import feed
from shopcli.worklists.workings_at_hand import ASCII_ONLY, pictured, work, working_named

CAP, ORDER, BARS, VALVES, TAGS = "cap", "order", "bars", "valves", "tags"
FIRST = {
    "lead-order": CAP,
    "tightening-order": ORDER,
    "compression-spread": BARS,
    "leak-down": BARS,
    "valve-sequence": VALVES,
    "valve-stops": VALVES,
    "firing-companions": VALVES,
}
BY_SYSTEM = {"ignition": CAP, "valve gear": VALVES}
TWO_ROWS = 2
FULL = 1.1  # a full bar is a little longer than the best reading


@dataclass(frozen=True, slots=True)
class Drawing:
    """A picture with what has to be said: `cautions` before it, `words` beneath it."""

    kind: str
    title: str
    rows: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Bar:
    """A reading to draw as a bar: which cylinder, how much, [any unit, the same for all], as said."""

    name: str
    value: float
    text: str


def first_kind(task: Task) -> str:
    """Return which picture a task is looked at with, by its sum, else by its system, else none.

    Examples
    --------
    >>> first_kind(Task("a:b", "a", "1", "Leads on", "ignition"))
    'cap'
    """
    named = FIRST.get(task.working.name, "") if task.working is not None else ""
    return named or BY_SYSTEM.get(task.system, "")


def in_turn(kinds: Sequence[str], first: str) -> int:
    """Return where among the pictures one begins."""
    return kinds.index(first) if first in kinds else 0


def _worked(name: str, inputs: Mapping[str, Value], kind: str, title: str, *, plain: bool) -> Drawing | None:
    """Work a sum for its picture; None where what is known is not enough."""
    try:
        working = working_named(name)
        worked = work(working, {**inputs, ASCII_ONLY: True} if plain else inputs)
    except ShopError:
        return None
    if not worked.picture:
        return None
    said = tuple(filter(None, (worked.verdict, *worked.steps)))
    return Drawing(kind, title, tuple(pictured(worked, plain=plain).splitlines()), worked.cautions, said)


def cap_drawing(facts: VehicleFacts, *, plain: bool = False) -> Drawing | None:
    """Return the cap with its leads; None where firing order or rotor are not known."""
    inputs: dict[str, Value] = {"firing_order": "-".join(facts.firing_order), "rotor": facts.rotor}
    told = banks(facts)
    if told is not None:
        inputs["banks"] = "/".join("-".join(bank) for bank in told)
    drawn = _worked("lead-order", inputs, CAP, "Cap and leads, seen from above", plain=plain)
    if drawn is None and "banks" in inputs:  # cylinders that are not numbered have banks no sum could read
        del inputs["banks"]
        drawn = _worked("lead-order", inputs, CAP, "Cap and leads, seen from above", plain=plain)
    if drawn is None:
        return None
    # What can hurt stands before the picture; what else is to be looked at stands beneath it.
    words = (*(f"! {one}" for one in drawn.cautions[1:]), *drawn.words)
    return Drawing(drawn.kind, drawn.title, drawn.rows, drawn.cautions[:1], words)


def order_drawings(task: Task, facts: VehicleFacts, *, plain: bool = False) -> tuple[Drawing, ...]:
    """Return the tightening orders that fit: the task's own first, then head and wheel by the facts."""
    told = dict(facts.other)
    asked: dict[str, dict[str, Value]] = {}
    if task.working is not None and task.working.name == "tightening-order":
        own = feed(task, {})
        asked[str(own.get("pattern", ""))] = own
    for pattern, fact in (("head", "head_bolts"), ("wheel or drum", "wheel_nuts")):
        count = told.get(fact, "")
        if count.isdecimal():
            asked.setdefault(pattern, {"pattern": pattern, "count": int(count)})
    drawn = (_order(pattern, inputs, told, plain=plain) for pattern, inputs in asked.items())
    return tuple(one for one in drawn if one is not None)


def _order(pattern: str, inputs: dict[str, Value], told: Mapping[str, str], *, plain: bool) -> Drawing | None:
    title = f"Tightening: {pattern}"
    count = inputs.get("count")
    if pattern == "head" and isinstance(count, int) and "rows" not in inputs:
        rows = told.get("head_bolt_rows", "")
        given = int(rows) if rows.isdecimal() and int(rows) and count % int(rows) == 0 else 0
        if not given and count % TWO_ROWS:
            return None
        wide = given or TWO_ROWS
        inputs = {**inputs, "rows": wide, "columns": count // wide}
        drawn = _worked("tightening-order", inputs, ORDER, title, plain=plain)
        guessed = "" if given else f"Drawn as two rows of {count // wide}: look whether the head is so."
        if drawn is None or not guessed:
            return drawn
        return Drawing(drawn.kind, drawn.title, drawn.rows, (guessed, *drawn.cautions), drawn.words)
    return _worked("tightening-order", inputs, ORDER, title, plain=plain)


def bars_drawing(
    title: str, bars: Sequence[Bar], limit: float | None = None, limit_text: str = "", *, plain: bool = False
) -> Drawing | None:
    """Return readings as bars, the limit as a line through them.

    Parameters
    ----------
    title : str
        What is read.
    bars : sequence of Bar
        At least two, none below nought.
    limit : float, optional
        Where the line stands, [the same unit]
    limit_text : str, optional
        What the limit is.
    plain : bool, optional
        Draw with plain characters.
    """
    values = [bar.value for bar in bars]
    if len(bars) < 2 or min(values) < 0 or max(values) <= 0:  # noqa: PLR2004 - one bar compares with nothing
        return None
    full = max([*values, limit or 0.0]) * FULL
    drawn = bar_picture(
        values,
        [bar.text for bar in bars],
        full=full,
        mark=limit,
        mark_text=limit_text if limit is not None else "",
        ascii_only=plain,
        names=[bar.name for bar in bars],
    )
    return Drawing(BARS, title, tuple(drawn.splitlines()))
