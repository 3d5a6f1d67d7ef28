"""Spanners: the right one for a thread, and the foreign one that nearly fits and ruins the head."""

import math
from dataclasses import dataclass

from shopcli.errors import BadInput
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.hexagons import SOURCE, Spanner, hexagons, spanners, width_of
from shopcli.workings.say import above_zero, listed, trimmed
from shopcli.workings.telling import MM_PER_INCH, say
from shopcli.workings.thread_table import find

FITS = 0.01  # jaw within 1 % of the head
NEARLY = 0.045  # up to this it goes on, or seems to, and does harm
_SYSTEMS = ("all", "metric", "AF", "Whitworth", "BA")
_CORNER = 1 / math.cos(math.radians(30))


@dataclass(frozen=True, slots=True)
class Fit:
    """How a spanner sits on a head: how much wider its jaw is, and the slack turn before corners bite."""

    spanner: Spanner
    wider_mm: float
    verdict: str
    slack_deg: float | None


def slack_turn_deg(head_mm: float, jaw_mm: float) -> float:
    """Turn of a spanner before the corners of a sharp hexagon touch its jaw.

    Parameters
    ----------
    head_mm : float
        Width across flats of the head, up to 100, [mm]
    jaw_mm : float
        Width of the jaw, at least the head and less than the corners, [mm]

    Returns
    -------
    float
        Free turn to one side, [deg]

    Raises
    ------
    OutOfRange
        If the jaw is narrower than the head or wider than across its corners.

    Notes
    -----
    Parallel jaws and a sharp hexagon; a worn one is worse.

    Examples
    --------
    >>> round(slack_turn_deg(12.7, 13.0), 1)
    2.4

    References
    ----------
    .. [1] Geometry of the hexagon.
    """
    above_zero("head_mm", head_mm, 100, "mm")
    corners = head_mm * _CORNER
    above_zero("slack", jaw_mm - head_mm + 1e-12, corners - head_mm, "mm")
    return max(0.0, 30 - math.degrees(math.acos(min(1.0, jaw_mm / corners))))


def fit(head_mm: float, spanner: Spanner) -> Fit:
    """Judge a spanner on a head.

    Parameters
    ----------
    head_mm : float
        Width across flats, 2 to 50, [mm]
    spanner : Spanner
        The spanner.

    Returns
    -------
    Fit
        ``fits``, ``goes on but slips``, ``does not go on`` or ``far off``.

    Raises
    ------
    OutOfRange
        If the head is not above zero or wider than 100 mm.

    Notes
    -----
    Nominal sizes. Within 1 % the tolerances of head and jaw hide the difference; wider than that the corners
    carry the load. The bands are common practice, no source.

    Examples
    --------
    >>> fit(12.7, Spanner("13 mm", "metric", 13.0)).verdict
    'goes on but slips'
    """
    above_zero("head_mm", head_mm, 100, "mm")
    wider = spanner.width_mm - head_mm
    part = wider / head_mm
    slack = slack_turn_deg(head_mm, spanner.width_mm) if 0 <= part < _CORNER - 1 else None
    if abs(part) <= FITS:
        verdict = "fits"
    elif FITS < part <= NEARLY:
        verdict = "goes on but slips"
    elif -NEARLY <= part < -FITS:
        verdict = "does not go on"
    else:
        verdict = "far off"
    return Fit(spanner, wider, verdict, slack)


def near_fits(head_mm: float, systems: tuple[str, ...] = ()) -> tuple[Fit, ...]:
    """Spanners near a head, best first.

    Parameters
    ----------
    head_mm : float
        Width across flats, [mm]
    systems : tuple of str, optional
        ``metric``, ``AF``, ``Whitworth``, ``BA``; empty means all.

    Returns
    -------
    tuple of Fit
        Those within about 4.5 % of the head.

    Raises
    ------
    OutOfRange
        If the head is not above zero or wider than 100 mm.

    Examples
    --------
    >>> [(f.spanner.marking, f.verdict) for f in near_fits(13.0)][:2]
    [('13 mm', 'fits'), ('1/2 in AF', 'does not go on')]
    """
    fits = [fit(head_mm, s) for s in spanners() if not systems or s.system in systems]
    return tuple(sorted((f for f in fits if f.verdict != "far off"), key=lambda f: abs(f.wider_mm)))


