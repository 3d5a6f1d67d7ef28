"""Where a step can hurt, its caution stands before it; where a slip can kill, a second person looks."""

import re

import pytest

from shopcli.units import IMPERIAL
from shopcli.worklists.expand import say_text
from tests.worklists.whole import CARS, LIBRARY, every, every_task, work

# A word in title or text; the cautions of which one at least stands before such a step; the steps that only speak
# of the thing (a light named brake, a finding to look for) and lay no hand on it.
WORDS = {
    r"\bpetrol\b": ({"petrol vapour", "petrol tank"}, {
        "distributor-overhaul:road-test", "timing-strobe:road-test", "points:road-test",
        "oil-change:drain", "oil-change:read-dipstick", "recommissioning:pressure",
    }),
    r"\btanks?\b": ({"petrol tank", "petrol vapour"}, {
        "exhaust:on", "pre-delivery:coolant-level", "purchase-inspection:under", "water-leaks:drains",
    }),
    r"\bjacks?\b|on stands": ({"car on stands", "road springs", "petrol tank"}, set()),
    r"\bsprings?\b": ({"springs under load", "road springs"}, {
        "air-cooling:flaps", "carburettor-overhaul:float", "distributor-overhaul:strip", "handbrake:found",
        "handbrake:look", "ignition-coil:cap", "lights:lamps", "purchase-inspection:under",
        "small-service:under", "suspension:stand", "wheel-bearings:found", "wheel-bearings:found-balls",
        "yearly-inspection:body",
    }),
    r"\bhot\b": ({"hot engine", "hot oil", "hot coolant", "hot metal"}, {
        "brake-hydraulics:master-on", "fuel-pump:quantity", "handbrake:road-test", "idle-mixture:road-test",
        "ignition-coil:road-test", "purchase-inspection:road-test", "starter:run-and-look", "tune-up:ask",
        "wiring-faults:ask",
    }),
    r"\b(linings?|shoes|pads)\b": ({"brake dust", "proving brakes"}, {
        "brake-bleed:bleed", "brakes-adjust:handbrake", "handbrake:slack", "small-service:brakes-look",
    }),
    r"brake fluid|\bcalipers?\b|(master|wheel) cylinder": ({"brake fluid", "brake dust"}, {
        "after-winter:run-and-look", "oil-change:run-and-look", "oil-change:waste",
        "plugs-leads:run-and-look", "pre-delivery:run-and-look", "recommissioning:watch",
        "valve-clearances:run-and-look", "valve-clearances-side:run-and-look",
    }),
    r"coolant|radiator|top hose": ({"hot coolant", "antifreeze", "pressure in the system"}, {
         "oil-change:waste", "water-pump:off",
    }),
    r"battery|earthed lead": ({"battery shorts", "battery gas", "battery acid"}, {
        "compression-test:ready", "dynamo:belt", "fuel-lines:leak", "ignition-coil:supply",
        "pre-delivery:levels",
    }),
    r"\bcoil\b(?! (spring|end))|\bleads\b|low-tension": ({"high tension", "battery shorts", "road springs"}, set()),
    r"turn\w* [^.]{0,25}by hand": ({"turning by hand", "cranking"}, {
        "air-cooling:tin-on", "recommissioning:cooling", "water-pump:on",
    }),
    r"old oil|\bsump plug\b": ({"used oil"}, {
        "oil-change:raise-car", "oil-change:run-and-look", "plugs-leads:run-and-look",
        "valve-clearances:run-and-look", "valve-clearances-side:run-and-look",
    }),
    r"\bplugs\b.*started by hand|each started by hand": ({"aluminium threads"}, set()),
    r"scrap\w+|\bbrushed\b|chisel|grinder|drill\w*|glass paper": ({"eyes", "brake dust", "old asbestos"}, {
        "fuel-tank:leak-test",
    }),
    r"paraffin|caustic|thinner|carburettor cleaner|\bwashed\b": ({"solvents", "battery acid"}, {
        "cylinder-head:read", "fuel-lines:filter",
    }),
    r"\bair put in|breath of air|blown? (through|every|clear)": ({"compressed air", "pressure in the system"}, set()),
    r"until clean grease|what takes grease|greased until": ({"grease under pressure"}, set()),
    r"solder\w*|weld\w*|\bheated\b|flame": ({"hot metal", "petrol tank", "petrol vapour"}, {
        "purchase-inspection:under", "tyres-wheels:rims", "winter-layup:cool",
    }),
    r"puller|pressed,|drifted|driven out|\btaper (broken|with)|reamer": ({"parts under force"}, set()),
    r"\bmice\b|mould|\bnests?\b": ({"mice and mould"}, set()),
    r"old gasket|exhaust wrap": ({"old asbestos", "used oil"}, set()),
    r"lift the head off|heavier than": ({"heavy part"}, set()),
}  # fmt: skip


