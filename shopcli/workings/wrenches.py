"""Which torque wrench to take and what to set on it."""

import re
from datetime import date

from shopcli.errors import BadInput
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, within
from shopcli.workings.telling import result, say, words
from shopcli.workings.wrench_sums import (
    SCALES,
    Choice,
    Wrench,
    judge_wrench,
    rank,
    to_graduation,
    tolerance_percent,
    wrench_setting,
)

_FIELDS = 7
_MOST_LINES = 60
_LINE_FORM = "name; lowest; highest; unit; graduation; calibrated YYYY-MM-DD; cycles"


def read_register(text: str) -> tuple[Wrench, ...]:
    """Read wrenches, one a line: ``name; lowest; highest; unit; graduation; calibrated; cycles``.

    Parameters
    ----------
    text : str
        Lines; blank ones are passed over. Lines may also be parted by ``|``.

    Returns
    -------
    tuple of Wrench
        The register.

    Raises
    ------
    BadInput
        If a line cannot be read; the message names it.
    OutOfRange
        If a range or graduation makes no sense.

    Examples
    --------
    >>> read_register("mid; 20; 100; Nm; 0.5; 2024-01-01; 120")[0].high
    100.0
    """
    lines = [line.strip() for line in re.split(r"[\n|]", text) if line.strip()]
    if not lines or len(lines) > _MOST_LINES:
        raise BadInput(f"{len(lines)} wrenches", hint=f"1 to {_MOST_LINES} lines: {_LINE_FORM}")
    register = []
    for line in lines:
        fields = [field.strip() for field in line.split(";")]
        if len(fields) != _FIELDS:
            raise BadInput(f"cannot read the wrench {line[:60]!r}", hint=_LINE_FORM)
        name, low, high, unit, graduation, day, cycles = fields
        try:
            numbers = float(low), float(high), float(graduation), date.fromisoformat(day), int(cycles)
        except ValueError:
            raise BadInput(f"cannot read the wrench {line[:60]!r}", hint=_LINE_FORM) from None
        register.append(Wrench(name, numbers[0], numbers[1], unit, numbers[2], numbers[3], numbers[4]))
    return tuple(register)


def choose_wrench(torque_nm: float, register: tuple[Wrench, ...], today: date) -> tuple[Choice, ...]:
    """Judge every wrench of a register for a torque, best first.

    Parameters
    ----------
    torque_nm : float
        Torque at the wrench, [N*m]
    register : tuple of Wrench
        The shop's wrenches.
    today : date
        The day, for the calibration.

    Returns
    -------
    tuple of Choice
        Usable ones first.

    Raises
    ------
    OutOfRange
        If the torque is not above zero or beyond 3000 N*m.

    Examples
    --------
    >>> wrenches = read_register("a; 5; 25; Nm; 0.1; 2024-01-01; 0 | b; 20; 100; Nm; 0.5; 2024-01-01; 0")
    >>> choose_wrench(24.0, wrenches, date(2024, 6, 1))[0].wrench.name
    'a'
    """
    return rank([judge_wrench(wrench, torque_nm, today) for wrench in register])


def _wrench_choice(torque_nm: float, register: str, today: str) -> Worked:
    try:
        day = date.fromisoformat(today.strip())
    except ValueError:
        raise BadInput(f"cannot read the day {today[:20]!r}", hint="Write it like 2024-06-01.") from None
    judged = choose_wrench(torque_nm, read_register(register), day)
    steps = [f"Wanted: {say(torque_nm, 'Nm', 1)}."]
    for choice in judged:
        mark = "can be used" if choice.usable else "not to be used"
        steps.append(f"{choice.wrench.name}: {mark}, {choice.reason}.")
    best = judged[0]
    if not best.usable or best.setting is None:
        return Worked(
            (words("wrench", "Wrench", "none"),), tuple(steps), (), "No wrench of the register will do."
        )
    unit = best.wrench.unit
    told = say(best.setting, unit, 2, trim=True)
    error = best.error_percent or 0.0
    steps.append(f"Nearest mark {told}: {figure(error, 1)} % off by rounding.")
    limit = f"+/-{figure(tolerance_percent(torque_nm), 0)} %"
    cautions = (f"The wrench itself may be {limit} off and still be in order (ISO 6789).",)
    results = (
        words("wrench", "Wrench", best.wrench.name),
        Result("setting", "Set it to", best.setting, unit, told),
        result("error_percent", "Off by rounding", error, "%", decimals=1),
    )
    return Worked(results, tuple(steps), cautions, f"{best.wrench.name}, set to {told}.")


