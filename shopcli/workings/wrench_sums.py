"""Torque wrenches as tools with limits: the setting with an extension, the range, the calibration."""

import math
from calendar import monthrange
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from shopcli.errors import BadInput
from shopcli.workings.say import above_zero, figure, within
from shopcli.workings.telling import NM_PER_LBF_FT, say

# [N*m] in one of each
SCALES: dict[str, float] = {
    "Nm": 1.0,
    "lbf.ft": NM_PER_LBF_FT,
    "lbf.in": NM_PER_LBF_FT / 12,
    "kgf.m": 9.80665,
    "kgf.cm": 0.0980665,
}
SERVICE_MONTHS = 12
SERVICE_CYCLES = 5000
TOLERANCE_PERCENT = 4.0  # ISO 6789, read in a secondary page
SMALL_TOLERANCE_PERCENT = 6.0  # ISO 6789-1:2017, up to 10 N*m and some classes: from memory
SMALL_NM = 10.0
LOW_PART = 0.20  # scales are checked from a fifth of full scale: from memory of ISO 6789
_MOST_NM = 3000.0
_DECEMBER = 12


@dataclass(frozen=True, slots=True)
class Wrench:
    """A torque wrench of the register; range and graduation in its own `unit`."""

    name: str
    low: float
    high: float
    unit: str
    graduation: float
    calibrated: date
    cycles: int

    def __post_init__(self) -> None:
        if self.unit not in SCALES:
            raise BadInput(f"{self.name}: no torque unit {self.unit!r}", hint="One of: " + ", ".join(SCALES))
        above_zero(f"{self.name}: top of the scale", self.high, 50_000, self.unit)
        within(f"{self.name}: bottom of the scale", self.low, 0, self.high, self.unit)
        above_zero(f"{self.name}: graduation", self.graduation, self.high, self.unit)
        within(f"{self.name}: cycles", self.cycles, 0, 1e9)


@dataclass(frozen=True, slots=True)
class Choice:
    """A wrench judged for a torque; `setting` and `error_percent` are None where it cannot be set."""

    wrench: Wrench
    usable: bool
    reason: str
    setting: float | None
    error_percent: float | None
    place: float


def wrench_setting(torque: float, length: float, extension: float, angle_deg: float = 0.0) -> float:
    """Set a torque wrench that drives through an extension or adapter [1]_.

    Parameters
    ----------
    torque : float
        Wanted torque, 0.001 to 1 000 000, any unit.
    length : float
        Wrench, centre of drive to middle of the handle, 0.1 to 3000, any unit of length.
    extension : float
        Adapter, centre of drive to centre of the fastener, same unit, 0 or more and up to `length`.
    angle_deg : float, optional
        Angle of the adapter to the wrench, 0 in line (longer), 180 folded back (shorter), [deg]

    Returns
    -------
    float
        Setting, unit of `torque`.

    Raises
    ------
    OutOfRange
        If a figure is outside its range or the adapter folds back to a tenth of the wrench.

    Notes
    -----
    Pull in the middle of the handle. A plain bar on the axis of the drive needs no correction, nor does an
    adapter at 90 degrees.

    Examples
    --------
    >>> round(wrench_setting(300, 10, 4, 0)), round(wrench_setting(50, 16, 2, 90), 6)
    (214, 50.0)

    References
    ----------
    .. [1] TM 1-1500-204-23-9 fig. 8-16 (300 lb-in, 10 in, 4 in: 214); TM 9-254 fig. 46 (angled).
    """
    within("torque", torque, 0.001, 1e6)
    within("length", length, 0.1, 3000)
    within(
        "extension", extension, 0, length, hint="Longer than the wrench: the error of the hand takes over."
    )
    within("angle_deg", angle_deg, 0, 180, "deg")
    reach = length + extension * math.cos(math.radians(angle_deg))
    within("length with the adapter, to the wrench", reach / length, 0.1, 2)
    return torque * length / reach


def to_graduation(value: float, graduation: float) -> float:
    """Nearest mark of a scale, half a mark going up.

    Parameters
    ----------
    value : float
        Setting, [scale]
    graduation : float
        Step of the scale, 0.0001 to 100 000, [scale]

    Returns
    -------
    float
        Mark, [scale]

    Raises
    ------
    OutOfRange
        If the graduation is out of range.

    Examples
    --------
    >>> to_graduation(47.2, 0.5), to_graduation(29.75, 0.5)
    (47.0, 30.0)
    """
    within("graduation", graduation, 1e-4, 1e5)
    step = Decimal(repr(float(graduation)))
    marks = (Decimal(repr(float(value))) / step).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return float(marks * step)


