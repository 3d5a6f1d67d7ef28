"""Any jobs that fit a car fit on one card, or are refused by name when they are chosen: no list waits in a circle.

The pairs are tested in `test_library_whole`; three jobs can close a circle that no two of them close.
"""

from random import Random

import pytest

from shopcli.errors import BadInput
from shopcli.worklists.together import hitch, together
from tests.worklists.whole import CARS, LIBRARY, book_of, facts_of, offered, work

# A car that has stood for years is brought to life first: it is not run before it was turned by hand, so nothing
# that wants a warm engine can come before the battery is off and share its steps.
FIRST = "recommissioning"
SEEN = [  # once seen waiting in a circle
    ("demo-lark-1200", ("battery-charging", "wiring-faults", "lights")),
    ("demo-brindle-1600", ("lights", "battery-charging", "wiring-faults")),
    ("demo-hallam-35", ("oil-change", "winter-layup", "yearly-inspection")),
    ("demo-brindle-1600", ("engine-service", "handbrake", "winter-layup")),
    ("inline-four-water", ("brakes-drum-overhaul", "oil-change", "winter-layup")),
    ("vee-eight-water", ("small-service", "winter-layup", "yearly-inspection")),
]
REFUSED = [
    ("demo-lark-1200", ("recommissioning", "starter")),
    ("inline-six-water", ("engine-service", "fuel-tank", "recommissioning")),
    ("inline-six-water", ("fuel-lines", "recommissioning", "small-service")),
    ("tm-10-3930-653", ("fuel-lines", "gearbox-axle-oils", "recommissioning")),
    ("positive-earth-four", ("cylinder-head", "recommissioning", "tune-up")),
    ("bare", ("recommissioning", "fuel-lines", "oil-change")),
]


def titles(names):
    return [LIBRARY.template(name).title for name in names]


def put_together(car, jobs):
    return together(LIBRARY, jobs, facts_of(car), book_of(car))


@pytest.mark.parametrize(("car", "jobs"), SEEN)
def test_what_once_waited_in_a_circle_fits_on_one_card(car, jobs):
    assert len(put_together(car, jobs).templates) >= len(jobs)


@pytest.mark.parametrize(("car", "jobs"), REFUSED)
def test_what_cannot_share_a_card_is_refused_by_the_names_of_the_jobs(car, jobs):
    with pytest.raises(BadInput, match="cannot share a card") as caught:
        put_together(car, jobs)
    said = caught.value.message.partition(" cannot share")[0]
    assert all(f'"{title}"' in said for title in titles(jobs))
    assert "card of its own" in caught.value.hint


def test_only_those_to_blame_are_named():
    with pytest.raises(BadInput) as caught:
        put_together("demo-lark-1200", ("lights", "starter", "greasing", "recommissioning"))
    said = caught.value.message.partition(" cannot share")[0]
    assert [title for title in titles(("lights", "greasing")) if title in said] == []
    assert all(title in said for title in titles(("starter", "recommissioning")))


@pytest.mark.parametrize("car", CARS)
def test_three_jobs_drawn_by_lot(car):
    """20 draws a car, the same at every run; where one is refused the long rest is in it."""
    lot = Random(f"three jobs for {car}")
    for _ in range(20):
        jobs = tuple(lot.sample(offered(car), 3))
        try:
            put_together(car, jobs)
        except BadInput as error:
            assert FIRST in jobs, (jobs, error.message)


@pytest.mark.parametrize("car", CARS)
def test_each_job_alone_has_no_hitch(car):
    assert [(job, why) for job in offered(car) if (why := hitch(LIBRARY, work(car, job)))] == []
