"""Which of the shop's tools a task's numbers call for, and what to set or stack: one line to read at arm's length."""

from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from shopcli.errors import ShopError
from shopcli.units import Limits, Preferences, from_canonical, to_canonical, unit_named
from shopcli.units.display import figure_in, plain, with_label
from shopcli.units.preferences import GAP
from shopcli.workings.feelers import FEELER_STACK
from shopcli.workings.wrench_sums import Choice, Wrench, judge_wrench, rank
from shopcli.worklists.model import ReadingSlot, Task
from shopcli.worklists.tools import FEELERS, TOOL_KINDS, WRENCH, OwnedTool, ToolKind, read_blades

_A_DAY = date(2000, 1, 1)  # wrenches are ranked by range and scale; whether they are in date is known already
_KEPT = 2048


@dataclass(frozen=True, slots=True)
class Advice:
    """The tool for one number. `text` says it whole; `trouble` why the tool should not be used today.

    `unit` is the one it is marked in, empty where it has none or more than one.
    """

    spec: str
    text: str
    tool: str = ""
    trouble: str = ""
    unit: str = ""


def advice(task: Task, owned: tuple[OwnedTool, ...], prefs: Preferences) -> tuple[Advice, ...]:
    """Return the tools a task's numbers call for, each said once."""
    asked: list[tuple[str, str, str, Limits | None]] = [
        (s.name, s.label, s.limits.quantity, s.limits) for s in task.specs
    ]
    asked += [("", s.name, s.quantity, None) for s in task.readings if not s.spec and s.quantity]
    told: dict[str, Advice] = {}
    for spec, label, quantity, limits in asked:
        found = fitting(spec, label, quantity, limits, owned, prefs)
        if found is not None:
            told.setdefault(found.text, found)
    return tuple(told.values())


def tool_for(
    task: Task, slot: ReadingSlot, owned: tuple[OwnedTool, ...], prefs: Preferences
) -> Advice | None:
    """Return the tool a reading is to be taken with, None where the register has none that fits."""
    spec = task.spec(slot.spec) if slot.spec else None
    if spec is None:
        return fitting("", slot.name, slot.quantity, None, owned, prefs) if slot.quantity else None
    return fitting(spec.name, spec.label, spec.limits.quantity, spec.limits, owned, prefs)


@lru_cache(maxsize=_KEPT)
def fitting(
    spec: str,
    label: str,
    quantity: str,
    limits: Limits | None,
    owned: tuple[OwnedTool, ...],
    prefs: Preferences,
) -> Advice | None:
    """Return the tool that fits a number, None where the shop owns none of the kind it calls for."""
    for kind in _kinds(f"{spec} {label}".replace("_", " ").casefold(), quantity, limits):
        tools = tuple(t for t in owned if t.kind == kind.name and not t.retired_for)
        if tools:
            found = _of_kind(kind, spec, limits, tools, prefs)
            if found is not None:
                return found
    return None


def _kinds(words: str, quantity: str, limits: Limits | None) -> list[ToolKind]:
    """Return the kinds that read a quantity: those the number's name calls for first."""
    reading = [k for k in TOOL_KINDS.values() if quantity in k.quantities]
    called = [k for k in reading if any(word in words for word in k.words)]
    if called:
        return called
    if quantity == "length":  # many tools read one: only what is thin enough for blades is sure to be a gap
        target = _target(limits) if limits else None
        return [TOOL_KINDS[FEELERS]] if target is not None and target <= GAP else []
    return [k for k in reading if not k.words]


def _target(limits: Limits) -> float:
    if limits.nominal is not None:
        return limits.nominal
    ends = [v for v in (limits.low, limits.high) if v is not None]
    return sum(ends) / len(ends)


def _of_kind(
    kind: ToolKind, spec: str, limits: Limits | None, tools: tuple[OwnedTool, ...], prefs: Preferences
) -> Advice | None:
    if kind.name == WRENCH:
        return _wrench(spec, limits, tools) if limits else None
    if kind.name == FEELERS:
        return _feelers(spec, limits, tools, prefs) if limits else None
    held = [t for t in tools if limits is None or t.span is None or t.span.holds(_target(limits))]
    if not held:
        return None
    tool = min(
        held,
        key=lambda t: (bool(t.trouble), t.span is None, t.span.high - t.span.low if t.span else 0.0, t.name),
    )
    return named(tool, spec)


def named(tool: OwnedTool, spec: str = "") -> Advice:
    """Return a tool as it is named, with its range."""
    if tool.span is not None:
        return Advice(spec, f"{tool.name}, {tool.span.text()}", tool.name, tool.trouble, tool.span.unit)
    thou, metric = read_blades(tool.blades) if tool.blades else ((), ())
    unit = "" if thou and metric else "thou" if thou else "mm" if metric else ""
    return Advice(spec, tool.name, tool.name, tool.trouble, unit)


# Torque -----------------------------------------------------------------------------------------------