@pytest.mark.parametrize("pattern", WORDS)
def test_the_word_and_its_caution(pattern):
    wanted, spoken_of = WORDS[pattern]
    met = [t for t in every_task() if re.search(pattern, f"{t.title}. {t.say}", re.IGNORECASE)]
    assert met, "no step speaks of it"
    bare = {t.key.partition("@")[0] for t in met if not wanted & {c.name for c in t.cautions}}
    assert bare == spoken_of


def test_every_caution_is_used():
    used = {c.name for t in every_task() for c in t.cautions}
    assert used == set(LIBRARY.cautions)


def test_every_tag_is_used():
    used = {tag for t in every_task() for tag in t.hangs}
    assert used == set(LIBRARY.tags)


def test_tyres_set_on_the_ground_wait_for_the_ground():
    """A pressure set with the wheel hanging is another one on the ground: the tag holds it, whatever order is made."""
    tyres = [
        t
        for t in every_task()
        if "car on its wheels" in t.needs and any(r.name == "tyre pressure" for r in t.readings)
    ]
    assert {t.template for t in tyres} == {"pre-delivery", "track-toe", "tyres-wheels"}
    assert [t.key for t in tyres if "car on stands" not in t.barred] == []


def test_what_is_looked_at_at_idle_waits_for_an_engine_that_may_run():
    """From how each step says it: common practice, no source."""
    idling = [t for t in every_task() if "again at idle" in say_text(t, IMPERIAL)]
    assert {t.key for t in idling} == {"pre-delivery:lights"}
    assert [t.key for t in idling if "start" not in t.acts] == []


FUEL = {"fuel open", "petrol lines open", "petrol tank open", "petrol pump open", "carburettor open"}
# What a step does, and the cautions that go with it, all of them.
ACTS = [
    ("a running engine", lambda t: "start" in t.acts and "drive" not in t.acts, {"exhaust gas"}),
    ("a hand near a running engine", lambda t: "start" in t.acts and t.place == "engine bay", {"exhaust gas", "fans and belts"}),
    ("the starter without a start", lambda t: "crank" in t.acts and "start" not in t.acts, {"cranking"}),
    ("the road", lambda t: "road test" in t.acts, {"road"}),
    ("under a car", lambda t: t.place == "under the car" and "car raised" in t.needs, {"car on stands"}),
    ("the car up or down", lambda t: "car on stands" in (*t.hangs, *t.lifts), {"car on stands"}),
    ("petrol let out", lambda t: FUEL & {*t.hangs, *t.lifts}, {"petrol vapour"}),
    ("coolant let out", lambda t: "coolant drained" in t.hangs, {"hot coolant", "antifreeze"}),
    ("oil let out", lambda t: "sump dry" in t.hangs and "engine warm" in t.needs, {"used oil", "hot oil"}),
    ("cold oil let out", lambda t: {"sump dry", "fresh oil not in"} & set(t.hangs), {"used oil"}),
    ("the battery touched", lambda t: "battery disconnected" in (*t.hangs, *t.lifts), {"battery shorts"}),
    ("plugs in", lambda t: "plugs out" in t.lifts, {"aluminium threads"}),
    ("a tester under pressure", lambda t: {"tester in a plug hole", "tester on the radiator"} & set(t.lifts), {"pressure in the system"}),
    ("belt off or on", lambda t: "belt off" in (*t.hangs, *t.lifts), {"fans and belts"}),
    ("first stops", lambda t: "brakes" in t.system and "road test" in t.acts, {"proving brakes"}),
]  # fmt: skip


