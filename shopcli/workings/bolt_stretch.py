"""How far a bolt stretches and how much turn of the nut that takes."""

from shopcli.workings.frame import Input, Worked, Working
from shopcli.workings.say import above_zero, figure, within
from shopcli.workings.telling import result, say
from shopcli.workings.thread_table import find

STEEL_MPA = 205_000.0
_HEAVIEST_N = 2e6
_LARGEST_MM2 = 5000.0
_LONGEST_MM = 1000.0


def stretch_mm(load_n: float, length_mm: float, area_mm2: float, modulus_mpa: float = STEEL_MPA) -> float:
    """Stretch of a bolt under load.

    Parameters
    ----------
    load_n : float
        Load, [N]
    length_mm : float
        Length under load, up to 1000, [mm]
    area_mm2 : float
        Area under load, [mm2]
    modulus_mpa : float, optional
        Elastic modulus, steel 205 000, [MPa]

    Returns
    -------
    float
        Stretch, [mm]

    Raises
    ------
    OutOfRange
        If a figure is not above zero or beyond its range.

    Notes
    -----
    One area over the whole length and below the yield point; a waisted stud needs its pieces added up.

    Examples
    --------
    >>> round(stretch_mm(25275, 60, 58.0), 5)
    0.12754

    References
    ----------
    .. [1] Hooke's law.
    """
    above_zero("load_n", load_n, _HEAVIEST_N, "N")
    above_zero("length_mm", length_mm, _LONGEST_MM, "mm")
    above_zero("area_mm2", area_mm2, _LARGEST_MM2, "mm2")
    within("modulus_mpa", modulus_mpa, 50_000, 250_000, "MPa")
    return load_n * length_mm / (area_mm2 * modulus_mpa)


def turn_deg(travel_mm: float, pitch_mm: float) -> float:
    """Turn of the nut that takes up a travel along the thread.

    Parameters
    ----------
    travel_mm : float
        Travel, up to 20, [mm]
    pitch_mm : float
        Pitch, up to 10, [mm]

    Returns
    -------
    float
        Turn, [deg]

    Raises
    ------
    OutOfRange
        If a figure is not above zero or beyond its range.

    Notes
    -----
    In a rigid joint; parts that give need more turn. Never a handbook's angle.

    Examples
    --------
    >>> round(turn_deg(0.12754, 1.5), 2)
    30.61

    References
    ----------
    .. [1] Definition of the pitch.
    """
    above_zero("travel_mm", travel_mm, 20, "mm")
    above_zero("pitch_mm", pitch_mm, 10, "mm")
    return 360 * travel_mm / pitch_mm


def _bolt_stretch(
    *,
    thread: str,
    grip_mm: float,
    load_n: float,
    shank_area_mm2: float | None = None,
    modulus_mpa: float = STEEL_MPA,
) -> Worked:
    found = find(thread)
    area = found.stress_area_mm2 if shank_area_mm2 is None else shank_area_mm2
    stretch = stretch_mm(load_n, grip_mm, area, modulus_mpa)
    turn = turn_deg(stretch, found.pitch_mm)
    steps = (
        f"Load {figure(load_n, 0)} N over {say(grip_mm, 'mm', 1)} of bolt, area {say(area, 'mm2', 1)}.",
        f"Stretch = F L / (A E), E = {figure(modulus_mpa, 0)} MPa: {say(stretch, 'mm', 3)}.",
        f"Turn = 360 x {figure(stretch, 3)} / {figure(found.pitch_mm, 2)} = {say(turn, 'deg', 0)}.",
    )
    cautions = (
        "The turn counts from snug in a rigid joint; gaskets and thin parts give and need more.",
        "Never in place of the handbook's angle.",
    )
    results = (
        result("stretch_mm", "Stretch", stretch, "mm", decimals=3),
        result("turn_deg", "Turn of the nut", turn, "deg", decimals=0),
    )
    return Worked(results, steps, cautions)


_MODULUS = Input(
    "modulus_mpa", "Elastic modulus", "number", "pressure", "MPa", 5e4, 2.5e5, STEEL_MPA, required=False
)

WORKINGS: tuple[Working, ...] = (
    Working(
        "bolt-stretch",
        "Stretch and turn of a bolt",
        "fasteners",
        (
            Input("thread", "Thread", "text", help="M8, M10x1.25, 5/16 UNF"),
            Input("grip_mm", "Length under load", "number", "length", "mm", 1, 1000),
            Input("load_n", "Load", "number", "force", "N", 1, 2e6),
            Input("shank_area_mm2", "Area if waisted", "number", "area", "mm2", 1, 5000, required=False),
            _MODULUS,
        ),
        _bolt_stretch,
        "Hooke's law and the definition of the pitch",
        "below the yield point, one area over the whole length, rigid joint",
    ),
)
