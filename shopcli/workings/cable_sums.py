"""Copper cable: area and resistance by gauge, area or old strand code, and the volts it eats."""

import math
import re

from shopcli.errors import BadInput, NotFound
from shopcli.workings.say import above_zero, within
from shopcli.workings.telling import MM_PER_INCH

# IEC 60228 class 5, plain copper, most resistance at 20 degC: area [mm2] -> [ohm/km]
CLASS_5: dict[float, float] = {
    0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30, 10.0: 1.91,
    16.0: 1.21, 25.0: 0.780, 35.0: 0.554, 50.0: 0.386, 70.0: 0.272,
}  # fmt: skip
COPPER_OHM_MM2_KM = 17.241
ALPHA = 0.00393
ALPHA_IEC = 0.004
KM_PER_KFT = 0.3048
_THICKEST_AWG, _THINNEST_AWG = 0, 40
_INCH_STRAND = 0.05  # a strand figure below this can only be inches
_MM_STRAND = 0.10
_THICKEST_STRAND = 2.0
_LONGEST = 30


def awg_mil(gauge: int) -> float:
    """Diameter of a solid wire by American gauge.

    Parameters
    ----------
    gauge : int
        AWG, 0 to 40, [-]

    Returns
    -------
    float
        Diameter in thousandths of an inch, [thou]

    Raises
    ------
    OutOfRange
        If the gauge is outside 0 to 40.

    Examples
    --------
    >>> round(awg_mil(12), 3)
    80.808

    References
    ----------
    .. [1] Definition of the gauge; NBS Handbook 100 table: 12 AWG 80.81 mil.
    """
    within("AWG", gauge, _THICKEST_AWG, _THINNEST_AWG)
    return float(5 * 92 ** ((36 - gauge) / 39))


def awg_ohm_per_kft(gauge: int) -> float:
    """Resistance of a solid copper wire by American gauge, at 20 degC.

    Parameters
    ----------
    gauge : int
        AWG, 0 to 40, [-]

    Returns
    -------
    float
        Resistance, [ohm/1000 ft]

    Raises
    ------
    OutOfRange
        If the gauge is outside 0 to 40.

    Examples
    --------
    >>> round(awg_ohm_per_kft(14), 3)
    2.525

    References
    ----------
    .. [1] 10 371 ohm circular mil per 1000 ft; NBS Handbook 100 table: 14 AWG 2.525.
    """
    return 10_371 / awg_mil(gauge) ** 2


def awg_mm2(gauge: int) -> float:
    """Area by American gauge.

    Parameters
    ----------
    gauge : int
        AWG, 0 to 40, [-]

    Returns
    -------
    float
        Area, [mm2]

    Raises
    ------
    OutOfRange
        If the gauge is outside 0 to 40.

    Examples
    --------
    >>> round(awg_mm2(14), 2)
    2.08
    """
    return math.pi / 4 * (awg_mil(gauge) * MM_PER_INCH / 1000) ** 2


def strand_mm2(code: str) -> tuple[float, str]:
    """Area of a cable by its old code: number of strands / diameter of one.

    Parameters
    ----------
    code : str
        ``44/0.30`` (mm) or ``44/.012`` (in).

    Returns
    -------
    tuple of float and str
        Area [mm2], and how the code was read.

    Raises
    ------
    BadInput
        If the code cannot be read, or the strand might be inches or millimetres.
    OutOfRange
        If the number or the diameter of strands is out of range.

    Notes
    -----
    Strands below 0.05 are read as inches, from 0.10 as millimetres; nothing in between is guessed.

    Examples
    --------
    >>> round(strand_mm2("44/0.30")[0], 2), round(strand_mm2("44/.012")[0], 2)
    (3.11, 3.21)

    References
    ----------
    .. [1] Definition of the code: strands x pi/4 d^2.
    """
    match = re.fullmatch(r"(\d{1,4}) ?/ ?(\d{0,2}[.,]\d{1,5})", code.strip()[: _LONGEST + 1])
    if not match:
        raise BadInput(f"cannot read the cable {code[:_LONGEST]!r}", hint="Write it like 44/0.30 or 44/.012.")
    strands, figure_read = int(match[1]), float(match[2].replace(",", "."))
    within("strands", strands, 1, 2000)
    above_zero("strand", figure_read, _THICKEST_STRAND)
    if _INCH_STRAND <= figure_read < _MM_STRAND:
        raise BadInput(f"is {match[2]} inches or millimetres?", hint="Measure a strand and give mm2 instead.")
    inches = figure_read < _INCH_STRAND
    diameter = figure_read * MM_PER_INCH if inches else figure_read
    told = f"{strands} strands of {match[2]} {'in' if inches else 'mm'}"
    return strands * math.pi / 4 * diameter**2, told


