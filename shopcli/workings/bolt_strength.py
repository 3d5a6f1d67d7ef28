"""How much a bolt bears, and the torque that stretches it to a safe part of that.

The handbook's torque always comes first; these sums say what a bolt is, not what an engine wants.
"""

import math

from shopcli.errors import BadInput
from shopcli.workings.say import above_zero, within

METRIC_PROOF_MPA: dict[str, float] = {
    "4.6": 225, "4.8": 310, "5.6": 280, "5.8": 380, "6.8": 440,
    "8.8": 580, "9.8": 650, "10.9": 830, "12.9": 970,
}  # fmt: skip
PROOF_88_THICK_MPA = 600.0
THICK_MM = 16.0
CLAMP_PART = 0.75
K_DRY = 0.20
K_LUBRICATED = 0.15
REDUCTIONS: dict[str, float] = {
    "clean and dry": 0.0,
    "engine oil": -10.0,
    "new plated": -20.0,
}
ALUMINIUM_REDUCTION = -30.0
_HEAVIEST_N = 2e6
_LARGEST_MM2 = 5000.0
_WIDEST = 100.0


def proof_stress_mpa(property_class: str, diameter_mm: float) -> float:
    """Proof stress of a metric bolt by its class [1]_.

    Parameters
    ----------
    property_class : str
        Class on the head, 4.6 to 12.9.
    diameter_mm : float
        Nominal diameter, 3 to 39 mm, [mm]

    Returns
    -------
    float
        Proof stress, [MPa]

    Raises
    ------
    BadInput
        If the class is not in the table.
    OutOfRange
        If the diameter is outside 3 to 39 mm.

    Notes
    -----
    Class 8.8 counts 580 MPa up to 16 mm and 600 MPa above.

    Examples
    --------
    >>> proof_stress_mpa("8.8", 10), proof_stress_mpa("8.8", 20)
    (580.0, 600.0)

    References
    ----------
    .. [1] EN ISO 898-1, back from its printed proof loads (two secondary tables agree).
    """
    within("diameter_mm", diameter_mm, 3, 39, "mm")
    if property_class not in METRIC_PROOF_MPA:
        raise BadInput(f"no class {property_class!r}", hint="One of: " + ", ".join(METRIC_PROOF_MPA))
    if property_class == "8.8" and diameter_mm > THICK_MM:
        return PROOF_88_THICK_MPA
    return float(METRIC_PROOF_MPA[property_class])


def proof_stress_psi(grade: int, diameter_in: float = 0.5) -> float:
    """Proof stress of an inch bolt by its SAE grade [1]_.

    Parameters
    ----------
    grade : int
        2, 5 or 8 (no, three or six marks on the head).
    diameter_in : float, optional
        Nominal diameter, 0.25 to 1.5 in, [in]

    Returns
    -------
    float
        Proof stress, [psi]

    Raises
    ------
    BadInput
        If the grade is not 2, 5 or 8.
    OutOfRange
        If the diameter is outside 1/4 to 1-1/2 in.

    Notes
    -----
    Grade 2 falls to 33 ksi above 3/4 in, Grade 5 to 74 ksi above 1 in.

    Examples
    --------
    >>> proof_stress_psi(5), proof_stress_psi(2, 0.875)
    (85000.0, 33000.0)

    References
    ----------
    .. [1] SAE J429 (secondary tables).
    """
    within("diameter_in", diameter_in, 0.25, 1.5, "in")
    steps = {2: (55_000.0, 0.75, 33_000.0), 5: (85_000.0, 1.0, 74_000.0), 8: (120_000.0, 1.5, 120_000.0)}
    if grade not in steps:
        raise BadInput(f"no grade {grade}", hint="2 has no marks on the head, 5 has three, 8 has six.")
    thin, limit_in, thick = steps[grade]
    return thin if diameter_in <= limit_in else thick


