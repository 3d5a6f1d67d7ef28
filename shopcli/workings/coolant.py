"""Coolant: the mixture after a drain and refill, and the frost it stands.

Only ethylene glycol by volume, only within the table: above 60 % the protection turns back, so nothing is
carried further.
"""

from bisect import bisect_left

from shopcli.errors import BadInput, OutOfRange
from shopcli.workings.frame import Input, Worked, Working
from shopcli.workings.say import above_zero, figure, within
from shopcli.workings.telling import result, say

# Ethylene glycol in water, part by volume -> freezing point, [degC]
FREEZE_C: tuple[tuple[float, float], ...] = (
    (0.10, -3.62), (0.15, -6.15), (0.20, -8.98), (0.25, -12.12), (0.30, -15.70), (0.35, -19.88),
    (0.40, -24.80), (0.45, -30.54), (0.50, -37.11), (0.55, -44.37), (0.60, -52.02),
)  # fmt: skip
LOWEST, HIGHEST = FREEZE_C[0][0], FREEZE_C[-1][0]
LEAST_GLYCOL = 0.33
MOST_ROUNDS = 20
SOURCE = "ASHRAE ethylene glycol by volume as computed by the library CoolProp 8.0.0 (INCOMP::AEG)"
CAUTIONS = (
    "Never open a hot cooling system.",
    "Coolant is poisonous and sweet: no puddles, into the waste drum.",
    "Ethylene glycol only; propylene glycol is weaker (its own table). Do not mix kinds.",
)
_STRONGER = "Above 60 % the frost protection gets worse again: thin it."


def freeze_c(part: float) -> float:
    """Freezing point of ethylene glycol in water.

    Parameters
    ----------
    part : float
        Glycol by volume, 0.10 to 0.60, [-]

    Returns
    -------
    float
        Freezing point, [degC]

    Raises
    ------
    OutOfRange
        If the part is outside the table.

    Notes
    -----
    Straight lines between the steps of the table, at most 0.15 degC from the curve. By volume, not by mass.

    Examples
    --------
    >>> freeze_c(0.50), round(freeze_c(0.30), 1)
    (-37.11, -15.7)

    References
    ----------
    .. [1] ASHRAE values as in CoolProp 8.0.0 (INCOMP::AEG).
    """
    within(
        "part", part, LOWEST, HIGHEST, hint=_STRONGER if part > HIGHEST else "Below 10 % there is no table."
    )
    place = max(1, bisect_left([p for p, _ in FREEZE_C], part))
    (p0, t0), (p1, t1) = FREEZE_C[place - 1], FREEZE_C[place]
    return t0 + (t1 - t0) * (part - p0) / (p1 - p0)


def part_for(freezing_c: float) -> float:
    """Glycol that just stands a frost; inverse of `freeze_c`.

    Parameters
    ----------
    freezing_c : float
        Wanted or measured freezing point, -52.02 to -3.62, [degC]

    Returns
    -------
    float
        Part by volume, [-]

    Raises
    ------
    OutOfRange
        If the temperature is outside the table.

    Examples
    --------
    >>> part_for(-37.11)
    0.5
    """
    within("freezing_c", freezing_c, FREEZE_C[-1][1], FREEZE_C[0][1], "degC")
    place = max(1, bisect_left([-t for _, t in FREEZE_C], -freezing_c))
    (p0, t0), (p1, t1) = FREEZE_C[place - 1], FREEZE_C[place]
    return p0 + (p1 - p0) * (freezing_c - t0) / (t1 - t0)


def drain_l(volume_l: float, now: float, wanted: float, refill: float) -> float:
    """Coolant to drain and replace once to reach a strength.

    Parameters
    ----------
    volume_l : float
        Whole filling, up to 100, [L]
    now, wanted, refill : float
        Part of glycol now, wanted and in what is poured in, 0 to 1, [-]

    Returns
    -------
    float
        To drain and to pour in, [L]

    Raises
    ------
    OutOfRange
        If a figure is out of range, or the refill cannot reach the wanted strength.

    Notes
    -----
    Well mixed before draining. Works both ways: stronger with concentrate, weaker with water.

    Examples
    --------
    >>> round(drain_l(8.5, 0.25, 0.50, 1.0), 4)
    2.8333

    References
    ----------
    .. [1] Balance of volumes.
    """
    above_zero("volume_l", volume_l, 100, "L")
    for name, part in (("now", now), ("wanted", wanted), ("refill", refill)):
        within(name, part, 0, 1)
    if wanted == now:
        return 0.0
    if (refill - wanted) * (wanted - now) < 0 or refill == now:
        side = "stronger" if wanted > now else "weaker"
        raise OutOfRange(
            "refill", refill, f"{side} than the wanted {figure(wanted, 2)}", hint="Use another refill."
        )
    return volume_l * (wanted - now) / (refill - now)


