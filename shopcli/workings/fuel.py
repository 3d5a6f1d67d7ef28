"""Fuel use: miles per gallon of two gallons, litres per 100 km, and the average over several fills.

Miles per gallon and litres per 100 km run opposite ways, so an average of the figures is wrong in one of
them; over several fills the fuel is added up and divided once.
"""

from shopcli.errors import BadInput
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import above_zero, figure, trimmed

GALLON_L = {"imp": 4.54609, "us": 3.785411784}
MILE_KM = 1.609344
UNITS = ("L/100km", "mpg_imp", "mpg_us", "km/L")
_MOST_MPG = 1000.0
_MOST_L_PER_100KM = 500.0


def l_per_100km(mpg: float, gallon: str) -> float:
    """Litres per 100 km from miles per gallon.

    Parameters
    ----------
    mpg : float
        Fuel use, above 0 up to 1000, [mi/gal]
    gallon : {"imp", "us"}
        Which gallon.

    Returns
    -------
    float
        Fuel use, [L/100 km]

    Raises
    ------
    OutOfRange
        If `mpg` is zero, negative or beyond 1000.
    BadInput
        If the gallon is neither.

    Notes
    -----
    The relation is reciprocal and its own inverse. A tolerance does not convert by it.

    Examples
    --------
    >>> round(l_per_100km(30.0, "imp"), 4), round(l_per_100km(30.0, "us"), 4)
    (9.416, 7.8405)

    References
    ----------
    US gallon 231 in3, imperial gallon 4.54609 L, mile 1609.344 m, all exact: NIST SP 811 (2008), App. B.8.
    """
    if gallon not in GALLON_L:
        raise BadInput(f"no gallon called {gallon!r}", hint="imp or us")
    above_zero("fuel use", mpg, _MOST_MPG, "mpg")
    return 100.0 * GALLON_L[gallon] / (MILE_KM * mpg)


def miles_per_gallon(litres_per_100km: float, gallon: str) -> float:
    """Miles per gallon from litres per 100 km.

    Parameters
    ----------
    litres_per_100km : float
        Fuel use, above 0 up to 500, [L/100 km]
    gallon : {"imp", "us"}
        Which gallon.

    Returns
    -------
    float
        Fuel use, [mi/gal]

    Raises
    ------
    OutOfRange
        If the fuel use is zero, negative or beyond 500.
    BadInput
        If the gallon is neither.

    Examples
    --------
    >>> round(miles_per_gallon(10.0, "imp"), 2)
    28.25

    References
    ----------
    As for `l_per_100km`.
    """
    if gallon not in GALLON_L:
        raise BadInput(f"no gallon called {gallon!r}", hint="imp or us")
    above_zero("fuel use", litres_per_100km, _MOST_L_PER_100KM, "L/100 km")
    return 100.0 * GALLON_L[gallon] / (MILE_KM * litres_per_100km)


def use_over_fills(distances_km: tuple[float, ...], fuels_l: tuple[float, ...]) -> float:
    """Fuel use over several fills: all fuel over all distance.

    Parameters
    ----------
    distances_km : tuple of float
        Distance driven to each fill, above 0, [km]
    fuels_l : tuple of float
        Fuel put in at each fill, above 0, [L]

    Returns
    -------
    float
        Fuel use, [L/100 km]

    Raises
    ------
    BadInput
        If there is not one amount of fuel for each distance.
    OutOfRange
        If any figure is zero or negative.

    Notes
    -----
    Good only from full tank to full tank.

    Examples
    --------
    >>> use_over_fills((100.0, 300.0), (20.0, 30.0))
    12.5

    References
    ----------
    Definition.
    """
    if len(distances_km) != len(fuels_l) or not fuels_l:
        raise BadInput(f"{len(distances_km)} distances for {len(fuels_l)} fills", hint="one of each per fill")
    for distance_km, fuel_l in zip(distances_km, fuels_l, strict=True):
        above_zero("distance", distance_km, 100_000.0, "km")
        above_zero("fuel", fuel_l, 2_000.0, "L")
    return 100.0 * sum(fuels_l) / sum(distances_km)


def _results(litres: float) -> tuple[Result, ...]:
    imp, us = miles_per_gallon(litres, "imp"), miles_per_gallon(litres, "us")
    return (
        Result("l_per_100km", "litres per 100 km", litres, "L/100km", f"{figure(litres, 1)} L/100 km"),
        Result("mpg_imp", "miles per imperial gallon", imp, "mpg_imp", f"{figure(imp, 1)} mpg imperial"),
        Result("mpg_us", "miles per US gallon", us, "mpg_us", f"{figure(us, 1)} mpg US"),
        Result("km_per_l", "kilometres per litre", 100 / litres, "km/L", f"{figure(100 / litres, 1)} km/L"),
    )


def _run_fuel_use(*, fuel_use: float, spoken_in: str) -> Worked:
    if spoken_in == "L/100km":
        litres = above_zero("fuel use", fuel_use, _MOST_L_PER_100KM, "L/100 km")
    elif spoken_in == "km/L":
        litres = 100.0 / above_zero("fuel use", fuel_use, _MOST_MPG, "km/L")
    else:
        litres = l_per_100km(fuel_use, spoken_in.removeprefix("mpg_"))
    return Worked(
        results=_results(litres),
        steps=(
            f"{trimmed(fuel_use, 3)} {spoken_in} = {figure(litres, 3)} L/100 km",
            "imperial: 282.481 / (L/100 km); US: 235.215 / (L/100 km)",
        ),
        cautions=("Never average miles per gallon: add the fuel up and divide once.",),
    )


def _run_fuel_over_fills(*, distances_km: tuple[float, ...], fuels_l: tuple[float, ...]) -> Worked:
    litres = use_over_fills(distances_km, fuels_l)
    total_km, total_l = trimmed(sum(distances_km), 1), trimmed(sum(fuels_l), 2)
    return Worked(
        results=_results(litres),
        steps=(
            f"distance: {' + '.join(trimmed(d, 1) for d in distances_km)} = {total_km} km",
            f"fuel: {' + '.join(trimmed(f, 2) for f in fuels_l)} = {total_l} L",
            f"100 x {total_l} / {total_km} = {figure(litres, 2)} L/100 km",
        ),
        cautions=("Good from brimmed tank to brimmed tank only.",),
    )


FUEL_USE = Working(
    name="fuel-use",
    title="Fuel use in the other units",
    subject="conversions",
    inputs=(
        Input("fuel_use", "Fuel use", low=0.0, high=_MOST_MPG),
        Input("spoken_in", "Spoken in", "choice", choices=UNITS, help="imperial or US gallon: it matters"),
    ),
    run=_run_fuel_use,
    source="NIST SP 811 (2008), Appendix B.8: gallons and mile by definition",
    good_for="fuel use above zero, up to 1000 mpg or 500 L/100 km",
)

FUEL_OVER_FILLS = Working(
    name="fuel-over-fills",
    title="Fuel use over several fills",
    subject="conversions",
    inputs=(
        Input("distances_km", "Distance to each fill", "numbers", quantity="distance", unit="km", low=0.0),
        Input("fuels_l", "Fuel put in at each", "numbers", quantity="volume", unit="L", low=0.0),
    ),
    run=_run_fuel_over_fills,
    source="definition",
    good_for="fills from full to full, odometer checked",
    cautions=("Petrol vapour: no flame, no lamp, no smoking at the filler.",),
)

WORKINGS = (FUEL_USE, FUEL_OVER_FILLS)