@pytest.mark.parametrize("number", range(len(ACTS)), ids=[a[0] for a in ACTS])
def test_the_act_and_its_cautions(number):
    _, does, wanted = ACTS[number]
    met = [t for t in every_task() if does(t)]
    assert met
    assert {t.key for t in met if not wanted <= {c.name for c in t.cautions}} == set()


# Brakes, steering, wheels and fuel: who closes these has somebody else look.
WATCHED = ("brakes open", "wheel nuts hand-tight", "hub loose", "steering apart", "suspension apart", "throttle not proved", *sorted(FUEL))  # fmt: skip


@pytest.mark.parametrize("tag", WATCHED)
def test_what_can_kill_is_closed_with_a_second_person(tag):
    closing = [t for t in every_task() if tag in t.lifts]
    assert closing
    assert {t.key for t in closing if not t.second} <= {
        "fuel-pump:tight"
    }  # under the gauge, and opened again


def test_every_job_on_brakes_steering_wheels_has_a_second_person():
    for car, job, listed in every():
        if LIBRARY.template(job).system in {"brakes", "steering", "wheels"}:
            assert any(t.second for t in listed.tasks), (car, job)


@pytest.mark.parametrize("car", CARS)
def test_wheels_that_were_off_are_torqued_on_the_ground_again_after_the_road_and_later(car):
    met = 0
    for _, job, listed in every((car,)):
        if not any("wheels off" in t.hangs for t in listed.tasks):
            continue
        met += 1
        place = {t.key.partition(":")[2]: i for i, t in enumerate(listed.tasks)}
        order = [place[k] for k in ("loosen-nuts", "raise-car", "wheels-off", "wheels-on", "lower-car", "torque-nuts", "road-test", "nuts-again")]  # fmt: skip
        assert order == sorted(order), job
        owed = [o for t in listed.tasks for o in t.owes if o.check.endswith("nuts-later")]
        assert {(o.before, o.miles) for o in owed} == {("distance", 30)}, job
    assert met >= 5


def test_no_number_is_said_where_the_sheet_should_say_it():
    """Torques, gaps, volts and pressures stand in the sheets, where they have a source, and not in the words."""
    unit = r"(mm|thou|inch|lbf?.?ft|nm|bar|psi|volts?|ohms?|degrees?|rpm|litres?|°|amps?)\b"
    said = re.compile(rf"\b\d+([.,]\d+)?\s*{unit}", re.IGNORECASE)
    met = {t.key: said.search(t.say).group() for t in every_task() if said.search(t.say)}
    assert {key for key in met if "volt" not in met[key]} == set()
    for key, words in met.items():  # a 6 volt car is a kind of car
        assert words in {"6 volt", "12 volt"}, key


def test_the_long_checks_are_promised():
    """A head is tightened again, linings settle, a belt stretches: each is owed at a distance or a day."""

    def later(car, job):
        return {
            (o.before, o.miles or o.days)
            for t in work(car, job).tasks
            for o in t.owes
            if o.before != "hand-over"
        }

    assert ("distance", 500) in later("demo-brindle-1600", "cylinder-head")
    assert ("distance", 300) in later("side-valve-four-water", "head-side-valve")
    assert ("distance", 500) in later("demo-lark-1200", "brakes-drum-overhaul")
    assert ("date", 730) in later("demo-lark-1200", "brake-bleed")
    assert ("date", 365) in later("demo-lark-1200", "yearly-inspection")
    assert ("date", 150) in later("demo-lark-1200", "winter-layup")
    assert ("distance", 300) in later("two-stroke-twin-air", "decoke-two-stroke")
    assert ("distance", 30) in later("demo-hallam-35", "tyres-wheels")
