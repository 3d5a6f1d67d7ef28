"""Drums and discs: judged by the handbook's three numbers, round about and across the axle."""

from shopcli.errors import BadInput
from shopcli.workings.brake_sums import (
    DISCARD,
    MACHINE,
    OUT_OF_ROUND_MM,
    RUNOUT_MM,
    THICKNESS_SPREAD_MM,
    USABLE,
    disc_state,
    drum_state,
    spread,
)
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import listed, trimmed, within
from shopcli.workings.telling import result, say, words

SAFETY = (
    "Brake dust may hold asbestos: never blow it out; damp it, wear a mask.",
    "Brakes want a second person's check before the car moves.",
    "Wet brake fluid may boil as low as 155 °C (DOT 4, FMVSS 116): old fluid goes out. It takes paint off.",
)
_SOURCE_DRUM = (
    "TM 9-2330-384-14&P p. 5-5 (three numbers, 0.015 in out of round); limits of this drum: the handbook"
)
_SOURCE_DISC = (
    "limits of this disc: the handbook; 0.10 mm runout and 0.015 mm spread: common practice, no source"
)


def _known(nominal_mm: float, machine_mm: float, discard_mm: float, *, high: float) -> None:
    """Refuse the three numbers where one is no size of a drum or a disc."""
    for name, value in (("nominal_mm", nominal_mm), ("machine_mm", machine_mm), ("discard_mm", discard_mm)):
        within(name, value, 1, high, "mm")


def _advice(state: str, *, worn: bool) -> str:
    if state == DISCARD:
        return "Discard, and look at the one across the axle: they are replaced in pairs."
    if state == USABLE:
        return (
            "Usable, do not machine."
            if not worn
            else "Not true, and too far gone to machine: replace the pair."
        )
    return "Not true: machine, both sides of the axle alike." if worn else "In order; may be machined."


def _axle(state_limit: float | None, here: float, across: float | None) -> tuple[list[str], bool]:
    """Return the line on the other side of the axle and whether the two differ too much."""
    if across is None:
        return ["The other side of the axle was not given: measure it too."], False
    apart = abs(here - within("across_mm", across, 0, 600, "mm"))
    told = f"Across the axle {say(across, 'mm', 2)}, {say(apart, 'mm', 2)} apart"
    if state_limit is None:
        return [told + "; the handbook says how much may be."], False
    over = round(apart - within("across_limit_mm", state_limit, 0, 5, "mm"), 6) > 0
    return [f"{told}, limit {say(state_limit, 'mm', 2)}."], over


def _after_cut(kind: str, figure_mm: float, cut_mm: float, machine_mm: float) -> str:
    left = figure_mm + cut_mm if kind == "drum" else figure_mm - cut_mm
    inside = left <= machine_mm if kind == "drum" else left >= machine_mm
    return f"After taking off {say(cut_mm, 'mm', 2)}: {say(left, 'mm', 2)}, " + (
        "within the machining limit." if inside else "beyond the machining limit: do not."
    )


def _drum(
    *,
    nominal_mm: float,
    machine_mm: float,
    discard_mm: float,
    measured_mm: tuple[float, ...],
    round_limit_mm: float = OUT_OF_ROUND_MM,
    across_mm: float | None = None,
    across_limit_mm: float | None = None,
    cut_mm: float | None = None,
) -> Worked:
    _known(nominal_mm, machine_mm, discard_mm, high=600)
    if not nominal_mm <= machine_mm <= discard_mm:
        raise BadInput(
            "a drum grows: new, then the machining limit, then the discard diameter, in this order"
        )
    within("round_limit_mm", round_limit_mm, 0, 2, "mm")
    out_of_round = spread(measured_mm)
    worst = within("largest reading", max(measured_mm), 0.98 * nominal_mm, 1.1 * nominal_mm, "mm")
    state = drum_state(worst, machine_mm, discard_mm)
    lines, apart = _axle(across_limit_mm, worst, across_mm)
    worn = round(out_of_round - round_limit_mm, 6) > 0
    new, most, end = (say(x, "mm", 2) for x in (nominal_mm, machine_mm, discard_mm))
    steps = [
        f"New {new}, machine to at most {most}, discard at {end}.",
        f"Largest {say(worst, 'mm', 2)}: {say(worst - nominal_mm, 'mm', 2)} over new.",
        f"Largest less least {say(out_of_round, 'mm', 3)}, limit {say(round_limit_mm, 'mm', 3)}.",
        *lines,
    ]
    if cut_mm is not None:
        steps.append(_after_cut("drum", worst, within("cut_mm", cut_mm, 0, 5, "mm"), machine_mm))
    return _answer(state, steps, worst, out_of_round, worn=worn, apart=apart, label="Out of round")


