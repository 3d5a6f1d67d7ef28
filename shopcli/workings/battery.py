"""The battery on the bench: charge by hydrometer or voltmeter, hours on the charger, a weak cell found."""

from shopcli.workings.battery_sums import (
    MOST_CELLS,
    SOFT_GRAVITY,
    SPREAD_LIMIT,
    cell_spread,
    charge_hours,
    charge_percent,
    gravity_at_80f,
    gravity_from_volts,
    table_for,
)
from shopcli.workings.frame import Input, Result, Worked, Working
from shopcli.workings.say import figure, plain_picture
from shopcli.workings.telling import result, say

GAS = "A charging battery gives off explosive gas: no flame, no spark, air; charger off before the clamps."
ACID = "Battery acid burns: goggles and gloves, water at hand."
EARTH = "Look which terminal is earthed (often the positive on old cars): take the earth lead off first."
LEAST_REST_H = 4.0
_LOW = 50.0
_BAR = 40
_BAR_FROM, _BAR_TO = 1.050, 1.300


def _charge_words(percent: float) -> str:
    if percent < _LOW:
        return f"About {figure(percent, 0)} % charged: charge it now, it sulphates."
    return f"About {figure(percent, 0)} % charged."


def _battery_charge_state(
    reading: float, temperature_c: float, full_gravity: float, flat_gravity: float | None = None
) -> Worked:
    gravity = gravity_at_80f(reading, temperature_c)
    table, source = table_for(full_gravity, flat_gravity)
    percent = charge_percent(gravity, table)
    steps = (
        f"Read {figure(reading, 3)} at {say(temperature_c, 'degC', 0)}.",
        f"0.004 for each 10 °F away from 80 °F: {figure(gravity, 3)} at 80 °F (26.7 °C).",
        f"Full at {figure(full_gravity, 3)}, by {source}: {figure(percent, 0)} %.",
    )
    cautions = [
        ACID,
        "After topping up with water a reading means nothing until the battery has been charged.",
    ]
    if gravity <= SOFT_GRAVITY:
        cautions.append("So weak it freezes at about -15 °C and splits the case.")
    results = (
        result("charge_percent", "Charge", percent, "%", decimals=0),
        result("gravity", "Gravity at 80 °F", gravity, "sg", decimals=3),
    )
    return Worked(results, steps, tuple(cautions), _charge_words(percent))


def _battery_rest_voltage(
    volts: float,
    cells: int,
    full_gravity: float,
    flat_gravity: float | None = None,
    rested_h: float | None = None,
) -> Worked:
    gravity = gravity_from_volts(volts, cells)
    table, source = table_for(full_gravity, flat_gravity)
    percent = charge_percent(gravity, table)
    steps = (
        f"{say(volts, 'V', 2)} / {cells} cells = {say(volts / cells, 'V', 3)}.",
        f"Less 0.84: gravity {figure(gravity, 3)}.",
        f"Full at {figure(full_gravity, 3)}, by {source}: {figure(percent, 0)} %.",
    )
    cautions = ["The hydrometer is the better witness; a voltmeter shows no single weak cell."]
    verdict = _charge_words(percent)
    if rested_h is None or rested_h < LEAST_REST_H:
        cautions.append("Only after some hours of rest: a battery just charged or just used reads wrong.")
        if rested_h is not None:
            verdict = f"Too early after {say(rested_h, 'h', 1)}: let it rest and measure again."
    results = (
        result("charge_percent", "Charge", percent, "%", decimals=0),
        result("gravity", "Gravity it stands for", gravity, "sg", decimals=3),
    )
    return Worked(results, steps, tuple(cautions), verdict)


def _charge_time(capacity_ah: float, missing_percent: float, amps: float) -> Worked:
    least = charge_hours(capacity_ah, missing_percent, amps, 1.2)
    most = charge_hours(capacity_ah, missing_percent, amps, 1.4)
    missing = capacity_ah * missing_percent / 100
    steps = (
        f"Missing {figure(missing_percent, 0)} % of {say(capacity_ah, 'Ah', 0)} = {say(missing, 'Ah', 0)}.",
        f"x 1.2 to 1.4 / {say(amps, 'A', 1)} = {figure(least, 1)} to {say(most, 'h', 1)}.",
    )
    cautions = [GAS, ACID, EARTH]
    if amps > capacity_ah / 10:
        cautions.append("More than a tenth of the capacity in amperes: watch temperature and gassing.")
    results = (
        result("least_h", "At least", least, "h", decimals=1),
        result("most_h", "At most", most, "h", decimals=1),
    )
    return Worked(results, steps, tuple(cautions), f"{figure(least, 1)} to {say(most, 'h', 1)}.")


