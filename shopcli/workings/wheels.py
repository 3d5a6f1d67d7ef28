"""Wheels on the bench: toe with its diameter, tyre sizes, speed against revs, the speedometer."""

from shopcli.errors import BadInput
from shopcli.workings.frame import Input, Worked, Working
from shopcli.workings.say import figure, trimmed, within
from shopcli.workings.telling import MM_PER_INCH, result, say
from shopcli.workings.tyre_sums import ROLLING, read_tyre, rolling_mm, tyre_diameter_mm
from shopcli.workings.wheel_sums import (
    KMH_PER_MPH,
    engine_rpm,
    road_kmh,
    speedometer_percent,
    toe_deg,
    toe_mm,
)

_SAME_MM = 0.05


def _toe_words(value_mm: float) -> str:
    if abs(value_mm) < _SAME_MM:
        return "parallel"
    return f"toe-{'in' if value_mm > 0 else 'out'} {say(abs(value_mm), 'mm', 1)}"


def _toe_given(
    rear_mm: float | None,
    front_mm: float | None,
    total_mm: float | None,
    total_deg: float | None,
    diameter_mm: float,
) -> float:
    pair = rear_mm is not None and front_mm is not None
    if (rear_mm is None) != (front_mm is None) or [pair, total_mm is not None, total_deg is not None].count(
        True
    ) != 1:
        raise BadInput("give rear and front, or the toe in mm, or the toe in degrees: one of the three")
    if rear_mm is not None and front_mm is not None:
        return rear_mm - front_mm
    if total_mm is not None:
        return total_mm
    return toe_mm(total_deg if total_deg is not None else 0.0, diameter_mm)


def _toe(
    *,
    diameter_mm: float,
    rear_mm: float | None = None,
    front_mm: float | None = None,
    total_mm: float | None = None,
    total_deg: float | None = None,
    low_mm: float | None = None,
    high_mm: float | None = None,
) -> Worked:
    value = _toe_given(rear_mm, front_mm, total_mm, total_deg, diameter_mm)
    angle = toe_deg(value, diameter_mm)
    steps = [
        f"Measured at a diameter of {say(diameter_mm, 'mm', 0)}.",
        f"Rear minus front: {say(value, 'mm', 1)}, {_toe_words(value)}.",
        f"Angle = asin({figure(value, 2)} / {figure(diameter_mm, 0)}) = {say(angle, 'deg', 2)} in all.",
        f"Each wheel {say(angle / 2, 'deg', 2)}.",
    ]
    verdict = f"{_toe_words(value)} at {say(diameter_mm, 'mm', 0)}, {say(abs(angle), 'deg', 2)} in all."
    if low_mm is not None or high_mm is not None:
        low = low_mm if low_mm is not None else -diameter_mm
        high = high_mm if high_mm is not None else diameter_mm
        inside = low <= value <= high
        verdict += " In limits." if inside else " Out of limits."
    cautions = (
        "A toe in mm is worth nothing without the diameter it was measured at.",
        "Roll the car forward half a turn between the two measurements, never backwards.",
        "Steering wants a second person's check before the car moves.",
    )
    results = (
        result("toe_mm", "Toe, in positive", value, "mm", decimals=1),
        result("toe_deg", "Toe of both wheels", angle, "deg"),
        result("each_deg", "Toe of each wheel", angle / 2, "deg"),
    )
    return Worked(results, tuple(steps), cautions, verdict)


def _tyre_size(size: str, ratio_percent: float | None = None, rolling: float = ROLLING) -> Worked:
    tyre = read_tyre(size, ratio_percent)
    diameter = tyre_diameter_mm(tyre.width_mm, tyre.ratio_percent, tyre.rim_in)
    way = rolling_mm(diameter, rolling)
    steps = (
        f"Width {say(tyre.width_mm, 'mm', 0)}, height {figure(tyre.ratio_percent, 0)} % of it ({tyre.note}).",
        f"Rim {trimmed(tyre.rim_in)} in = {say(tyre.rim_in * MM_PER_INCH, 'mm', 1)}.",
        f"Diameter {say(diameter, 'mm', 1)} ({figure(diameter / MM_PER_INCH, 1)} in).",
        f"Rolls {trimmed(rolling, 3)} of the free circumference: {say(way, 'mm', 0)} a turn.",
    )
    cautions = ("Roll the car one turn and measure where it matters: makes and pressures differ.",)
    results = (
        result("diameter_mm", "Diameter", diameter, "mm", decimals=1),
        result("circumference_mm", "Rolls in one turn", way, "mm", decimals=0),
        result("turns_per_km", "Turns in a kilometre", 1e6 / way, decimals=0),
    )
    return Worked(results, steps, cautions)


