"""Where a weak cylinder leaks: the wet test with a spoon of oil, and the leak-down test with air."""

from collections.abc import Sequence

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings.banks import neighbours, parse_banks
from shopcli.workings.bars import bar_picture
from shopcli.workings.compression import CRANKING
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import PLAIN_CHARACTERS, figure, listed, trimmed, within
from shopcli.workings.spread import LOWEST_OF_HIGHEST, MOST_PSI, checked_readings, judge_spread, low_cylinders

HEARD = {
    "carburettor": "inlet valve",
    "tailpipe": "exhaust valve",
    "oil filler": "piston rings or piston",
    "radiator": "head gasket, or a crack into the water",
    "next plug hole": "head gasket between the two cylinders",
}
USUAL_CLEAR_RISE_PCT = 10.0
USUAL_ALLOWED_PCT = 75.0
_BANDS = ((10.0, "good"), (20.0, "fair"), (100.0, "bad"))
# Below this the needle of a gauge does not leave its stop: there is no reading a rise could be told from.
LEAST_PSI = 1.0


def wet_rise_percent(dry_psi: float, wet_psi: float) -> float:
    """Rise of a reading after oil was put in.

    Parameters
    ----------
    dry_psi : float
        Reading before, 1 to 1000, [psi]
    wet_psi : float
        Reading after, 0 to 1000, [psi]

    Returns
    -------
    float
        Rise of the dry reading, a fall negative, [%]

    Raises
    ------
    OutOfRange
        If there was no dry reading to rise from, or a figure is outside its range.

    Examples
    --------
    >>> wet_rise_percent(80.0, 120.0)
    50.0

    References
    ----------
    Definition.
    """
    if not LEAST_PSI <= dry_psi <= MOST_PSI:
        raise OutOfRange("dry reading", dry_psi, f"{LEAST_PSI:g} to {MOST_PSI:g} psi")
    return 100.0 * (within("wet reading", wet_psi, 0.0, MOST_PSI, "psi") - dry_psi) / dry_psi


def leak_percent(supply_psi: float, held_psi: float) -> float:
    """Share of the supplied pressure a cylinder does not hold.

    Parameters
    ----------
    supply_psi : float
        Regulated pressure going in, above 0 up to 200, [psi]
    held_psi : float
        Pressure the cylinder holds, 0 to the supply, [psi]

    Returns
    -------
    float
        Leak, [%]

    Raises
    ------
    OutOfRange
        If there is no supply, or the cylinder holds more than goes in.

    Notes
    -----
    Figures of testers with another orifice do not compare.

    Examples
    --------
    >>> leak_percent(80.0, 60.0)
    25.0

    References
    ----------
    80 psi in, at least 60 psi held: published leak-down procedure.
    """
    if not 0 < supply_psi <= 200:  # noqa: PLR2004 - no tester is fed more
        raise OutOfRange("supply", supply_psi, "above 0, up to 200 psi")
    within("held", held_psi, 0.0, supply_psi, "psi", hint="zero the tester: it cannot hold more than goes in")
    return 100.0 * ((supply_psi - held_psi) / supply_psi)


def leak_band(percent: float) -> str:
    """Word for a leak where the handbook gives no limit.

    Parameters
    ----------
    percent : float
        Leak, 0 to 100, [%]

    Returns
    -------
    str
        "good" below 10, "fair" to 20, "bad" above.

    Raises
    ------
    OutOfRange
        If the leak is no share.

    Examples
    --------
    >>> leak_band(8.0), leak_band(20.0), leak_band(25.0)
    ('good', 'fair', 'bad')

    References
    ----------
    Common practice, no source.
    """
    within("leak", percent, 0.0, 100.0, "%")
    if percent < _BANDS[0][0]:
        return _BANDS[0][1]
    return next(word for top, word in _BANDS[1:] if percent <= top)


