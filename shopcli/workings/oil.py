"""Engine oil: the winter grade a cold start asks for, the grade of a viscosity, the fill by the dipstick.

The table of SAE J300 changed with its revisions, so every answer names the one it was judged by.
"""

from dataclasses import dataclass

from shopcli.errors import BadInput
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, listed, trimmed, within
from shopcli.workings.telling import result, say, words

REVISIONS = ("2015", "1999")
SPAN_LITRES = 1.0  # between the marks: common practice, no source
_COLDEST_C = -35.0
_WARMEST_C = 30.0
_THICKEST = 26.1
_FULL = 100.0


@dataclass(frozen=True, slots=True)
class Winter:
    """A W grade: cranking limit [mPa.s] and its test, pumping test [degC], least KV100 [mm2/s]."""

    grade: str
    cranking: int
    cranking_c: int
    pumping_c: int
    thinnest: float


@dataclass(frozen=True, slots=True)
class Summer:
    """A grade without W: KV100 from `low` up to but not including `high` [mm2/s], HTHS [mPa.s]."""

    grade: int
    low: float
    high: float
    sheared: float
    sheared_thick: float | None = None


PUMPING_LIMIT = 60_000
WINTER: tuple[Winter, ...] = (
    Winter("0W", 6200, -35, -40, 3.8),
    Winter("5W", 6600, -30, -35, 3.8),
    Winter("10W", 7000, -25, -30, 4.1),
    Winter("15W", 7000, -20, -25, 5.6),
    Winter("20W", 9500, -15, -20, 5.6),
    Winter("25W", 13000, -10, -15, 9.3),
)
_THICK = (Summer(50, 16.3, 21.9, 3.7), Summer(60, 21.9, 26.1, 3.7))
# SAE 12 of 2015 is from memory. For 0W/5W/10W-40 since 2009 pages print 3.5 (here) and still the old 2.9.
SUMMER: dict[str, tuple[Summer, ...]] = {
    "1999": (
        Summer(20, 5.6, 9.3, 2.6),
        Summer(30, 9.3, 12.5, 2.9),
        Summer(40, 12.5, 16.3, 2.9, 3.7),
        *_THICK,
    ),
    "2015": (
        Summer(8, 4.0, 6.1, 1.7),
        Summer(12, 5.0, 7.1, 2.0),
        Summer(16, 6.1, 8.2, 2.3),
        Summer(20, 6.9, 9.3, 2.6),
        Summer(30, 9.3, 12.5, 2.9),
        Summer(40, 12.5, 16.3, 3.5, 3.7),
        *_THICK,
    ),
}
SOURCE = "SAE J300, December 1999 and January 2015 tables (secondary pages)"


def winter_grade(coldest_c: float) -> Winter:
    """Thickest W grade whose cranking test lies at or below the coldest start [1]_.

    Parameters
    ----------
    coldest_c : float
        Coldest start, -35 to +30, [degC]

    Returns
    -------
    Winter
        The grade.

    Raises
    ------
    OutOfRange
        If the temperature is outside -35 to +30.

    Notes
    -----
    W grades before 1980 were measured at one temperature; an old handbook's grade is not this table's.

    Examples
    --------
    >>> winter_grade(-18).grade, winter_grade(-26).grade
    ('15W', '5W')

    References
    ----------
    .. [1] Choice: common practice, no source; test temperatures SAE J300 (secondary).
    """
    within(
        "coldest_c",
        coldest_c,
        _COLDEST_C,
        _WARMEST_C,
        "degC",
        hint="Colder than any W grade is tested: pre-heat.",
    )
    return [w for w in WINTER if w.cranking_c <= coldest_c][-1]


def grades_of(viscosity: float, revision: str = "2015") -> tuple[int, ...]:
    """Grades without W whose range holds a viscosity at 100 degC [1]_.

    Parameters
    ----------
    viscosity : float
        Kinematic viscosity at 100 degC, from the lowest grade to 26.1, [mm2/s]
    revision : str, optional
        ``2015`` or ``1999``.

    Returns
    -------
    tuple of int
        Grades; more than one where the thin grades of 2015 overlap.

    Raises
    ------
    OutOfRange
        If no grade covers the viscosity.
    BadInput
        If the revision is unknown.

    Notes
    -----
    Ranges hold their lower end and not their upper end: 12.5 is SAE 40.

    Examples
    --------
    >>> grades_of(12.5), grades_of(18), grades_of(7.0)
    ((40,), (50,), (12, 16, 20))

    References
    ----------
    .. [1] SAE J300 (secondary tables).
    """
    if revision not in SUMMER:
        raise BadInput(f"no revision {revision!r} of the table", hint="One of: " + ", ".join(REVISIONS))
    table = SUMMER[revision]
    low = table[0].low
    within("viscosity", viscosity, low, _THICKEST, "mm2/s")
    found = tuple(s.grade for s in table if s.low <= viscosity < s.high)
    if not found:
        within("viscosity", viscosity, low, _THICKEST - 1e-9, "mm2/s, upper end not included")
    return found


def to_add_l(level_percent: float, target_percent: float = 100.0, span_l: float = SPAN_LITRES) -> float:
    """Oil to add (negative: to draw off) from a dipstick reading.

    Parameters
    ----------
    level_percent : float
        Level, 0 at the lower mark and 100 at the upper, 0 to 200, [%]
    target_percent : float, optional
        Wanted level, 0 to 100, [%]
    span_l : float, optional
        Oil between the marks, 0.1 to 5, [L]

    Returns
    -------
    float
        Oil, [L]

    Raises
    ------
    OutOfRange
        If a figure is out of range; below the lower mark a dipstick says nothing.

    Notes
    -----
    Car level, engine off for some minutes. One litre between the marks is common practice, no source.

    Examples
    --------
    >>> to_add_l(25)
    0.75

    References
    ----------
    .. [1] Definition of the marks.
    """
    below = "Off the stick: add a little, wait and read again."
    within("level_percent", level_percent, 0, 200, "%", hint=below)
    within("target_percent", target_percent, 0, _FULL, "%", hint="Never above the upper mark.")
    within("span_l", span_l, 0.1, 5, "L")
    return (target_percent - level_percent) / 100 * span_l