def _with_extension(
    *,
    torque: float,
    unit: str = "Nm",
    length_mm: float,
    extension_mm: float,
    angle_deg: float = 0.0,
    graduation: float | None = None,
) -> Worked:
    setting = wrench_setting(torque, length_mm, extension_mm, angle_deg)
    wanted = say(torque, unit, 1)
    steps = [
        "S = T L / (L + E cos a), a = 0 in line and longer, 180 folded back.",
        f"L = {say(length_mm, 'mm', 0)}, E = {say(extension_mm, 'mm', 0)}, a = {say(angle_deg, 'deg', 0)}.",
        f"{wanted} becomes {say(setting, unit, 2)}.",
    ]
    results = [result("setting", "Setting", setting, unit)]
    verdict = f"Set {say(setting, unit, 2)} for {wanted} at the fastener."
    if graduation is not None:
        mark = to_graduation(setting, within("graduation", graduation, 0.001, 1000))
        at_nut = torque * mark / setting
        told = say(mark, unit, 2, trim=True)
        steps.append(f"Nearest mark {told}: {say(at_nut, unit, 1)} at the fastener.")
        results += [
            Result("mark", "Nearest mark", mark, unit, told),
            result("at_fastener", "At the fastener", at_nut, unit, decimals=1),
        ]
        verdict = f"Set {told} for {wanted} at the fastener."
    cautions = (
        "Pull in the middle of the handle: the length counts to there.",
        "A plain bar on the axis of the drive needs no correction; a cranked adapter does.",
    )
    return Worked(tuple(results), tuple(steps), cautions, verdict)


WORKINGS: tuple[Working, ...] = (
    Working(
        "wrench-with-extension",
        "Torque wrench with an extension",
        "fasteners",
        (
            Input("torque", "Wanted torque", low=0.01, high=1e6, help="in the unit chosen below"),
            Input("unit", "Unit of the scale", "choice", default="Nm", required=False, choices=tuple(SCALES)),
            Input("length_mm", "Wrench, drive to handle", "number", "length", "mm", 20, 3000),
            Input("extension_mm", "Adapter, drive to fastener", "number", "length", "mm", 0, 3000),
            Input("angle_deg", "Angle, 0 in line", "number", "angle", "deg", 0, 180, 0.0, required=False),
            Input("graduation", "Graduation of the scale", low=0.001, high=1000, required=False),
        ),
        _with_extension,
        "TM 1-1500-204-23-9 fig. 8-16; TM 9-254 fig. 46",
        "adapters up to the length of the wrench, pulled in the middle of the handle",
    ),
    Working(
        "wrench-choice",
        "Which torque wrench, and its setting",
        "fasteners",
        (
            Input("torque_nm", "Torque at the wrench", "number", "torque", "Nm", 0.1, 3000),
            Input("register", "The shop's wrenches", "text", help=_LINE_FORM + ", parted by |"),
            Input("today", "Today", "text", help="2024-06-01"),
        ),
        _wrench_choice,
        "BS EN ISO 6789 as quoted: 12 months or 5000 cycles, +/-4 %; +/-6 % up to 10 N.m from memory",
        "range, graduation and calibration of the register; the shop's own procedure comes first",
    ),
)