def _hex_sizes(thread: str) -> Worked:
    found = find(thread)
    heads = hexagons(found)
    steps = [
        f"{found.name}, {h.what}: {say(h.width_mm, 'mm', 2, trim=True)} "
        f"({trimmed(h.width_mm / MM_PER_INCH, 3)} in) across flats, {h.spanner}."
        for h in heads
    ]
    if found.family == "Whitworth":
        steps.append("Whitworth spanners carry the size of the thread; BS on them means the small hexagon.")
    told = tuple(h.spanner for h in heads)
    results = (
        Result("spanners", "Spanner", told, "", listed(list(told))),
        Result(
            "widths_mm",
            "Across flats",
            tuple(h.width_mm for h in heads),
            "mm",
            listed([say(h.width_mm, "mm", 2, trim=True) for h in heads]),
        ),
    )
    cautions = ("More than one size is right: try, do not force.",) if len(heads) > 1 else ()
    return Worked(results, tuple(steps), cautions, listed([f"{h.spanner} ({h.what})" for h in heads]))


def _words(found: Fit) -> str:
    gap = say(abs(found.wider_mm), "mm", 2)
    side = "wider" if found.wider_mm >= 0 else "narrower"
    slack = f", {say(found.slack_deg, 'deg', 1)} of slack" if found.slack_deg is not None else ""
    return f"{found.spanner.marking}: jaw {gap} {side} than the head{slack}: {found.verdict}."


def _spanner_near_fit(head: str, have: str = "all") -> Worked:
    if have not in _SYSTEMS:
        raise BadInput(f"no spanners {have!r}", hint="One of: " + ", ".join(_SYSTEMS))
    marking, width = width_of(head)
    found = near_fits(width, () if have == "all" else (have,))
    good = tuple(f.spanner.marking for f in found if f.verdict == "fits")
    bad = tuple(f.spanner.marking for f in found if f.verdict != "fits")
    steps = (f"{marking} is {say(width, 'mm', 2)} across flats.", *(_words(f) for f in found))
    verdict = f"Use {listed(good)}." if good else "None of these fits: get the right spanner."
    if bad:
        verdict += f" Leave {listed(bad)} alone."
    cautions = ("A spanner that slips takes the corners off the head and the skin off the hand.",)
    results = (
        Result("fits", "Fits", good, "", listed(good)),
        Result("nearly", "Nearly fits: leave alone", bad, "", listed(bad)),
    )
    return Worked(results, steps, cautions, verdict)


WORKINGS: tuple[Working, ...] = (
    Working(
        "hex-sizes",
        "Spanner for a thread",
        "fasteners",
        (Input("thread", "Thread", "text", help="M10, 7/16 UNF, 3/8 BSW, 2BA"),),
        _hex_sizes,
        SOURCE,
        "ordinary heads and nuts, M3 to M24, 1/4 to 1 in, 0BA to 16BA",
    ),
    Working(
        "spanner-near-fit",
        "Which other spanner fits, and which ruins the head",
        "fasteners",
        (
            Input("head", "Head", "text", help="13 mm, 1/2 AF, 1/4 W, 5/16 BS, 2 BA"),
            Input("have", "Spanners at hand", "choice", default="all", required=False, choices=_SYSTEMS),
        ),
        _spanner_near_fit,
        SOURCE + "; slack by geometry; bands of fit: common practice, no source",
        "nominal widths; a worn head or a cheap spanner moves every verdict",
    ),
)