def _oil_grade(coldest_c: float, handbook_upper: int | None = None, revision: str = "2015") -> Worked:
    chosen = winter_grade(coldest_c)
    if revision not in SUMMER:
        raise BadInput(f"no revision {revision!r} of the table", hint="One of: " + ", ".join(REVISIONS))
    steps = [
        f"Coldest start {say(coldest_c, 'degC', 0)}.",
        f"SAE {chosen.grade} is cranked at {chosen.cranking_c} °C (at most {chosen.cranking} mPa s).",
        f"It is pumped down to {chosen.pumping_c} °C (at most {PUMPING_LIMIT} mPa s).",
    ]
    full = f"SAE {chosen.grade}"
    if handbook_upper is not None:
        known = {s.grade for s in SUMMER[revision]}
        if handbook_upper not in known:
            raise BadInput(f"no grade {handbook_upper} in J300 of {revision}", hint=listed(sorted(known)))
        full = f"SAE {chosen.grade}-{handbook_upper}"
        steps.append(f"The handbook's hot grade {handbook_upper} goes with it: {full}.")
    steps.append(f"Judged by SAE J300 of {revision}.")
    cautions = (
        "The hot grade comes from the handbook and the climate, not from this table.",
        "Engine oils (J300) and gear oils (J306) are numbered differently.",
        "Used engine oil is bad for the skin: gloves, and into the waste-oil drum.",
    )
    results = (
        words("winter", "W grade", chosen.grade),
        words("grade", "Grade", full),
        result("cranking_c", "Cranks down to", chosen.cranking_c, "degC", decimals=0),
        result("pumping_c", "Pumps down to", chosen.pumping_c, "degC", decimals=0),
    )
    return Worked(results, tuple(steps), cautions, full)


def _oil_from_viscosity(viscosity: float, revision: str = "2015") -> Worked:
    found = grades_of(viscosity, revision)
    rows = [s for s in SUMMER[revision] if s.grade in found]
    steps = [f"Viscosity at 100 °C: {trimmed(viscosity, 2)} mm²/s, judged by SAE J300 of {revision}."]
    for row in rows:
        span = f"{trimmed(row.low, 1)} to below {trimmed(row.high, 1)} mm²/s"
        steps.append(
            f"SAE {row.grade}: {span}, at least {figure(row.sheared, 1)} mPa s at 150 °C under shear."
        )
    told = listed([f"SAE {g}" for g in found])
    return Worked((Result("grades", "Grade", found, "", told),), tuple(steps), (), told)


def _dipstick_fill(
    level_percent: float, target_percent: float = 100.0, span_l: float = SPAN_LITRES
) -> Worked:
    amount = to_add_l(level_percent, target_percent, span_l)
    steps = [
        f"Level {figure(level_percent, 0)} % of the way from the lower to the upper mark.",
        f"Between the marks {say(span_l, 'L', 2, trim=True)}.",
        f"To {figure(target_percent, 0)} %: {say(amount, 'L', 2)}.",
    ]
    if amount > 0:
        verdict = f"Add {say(amount, 'L', 2)}: three quarters of it first, wait, read, then the rest."
    elif amount < 0:
        verdict = f"Draw off {say(-amount, 'L', 2)}."
        if level_percent > _FULL:
            verdict += " Above the upper mark the crankshaft whips the oil."
    else:
        verdict = "The level is right."
    cautions = ["Car on the level, engine off some minutes, dipstick wiped and pushed home."]
    if span_l == SPAN_LITRES:
        cautions.append("One litre between the marks is common practice, no source: the handbook knows.")
    return Worked((result("add_l", "Oil to add", amount, "L"),), tuple(steps), tuple(cautions), verdict)


_REVISION = Input(
    "revision", "Table of the year", "choice", default="2015", required=False, choices=REVISIONS
)

WORKINGS: tuple[Working, ...] = (
    Working(
        "oil-grade",
        "Oil grade for the coldest start",
        "fluids",
        (
            Input("coldest_c", "Coldest start", "number", "temperature", "degC", _COLDEST_C, _WARMEST_C),
            Input("handbook_upper", "Hot grade of the handbook", "whole", low=8, high=60, required=False),
            _REVISION,
        ),
        _oil_grade,
        SOURCE + "; choice of the W grade: common practice, no source",
        "engine oils, starts from -35 to +30 °C",
    ),
    Working(
        "oil-from-viscosity",
        "Grade of an oil by its viscosity",
        "fluids",
        (Input("viscosity", "Viscosity at 100 °C in mm²/s", low=4.0, high=_THICKEST), _REVISION),
        _oil_from_viscosity,
        SOURCE,
        "grades without W of the named table",
    ),
    Working(
        "dipstick-fill",
        "Oil to add by the dipstick",
        "fluids",
        (
            Input("level_percent", "Level between the marks", "number", "percent", "%", 0, 200),
            Input("target_percent", "Wanted level", "number", "percent", "%", 0, 100, 100.0, required=False),
            Input(
                "span_l",
                "Oil between the marks",
                "number",
                "volume",
                "L",
                0.1,
                5,
                SPAN_LITRES,
                required=False,
            ),
        ),
        _dipstick_fill,
        "definition of the marks; one litre between them: common practice, no source",
        "a straight dipstick in an engine that stands level",
    ),
)