def _answer(
    state: str, steps: list[str], worst: float, uneven: float, *, worn: bool, apart: bool, label: str
) -> Worked:
    verdict = _advice(state, worn=worn)
    if apart:
        verdict += " The two sides of the axle differ too much: make them alike or the car pulls."
    results = (
        words("state", "State", state),
        result("worst_mm", "Worst reading", worst, "mm"),
        result("uneven_mm", label, uneven, "mm", decimals=3),
        Result("true", "True", not worn, "", "no" if worn else "yes"),
        Result("alike", "Alike across the axle", not apart, "", "no" if apart else "yes"),
    )
    return Worked(results, tuple(steps), SAFETY, verdict)


def _disc(
    *,
    nominal_mm: float,
    machine_mm: float,
    discard_mm: float,
    measured_mm: tuple[float, ...],
    runout_mm: float | None = None,
    runout_limit_mm: float = RUNOUT_MM,
    spread_limit_mm: float = THICKNESS_SPREAD_MM,
    across_mm: float | None = None,
    across_limit_mm: float | None = None,
    cut_mm: float | None = None,
) -> Worked:
    _known(nominal_mm, machine_mm, discard_mm, high=60)
    if not nominal_mm >= machine_mm >= discard_mm:
        raise BadInput("a disc gets thinner: new, then the machining limit, then the discard thickness")
    within("spread_limit_mm", spread_limit_mm, 0, 1, "mm")
    within("runout_limit_mm", runout_limit_mm, 0, 5, "mm")
    uneven = spread(measured_mm)
    worst = within("least reading", min(measured_mm), 0.3 * nominal_mm, 1.05 * nominal_mm, "mm")
    state = disc_state(worst, machine_mm, discard_mm)
    lines, apart = _axle(across_limit_mm, worst, across_mm)
    faults = []
    new, least, end = (say(x, "mm", 2) for x in (nominal_mm, machine_mm, discard_mm))
    steps = [
        f"New {new}, machine to at least {least}, discard at {end}.",
        f"Least {say(worst, 'mm', 2)}: {say(nominal_mm - worst, 'mm', 2)} worn.",
        f"Thickness differs by {say(uneven, 'mm', 3)}, limit {say(spread_limit_mm, 'mm', 3)}.",
        *lines,
    ]
    if round(uneven - spread_limit_mm, 6) > 0:
        faults.append("thickness")
    if runout_mm is not None:
        within("runout_mm", runout_mm, 0, 5, "mm")
        steps.append(f"Runout {say(runout_mm, 'mm', 2)}, limit {say(runout_limit_mm, 'mm', 2)}.")
        if round(runout_mm - runout_limit_mm, 6) > 0:
            faults.append("runout")
            steps.append(
                "Runout: look at the seat on the hub and the bearing play before the disc is blamed."
            )
    if faults:
        steps.append(f"Over the limit: {listed(faults)}.")
    if cut_mm is not None:
        steps.append(_after_cut("disc", worst, within("cut_mm", cut_mm, 0, 5, "mm"), machine_mm))
    return _answer(state, steps, worst, uneven, worn=bool(faults), apart=apart, label="Thickness differs by")


def _mm(name: str, label: str, high: float, default: float | None = None, *, required: bool = True) -> Input:
    return Input(name, label, "number", "length", "mm", 0, high, default, required and default is None)


def _common(high: float) -> tuple[Input, ...]:
    return (
        _mm("nominal_mm", "When new", high),
        _mm("machine_mm", "Limit after machining", high),
        _mm("discard_mm", "Discard at", high),
        Input("measured_mm", "Measured, several places", "numbers", "length", "mm"),
    )


def _across(high: float) -> tuple[Input, ...]:
    return (
        _mm("across_mm", "Other side of the axle", high, required=False),
        _mm("across_limit_mm", "May differ across the axle by", 5, required=False),
        _mm("cut_mm", "To be taken off", 5, required=False),
    )


WORKINGS: tuple[Working, ...] = (
    Working(
        "drum",
        "Brake drum: machine, use or discard",
        "brakes",
        (*_common(600), _mm("round_limit_mm", "May be out of round by", 2, OUT_OF_ROUND_MM), *_across(600)),
        _drum,
        _SOURCE_DRUM,
        f"states: {MACHINE}; {USABLE}; {DISCARD}. Out of round {trimmed(OUT_OF_ROUND_MM, 3)} mm unless given",
        SAFETY,
    ),
    Working(
        "disc",
        "Brake disc: machine, use or discard",
        "brakes",
        (
            *_common(60),
            _mm("runout_mm", "Runout", 5, required=False),
            _mm("runout_limit_mm", "Runout limit", 5, RUNOUT_MM),
            _mm("spread_limit_mm", "Thickness may differ by", 1, THICKNESS_SPREAD_MM),
            *_across(60),
        ),
        _disc,
        _SOURCE_DISC,
        f"states: {MACHINE}; {USABLE}; {DISCARD}. The handbook's limits come first",
        SAFETY,
    ),
)
