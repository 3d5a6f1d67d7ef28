"""One example for each working, as it is typed: shown by the docs page and the command line, and run by both.

The figures are invented; they only have to be plausible enough that the sum answers.
"""

import shlex
from collections.abc import Sequence

from shopcli.errors import BadInput
from shopcli.workings.frame import Working
from shopcli.worklists.asked_inputs import input_named

EXAMPLES: dict[str, str] = {
    "convert": '"40 ftlb" Nm',
    "inch-fraction": 'length="11.1 mm"',
    "fuel-use": 'fuel="32 mpg imp"',
    "fuel-over-fills": 'distances="212 198 240 mi" fuels="31.5 30.2 35 L"',
    "feeler-stack": 'gap="14 thou" inch="2 3 4 6 8 10"',
    "dwell-percent": "dwell=52 lobes=4 low=49 high=55",
    "dwell-degrees": "dwell=58 lobes=4",
    "gap-and-dwell": 'gap_before="16 thou" gap_after="14 thou"',
    "coil-current": "supply=12.6 coil=1.5 ballast=1.5",
    "spark-interval": "order=1-3-4-2 crank=3000",
    "lead-order": "order=1-3-4-2 rotor=anticlockwise",
    "timing-arc": 'diameter="5.5 in" angle=8',
    "total-advance": 'static=8 centrifugal="400:0 800:6 1600:14" basis=distributor crank=2400',
    "firing-companions": "order=1-5-3-6-2-4",
    "valve-sequence": "order=1-3-4-2",
    "clearance-hot-cold": 'found_mm="13 thou" found_state=cold limit_state=cold low="11 thou" high="13 thou"',
    "valve-stops": "order=1-3-4-2 ivo=10 ivc=50 evo=50 evc=10",
    "valve-sum-rule": "order=1-3-4-2 layout=EIIEEIIE ivo=10 ivc=50 evo=50 evc=10",
    "bucket-shim": 'measured="0.34 0.22" old="2.40 2.55" low=0.20 high=0.30 wanted=0.25 stock_from=2 stock_to=3 step=0.05',
    "bucket-shim-reuse": 'measured="0.34 0.18 0.26 0.38" old="2.40 2.55 2.50 2.35" low=0.20 high=0.30'
    " stock_from=2 stock_to=3 step=0.05",
    "compression-spread": 'readings="150 148 118 152 psi" rule=lowest allowed_percent=75 minimum="120 psi"',
    "compression-altitude": 'reading="128 psi" altitude="1400 m"',
    "wet-test": 'dry="150 148 105 152" wet="158 156 149 160"',
    "leak-down": 'supply="80 psi" held="72 71 58 73" limit=25 heard="oil filler"',
    "displacement": "bore=80.26 stroke=88.9 cylinders=4",
    "compression-ratio": 'bore=80.26 stroke=88.9 chamber="42.5 cc" gasket=0.9 gasket_bore=82 dish="6.5 cc"',
    "proof-load": "thread=M8 grade=8.8",
    "bolt-torque": 'thread="5/16 UNF" grade="grade 5"',
    "bolt-stretch": 'thread=M10x1.25 grip="95 mm" load="25000 N"',
    "thread": 'thread="3/8 BSW" other=M10',
    "thread-find": 'major="0.309 in" pitch=1.058',
    "stress-area": "thread=M10x1.25",
    "hex-sizes": 'thread="7/16 UNF"',
    "spanner-near-fit": 'head="1/2 AF" have=metric',
    "tightening-order": 'pattern=head rows=2 columns=5 torque="42 ftlb"',
    "stages": 'torque="60 Nm" angles="90 90"',
    "wrench-with-extension": 'torque="40 ftlb" length="16 in" extension="4 in"',
    "wrench-choice": 'torque="40 Nm" register="small; 5; 25; Nm; 0.5; 2024-03-01; 300 | large; 20; 120; Nm; 1; 2024-03-01; 900"'
    " today=2024-06-01",
    "belt-length": 'large="140 mm" small="70 mm" centres="310 mm"',
    "belt-deflection": 'span="300 mm" measured="12 mm"',
    "split-pulley": "split=125 other=80 centres=260 spacer=0.5 deflection=22 wanted=13 between=5",
    "end-float-shims": 'pack=1.60 measured=0.34 wanted=0.10 sense="a thicker pack takes float away" stock="0.24 0.30 0.34 0.36 1.00"',
    "oil-grade": 'coldest="14 F" handbook_upper=50',
    "oil-from-viscosity": "viscosity=17.5",
    "dipstick-fill": "level=25 span=1.2",
    "coolant-strength": 'volume="6.5 L" now=20 wanted=40',
    "coolant-freeze": "percent=40",
    "battery-charge-state": "reading=1.225 temperature=10 full=1.265",
    "battery-rest-voltage": "volts=12.35 cells=6 full=1.265 rested=8",
    "charge-time": "capacity=50 missing=40 amps=4",
    "cell-spread": 'gravities="1.265 1.270 1.260 1.225 1.265 1.270"',
    "cable-drop": 'amps=30 length="2.5 m" kind=mm2 size=4',
    "toe": 'diameter="14 in" total_mm="1/16 in"',
    "tyre-size": "size=165/80R13",
    "road-speed": "gear=1 axle=3.9 circumference=1830 rpm=3000",
    "speedometer": "reference=595 fitted=570",
    "drum": 'nominal="8 in" machine="8.03 in" discard="8.06 in" measured="8.012 8.015 8.013 in"',
    "disc": "nominal=12.7 machine=11.6 discard=11.2 measured='12.31 12.30 12.32'",
    "labour-units": "minutes=1h05 rate=54.00",
    "hours": "time=1:05",
    "markup": 'cost=12.50 bands="0 60; 10 40; 50 30"',
    "vat": 'lines="120.00 20; 45.50 5; 30 0"',
    "margin": "cost=60.00 price=84.00",
}


def split_words(working: Working, words: Sequence[str]) -> dict[str, str]:
    """Part ``name=value`` words; a word without a name goes to the next input nobody named.

    Raises
    ------
    BadInput
        If an input is unknown, given twice, or there are more words than inputs.

    Examples
    --------
    >>> from shopcli.worklists.workings_at_hand import working_named
    >>> split_words(working_named("convert"), ["to=Nm", "40 ftlb"])
    {'to': 'Nm', 'value': '40 ftlb'}
    """
    typed: dict[str, str] = {}
    loose: list[str] = []
    for word in words:
        name, equals, text = word.partition("=")
        if not equals:
            loose.append(word)
            continue
        asked = input_named(working, name)
        if asked.name in typed:
            raise BadInput(f"{asked.label} ({asked.name}) is given twice", hint="Give it once.")
        typed[asked.name] = text
    free = (each.name for each in working.inputs if each.name not in typed)
    for word in loose:
        name = next(free, "")
        if not name:
            raise BadInput(f"{working.name}: “{word[:30]}” is one word too many", hint="Write name=value.")
        typed[name] = word
    return typed


def example_inputs(working: Working) -> dict[str, str]:
    """Return the example of a working, by input."""
    return split_words(working, shlex.split(EXAMPLES.get(working.name, "")))
