"""What the people of the invented shop type: figures as their tools show them, in the units they speak.

A reading is derived from the limits it will be judged by: as found now and then a little out, as left well
inside. Nothing is left to chance; the same place on the same car reads the same every time the demo is made.
"""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from zlib import crc32

from shopcli.units import IMPERIAL, METRIC, UNITS, Limits
from shopcli.units.display import figure_in
from shopcli.worklists.model import ReadingSlot

OUT_OF_A_HUNDRED = 45  # so many readings as found are out
_MARKS = 8  # so many marks of the tool between low and high; finer is not read at the bench
_TOWARDS = {"belt deflection": 1}  # a slack belt bends further; nearly all else wears towards low
_EITHER_WAY = frozenset({"crank angle", "rotation"})
_SET_EXACTLY = frozenset({"torque"})  # a torque wrench is set, not read
THOUSANDS = 3  # figures behind a comma that make it a separator of thousands
_WAYS: dict[str, tuple[str, ...]] = {
    "mm": ("{0} mm", "{,} mm", "{0} mm"),
    "in": ('{.}"', "{0} in"),
    "lbf.ft": ("{0} lbf ft", "{0} ft-lb", "{0} lb ft"),
    "Nm": ("{0} Nm",),
    "psi": ("{0} psi",),
    "bar": ("{0} bar", "{,} bar"),
    "deg_crank": ("{0} deg", "{0} btdc"),
    "deg_dist": ("{0} deg", "{0}°"),
    "rpm": ("{0} rpm", "{0}"),
    "V": ("{0} V", "{,} V"),
    "sg": ("{0}",),
    "L": ("{0} L", "{,} l"),
    "pt_imp": ("{0} imp pt",),
}
TOOLS = {
    "length": "feeler blades",
    "torque": "wrench 2",
    "pressure": "tyre gauge",
    "crank angle": "strobe lamp",
    "distributor angle": "dwell meter",
    "rotation": "rev counter",
    "voltage": "meter",
    "density": "hydrometer",
    "volume": "measuring can",
}
_OTHER_TOOLS = {
    "drum diameter": "vernier",
    "lining thickness": "vernier",
    "pad thickness": "vernier",
    "belt deflection": "rule",
}


def chance(*seed: object) -> int:
    """Return a number from 0 to 99 that looks drawn and is always the same for the same words.

    Examples
    --------
    >>> chance("LRK 120", "points gap") == chance("LRK 120", "points gap")
    True
    """
    return crc32("\x1f".join(map(str, seed)).encode()) // 7 % 100


def tool_for(slot: ReadingSlot, quantity: str) -> str:
    """Return the tool a reading is taken with."""
    return _OTHER_TOOLS.get(slot.name) or TOOLS.get(quantity, "")


@dataclass(frozen=True, slots=True)
class Scale:
    """The marks of a tool around a limit: figures in its unit, from `low` to `high` in steps of `step`."""

    unit: str
    low: Decimal
    high: Decimal
    step: Decimal
    best: Decimal

    def mark(self, figure: Decimal) -> Decimal:
        """Return the mark nearest to a figure."""
        return (figure / self.step).quantize(Decimal(1), ROUND_HALF_UP) * self.step

    def inside(self, figure: Decimal) -> Decimal:
        """Return the mark nearest to a figure that is in limits; the wanted figure itself if none is."""
        mark = self.mark(figure)
        for near in (mark, mark - self.step, mark + self.step):
            if self.low <= near <= self.high:
                return near
        return self.best


def scale_of(limits: Limits, *, imperial: bool) -> Scale:
    """Return the scale a person speaking these units reads the number on."""
    prefs = IMPERIAL if imperial else METRIC
    largest = max(abs(v) for v in limits.values if v is not None)
    unit = prefs.unit_for(limits.quantity, limits.unit, largest)
    low_si, high_si = limits.band(unit)
    printed = limits.printed_for(unit)
    if printed is not limits:
        low_si, high_si = printed.band(unit)
    low = figure_in(low_si, unit) if low_si is not None else None
    high = figure_in(high_si, unit) if high_si is not None else None
    nominal = None if printed.nominal is None else figure_in(printed.nominal, unit)
    if low is None:
        low = nominal if nominal is not None else (high or Decimal(0)) / 2
    if high is None:
        high = low * 2
    best = nominal if nominal is not None else (low + high) / 2
    return Scale(unit, low, high, _step(high - low, unit), best)


def _step(width: Decimal, unit: str) -> Decimal:
    """Return a step of 1, 2 or 5 that parts `width` into few marks, no finer than the tool."""
    wanted = max(Decimal(str(UNITS[unit].graduation)), width / _MARKS)
    ten = Decimal(1).scaleb(wanted.adjusted())
    return next(ten * times for times in (1, 2, 5, 10) if ten * times >= wanted)


def typed(limits: Limits, slot: ReadingSlot, *, imperial: bool, seed: str) -> str:
    """Return what a person types for a reading.

    Parameters
    ----------
    limits : Limits
        What it will be judged by.
    slot : ReadingSlot
        Which reading, and whether as found or as left.
    imperial : bool
        Whether the person's tools are marked in inches.
    seed : str
        The car: the same words give the same figure.

    Examples
    --------
    >>> slot = ReadingSlot("clearance@1 inlet|as left", "clearance", "valve 1 inlet", "as left")
    >>> typed(Limits.of("length", "thou", 5, 6, 7), slot, imperial=True, seed="LRK 120")
    '6 thou'
    """
    scale = scale_of(limits, imperial=imperial)
    draw = chance(seed, slot.key)
    if slot.phase == "as found" and draw < OUT_OF_A_HUNDRED and None not in limits.band():
        figure = _out(scale, slot, limits.quantity, draw)
    elif limits.quantity in _SET_EXACTLY:
        figure = scale.inside(scale.best)
    else:
        figure = scale.inside(scale.best + (scale.high - scale.low) * (draw % 3 - 1) / 10)
    return _text(figure, scale.unit, draw)


def _out(scale: Scale, slot: ReadingSlot, quantity: str, draw: int) -> Decimal:
    towards = _TOWARDS.get(slot.name, -1)
    if quantity in _EITHER_WAY and draw % 2:
        towards = 1
    beyond = scale.step * (1 + draw % 2)
    figure = scale.mark(scale.high if towards > 0 else scale.low) + towards * beyond
    return max(figure, scale.step)


def _text(figure: Decimal, unit: str, draw: int) -> str:
    plain = format(figure.normalize(), "f")
    if unit == "thou":
        # Feelers say thou, micrometers say inches: the same blade, written two ways.
        return f'.{int(figure):03d}"' if draw % 3 == 1 and figure == int(figure) else f"{plain} thou"
    ways = _WAYS.get(unit, ("{0} " + UNITS[unit].label,))
    way = ways[draw % len(ways)]
    # "0,15" is said with a comma; three figures behind one would read as thousands.
    comma = plain.replace(".", ",") if len(plain.partition(".")[2]) < THOUSANDS else plain
    return way.replace("{,}", comma).replace("{.}", plain.removeprefix("0")).replace("{0}", plain)