def _wet_words(number: int, dry: float, wet: float, clear_pct: float, beside: tuple[int, ...]) -> str:
    if dry < LEAST_PSI:
        return f"No. {number}: nothing dry: a valve held open or a holed piston, before any oil"
    rise = wet_rise_percent(dry, wet)
    told = f"No. {number}: {trimmed(dry, 1)} to {trimmed(wet, 1)} psi, {figure(rise, 0)} %"
    if rise >= clear_pct:
        return f"{told}: clear rise, rings or bore"
    if beside:
        return f"{told}: no clear rise, and No. {listed(beside)} beside it is low too: head gasket, or valves"
    return f"{told}: no clear rise, valves"


def _run_wet_test(
    *,
    dry_psi: tuple[float, ...],
    wet_psi: tuple[float, ...],
    allowed_percent: float = USUAL_ALLOWED_PCT,
    clear_rise_percent: float = USUAL_CLEAR_RISE_PCT,
    banks: str | None = None,
) -> Worked:
    dry = checked_readings(dry_psi)
    if len(wet_psi) != len(dry):
        raise BadInput(
            f"{len(wet_psi)} wet readings for {len(dry)} dry", hint="one of each for each cylinder"
        )
    judged = judge_spread(dry, LOWEST_OF_HIGHEST, allowed_percent=allowed_percent)
    low = low_cylinders(dry, judged.threshold_psi)
    pairs = neighbours(parse_banks(banks, len(dry))) if banks is not None else frozenset()
    words = []
    for number in low:
        beside = tuple(other for other in low if frozenset((number, other)) in pairs)
        words.append(_wet_words(number, dry[number - 1], wet_psi[number - 1], clear_rise_percent, beside))
    cautions = ["About a tablespoon of oil in each, no more; the oil spreads poorly in a lying cylinder."]
    if banks is None and len(low) > 1:
        cautions.append("Two low cylinders beside each other that do not rise point to the head gasket.")
    rises = tuple(
        wet_rise_percent(before, after) if before >= LEAST_PSI else 0.0
        for before, after in zip(dry, wet_psi, strict=True)
    )
    return Worked(
        results=(
            Result("low", "low when dry", low, "", listed(low)),
            Result(
                "rises_pct", "rise of each", rises, "%", ", ".join(f"{figure(rise, 0)} %" for rise in rises)
            ),
            Result("readings", "what it points to", tuple(words), "", "; ".join(words) or "none low"),
        ),
        steps=(
            f"low when dry: {judged.rule}",
            f"clear rise: {trimmed(clear_rise_percent, 1)} % or more",
            *words,
        ),
        cautions=tuple(cautions),
        verdict="; ".join(words) or f"none low by the rule: {judged.rule}",
    )


def leak_picture(
    leaks_pct: Sequence[float], limit_pct: float | None = None, *, ascii_only: bool = False
) -> str:
    """Bars of a leak-down test.

    Parameters
    ----------
    leaks_pct : sequence of float
        One for each cylinder, 0 to 100, [%]
    limit_pct : float, optional
        Where to draw the limit, [%]
    ascii_only : bool, optional
        Draw with plain keyboard characters.

    Returns
    -------
    str
        Lines of at most 80 columns; a full bar is 100 per cent.

    Examples
    --------
    >>> print(leak_picture([8.0, 25.0], 25.0, ascii_only=True))
    No.  1 |###.......:.............................| 8 %
    No.  2 |##########:.............................| 25 %
    : limit 25 %
    """
    return bar_picture(
        leaks_pct,
        [f"{figure(leak, 0)} %" for leak in leaks_pct],
        full=100.0,
        mark=limit_pct,
        mark_text="" if limit_pct is None else f"limit {trimmed(limit_pct, 1)} %",
        ascii_only=ascii_only,
    )


