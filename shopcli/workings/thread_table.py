"""The thread sizes that exist, and how people write them.

Diameters and areas come from `thread_forms`; only the pairs of size and pitch are tables.
"""

import re
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from functools import cache

from shopcli.errors import BadInput, NotFound
from shopcli.workings.say import trimmed
from shopcli.workings.telling import MM_PER_INCH
from shopcli.workings.thread_forms import (
    MAX_BA,
    ba_sizes_mm,
    mean_area_mm2,
    metric_stress_area_mm2,
    unified_stress_area_in2,
    whitworth_diameters_in,
)

_LONGEST = 40

METRIC_COARSE: dict[float, float] = {
    3: 0.5, 4: 0.7, 5: 0.8, 6: 1.0, 7: 1.0, 8: 1.25, 10: 1.5, 12: 1.75,
    14: 2.0, 16: 2.0, 18: 2.5, 20: 2.5, 22: 2.5, 24: 3.0,
}  # fmt: skip
METRIC_FINE: dict[float, tuple[float, ...]] = {
    6: (0.75,), 8: (1.0, 0.75), 10: (1.25, 1.0), 12: (1.5, 1.25, 1.0), 14: (1.5, 1.25),
    16: (1.5,), 18: (2.0, 1.5), 20: (2.0, 1.5), 22: (2.0, 1.5), 24: (2.0, 1.5),
}  # fmt: skip
UNC: dict[str, int] = {
    "#4": 40, "#6": 32, "#8": 32, "#10": 24, "#12": 24, "1/4": 20, "5/16": 18, "3/8": 16,
    "7/16": 14, "1/2": 13, "9/16": 12, "5/8": 11, "3/4": 10, "7/8": 9, "1": 8,
}  # fmt: skip
UNF: dict[str, int] = {
    "#4": 48, "#6": 40, "#8": 36, "#10": 32, "#12": 28, "1/4": 28, "5/16": 24, "3/8": 24,
    "7/16": 20, "1/2": 20, "9/16": 18, "5/8": 18, "3/4": 16, "7/8": 14, "1": 12,
}  # fmt: skip
BSW: dict[str, int] = {
    "1/8": 40, "3/16": 24, "1/4": 20, "5/16": 18, "3/8": 16, "7/16": 14, "1/2": 12,
    "9/16": 12, "5/8": 11, "11/16": 11, "3/4": 10, "7/8": 9, "1": 8,
}  # fmt: skip
BSF: dict[str, int] = {
    "3/16": 32, "7/32": 28, "1/4": 26, "5/16": 22, "3/8": 20, "7/16": 18, "1/2": 16,
    "9/16": 16, "5/8": 14, "11/16": 14, "3/4": 12, "7/8": 11, "1": 10,
}  # fmt: skip
INCH_SERIES: dict[str, dict[str, int]] = {"UNC": UNC, "UNF": UNF, "BSW": BSW, "BSF": BSF}


@dataclass(frozen=True, slots=True)
class Thread:
    """One thread size; diameters and pitch in mm, `turns_per_inch` None where the family counts in mm."""

    name: str
    family: str
    series: str
    angle_deg: float
    major_mm: float
    pitch_mm: float
    turns_per_inch: int | None
    effective_mm: float
    minor_mm: float
    stress_area_mm2: float
    area_rule: str


def inch_size(text: str) -> float:
    """Diameter of an inch size: a fraction, or a number size by 0.060 + 0.013 n.

    Parameters
    ----------
    text : str
        ``3/8``, ``1`` or ``#10``.

    Returns
    -------
    float
        Diameter, [in]

    Examples
    --------
    >>> inch_size("3/8"), round(inch_size("#10"), 3)
    (0.375, 0.19)

    References
    ----------
    .. [1] ASME B1.1 number sizes: #10 is 0.190 in.
    """
    if text.startswith("#"):
        return 0.060 + 0.013 * int(text[1:])
    return float(Fraction(text))


def _metric(diameter_mm: float, pitch_mm: float, series: str) -> Thread:
    name = f"M{trimmed(diameter_mm, 1)}x{trimmed(pitch_mm, 2)}"
    area = metric_stress_area_mm2(diameter_mm, pitch_mm)
    effective, minor = diameter_mm - 0.649519 * pitch_mm, diameter_mm - 1.226869 * pitch_mm
    rule = "pi/4 (d - 0.9382 P)^2, ISO 898-1"
    return Thread(name, "metric", series, 60, diameter_mm, pitch_mm, None, effective, minor, area, rule)


