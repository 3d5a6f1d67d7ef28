"""The measuring tools a shop owns: what kinds there are, what each measures, and whether its calibration is in date.

Typed text becomes a range or a set of blades here, and only here, so that the register on the screen, the command
line and the rule read it alike.
"""

import re
from dataclasses import dataclass
from datetime import date

from shopcli.errors import BadInput
from shopcli.units import from_canonical, parse, to_canonical, unit_named
from shopcli.units.display import figure_in, plain
from shopcli.workings.feelers import owned_blades
from shopcli.workings.wrench_sums import SCALES, due_date, run_out

WRENCH, FEELERS = "torque wrench", "feeler set"
_SPAN = re.compile(
    r"(?P<low>[\d.,]+)\s*(?P<first>[^\d\s.,-]*)\s*(?:to|-|–)\s*(?P<high>[\d.,]+\s*\S.*)", re.IGNORECASE
)
_FIGURE = re.compile(r"\d+(?:[.,]\d+)?|[.,]\d+")
_SETS = re.compile(r"(?P<figures>[\d\s.,+/]+?)\s*(?P<unit>thou|mm|in|\")", re.IGNORECASE)
_FINEST = 6
LONGEST, MOST_BLADES_TEXT = 60, 600  # characters


@dataclass(frozen=True, slots=True)
class ToolKind:
    """A kind of tool: the quantities it reads and, where many tools read them, words in a number's name that call for it."""

    name: str
    quantities: tuple[str, ...]
    words: tuple[str, ...] = ()


TOOL_KINDS: dict[str, ToolKind] = {
    kind.name: kind
    for kind in (
        ToolKind(WRENCH, ("torque",)),
        ToolKind(FEELERS, ("length",), ("gap", "clearance", "lash", "play")),
        ToolKind("dial gauge", ("length", "offset"), ("end float", "run-out", "runout", "lift")),
        ToolKind("vernier", ("length",), ("diameter", "thickness", "depth", "tread", "height")),
        ToolKind("micrometer", ("length",), ("journal", "shim")),
        ToolKind("tyre gauge", ("pressure",), ("tyre",)),
        ToolKind("compression tester", ("pressure",), ("compression",)),
        ToolKind("vacuum gauge", ("pressure",), ("vacuum",)),
        ToolKind("pressure gauge", ("pressure",)),
        ToolKind("strobe lamp", ("crank angle",)),
        ToolKind("dwell meter", ("distributor angle",)),
        ToolKind("rev counter", ("rotation",)),
        ToolKind("multimeter", ("voltage", "current", "resistance", "capacitance")),
        ToolKind("hydrometer", ("density",)),
        ToolKind("thermometer", ("temperature",)),
        ToolKind("spring balance", ("force",)),
    )
}


@dataclass(frozen=True, slots=True)
class Span:
    """From where to where a tool reads, in its own unit, and the step of its scale."""

    low: float
    high: float
    unit: str
    graduation: float | None = None

    def text(self) -> str:
        """Say the range.

        Examples
        --------
        >>> Span(20, 100, "Nm").text()
        '20 to 100 N·m'
        """
        return f"{_said(self.low, self.unit)} to {_said(self.high, self.unit)} {unit_named(self.unit).label}".rstrip()

    def typed(self) -> str:
        """Return the range as it would be typed.

        Examples
        --------
        >>> Span(20, 100, "Nm").typed()
        '20 to 100 Nm'
        """
        return f"{self.low:g} to {self.high:g} {self.unit}"

    def step(self) -> str:
        """Return the step of the scale, empty when none is known.

        Examples
        --------
        >>> Span(20, 100, "Nm", 0.5).step(), Span(20, 100, "Nm").step()
        ('0.5', '')
        """
        return f"{self.graduation:g}" if self.graduation else ""

    def holds(self, value: float) -> bool:
        """Whether a canonical value lies on the scale."""
        return to_canonical(self.low, self.unit) <= value <= to_canonical(self.high, self.unit)


@dataclass(frozen=True, slots=True)
class OwnedTool:
    """A tool of the register. `trouble` says why it should not be used today, empty when nothing is known against it."""

    id: int
    name: str
    kind: str
    span: Span | None = None
    blades: str = ""
    calibrated: date | None = None
    due: date | None = None
    cycles: int = 0
    trouble: str = ""
    certificate: str = ""
    note: str = ""
    retired_for: str = ""
    version: int = 1


def _said(figure: float, unit: str) -> str:
    return plain(figure_in(to_canonical(figure, unit), unit))


def kind_named(name: str) -> ToolKind:
    """Return the kind of that name.

    Raises
    ------
    BadInput
        When there is none.
    """
    kind = TOOL_KINDS.get(name.strip().casefold())
    if kind is None:
        raise BadInput(
            f"no kind of tool is called '{name.strip()[:40]}'", hint="One of: " + ", ".join(TOOL_KINDS) + "."
        )
    return kind


