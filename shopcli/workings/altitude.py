"""Thin air: what a compression reading taken up a hill would be at sea level.

A gauge reads above the air around it, so pressures are scaled as absolute ones. Printed limit tables have
been found to go by the density of the air instead; both answers are given, and the handbook's table first.
"""

from shopcli.errors import OutOfRange
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, trimmed, within
from shopcli.workings.spread import MOST_PSI, PSI_IN, pressure_text

SEA_LEVEL_PSI = 101.325 / PSI_IN["kPa"]
_LOWEST_M = -430.0
_HIGHEST_M = 5000.0
_LAPSE_K_PER_M = 0.0065
_SEA_LEVEL_K = 288.15
_EXPONENT = 9.80665 * 28.9644 / (8314.32 * _LAPSE_K_PER_M)
_EARTH_M = 6_356_766.0


def _temperature_ratio(altitude_m: float) -> float:
    within("altitude", altitude_m, _LOWEST_M, _HIGHEST_M, "m")
    geopotential_m = _EARTH_M * altitude_m / (_EARTH_M + altitude_m)
    return 1.0 - _LAPSE_K_PER_M * geopotential_m / _SEA_LEVEL_K


def air_pressure_ratio(altitude_m: float) -> float:
    """Pressure of the standard air against sea level.

    Parameters
    ----------
    altitude_m : float
        Height above sea level, -430 to 5000, [m]

    Returns
    -------
    float
        Ratio, [-]

    Raises
    ------
    OutOfRange
        If the height is outside the range roads go to.

    Notes
    -----
    The standard air of a textbook; weather moves the true pressure by some 3 per cent.

    Examples
    --------
    >>> round(air_pressure_ratio(1524.0), 4)
    0.8321

    References
    ----------
    US Standard Atmosphere 1976, lowest layer.
    """
    return float(_temperature_ratio(altitude_m) ** _EXPONENT)


def air_density_ratio(altitude_m: float) -> float:
    """Density of the standard air against sea level.

    Parameters
    ----------
    altitude_m : float
        Height above sea level, -430 to 5000, [m]

    Returns
    -------
    float
        Ratio, [-]

    Raises
    ------
    OutOfRange
        If the height is outside the range roads go to.

    Examples
    --------
    >>> round(air_density_ratio(3048.0), 3)
    0.739

    References
    ----------
    US Standard Atmosphere 1976, lowest layer.
    """
    return float(_temperature_ratio(altitude_m) ** (_EXPONENT - 1.0))


def air_pressure_psi(altitude_m: float) -> float:
    """Absolute pressure of the standard air.

    Parameters
    ----------
    altitude_m : float
        Height above sea level, -430 to 5000, [m]

    Returns
    -------
    float
        Pressure, [psi absolute]

    Raises
    ------
    OutOfRange
        If the height is outside the range roads go to.

    Examples
    --------
    >>> round(air_pressure_psi(3048.0), 2)
    10.11

    References
    ----------
    US Standard Atmosphere 1976; 10.108 psi at 10 000 ft in its tables.
    """
    return SEA_LEVEL_PSI * air_pressure_ratio(altitude_m)


def sea_level_gauge_psi(gauge_psi: float, air_psi: float) -> float:
    """Sea-level reading of the same cylinder, absolute pressures in proportion.

    Parameters
    ----------
    gauge_psi : float
        Reading, 0 to 1000, [psi gauge]
    air_psi : float
        Air pressure where it was read, 6 to 17, [psi absolute]

    Returns
    -------
    float
        Reading at sea level, [psi gauge]

    Raises
    ------
    OutOfRange
        If a figure is outside its range.

    Examples
    --------
    >>> round(sea_level_gauge_psi(120.0, air_pressure_psi(1524.0)), 1)
    144.2

    References
    ----------
    Geometry of the piston: both pressures rise in the same proportion.
    """
    within("reading", gauge_psi, 0.0, MOST_PSI, "psi")
    within(
        "air pressure", air_psi, 6.0, 17.0, "psi", hint="the true pressure here, not that set to sea level"
    )
    return (gauge_psi + air_psi) * SEA_LEVEL_PSI / air_psi - SEA_LEVEL_PSI


def _run_compression_altitude(
    *,
    reading_psi: float,
    altitude_m: float,
    barometer_kpa: float | None = None,
    shown_in: str = "psi",
) -> Worked:
    if not reading_psi > 0:
        raise OutOfRange("reading", reading_psi, "above 0 psi")
    standard_psi, density = air_pressure_psi(altitude_m), air_density_ratio(altitude_m)
    air_psi = standard_psi if barometer_kpa is None else barometer_kpa / PSI_IN["kPa"]
    by_pressure, by_density = sea_level_gauge_psi(reading_psi, air_psi), reading_psi / density
    ratio = SEA_LEVEL_PSI / air_psi
    source = "standard air" if barometer_kpa is None else "barometer here"
    return Worked(
        results=(
            Result("sea_level_psi", "at sea level", by_pressure, "psi", pressure_text(by_pressure, shown_in)),
            Result(
                "by_density_psi",
                "at sea level, by density",
                by_density,
                "psi",
                pressure_text(by_density, shown_in),
            ),
            Result("air_psi", "air here", air_psi, "psi", f"{figure(air_psi, 2)} psi absolute"),
            Result("density_ratio", "air density here", density, "ratio", f"{figure(100 * density, 1)} %"),
        ),
        steps=(
            f"air at {trimmed(altitude_m, 0)} m: {figure(air_psi, 2)} psi absolute ({source})",
            f"reading {trimmed(reading_psi, 1)} + air = {figure(reading_psi + air_psi, 1)} psi absolute",
            f"x {figure(ratio, 3)}, less {figure(SEA_LEVEL_PSI, 2)} psi = {figure(by_pressure, 1)} psi",
            f"by density: {trimmed(reading_psi, 1)} / {figure(density, 3)} = {figure(by_density, 1)} psi",
        ),
        cautions=(
            "Where the handbook prints limits for the height, use its table: printed ones go by density.",
            "Compare cylinders with each other first: height moves them all alike.",
        ),
    )


COMPRESSION_ALTITUDE = Working(
    name="compression-altitude",
    title="Compression reading brought to sea level",
    subject="compression",
    inputs=(
        Input("reading_psi", "Reading", quantity="pressure", unit="psi", low=0.0, high=MOST_PSI),
        Input(
            "altitude_m",
            "Height above sea level",
            quantity="length",
            unit="m",
            low=_LOWEST_M,
            high=_HIGHEST_M,
        ),
        Input(
            "barometer_kpa",
            "True air pressure here",
            quantity="pressure",
            unit="kPa",
            low=45.0,
            high=115.0,
            required=False,
            help="read here, not brought to sea level; standard air when left out",
        ),
        Input("shown_in", "Say it in", "choice", default="psi", required=False, choices=tuple(PSI_IN)),
    ),
    run=_run_compression_altitude,
    source="US Standard Atmosphere 1976; limits by density: TM 5-3895-359-14&P compression tables",
    good_for="heights from -430 to 5000 m, engine and gauge in the same air",
    cautions=("Ignition and fuel made safe before the engine is cranked; stand clear of open plug holes.",),
)

WORKINGS = (COMPRESSION_ALTITUDE,)
