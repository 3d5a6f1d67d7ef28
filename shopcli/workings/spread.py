"""Rules by which compressions are held against each other.

Printed rules conflict: the same readings pass one and fail another. A rule is therefore data the shop
chooses, and every judgement carries the rule it was made by.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings.say import figure, trimmed, within

LOWEST_OF_HIGHEST = "lowest of highest"
BELOW_AVERAGE = "below average"
DIFFERENCE = "difference"
RULES = (LOWEST_OF_HIGHEST, BELOW_AVERAGE, DIFFERENCE)
MOST_PSI = 1000.0
# Exact: bar and kgf/cm2 by definition, psi from the pound and the inch (NIST SP 811, Appendix B.8).
PSI_IN = {"psi": 1.0, "bar": 0.06894757293168361, "kPa": 6.894757293168361, "kgf/cm2": 0.07030695796402363}
_DECIMALS = {"psi": 0, "bar": 1, "kPa": 0, "kgf/cm2": 1}


def pressure_text(psi: float, unit: str = "psi") -> str:
    """Text of a gauge pressure.

    Parameters
    ----------
    psi : float
        Pressure, [psi]
    unit : {"psi", "bar", "kPa", "kgf/cm2"}, optional
        Unit to say it in.

    Returns
    -------
    str
        Figure and unit.

    Examples
    --------
    >>> pressure_text(150.0), pressure_text(150.0, "bar")
    ('150 psi', '10.3 bar')
    """
    return f"{figure(psi * PSI_IN[unit], _DECIMALS[unit])} {unit}"


def checked_readings(readings_psi: Sequence[float], least: int = 2) -> tuple[float, ...]:
    """Return readings a spread can be worked out of, else refuse them.

    Parameters
    ----------
    readings_psi : sequence of float
        One for each cylinder, 0 to 1000, [psi]
    least : int, optional
        Fewest readings, [-]

    Returns
    -------
    tuple of float
        The readings, [psi]

    Raises
    ------
    BadInput
        If there are too few, or more than 12.
    OutOfRange
        If a reading is outside 0 to 1000 psi, or all are zero.

    Examples
    --------
    >>> checked_readings([150, 140])
    (150, 140)
    """
    if not least <= len(readings_psi) <= 12:  # noqa: PLR2004 - the longest engine we know
        raise BadInput(f"{len(readings_psi)} readings", hint=f"{least} to 12, one for each cylinder")
    for number, psi in enumerate(readings_psi, start=1):
        within(f"No. {number}", psi, 0.0, MOST_PSI, "psi")
    if not max(readings_psi) > 0:
        raise OutOfRange("highest reading", 0.0, "above 0 psi", hint="check gauge, hose and throttle first")
    return tuple(readings_psi)


def lowest_percent(readings_psi: Sequence[float]) -> float:
    """Lowest reading as a share of the highest.

    Parameters
    ----------
    readings_psi : sequence of float
        One for each cylinder, 0 to 1000, [psi]

    Returns
    -------
    float
        Share, [%]

    Raises
    ------
    BadInput, OutOfRange
        As for `checked_readings`.

    Examples
    --------
    >>> round(lowest_percent([445, 440, 405, 435]), 3)
    91.011

    References
    ----------
    Readings of TM 5-3895-359-14&P, compression tables.
    """
    checked = checked_readings(readings_psi)
    return 100.0 * (min(checked) / max(checked))


def average_threshold(readings_psi: Sequence[float], percent_below: float) -> float:
    """Pressure below which a cylinder is too far under the average.

    Parameters
    ----------
    readings_psi : sequence of float
        One for each cylinder, 0 to 1000, [psi]
    percent_below : float
        How far below is allowed, 0 to 100, [%]

    Returns
    -------
    float
        Threshold, [psi]

    Raises
    ------
    BadInput, OutOfRange
        As for `checked_readings`, or a share outside 0 to 100.

    Examples
    --------
    >>> average_threshold([445, 440, 405, 435], 20.0)
    345.0

    References
    ----------
    20 per cent below average: TM 1-1500-204-23-1, compression test.
    """
    checked = checked_readings(readings_psi)
    within("allowed", percent_below, 0.0, 100.0, "%")
    return sum(checked) / len(checked) * (100.0 - percent_below) / 100.0


@dataclass(frozen=True, slots=True)
class Judged:
    """How a set of readings stands by one rule: the threshold in psi and the rule in words."""

    threshold_psi: float
    rule: str


def judge_spread(
    readings_psi: Sequence[float],
    rule: str,
    *,
    allowed_percent: float | None = None,
    allowed_psi: float | None = None,
    unit: str = "psi",
) -> Judged:
    """Turn a rule into the pressure below which a cylinder fails it.

    Parameters
    ----------
    readings_psi : sequence of float
        One for each cylinder, 0 to 1000, [psi]
    rule : {"lowest of highest", "below average", "difference"}
        What is compared with what.
    allowed_percent : float, optional
        Least share of the highest, or most below the average, [%]
    allowed_psi : float, optional
        Most between highest and lowest, [psi]
    unit : str, optional
        Unit of the words.

    Returns
    -------
    Judged
        Threshold and words; a reading at the threshold passes.

    Raises
    ------
    BadInput
        If the rule is unknown, or the figure it needs is missing.
    OutOfRange
        If a figure is outside its range.

    Examples
    --------
    >>> judge_spread([150, 140, 130, 112], "lowest of highest", allowed_percent=75).threshold_psi
    112.5

    References
    ----------
    75 % of the highest: TM 5-4210-230-14&P-1; a difference: TM 10-3930-618-20 (10 lb); below the average:
    TM 1-1500-204-23-1 (20 %).
    """
    top = max(checked_readings(readings_psi))
    if rule not in RULES:
        raise BadInput(f"no rule called {rule!r}", hint="one of " + ", ".join(RULES))
    if rule == DIFFERENCE:
        if allowed_psi is None:
            raise BadInput("the difference allowed is missing", hint="allowed_psi, from the handbook")
        within("allowed", allowed_psi, 0.0, MOST_PSI, "psi")
        return Judged(top - allowed_psi, f"highest and lowest within {pressure_text(allowed_psi, unit)}")
    if allowed_percent is None:
        raise BadInput("the percentage of the rule is missing", hint="allowed_percent, from the handbook")
    within("allowed", allowed_percent, 0.0, 100.0, "%")
    share = f"{trimmed(allowed_percent, 1)} %"
    if rule == BELOW_AVERAGE:
        return Judged(
            average_threshold(readings_psi, allowed_percent), f"none more than {share} below the average"
        )
    return Judged(top * allowed_percent / 100.0, f"lowest at least {share} of the highest")


def low_cylinders(readings_psi: Sequence[float], threshold_psi: float) -> tuple[int, ...]:
    """Cylinders below a threshold, counted from 1.

    Parameters
    ----------
    readings_psi : sequence of float
        One for each cylinder, [psi]
    threshold_psi : float
        A reading at it passes, [psi]

    Returns
    -------
    tuple of int
        Their numbers.

    Examples
    --------
    >>> low_cylinders([150, 140, 130, 112], 112.5)
    (4,)
    """
    # A threshold worked out of the readings must not fail the reading it equals by binary dust.
    return tuple(n for n, psi in enumerate(readings_psi, start=1) if psi < threshold_psi - 1e-9)