def rounds(
    *, volume_l: float, now: float, wanted: float, refill: float, drainable_l: float
) -> tuple[float, ...]:
    """Drains one after the other where only part of the filling runs out.

    Parameters
    ----------
    volume_l, now, wanted, refill : float
        As in `drain_l`.
    drainable_l : float
        What runs out at the tap, up to the whole filling, [L]

    Returns
    -------
    tuple of float
        Litres drained and replaced in each round.

    Raises
    ------
    OutOfRange
        As `drain_l`; also if more than twenty rounds are needed.

    Notes
    -----
    Run the engine to mix between the rounds.

    Examples
    --------
    >>> [round(x, 2) for x in rounds(volume_l=8, now=0.2, wanted=0.5, refill=1.0, drainable_l=2.0)]
    [2.0, 1.33]

    References
    ----------
    .. [1] Balance of volumes, repeated.
    """
    above_zero("drainable_l", drainable_l, volume_l, "L")
    made: list[float] = []
    strength = now
    while (amount := drain_l(volume_l, strength, wanted, refill)) > drainable_l:
        made.append(drainable_l)
        strength += (refill - strength) * drainable_l / volume_l
        if len(made) >= MOST_ROUNDS:
            raise OutOfRange(
                "drainable_l", drainable_l, "more: twenty rounds would not do", hint="Empty it all."
            )
    return (*made, amount) if amount else tuple(made)


def _percent(part: float) -> str:
    return f"{figure(100 * part, 0)} %"


def _coolant_strength(
    *,
    volume_l: float,
    now_percent: float,
    wanted_percent: float,
    refill_percent: float = 100.0,
    drainable_l: float | None = None,
) -> Worked:
    now, wanted, refill = now_percent / 100, wanted_percent / 100, refill_percent / 100
    within("wanted_percent", wanted_percent, 0, 100 * HIGHEST, "%", hint=_STRONGER)
    once = drain_l(volume_l, now, wanted, refill)
    made = rounds(
        volume_l=volume_l, now=now, wanted=wanted, refill=refill, drainable_l=drainable_l or volume_l
    )
    total = sum(made)
    steps = [
        f"x = V (wanted - now) / (refill - now), V = {say(volume_l, 'L', 1, trim=True)}.",
        f"From {_percent(now)} to {_percent(wanted)} with {_percent(refill)}: {say(once, 'L', 2)} at once.",
    ]
    if len(made) > 1:
        steps.append(
            f"Only {say(drainable_l or volume_l, 'L', 1)} runs out: mix and drain again between rounds."
        )
        steps += [f"Round {n}: drain and pour in {say(x, 'L', 2)}." for n, x in enumerate(made, start=1)]
    cautions = list(CAUTIONS)
    if wanted < LEAST_GLYCOL:
        cautions.append("Below a third of glycol the corrosion protection suffers (TM 5-3805-254-14&P).")
    verdict = f"Drain and replace {say(total, 'L', 2)}" + (
        f" in {len(made)} rounds." if len(made) > 1 else "."
    )
    if wanted >= LOWEST:
        verdict += f" It then stands {say(freeze_c(wanted), 'degC', 0)}."
    results = (
        result("exchange_l", "To drain and replace", total, "L"),
        result("rounds", "Rounds", len(made), decimals=0),
    )
    return Worked(results, tuple(steps), tuple(cautions), verdict)


def _coolant_freeze(percent: float | None = None, freezing_c: float | None = None) -> Worked:
    if (percent is None) == (freezing_c is None):
        raise BadInput("give the strength or the freezing point, one of the two")
    if percent is not None:
        part, point = percent / 100, freeze_c(percent / 100)
        step = f"{_percent(part)} of ethylene glycol by volume freezes at {say(point, 'degC', 1)}."
    else:
        point = freezing_c if freezing_c is not None else 0.0
        part = part_for(point)
        step = (
            f"A freezing point of {say(point, 'degC', 1)} is {_percent(part)} of ethylene glycol by volume."
        )
    cautions = (*CAUTIONS[1:], "Tables differ by a few degrees: keep some in hand.")
    results = (
        result("percent", "Glycol by volume", 100 * part, "%", decimals=1),
        result("freezing_c", "Freezing point", point, "degC", decimals=1),
    )
    verdict = step
    if part < LEAST_GLYCOL:
        verdict += " Less than a third: weak against corrosion."
    return Worked(results, (step,), cautions, verdict)


def _part(name: str, label: str, *, default: float | None = None) -> Input:
    return Input(name, label, "number", "percent", "%", 0, 100, default, required=default is None)


WORKINGS: tuple[Working, ...] = (
    Working(
        "coolant-strength",
        "Coolant: drain and refill to a strength",
        "fluids",
        (
            Input("volume_l", "Whole filling", "number", "volume", "L", 0.1, 100),
            _part("now_percent", "Glycol now"),
            _part("wanted_percent", "Wanted"),
            _part("refill_percent", "In what is poured in", default=100.0),
            Input("drainable_l", "Runs out at the tap", "number", "volume", "L", 0.1, 100, required=False),
        ),
        _coolant_strength,
        "balance of volumes; freezing points " + SOURCE,
        "well mixed coolant; up to 60 %",
        CAUTIONS,
    ),
    Working(
        "coolant-freeze",
        "Freezing point of coolant",
        "fluids",
        (
            Input("percent", "Glycol by volume", "number", "percent", "%", 10, 60, required=False),
            Input(
                "freezing_c", "Freezing point", "number", "temperature", "degC", -52.02, -3.62, required=False
            ),
        ),
        _coolant_freeze,
        SOURCE,
        "ethylene glycol in water, 10 to 60 % by volume",
        CAUTIONS[1:],
    ),
)