def _run_leak_down(
    *,
    supply_psi: float,
    held_psi: tuple[float, ...],
    limit_percent: float | None = None,
    heard: str | None = None,
    ascii_only: bool = False,
) -> Worked:
    if not 1 <= len(held_psi) <= 12:  # noqa: PLR2004 - the longest engine we know
        raise BadInput(f"{len(held_psi)} readings", hint="1 to 12, one for each cylinder")
    leaks = tuple(leak_percent(supply_psi, held) for held in held_psi)
    if limit_percent is not None:
        over = tuple(number for number, leak in enumerate(leaks, start=1) if leak > limit_percent)
        rule = f"at most {trimmed(limit_percent, 1)} %"
    else:
        over = tuple(number for number, leak in enumerate(leaks, start=1) if leak_band(leak) == "bad")
        rule = "below 10 % good, to 20 % fair, above bad (common practice)"
    results = [
        Result("leaks_pct", "leak of each", leaks, "%", ", ".join(f"{figure(leak, 1)} %" for leak in leaks)),
        Result("over", "leaks too much", over, "", listed(over)),
    ]
    if heard is not None:
        results.append(Result("points_to", f"heard at the {heard}", HEARD[heard], "", HEARD[heard]))
    return Worked(
        results=tuple(results),
        steps=tuple(
            f"No. {number}: ({trimmed(supply_psi, 1)} - {trimmed(held, 1)}) / {trimmed(supply_psi, 1)}"
            f" = {figure(leak, 1)} %" + (f", {leak_band(leak)}" if limit_percent is None else "")
            for number, (held, leak) in enumerate(zip(held_psi, leaks, strict=True), start=1)
        ),
        cautions=("Warm engine, piston at the top of compression; listen at carburettor, tailpipe, filler.",),
        verdict=(f"No. {listed(over)} too much" if over else "passes") + f" by the rule: {rule}",
        picture=leak_picture(leaks, limit_percent, ascii_only=ascii_only),
    )


def _readings(name: str, label: str) -> Input:
    return Input(name, label, "numbers", quantity="pressure", unit="psi", low=0.0, high=MOST_PSI)


def _percent(name: str, label: str, default: float | None = None, help_text: str = "") -> Input:
    return Input(
        name,
        label,
        quantity="percent",
        unit="%",
        low=0.0,
        high=100.0,
        default=default,
        required=False,
        help=help_text,
    )


WET_TEST = Working(
    name="wet-test",
    title="Wet compression test",
    subject="compression",
    inputs=(
        _readings("dry_psi", "Dry reading of each cylinder"),
        _readings("wet_psi", "Reading with oil in"),
        _percent("allowed_percent", "Low below this share of the highest", USUAL_ALLOWED_PCT),
        _percent("clear_rise_percent", "A clear rise is", USUAL_CLEAR_RISE_PCT, "common practice, no source"),
        Input("banks", "Cylinders as they stand", "text", required=False, help="1-2-3-4, or 1-2/3-4"),
    ),
    run=_run_wet_test,
    source="TM 5-4210-230-14&P-1 Addendum 2; size of a clear rise: common practice, no source",
    good_for="petrol engines with standing cylinders; 2 to 12 of them",
    cautions=(CRANKING, "Oil spits out of open plug holes: a rag over them, eyes away."),
)

LEAK_DOWN = Working(
    name="leak-down",
    title="Leak-down test",
    subject="compression",
    inputs=(
        Input("supply_psi", "Regulated pressure in", quantity="pressure", unit="psi", low=1.0, high=200.0),
        _readings("held_psi", "Pressure held by each cylinder"),
        _percent("limit_percent", "Limit", None, "25 % at 80 psi is one printed limit"),
        Input("heard", "Air heard at", "choice", required=False, choices=tuple(HEARD)),
        PLAIN_CHARACTERS,
    ),
    run=_run_leak_down,
    source="published leak-down procedure (80 psi in, 60 held); bands: common practice, no source",
    good_for="one cylinder after the other with the same tester, 1 to 12 of them",
    cautions=(
        "Air turns the crank: out of gear, no spanner on the crank bolt, hands clear of fan and belt.",
    ),
)

WORKINGS = (WET_TEST, LEAK_DOWN)
