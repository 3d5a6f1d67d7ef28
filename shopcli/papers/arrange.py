"""The order in which a paper tells things: work by system, money by kind, the worst finding first.

The templates of every format use these, so text and HTML cannot tell different stories.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopcli.present import day_long, percent
from shopcli.shop.views import (
    FindingView,
    OwedView,
    PriceLine,
    ReadingLine,
    SummaryView,
    VatGroupView,
    WorkDone,
)

KINDS = {
    "labour": "Labour",
    "part": "Parts",
    "surcharge": "Exchange surcharges",
    "outwork": "Outwork",
    "sundry": "Sundries",
    "fee": "Fees",
}
# UN/EDIFACT 5305 as EN 16931 restricts it; the rate alone says enough for S.
CATEGORIES = {
    "S": "",
    "Z": "zero rated",
    "E": "exempt",
    "AE": "reverse charge",
    "K": "supply within the EU",
    "G": "export",
    "O": "outside the scope of the tax",
    "L": "IGIC",
    "M": "IPSI",
}
SEVERITIES = ("stop", "soon", "watch")


@dataclass(frozen=True, slots=True)
class SystemWork:
    """The work done on one system of the vehicle."""

    system: str
    done: tuple[WorkDone, ...]


@dataclass(frozen=True, slots=True)
class KindLines:
    """The lines of one kind, with their sum."""

    kind: str
    title: str
    lines: tuple[PriceLine, ...]
    net: Decimal

    @property
    def hours(self) -> Decimal | None:
        """Hours of the lines together, or None when not all are in hours."""
        in_hours = all(line.unit == "h" for line in self.lines)
        return sum((line.qty for line in self.lines), Decimal(0)) if in_hours else None


def by_system(done: Sequence[WorkDone]) -> tuple[SystemWork, ...]:
    """Group work by the system it was done on, in the order the systems first come up."""
    names = dict.fromkeys(w.system for w in done)
    return tuple(SystemWork(name, tuple(w for w in done if w.system == name)) for name in names)


def by_kind(lines: Sequence[PriceLine], unit_minutes: int = 0) -> tuple[KindLines, ...]:
    """Group lines by kind: labour, parts, surcharges, outwork, then any other as it comes up."""
    found = dict.fromkeys(line.kind for line in lines)
    order = [*(k for k in KINDS if k in found), *(k for k in found if k not in KINDS)]
    groups = []
    for kind in order:
        own = tuple(line for line in lines if line.kind == kind)
        title = KINDS.get(kind) or kind[:1].upper() + kind[1:] or "Other"
        if kind == "labour" and unit_minutes > 1:
            title += f", in units of {unit_minutes} min"
        groups.append(KindLines(kind, title, own, sum((line.net for line in own), Decimal(0))))
    return tuple(groups)


def sources(readings: Iterable[ReadingLine]) -> tuple[str, ...]:
    """Return each place limits come from once, so that a table can refer to it by number."""
    return tuple(dict.fromkeys(r.provenance for r in readings if r.provenance))


def place(reading: ReadingLine) -> str:
    """Return what was measured and where, said once when both are the same words.

    Examples
    --------
    >>> place(ReadingLine("points gap", "points gap", "", "", "", "", ""))
    'points gap'
    >>> place(ReadingLine("compression", "cylinder 2", "", "", "", "", ""))
    'compression, cylinder 2'
    """
    if not reading.title or reading.title in reading.label:
        return reading.label
    return (
        f"{reading.title}, {reading.label}"
        if reading.label and reading.label not in reading.title
        else reading.title
    )


def worst_first(findings: Iterable[FindingView]) -> tuple[FindingView, ...]:
    """Return findings with those that stop the car before the others."""
    ranks = {name: n for n, name in enumerate(SEVERITIES)}
    return tuple(sorted(findings, key=lambda f: ranks.get(f.severity, len(ranks))))


def due(owed: OwedView, distance_unit: str = "") -> str:
    """Say when an owed check is due.

    Examples
    --------
    >>> from datetime import date
    >>> rest = ("owed", "", "", "", "")
    >>> due(OwedView(1, "Re-torque the head", "distance", 54820, date(2027, 3, 1), *rest), "mi")
    'at 54,820 mi or on Monday 1 March 2027, whichever comes first'
    >>> due(OwedView(1, "Check the timing", "hand-over", None, None, *rest))
    'before hand-over'
    """
    when = []
    if owed.due_odometer is not None:
        when.append(f"at {owed.due_odometer:,} {distance_unit}".rstrip())
    if owed.due_date is not None:
        when.append(f"on {day_long(owed.due_date)}")
    if len(when) > 1:
        return " or ".join(when) + ", whichever comes first"
    if when:
        return when[0]
    return "before hand-over" if owed.before == "hand-over" else owed.before


def distance_unit(view: SummaryView) -> str:
    """Return the unit the odometer of a summary is read in, empty when it was not read."""
    last = view.odometer.split()[-1:] or [""]
    return last[0] if last[0].isalpha() else ""


def rate(item: PriceLine | VatGroupView) -> str:
    """Return the VAT rate of a line, with the letter of its category where that is not the usual one.

    Examples
    --------
    >>> rate(VatGroupView("standard", "S", Decimal(20), Decimal(1), Decimal(0)))
    '20 %'
    """
    return percent(item.percent) + ("" if item.category == "S" else f" {item.category}")


def rate_long(item: VatGroupView) -> str:
    """Return the VAT rate of a group in words.

    Examples
    --------
    >>> rate_long(VatGroupView("postage", "E", Decimal(0), Decimal(1), Decimal(0)))
    'postage, 0 % E (exempt)'
    """
    meaning = CATEGORIES.get(item.category, "")
    return ", ".join(filter(None, (item.vat, rate(item)))) + (f" ({meaning})" if meaning else "")