def due_date(calibrated: date, months: int = SERVICE_MONTHS) -> date:
    """Day the calibration runs out: twelve months on unless the shop's own procedure says otherwise [1]_.

    Parameters
    ----------
    calibrated : date
        Day of the calibration.
    months : int, optional
        Interval, 1 to 120, [months]

    Raises
    ------
    OutOfRange
        If the interval is outside 1 to 120 months.

    Examples
    --------
    >>> due_date(date(2024, 2, 29)), due_date(date(2024, 8, 31), 6)
    (datetime.date(2025, 2, 28), datetime.date(2025, 2, 28))

    References
    ----------
    .. [1] BS EN ISO 6789:2003 as quoted: 12 months or 5000 cycles; the shop's own procedure comes first.
    """
    whole = calibrated.year * _DECEMBER + calibrated.month - 1 + int(within("months", months, 1, 120))
    year, month = divmod(whole, _DECEMBER)
    return date(year, month + 1, min(calibrated.day, monthrange(year, month + 1)[1]))


def run_out(
    calibrated: date,
    cycles: int,
    today: date,
    months: int = SERVICE_MONTHS,
    most_cycles: int = SERVICE_CYCLES,
) -> str:
    """Why a tool must be calibrated before it is used, empty if it need not [1]_.

    Parameters
    ----------
    calibrated : date
        Day of the last calibration.
    cycles : int
        Pulled since then, [-]
    today : date
        The day.
    months, most_cycles : int, optional
        Interval, [months] and [-], whichever comes first

    Examples
    --------
    >>> run_out(date(2024, 1, 1), 0, date(2025, 1, 1))
    'calibration ran out on 2025-01-01'

    References
    ----------
    .. [1] BS EN ISO 6789:2003 as quoted: 12 months or 5000 cycles; the shop's own procedure comes first.
    """
    due = due_date(calibrated, months)
    if calibrated > today:
        return f"calibrated on {calibrated}, which is still to come: check the register"
    if today >= due:
        return f"calibration ran out on {due}"
    if cycles >= most_cycles:
        return f"calibration due: {cycles} cycles"
    return ""


def overdue(wrench: Wrench, today: date) -> str:
    """Why a wrench must be calibrated before it is used, empty if it need not.

    Examples
    --------
    >>> overdue(Wrench("small", 5, 25, "Nm", 0.1, date(2024, 1, 1), 5000), date(2024, 6, 1))
    'calibration due: 5000 cycles'
    """
    return run_out(wrench.calibrated, wrench.cycles, today)


def tolerance_percent(torque_nm: float) -> float:
    """Permitted deviation of a wrench at a torque.

    Examples
    --------
    >>> tolerance_percent(50), tolerance_percent(8)
    (4.0, 6.0)

    References
    ----------
    .. [1] ISO 6789: 4 % (secondary page), 6 % up to 10 N.m (from memory).
    """
    return SMALL_TOLERANCE_PERCENT if torque_nm <= SMALL_NM else TOLERANCE_PERCENT


def judge_wrench(wrench: Wrench, torque_nm: float, today: date) -> Choice:
    """Judge one wrench of the register for a torque.

    Parameters
    ----------
    wrench : Wrench
        From the register.
    torque_nm : float
        Torque at the wrench, up to 3000, [N*m]
    today : date
        The day.

    Returns
    -------
    Choice
        Usable or not and why, the setting on its scale, the rounding error, the place on the scale.

    Raises
    ------
    OutOfRange
        If the torque is not above zero or beyond 3000 N*m.

    Notes
    -----
    Not usable: out of range, calibration out, or a graduation so coarse that rounding alone uses up the
    tolerance.

    Examples
    --------
    >>> judge_wrench(Wrench("mid", 20, 100, "Nm", 0.5, date(2024, 1, 1), 10), 47.2, date(2024, 6, 1)).setting
    47.0
    """
    above_zero("torque_nm", torque_nm, _MOST_NM, "Nm")
    wanted = torque_nm / SCALES[wrench.unit]
    place = wanted / wrench.high
    span = f"{figure(wrench.low, 1)} to {say(wrench.high, wrench.unit, 1)}"
    if not wrench.low <= wanted <= wrench.high:
        return Choice(wrench, False, f"range {span}, wanted {say(wanted, wrench.unit, 1)}", None, None, place)
    setting = min(max(to_graduation(wanted, wrench.graduation), wrench.low), wrench.high)
    error = 100 * (setting / wanted - 1)
    late = overdue(wrench, today)
    if late:
        return Choice(wrench, False, late, setting, error, place)
    if abs(error) > tolerance_percent(torque_nm):
        return Choice(
            wrench, False, f"scale too coarse: {figure(error, 1)} % by rounding", setting, error, place
        )
    if place < LOW_PART:
        return Choice(
            wrench,
            True,
            "in the lowest fifth of its scale: a smaller wrench is better",
            setting,
            error,
            place,
        )
    return Choice(wrench, True, f"range {span}", setting, error, place)


def rank(choices: list[Choice]) -> tuple[Choice, ...]:
    """Order judged wrenches: usable, above the lowest fifth, least rounding, nearest to mid-scale."""
    return tuple(
        sorted(
            choices,
            key=lambda c: (
                not c.usable,
                c.place < LOW_PART,
                round(abs(c.error_percent), 1) if c.error_percent is not None else math.inf,
                abs(c.place - 0.6),
                c.wrench.name,
            ),
        )
    )