def proof_load_n(area_mm2: float, proof_mpa: float) -> float:
    """Load a bolt must bear without lasting stretch.

    Parameters
    ----------
    area_mm2 : float
        Stress area, up to 5000, [mm2]
    proof_mpa : float
        Proof stress, up to 2000, [MPa]

    Returns
    -------
    float
        Proof load, [N]

    Raises
    ------
    OutOfRange
        If a figure is not above zero or beyond its range.

    Examples
    --------
    >>> round(proof_load_n(36.6, 580))
    21228

    References
    ----------
    .. [1] Definition; EN ISO 898-1 prints 21 200 N for M8 class 8.8.
    """
    above_zero("area_mm2", area_mm2, _LARGEST_MM2, "mm2")
    above_zero("proof_mpa", proof_mpa, 2000, "MPa")
    return area_mm2 * proof_mpa


def torque_for_clamp(nut_factor: float, diameter: float, clamp: float) -> float:
    """Torque by the short formula T = K D F, in the product of the units given [1]_.

    Parameters
    ----------
    nut_factor : float
        K, 0.10 to 0.30, [-]
    diameter : float
        Nominal diameter, up to 100, [mm] or [in]
    clamp : float
        Clamp load, up to 2 000 000, [N] or [lbf]

    Returns
    -------
    float
        Torque, [N*mm] or [lbf*in]

    Raises
    ------
    OutOfRange
        If K is outside 0.10 to 0.30 or another figure not above zero.

    Notes
    -----
    K is a rough number: the same torque clamps a quarter more or less with the state of the thread.

    Examples
    --------
    >>> torque_for_clamp(0.20, 8.0, 15900) / 1000
    25.44

    References
    ----------
    .. [1] Fastening handbook, nut factors 0.1 to 0.3 and worked examples, p. 85; clamp 75 % of proof as in
       the SAE J429 bolt torque table (secondary).
    """
    within("nut_factor", nut_factor, 0.10, 0.30)
    above_zero("diameter", diameter, _WIDEST)
    above_zero("clamp", clamp, _HEAVIEST_N)
    return nut_factor * diameter * clamp


def nut_factor(
    friction: float, diameter_mm: float, pitch_mm: float, effective_mm: float, face_mm: float
) -> float:
    """K from friction, 60 degree thread, same friction in thread and under the head [1]_.

    Parameters
    ----------
    friction : float
        Coefficient of friction, 0.04 to 0.40, [-]
    diameter_mm, pitch_mm, effective_mm : float
        Nominal diameter, pitch and effective diameter, [mm]
    face_mm : float
        Mean diameter of the face under the head, [mm]

    Returns
    -------
    float
        Nut factor K, [-]

    Raises
    ------
    OutOfRange
        If friction is outside 0.04 to 0.40 or a size is not above zero.

    Notes
    -----
    For 60 degree flanks; the wedge of the thread counts, washers that turn do not.

    Examples
    --------
    >>> round(nut_factor(0.15, 10, 1.5, 9.026, 13.0), 3)
    0.2

    References
    ----------
    .. [1] Textbook relation (NASA RP-1228 form), from memory.
    """
    within("friction", friction, 0.04, 0.40)
    for name, value in (("diameter_mm", diameter_mm), ("pitch_mm", pitch_mm), ("effective_mm", effective_mm)):
        above_zero(name, value, _WIDEST, "mm")
    above_zero("face_mm", face_mm, 2 * _WIDEST, "mm")
    lead = math.atan(pitch_mm / (math.pi * effective_mm))
    wedge = friction / math.cos(math.radians(30))
    thread = effective_mm / 2 * (math.tan(lead) + wedge) / (1 - wedge * math.tan(lead))
    return (thread + friction * face_mm / 2) / diameter_mm


def reduced(value: float, percent: float) -> float:
    """Figure changed by a percentage, as a reduction of -10 % for oiled threads.

    Parameters
    ----------
    value : float
        Torque in any unit.
    percent : float
        Change, -60 to 0, [%]

    Returns
    -------
    float
        Changed figure, unit as given.

    Raises
    ------
    OutOfRange
        If the change is outside -60 to 0.

    Examples
    --------
    >>> round(reduced(31, -10), 6)
    27.9

    References
    ----------
    .. [1] TM 5-3895-367-14&P App. H: oil -10 %, new plated -20 %, into aluminium -30 % or more.
    """
    within("percent", percent, -60, 0, "%")
    return value * (100 + percent) / 100
