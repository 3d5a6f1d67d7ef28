"""Each kind of car is offered what fits it, in the order and the words that fit it."""

import pytest

from tests.worklists.whole import DEMOS, LIBRARY, facts_of, offered, work

ALL = frozenset(LIBRARY.templates)
WATER = {"coolant-hoses", "cooling-flush", "cooling-pressure-test", "thermostat", "water-pump"}
RODS_ONLY = {"brakes-mechanical"}
HYDRAULIC = {
    "brake-bleed",
    "brake-hydraulics",
    "brakes-adjust",
    "brakes-disc-overhaul",
    "brakes-drum-overhaul",
}
DISTRIBUTOR = {"distributor-overhaul", "ignition-coil", "points", "timing-static", "timing-strobe"}
TWO_STROKE = {"decoke-two-stroke", "points-two-stroke", "two-stroke-service"}
FOUR_STROKE = {
    "oil-change",
    "engine-service",
    "engine-service-side",
    "small-service",
    "tune-up",
    "leakage-test",
}
PAIRS = {"carb-balance-twin", "carb-balance-triple"}


def keys(car, job):
    return [t.key.partition(":")[2].partition("@")[0] for t in work(car, job).tasks]


def words(car, job):
    return " ".join(f"{t.title} {t.say}" for t in work(car, job).tasks)


def before(order, *steps):
    places = [order.index(s) for s in steps]
    return places == sorted(places)


# What each is not offered, and nothing else.
NOT_OFFERED = {
    "two-stroke-twin-air": WATER | RODS_ONLY | DISTRIBUTOR | FOUR_STROKE | PAIRS
    | {"valve-clearances", "valve-clearances-side", "cylinder-head", "head-side-valve", "alternator", "fuel-pump",
       "brakes-disc-overhaul", "clutch-hydraulics", "steering-box"},
    "side-valve-four-water": HYDRAULIC | TWO_STROKE | PAIRS
    | {"valve-clearances", "cylinder-head", "air-cooling", "alternator", "clutch-hydraulics", "cooling-pressure-test",
       "steering-rack", "thermostat", "water-pump"},
    "positive-earth-four": TWO_STROKE | PAIRS | RODS_ONLY
    | {"air-cooling", "alternator", "brakes-disc-overhaul", "clutch-hydraulics", "head-side-valve", "steering-rack",
       "valve-clearances-side", "engine-service-side"},
    "demo-lark-1200": WATER | TWO_STROKE | PAIRS | RODS_ONLY
    | {"alternator", "brakes-disc-overhaul", "clutch-hydraulics", "cylinder-head", "head-side-valve", "steering-rack",
       "valve-clearances-side", "engine-service-side"},
    "demo-brindle-1600": TWO_STROKE | RODS_ONLY
    | {"air-cooling", "alternator", "carb-balance-triple", "clutch-adjust", "head-side-valve", "steering-box",
       "valve-clearances-side", "engine-service-side"},
}  # fmt: skip


@pytest.mark.parametrize("car", NOT_OFFERED)
def test_what_a_car_is_offered(car):
    assert set(offered(car)) == ALL - NOT_OFFERED[car]


def test_a_two_stroke_has_its_oil_in_the_petrol():
    service = words("two-stroke-twin-air", "two-stroke-service")
    assert "petroil_ratio" in service
    assert "Drain the oil" not in service
    assert "dipstick" not in service
    assert "fit-leads-direct" in keys("two-stroke-twin-air", "plugs-leads")
    assert "fit-leads" not in keys("two-stroke-twin-air", "plugs-leads")
    assert "wet" not in keys("two-stroke-twin-air", "compression-test")
    assert "oil" not in keys("two-stroke-twin-air", "recommissioning")
    assert "mixture" in keys("two-stroke-twin-air", "recommissioning")
    found = next(
        t for t in work("two-stroke-twin-air", "points-two-stroke").tasks if t.key.endswith(":found")
    )
    assert [s.label for s in found.readings] == ["cylinder 1", "cylinder 2"] * 2


def test_a_car_with_brake_rods_is_asked_for_no_fluid():
    for job in ("wheel-bearings", "kingpins", "pre-delivery", "recommissioning"):
        steps = keys("side-valve-four-water", job)
        assert "pedal-firm" not in steps or job == "recommissioning", job
        assert not any(k.startswith("bleed") for k in steps)
    assert "recommissioning:brakes-strip" not in [
        t.key for t in work("side-valve-four-water", "recommissioning").tasks
    ]
    assert "balance" in keys("side-valve-four-water", "recommissioning")


def test_earth_is_said_as_the_car_has_it():
    for car, earth in (("positive-earth-four", "positive"), ("two-stroke-twin-air", "negative")):
        assert facts_of(car).earth == earth
        off = next(t for t in work(car, "battery-renew").tasks if t.key.endswith(":battery-off"))
        assert f"earthed lead ({earth}) first" in off.say
    assert "({})".format("positive") in words("positive-earth-four", "dynamo")
    coil = next(t for t in work("positive-earth-four", "ignition-coil").tasks if t.key.endswith(":polarity"))
    assert "marked + and -, that is positive" in coil.say


def test_charging_and_starting_by_fact():
    assert "dynamo" in offered("demo-lark-1200")
    assert "alternator" in offered("demo-corvane-24")
    assert not {"dynamo", "alternator"} <= set(offered("demo-corvane-24"))
    assert "volts-6" in keys("demo-lark-1200", "starter")
    assert "volts-12" in keys("demo-hallam-35", "starter")


