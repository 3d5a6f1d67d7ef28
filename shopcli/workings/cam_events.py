"""Cam events: when valves are open, and how many crank degrees a closed valve is away from moving.

Angles are counted from a cylinder's own firing dead centre through its 720 degrees. Exhaust opens before
180 and closes after 360, inlet opens before 360 and closes after 540.
"""

from dataclasses import dataclass
from typing import Literal

from shopcli.errors import BadInput
from shopcli.workings.firing import CYCLE_DEG, firing_angle_deg
from shopcli.workings.frame import Input
from shopcli.workings.say import within

Kind = Literal["I", "E"]
KINDS: tuple[Kind, Kind] = ("I", "E")
KIND_WORDS = {"I": "inlet", "E": "exhaust"}
_EARLIEST_DEG = -60.0
_LATEST_DEG = 120.0


@dataclass(frozen=True, slots=True)
class CamEvents:
    """Valve timing as a handbook prints it, [crank deg].

    Inlet opens before top and closes after bottom dead centre, exhaust opens before bottom and closes after
    top. An event on the other side of its dead centre is negative.
    """

    ivo: float
    ivc: float
    evo: float
    evc: float

    def __post_init__(self) -> None:
        for name in ("ivo", "ivc", "evo", "evc"):
            within(name, getattr(self, name), _EARLIEST_DEG, _LATEST_DEG, "deg")

    def opens_deg(self, kind: Kind) -> float:
        """Angle at which a valve opens in its cylinder's cycle, [crank deg]."""
        return 360.0 - self.ivo if kind == "I" else 180.0 - self.evo

    def open_for_deg(self, kind: Kind) -> float:
        """How long a valve is open, [crank deg]."""
        return 180.0 + (self.ivo + self.ivc if kind == "I" else self.evo + self.evc)

    @property
    def overlap_deg(self) -> float:
        """Both valves open round the exhaust top, negative when neither is, [crank deg]."""
        return self.ivo + self.evc


@dataclass(frozen=True, slots=True, order=True)
class Valve:
    """One valve, named by kind and cylinder: I2, E4."""

    kind: Kind
    cylinder: int

    def __str__(self) -> str:
        return f"{self.kind}{self.cylinder}"


def duration_deg(opens_before_deg: float, closes_after_deg: float) -> float:
    """Crank angle a valve stays open.

    Parameters
    ----------
    opens_before_deg : float
        Opening before its dead centre, -60 to 120, [crank deg]
    closes_after_deg : float
        Closing after the other dead centre, -60 to 120, [crank deg]

    Returns
    -------
    float
        Duration, [crank deg]

    Raises
    ------
    OutOfRange
        If an event is outside its range.

    Examples
    --------
    >>> duration_deg(28.0, 71.0)
    279.0

    References
    ----------
    Definition; figures as printed in TM 9-8000, valve timing.
    """
    within("opening", opens_before_deg, _EARLIEST_DEG, _LATEST_DEG, "deg")
    within("closing", closes_after_deg, _EARLIEST_DEG, _LATEST_DEG, "deg")
    return 180.0 + opens_before_deg + closes_after_deg


def in_hand_deg(cam: CamEvents, kind: Kind, cycle_deg: float) -> float:
    """How far a valve is from its nearest opening or closing while shut.

    Parameters
    ----------
    cam : CamEvents
        Valve timing.
    kind : {"I", "E"}
        Inlet or exhaust.
    cycle_deg : float
        Where the cylinder stands, from its firing dead centre, any number of turns, [crank deg]

    Returns
    -------
    float
        Distance; zero or below while the valve is open, [crank deg]

    Notes
    -----
    While open the figure is minus the distance to the nearer event, so it changes without a jump.

    Examples
    --------
    >>> cam = CamEvents(9, 50, 47, 12)
    >>> in_hand_deg(cam, "I", 0.0), in_hand_deg(cam, "E", 360.0)
    (130.0, -12.0)

    References
    ----------
    Geometry.
    """
    since_opening = (cycle_deg - cam.opens_deg(kind)) % CYCLE_DEG
    still_open = cam.open_for_deg(kind) - since_opening
    if still_open >= 0:
        return -min(since_opening, still_open)
    return min(-still_open, CYCLE_DEG - since_opening)


def valve_in_hand_deg(cam: CamEvents, order: tuple[int, ...], valve: Valve, crank_deg: float) -> float:
    """How far one valve of the engine is from moving at a crank position.

    Parameters
    ----------
    cam : CamEvents
        Valve timing, the same for every cylinder.
    order : tuple of int
        Cylinder numbers in firing order, evenly firing.
    valve : Valve
        Which one.
    crank_deg : float
        Crank position from the firing dead centre of the first in the order, [crank deg]

    Returns
    -------
    float
        As for `in_hand_deg`, [crank deg]

    Raises
    ------
    BadInput
        If there is no such cylinder.

    Examples
    --------
    >>> valve_in_hand_deg(CamEvents(9, 50, 47, 12), (1, 5, 3, 6, 2, 4), Valve("I", 5), 0.0)
    10.0

    References
    ----------
    Geometry.
    """
    return in_hand_deg(cam, valve.kind, crank_deg - firing_angle_deg(order, valve.cylinder))


def full_lift_deg(cam: CamEvents, kind: Kind) -> float:
    """Middle of a valve's opening, taken as its full lift.

    Parameters
    ----------
    cam : CamEvents
        Valve timing.
    kind : {"I", "E"}
        Inlet or exhaust.

    Returns
    -------
    float
        Angle from the cylinder's firing dead centre, [crank deg]

    Notes
    -----
    Exact for lobes with both flanks alike.

    Examples
    --------
    >>> full_lift_deg(CamEvents(9, 50, 47, 12), "I")
    470.5

    References
    ----------
    Geometry.
    """
    return cam.opens_deg(kind) + cam.open_for_deg(kind) / 2.0


def parse_layout(text: str, cylinders: int) -> tuple[Valve, ...]:
    """Read the row of valves from the front, two to each cylinder.

    Parameters
    ----------
    text : str
        I and E in the order they stand, e.g. "EIIEEIIE".
    cylinders : int
        Cylinders in the row, numbered along it, [-]

    Returns
    -------
    tuple of Valve
        Valve 1 first.

    Raises
    ------
    BadInput
        If there are not two letters to each cylinder, one of each.

    Examples
    --------
    >>> " ".join(str(valve) for valve in parse_layout("EIIE", 2))
    'E1 I1 I2 E2'
    """
    letters = "".join(text.upper().split()).replace("-", "")
    if len(letters) != 2 * cylinders or set(letters) - set(KINDS):
        raise BadInput(
            f"layout {text!r} is not {2 * cylinders} letters I and E", hint="from the front, like EIIEEIIE"
        )
    valves = []
    for place, letter in enumerate(letters):
        kind: Kind = "I" if letter == "I" else "E"
        valves.append(Valve(kind, place // 2 + 1))
    if len(set(valves)) != len(valves):
        raise BadInput(f"layout {text!r} gives a cylinder two of a kind", hint="one I and one E to each")
    return tuple(valves)


def _event(name: str, label: str) -> Input:
    return Input(name, label, quantity="crank angle", unit="deg_crank", low=_EARLIEST_DEG, high=_LATEST_DEG)


CAM_INPUTS = (
    _event("ivo_deg", "Inlet opens before top"),
    _event("ivc_deg", "Inlet closes after bottom"),
    _event("evo_deg", "Exhaust opens before bottom"),
    _event("evc_deg", "Exhaust closes after top"),
)