def cells_picture(gravities: tuple[float, ...], *, ascii_only: bool = False) -> str:
    """Bars of the cells, from 1.050 to 1.300.

    Examples
    --------
    >>> print(cells_picture((1.260, 1.175), ascii_only=True))
    1  1.260  ##################################......
    2  1.175  ####################....................
    """
    lines = []
    for number, gravity in enumerate(gravities, start=1):
        part = (min(max(gravity, _BAR_FROM), _BAR_TO) - _BAR_FROM) / (_BAR_TO - _BAR_FROM)
        full = round(part * _BAR)
        lines.append(f"{number:<2} {figure(gravity, 3)}  {'█' * full}{'░' * (_BAR - full)}")
    picture = "\n".join(lines)
    return plain_picture(picture) if ascii_only else picture


def _cell_spread(
    gravities: tuple[float, ...], limit: float = SPREAD_LIMIT, *, ascii_only: bool = False
) -> Worked:
    spread = cell_spread(gravities)
    weakest = min(range(len(gravities)), key=gravities.__getitem__) + 1
    over = round(spread - limit, 6) > 0
    steps = (
        f"Strongest {figure(max(gravities), 3)}, weakest {figure(min(gravities), 3)} (cell {weakest}).",
        f"Difference {figure(spread, 3)}, limit {figure(limit, 3)}.",
    )
    if over:
        verdict = (
            f"Cell {weakest} lags: charge fully and read again; still over {figure(limit, 3)}, it is bad."
        )
    else:
        verdict = f"Cells agree within {figure(limit, 3)}."
    results = (
        result("spread", "Difference", spread, "sg", decimals=3),
        result("weakest", "Weakest cell", weakest, decimals=0),
        Result("over", "Over the limit", over, "", "yes" if over else "no"),
    )
    return Worked(results, steps, (ACID, EARTH), verdict, cells_picture(gravities, ascii_only=ascii_only))


def _sg(name: str, label: str, low: float, high: float, *, required: bool = True) -> Input:
    return Input(name, label, "number", "density", "sg", low, high, required=required)


_FULL = _sg("full_gravity", "Gravity when full (1.265 or 1.280)", 1.2, 1.32)
_FLAT = _sg("flat_gravity", "Gravity when flat, for other fillings", 1.0, 1.27, required=False)
_TABLES = "TM 5-4210-230-14&P-1 Table 2/3 (full 1.265); TM 5-1185 Table II/III (full 1.280)"

WORKINGS: tuple[Working, ...] = (
    Working(
        "battery-charge-state",
        "Charge by the hydrometer",
        "battery",
        (
            _sg("reading", "Hydrometer reading", 1.0, 1.4),
            Input("temperature_c", "Temperature of the acid", "number", "temperature", "degC", -40, 60),
            _FULL,
            _FLAT,
        ),
        _battery_charge_state,
        _TABLES + "; temperature TM 5-3820-256-24-4",
        "filled lead-acid batteries with plugs that open; reference 80 °F",
        (ACID,),
    ),
    Working(
        "battery-rest-voltage",
        "Charge by the rest voltage",
        "battery",
        (
            Input("volts", "Voltage at rest", "number", "voltage", "V", 1.8, 27),
            Input("cells", "Cells (3 = 6 V, 6 = 12 V)", "whole", low=1, high=MOST_CELLS),
            _FULL,
            _FLAT,
            Input("rested_h", "Rested for", "number", "time", "h", 0, 1000, required=False),
        ),
        _battery_rest_voltage,
        "cell volts = gravity + 0.84 (from memory); " + _TABLES,
        "after some hours without load or charge",
    ),
    Working(
        "charge-time",
        "Hours on the charger",
        "battery",
        (
            Input("capacity_ah", "Capacity", "number", "charge", "Ah", 0.5, 300),
            Input("missing_percent", "Missing", "number", "percent", "%", 0, 100),
            Input("amps", "Charging current", "number", "current", "A", 0.1, 100),
        ),
        _charge_time,
        "common practice, no source (factor 1.2 to 1.4)",
        "steady current; tapering chargers take longer",
        (GAS, ACID, EARTH),
    ),
    Working(
        "cell-spread",
        "Cells compared",
        "battery",
        (
            Input("gravities", "Gravity of each cell", "numbers", "density", "sg"),
            Input("limit", "Limit", low=0.005, high=0.1, default=SPREAD_LIMIT, required=False),
            Input("ascii_only", "Plain characters only", "yesno", default=False, required=False),
        ),
        _cell_spread,
        "TM 9-6140-200-14: 0.025 between cells",
        "a charged battery, cells read one after the other at one temperature",
        (ACID,),
    ),
)