def _inch(size: str, series: str) -> Thread:
    turns, diameter = INCH_SERIES[series][size], inch_size(size)
    pitch_mm, major_mm = MM_PER_INCH / turns, diameter * MM_PER_INCH
    name = f"{size}-{turns} {series}"
    if series in {"UNC", "UNF"}:
        area = unified_stress_area_in2(diameter, turns) * MM_PER_INCH**2
        effective, minor = major_mm - 0.649519 * pitch_mm, major_mm - 1.226869 * pitch_mm
        rule = "pi/4 (D - 0.9743/n)^2, FED-STD-H28/2B"
        return Thread(name, "Unified", series, 60, major_mm, pitch_mm, turns, effective, minor, area, rule)
    effective, minor = (x * MM_PER_INCH for x in whitworth_diameters_in(diameter, turns))
    rule = "mean of effective and minor diameter; common practice, no source"
    area = mean_area_mm2(effective, minor)
    return Thread(name, "Whitworth", series, 55, major_mm, pitch_mm, turns, effective, minor, area, rule)


def _ba(number: int) -> Thread:
    pitch, major, effective, minor = ba_sizes_mm(number)
    rule = "mean of effective and minor diameter; common practice, no source"
    area = mean_area_mm2(effective, minor)
    return Thread(f"{number}BA", "BA", "BA", 47.5, major, pitch, None, effective, minor, area, rule)


@cache
def table() -> tuple[Thread, ...]:
    """Every thread this module knows, by family and size.

    Examples
    --------
    >>> len(table()) > 80
    True
    """
    coarse = [_metric(d, p, "coarse") for d, p in METRIC_COARSE.items()]
    fine = [_metric(d, p, "fine") for d, pitches in METRIC_FINE.items() for p in pitches]
    inches = [_inch(size, series) for series, sizes in INCH_SERIES.items() for size in sizes]
    return (*coarse, *fine, *inches, *(_ba(n) for n in range(MAX_BA + 1)))


def find(text: str) -> Thread:
    """Thread by the way people write it: ``M8``, ``M10x1.25``, ``5/16 UNF``, ``1/4-20 UNC``, ``2BA``.

    Parameters
    ----------
    text : str
        Designation.

    Returns
    -------
    Thread
        The size; a metric size without pitch is the coarse one.

    Raises
    ------
    BadInput
        If the text is no designation, or a fraction without its series.
    NotFound
        If the size is not in the table.

    Examples
    --------
    >>> find("m8").name, find("3/8 in. BSF").name, find("1/4 x 20 UNC").name, find("2 BA").name
    ('M8x1.25', '3/8-20 BSF', '1/4-20 UNC', '2BA')
    """
    if len(text) > _LONGEST:
        raise BadInput("that is too long for a thread", hint="Write it like M8x1.25 or 3/8 UNF.")
    tidy = text.upper().replace("\N{MULTIPLICATION SIGN}", "X").replace(",", ".")
    tidy = re.sub(r"\s+|INCH|IN\b\.?|\"", "", tidy)
    names = {thread.name.upper().replace(" ", ""): thread for thread in table()}
    if match := re.fullmatch(r"M(\d+(?:\.\d+)?)(?:[X-](\d+(?:\.\d+)?))?", tidy):
        diameter = float(match[1])
        pitch = float(match[2]) if match[2] else METRIC_COARSE.get(diameter, 0.0)
        tidy = f"M{trimmed(diameter, 1)}X{trimmed(pitch, 2)}"
    elif match := re.fullmatch(r"(#?\d+(?:/\d+)?)(?:[X-](\d+))?(UNC|UNF|BSW|BSF|W)", tidy):
        series = "BSW" if match[3] == "W" else match[3]
        turns = match[2] or INCH_SERIES[series].get(match[1], "?")
        tidy = f"{match[1]}-{turns}{series}"
    elif re.fullmatch(r"#?\d+(?:/\d+)?(?:[X-]\d+)?", tidy):
        raise BadInput(f"{text!r} does not say which thread", hint="Add UNC, UNF, BSW or BSF, as in 3/8 UNF.")
    if tidy in names:
        return names[tidy]
    near = get_close_matches(tidy, names, n=3, cutoff=0.5)
    told = ", ".join(names[name].name for name in near)
    hint = f"Near it: {told}" if near else "Write it like M8x1.25 or 3/8 UNF."
    raise NotFound(f"no thread {text!r} in the table", hint=hint)