def read_span(text: str, kind: ToolKind, graduation: str = "") -> Span | None:
    """Read from where to where a tool reads, as it is printed on it; nothing typed is no range.

    Parameters
    ----------
    text : str
        Like ``20 to 100 Nm``.
    kind : ToolKind
        What it is, for the unit.
    graduation : str, optional
        Step of the scale, ``0.5`` or ``0.5 Nm``.

    Raises
    ------
    BadInput, BadUnit
        When it cannot be read, is out of order, or a torque wrench has no range or no graduation.

    Examples
    --------
    >>> read_span("20-100 Nm", TOOL_KINDS["torque wrench"], "0.5")
    Span(low=20.0, high=100.0, unit='Nm', graduation=0.5)
    """
    if not text.strip():
        if kind.name == WRENCH:
            raise BadInput("a torque wrench has a range", hint="Like: 20 to 100 Nm.")
        return None
    found = _SPAN.fullmatch(text.strip()) if len(text) <= LONGEST else None
    if found is None:
        raise BadInput(f"the range '{text.strip()[:40]}' cannot be read", hint="Write it like 20 to 100 Nm.")
    high = _typed(found["high"], kind)
    unit = high[1]
    low = _figure(f"{found['low']} {found['first'] or unit}", kind, unit)
    if not 0 <= low < high[0]:
        raise BadInput("the range must rise from its lower end", hint="Write it like 20 to 100 Nm.")
    step = _step(graduation, kind, unit)
    if step is not None and step >= high[0]:
        raise BadInput(
            "one step of the scale is as long as the scale", hint="Write the smallest step, like 0.5."
        )
    if kind.name == WRENCH and unit not in SCALES:
        raise BadInput(
            f"no torque wrench of ours is marked in {unit}", hint="One of: " + ", ".join(SCALES) + "."
        )
    if kind.name == WRENCH and step is None:
        raise BadInput("a torque wrench has a graduation", hint="The smallest step of its scale, like 0.5.")
    return Span(low, high[0], unit, step)


def _typed(text: str, kind: ToolKind) -> tuple[float, str]:
    refused: BadInput | None = None
    for quantity in kind.quantities:
        try:
            typed = parse(text, quantity)
        except BadInput as error:
            refused = refused or error
        else:
            return typed.number, typed.unit
    raise refused or BadInput(f"'{text[:40]}' cannot be read")


def _figure(text: str, kind: ToolKind, unit: str) -> float:
    number, own = _typed(text, kind)
    return number if own == unit else from_canonical(to_canonical(number, own), unit)


def _step(text: str, kind: ToolKind, unit: str) -> float | None:
    text = text.strip()
    if not text:
        return None
    step = _figure(f"{text} {unit}" if _FIGURE.fullmatch(text) else text, kind, unit)
    if step <= 0:
        raise BadInput("a graduation is above nothing", hint="The smallest step of its scale, like 0.5.")
    return round(step, _FINEST)


def read_blades(text: str) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Read the blades of a feeler set: (thou, millimetres).

    Parameters
    ----------
    text : str
        Sizes with their unit, sets parted by ``;``.

    Raises
    ------
    BadInput
        When it cannot be read, or a blade is thinner than 0.01 mm or thicker than 10 mm.

    Examples
    --------
    >>> read_blades("2 3 4 thou; 0.05 0.10 mm")
    ((2.0, 3.0, 4.0), (0.05, 0.1))
    """
    if len(text) > MOST_BLADES_TEXT:
        raise BadInput("these are more blades than a set has", hint="Like: 2 3 4 5 6 thou; 0.05 0.10 mm.")
    thou: list[float] = []
    metric: list[float] = []
    for part in filter(None, (p.strip() for p in text.split(";"))):
        found = _SETS.fullmatch(part)
        figures = _FIGURE.findall(found["figures"]) if found else []
        if found is None or not figures:
            raise BadInput(
                f"the blades '{part[:40]}' cannot be read", hint="Like: 2 3 4 5 6 thou; 0.05 0.10 mm."
            )
        sizes = [float(f.replace(",", ".")) for f in figures]
        unit = found["unit"].casefold()
        if unit == "mm":
            metric += sizes
        else:
            thou += sizes if unit == "thou" else [round(size * 1000, 3) for size in sizes]
    owned_blades(thou, metric)
    return tuple(thou), tuple(metric)


def blades_text(thou: tuple[float, ...], metric: tuple[float, ...]) -> str:
    """Write blades as they are kept and read again.

    Examples
    --------
    >>> blades_text((2.0, 1.5), (0.05,))
    '1.5 2 thou; 0.05 mm'
    """
    sets = [
        f"{' '.join(f'{size:g}' for size in sorted(sizes))} {unit}"
        for sizes, unit in ((thou, "thou"), (metric, "mm"))
        if sizes
    ]
    return "; ".join(sets)


def due_of(calibrated: date | None, months: int) -> date | None:
    """Return the day a calibration runs out; None where none is noted."""
    return None if calibrated is None else due_date(calibrated, months)


def trouble_of(
    kind: str, calibrated: date | None, cycles: int, today: date, months: int, most_cycles: int
) -> str:
    """Say why a tool should not be used today, empty where nothing is known against it.

    A torque wrench must have a calibration; for other tools the date counts where one is noted.

    Examples
    --------
    >>> trouble_of("torque wrench", None, 0, date(2026, 1, 1), 12, 5000)
    'no calibration is noted'
    >>> trouble_of("tyre gauge", None, 0, date(2026, 1, 1), 12, 5000)
    ''
    """
    if calibrated is None:
        return "no calibration is noted" if kind == WRENCH else ""
    return run_out(calibrated, cycles if kind == WRENCH else 0, today, months, most_cycles)