def _wrench(spec: str, limits: Limits, tools: tuple[OwnedTool, ...]) -> Advice | None:
    torque = _target(limits)
    try:
        judged = [(_judged(tool, torque, limits), tool) for tool in tools]
    except ShopError:  # a torque beyond any wrench of a shop
        return None
    by_name = {tool.name: tool for _choice, tool in judged}
    order = rank([choice for choice, _tool in judged])
    sound = [c for c in order if c.usable and not by_name[c.wrench.name].trouble]
    best = next(iter(sound or [c for c in order if c.usable]), None)
    if best is None or best.setting is None:
        nearest = min(order, key=lambda c: abs(c.place - 1))
        return Advice(spec, f"no torque wrench of ours fits ({nearest.wrench.name}: {nearest.reason})")
    tool = by_name[best.wrench.name]
    span = tool.span.text() if tool.span else ""
    # With its unit: the wrench may be marked in another one than the number is read in.
    unit = unit_named(best.wrench.unit)
    setting = with_label(plain(figure_in(to_canonical(best.setting, unit.symbol), unit.symbol)), unit)
    return Advice(spec, f"{tool.name}, {span}, set {setting}", tool.name, tool.trouble, unit.symbol)


def _judged(tool: OwnedTool, torque: float, limits: Limits) -> Choice:
    span = tool.span
    if span is None or span.graduation is None:
        raise ShopError(f"{tool.name} has no range")
    wrench = Wrench(tool.name, span.low, span.high, span.unit, span.graduation, _A_DAY, 0)
    choice = judge_wrench(wrench, torque, _A_DAY)
    if choice.usable and choice.setting is not None and (limits.low is not None or limits.high is not None):
        set_to = to_canonical(choice.setting, span.unit)
        # A limit printed to its last digit is met by a mark that rounds onto it.
        low, high = limits.band()
        slack = (limits.step or 0.0) / 2
        if (low is not None and set_to < low - slack) or (high is not None and set_to > high + slack):
            reason = "scale too coarse: no mark within the limits"
            return Choice(wrench, False, reason, choice.setting, choice.error_percent, choice.place)
    return choice


# Feeler blades ----------------------------------------------------------------------------------------


def _feelers(spec: str, limits: Limits, tools: tuple[OwnedTool, ...], prefs: Preferences) -> Advice | None:
    inches = prefs.unit_for("length", "mm") == "thou"
    laid = [found for tool in tools if (found := _stack(spec, limits, tool, inches=inches)) is not None]
    return min(laid, key=lambda rank_and_advice: rank_and_advice[0])[1] if laid else None


def _stack(
    spec: str, limits: Limits, tool: OwnedTool, *, inches: bool
) -> tuple[tuple[int, ...], Advice] | None:
    """Return how good a set is for a gap, least best, and what to stack of it."""
    try:
        thou, metric = read_blades(tool.blades)
        given: dict[str, float | None] = {
            "gap_mm": _millimetres(_target(limits)),
            "low_mm": None if limits.low is None else _millimetres(limits.low),
            "high_mm": None if limits.high is None else _millimetres(limits.high),
        }
        if limits.low is None and limits.high is None:
            half = (limits.step or 0.0) / 2
            given["tolerance_mm"] = max(0.01, _millimetres(half))
        worked = FEELER_STACK.run(
            **{k: v for k, v in given.items() if v is not None},
            inch_blades_thou=thou,
            metric_blades_mm=metric,
        )
    except ShopError:  # thinner or thicker than blades are good for
        return None
    blades = next((r.value for r in worked.results if r.name == "setting_blades"), None)
    if not isinstance(blades, tuple):
        return (2, 0, 0), Advice(spec, f"{tool.name}: no stack within the limits", tool.name, tool.trouble)
    liked = bool(thou) if inches else bool(metric)
    labels = tuple(map(str, blades))
    marked = {label.rpartition(" ")[2] for label in labels}
    unit = marked.pop() if len(marked) == 1 else ""
    found = Advice(spec, f"{tool.name}: {said_blades(labels)}", tool.name, tool.trouble, unit)
    return (int(bool(tool.trouble)), int(not liked), len(blades)), found


def _millimetres(value_m: float) -> float:
    return round(from_canonical(value_m, "mm"), 4)


def said_blades(labels: tuple[str, ...]) -> str:
    """Say a stack, thinnest first, the unit once where all have it.

    Examples
    --------
    >>> said_blades(("10 thou", "8 thou")), said_blades(("0.15 mm",)), said_blades(("0.10 mm", "6 thou"))
    ('8 + 10 thou', '0.15 mm', '6 thou + 0.10 mm')
    """
    turned = labels[::-1]
    units = {label.rpartition(" ")[2] for label in turned}
    if len(units) == 1:
        return " + ".join(label.rpartition(" ")[0] for label in turned) + f" {units.pop()}"
    return " + ".join(turned)