def _road_speed(
    *,
    gear_ratio: float,
    axle_ratio: float,
    circumference_mm: float,
    rpm: float | None = None,
    speed_kmh: float | None = None,
) -> Worked:
    if (rpm is None) == (speed_kmh is None):
        raise BadInput("give the revs or the speed, one of the two")
    overall = gear_ratio * axle_ratio
    if rpm is not None:
        revs, speed = rpm, road_kmh(rpm, overall, circumference_mm)
    else:
        speed = speed_kmh if speed_kmh is not None else 0.0
        revs = engine_rpm(speed, overall, circumference_mm)
    per_1000 = road_kmh(1000, overall, circumference_mm)
    both = f"{say(speed, 'km/h', 1)} ({figure(speed / KMH_PER_MPH, 1)} mph)"
    steps = (
        f"Gear {trimmed(gear_ratio, 3)} x axle {trimmed(axle_ratio, 3)} = {trimmed(overall, 3)} in all.",
        f"{say(circumference_mm, 'mm', 0)} in one turn of the wheel: {say(per_1000, 'km/h', 1)} at 1000 rpm.",
        f"{say(revs, 'rpm', 0)} is {both}.",
    )
    results = (
        result("rpm", "Engine", revs, "rpm", decimals=0),
        result("speed_kmh", "Road", speed, "km/h", decimals=1),
        result("speed_mph", "Road in mph", speed / KMH_PER_MPH, "mph", decimals=1),
    )
    return Worked(results, steps, (), f"{say(revs, 'rpm', 0)} is {both}.")


def _speedometer(reference_mm: float, fitted_mm: float) -> Worked:
    percent = speedometer_percent(reference_mm, fitted_mm)
    steps = (
        f"Made for {say(reference_mm, 'mm', 1)}, fitted {say(fitted_mm, 'mm', 1)}.",
        f"Shown over true: {figure(percent, 1)} %.",
    )
    if percent < 0:
        verdict = f"It shows {figure(-percent, 1)} % too little: the road speed is higher than it says."
    else:
        verdict = f"It shows {figure(percent, 1)} % too much."
    at_100 = within("true", 100 / (1 + percent / 100), 1, 1000)
    results = (
        result("shown_percent", "Shown over true", percent, "%", decimals=1),
        result("true_at_100", "True speed when it shows 100", at_100, decimals=1),
    )
    return Worked(results, steps, ("A speedometer that shows too little is usually not lawful.",), verdict)


def _mm(name: str, label: str, low: float, high: float, *, required: bool = True) -> Input:
    return Input(name, label, "number", "length", "mm", low, high, required=required)


def _signed_mm(name: str, label: str) -> Input:
    return Input(name, label, "number", "offset", "mm", -100, 100, required=False)


_WAY = _mm("circumference_mm", "Way in one turn of the wheel", 500, 5000)

WORKINGS: tuple[Working, ...] = (
    Working(
        "toe",
        "Toe in millimetres and degrees",
        "wheels",
        (
            _mm("diameter_mm", "Diameter it is measured at", 200, 1500),
            _mm("rear_mm", "Distance behind the axle", 500, 2500, required=False),
            _mm("front_mm", "Distance in front of it", 500, 2500, required=False),
            _signed_mm("total_mm", "Toe, in positive"),
            Input("total_deg", "Toe of both wheels", "number", "angle", "deg", -5, 5, required=False),
            _signed_mm("low_mm", "Least toe"),
            _signed_mm("high_mm", "Most toe"),
        ),
        _toe,
        "geometry",
        "total toe of an axle, measured at hub height",
        ("Steering wants a second person's check before the car moves.",),
    ),
    Working(
        "tyre-size",
        "Tyre diameter and rolling circumference",
        "wheels",
        (
            Input("size", "Size on the tyre", "text", help="165/80R13, 155R15, 5.60-15"),
            Input(
                "ratio_percent", "Height, if not written", "number", "percent", "%", 25, 105, required=False
            ),
            Input(
                "rolling", "Loaded to free", "number", "ratio", "ratio", 0.94, 1.0, ROLLING, required=False
            ),
        ),
        _tyre_size,
        "definition of the marking; 0.96 to 0.97 and 82 %: common practice, no source",
        "within a few per cent; makes differ",
    ),
    Working(
        "road-speed",
        "Speed and revs",
        "wheels",
        (
            Input("gear_ratio", "Gear", "number", "ratio", "ratio", 0.3, 12),
            Input("axle_ratio", "Axle", "number", "ratio", "ratio", 0.5, 12),
            _WAY,
            Input("rpm", "Engine", "number", "rotation", "rpm", 0, 12_000, required=False),
            Input("speed_kmh", "Road", "number", "speed", "km/h", 0, 300, required=False),
        ),
        _road_speed,
        "definition; printed as rpm = mph x ratio x 336 / diameter in inches",
        "no slip; the circumference of tyre-size or rolled out",
    ),
    Working(
        "speedometer",
        "Speedometer with other tyres",
        "wheels",
        (
            _mm("reference_mm", "Diameter it was made for", 200, 5000),
            _mm("fitted_mm", "Diameter fitted", 200, 5000),
        ),
        _speedometer,
        "geometry",
        "the change by the tyres alone; two diameters or two circumferences",
    ),
)