def copper_ohm_per_km(area_mm2: float) -> float:
    """Resistance of annealed copper of a true area, at 20 degC.

    Parameters
    ----------
    area_mm2 : float
        Area of metal, 0.001 to 200, [mm2]

    Returns
    -------
    float
        Resistance, [ohm/km]

    Raises
    ------
    OutOfRange
        If the area is out of range.

    Notes
    -----
    Cable sold by nominal area may have 10 to 16 % more (IEC 60228 class 5).

    Examples
    --------
    >>> round(copper_ohm_per_km(1.5), 2)
    11.49

    References
    ----------
    .. [1] Annealed copper 17.241 ohm mm2/km at 20 degC (international annealed copper standard).
    """
    within("area_mm2", area_mm2, 0.001, 200, "mm2")
    return COPPER_OHM_MM2_KM / area_mm2


def class_5_ohm_per_km(area_mm2: float) -> float:
    """Most resistance a flexible cable of a nominal area may have, at 20 degC.

    Parameters
    ----------
    area_mm2 : float
        A nominal area of the table, 0.5 to 70, [mm2]

    Returns
    -------
    float
        Resistance, [ohm/km]

    Raises
    ------
    NotFound
        If the area is not one of the table.

    Examples
    --------
    >>> class_5_ohm_per_km(2.5)
    7.98

    References
    ----------
    .. [1] IEC 60228 class 5 plain copper (three secondary tables agree).
    """
    if area_mm2 not in CLASS_5:
        sizes = ", ".join(f"{a:g}" for a in CLASS_5)
        raise NotFound(f"no cable of {area_mm2:g} mm2 in the table", hint=f"Sizes: {sizes}")
    return CLASS_5[area_mm2]


def warm_factor(temperature_c: float, alpha: float = ALPHA) -> float:
    """How much more copper resists when warm, against 20 degC.

    Parameters
    ----------
    temperature_c : float
        Temperature, -40 to 150, [degC]
    alpha : float, optional
        Coefficient, 0.00393 (NBS) or 0.004 (IEC 60228), [1/K]

    Returns
    -------
    float
        Factor, [-]

    Raises
    ------
    OutOfRange
        If the temperature is out of range.

    Examples
    --------
    >>> round(warm_factor(50, ALPHA_IEC), 2), round(warm_factor(50), 4)
    (1.12, 1.1179)

    References
    ----------
    .. [1] NBS 0.00393; IEC 60228 prints Kt 0.893 at 50 degC, which is 1/1.12.
    """
    within("temperature_c", temperature_c, -40, 150, "degC")
    return 1 + alpha * (temperature_c - 20)


def volts_lost(amps: float, length_m: float, ohm_per_km: float, ways: int = 1) -> float:
    """Voltage a cable eats.

    Parameters
    ----------
    amps : float
        Current, 0 to 1000, [A]
    length_m : float
        Length one way, 0 to 50, [m]
    ohm_per_km : float
        Resistance, [ohm/km]
    ways : int, optional
        1 where the body is the return, 2 with a return wire, [-]

    Returns
    -------
    float
        Drop, [V]

    Raises
    ------
    OutOfRange
        If a figure is out of range.

    Notes
    -----
    The cable only: switches, fuses, joints and the earth through the body come on top.

    Examples
    --------
    >>> round(volts_lost(10, 4, 7.98), 4), round(volts_lost(10, 4, 7.98, 2), 4)
    (0.3192, 0.6384)

    References
    ----------
    .. [1] Ohm's law.
    """
    within("amps", amps, 0, 1000, "A")
    within("length_m", length_m, 0, 50, "m")
    above_zero("ohm_per_km", ohm_per_km, 10_000, "ohm/km")
    within("ways", ways, 1, 2)
    return amps * length_m * ways * ohm_per_km / 1000