def test_mixture_by_the_kind_of_carburettor():
    assert "mixture-fixed" in keys("demo-lark-1200", "idle-mixture")
    assert "mixture-constant" in keys("demo-brindle-1600", "idle-mixture")
    assert "carb-balance-triple" in offered("three carburettors")
    air = next(t for t in work("three carburettors", "carb-balance-triple").tasks if t.key.endswith(":air"))
    assert {s.label for s in air.readings if s.name == "airflow"} == {f"carburettor {i}" for i in (1, 2, 3)}


@pytest.mark.parametrize("car", DEMOS)
def test_the_tune_up_goes_the_one_right_way(car):
    order = keys(car, "tune-up")
    assert before(order, "dry", "cool", "measure", "set", "fit-points", "set-gap", "run-and-look", "check-dwell",
                  "check-timing", "idle", "road-test")  # fmt: skip
    mixture = next(k for k in order if k.startswith("mixture-"))
    assert before(order, "check-timing", mixture, "idle")
    if facts_of(car).carburettors == 2:
        assert before(order, "check-timing", "air", mixture, "linkage", "cable", "filters-on", "idle")


SEQUENCES = [
    ("demo-brindle-1600", "cylinder-head", "measure rockers-off slacken lift flat on torque rockers-on set top-on coolant-in sump-look run-and-look cool again road-test"),
    ("side-valve-four-water", "head-side-valve", "coolant-out leads-off plugs-out slacken lift decoke on torque plugs-in coolant-in run-and-look again road-test"),
    ("demo-lark-1200", "brakes-drum-overhaul", "pedal-found wheels-off nipples cylinders adjusters adjust level bleed handbrake hold wheels-on lower-car torque-nuts pedal-firm road-test nuts-again"),
    ("demo-brindle-1600", "brakes-disc-overhaul", "pads-off runout caliper-off pistons caliper-on level bleed hold wheels-on pedal-firm road-test bed-in"),
    ("demo-brindle-1600", "brake-hydraulics", "pipes nipples master-off master master-on lines-on level bleed hold wheels-on pedal-firm lights"),
    ("side-valve-four-water", "brakes-mechanical", "look linings shoes rods balance wheels-on pedal-firm road-test"),
    ("demo-brindle-1600", "handbrake", "found slack cable set lower-car pedal-firm"),
    ("demo-brindle-1600", "kingpins", "found wheels-off strip ream build hubs locked wheels-on left lower-car torque-nuts ready found set locked road-test"),
    ("demo-lark-1200", "wheel-bearings", "found wheels-off hub-off wash pack set-taper drum-back locked wheels-on lower-car torque-nuts pedal-firm road-test"),
    ("demo-brindle-1600", "recommissioning", "tag battery-out bores old-petrol fuel-lines oil-out oil by-hand battery-in pressure plugs-in fuel-on first-start watch clutch road-test"),
    ("demo-brindle-1600", "cooling-flush", "found coolant-out flush coolant-in run-and-look cool left"),
    ("demo-brindle-1600", "compression-test", "warm-up leads-off plugs-out ready dry wet wire-on plugs-in leads-on run-and-look"),
    ("demo-brindle-1600", "distributor-overhaul", "cap-off tdc mark out strip renew gap in bulb cap-on run-and-look dwell strobe advance road-test"),
    ("demo-brindle-1600", "carburettor-overhaul", "off found strip soak blow build float on fill run-and-look"),
    ("demo-brindle-1600", "fuel-tank", "battery-off drain out clean leak-test in lower-car fill battery-on run-and-look"),
    ("demo-brindle-1600", "gearbox-axle-oils", "gearbox-filler gearbox-drain gearbox-fill axle-filler axle-drain axle-fill look lower-car road-test"),
    ("demo-brindle-1600", "suspension", "stand wheels-off look leaf bushes fit locked wheels-on lower-car torque-nuts tighten stands-so ready set"),
    ("demo-lark-1200", "dynamo", "belt alone battery-off off strip motor on battery-on polarise cut-in run-and-look volts-6"),
    ("demo-lark-1200", "winter-layup", "wash tank oil cool bores battery card"),
    ("two-stroke-twin-air", "decoke-two-stroke", "shroud-off heads-off decoke bore heads-on close run-and-look"),
]  # fmt: skip


@pytest.mark.parametrize(("car", "job", "steps"), SEQUENCES, ids=[job for _, job, _ in SEQUENCES])
def test_order_in_which_a_mechanic_works(car, job, steps):
    order = keys(car, job)
    place = -1
    for name in steps.split():
        place = order.index(name, place + 1)  # raises when it does not come after the one before


def test_readings_are_taken_as_found_and_as_left_where_something_is_set():
    for car, job, name in (
        ("demo-lark-1200", "clutch-adjust", "free play"),
        ("demo-brindle-1600", "track-toe", "toe"),
        ("demo-corvane-24", "steering-box", "free play at the rim"),
        ("demo-brindle-1600", "kingpins", "play at the tyre"),
        ("demo-brindle-1600", "handbrake", "clicks of the handbrake"),
        ("demo-brindle-1600", "fuel-pump", "fuel pressure"),
        ("demo-brindle-1600", "carburettor-overhaul", "float level"),
        ("demo-brindle-1600", "distributor-overhaul", "end float"),
        ("demo-brindle-1600", "cooling-flush", "antifreeze strength"),
        ("demo-brindle-1600", "timing-static", "static timing"),
        ("demo-corvane-24", "alternator", "output"),
        ("demo-brindle-1600", "dampers", "swings before it rests"),
        ("demo-brindle-1600", "idle-mixture", "idle speed"),
    ):
        phases = {s.phase for t in work(car, job).tasks for s in t.readings if s.name == name}
        assert phases == {"as found", "as left"}, job
