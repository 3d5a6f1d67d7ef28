"""The whole shipped library, opened up for every kind of car: what the tests of all jobs share."""

from functools import cache

from shopcli.shipped import shipped
from shopcli.worklists.expand import applicable, expand
from shopcli.worklists.load import load_library
from shopcli.worklists.sheets import facts, lookup
from shopcli.worklists.words import OPPOSITES

LIBRARY = load_library(shipped("jobtemplates"), with_shipped=False)
DEMOS = ("demo-lark-1200", "demo-brindle-1600", "demo-corvane-24", "demo-hallam-35")
ARMY = "tm-10-3930-653"
FAMILIES = (
    "flat-four-air",
    "inline-four-water",
    "inline-six-water",
    "vee-eight-water",
    "two-stroke-twin-air",
    "side-valve-four-water",
    "positive-earth-four",
)
# What a person would add at the desk: the one thing these sheets rightly leave open.
ADDED = {
    "side-valve-four-water": {"firing_order": "1-2-4-3"},
    "vee-eight-water": {"firing_order": "1-8-4-3-6-5-7-2"},
    "three carburettors": {"carburettors": 3},
}
SHEET_OF = {"three carburettors": "demo-corvane-24", "bare": ""}
ADDED["bare"] = {"cylinders": 4}  # a car nobody has described yet
CARS = (*DEMOS, ARMY, *FAMILIES, "three carburettors", "bare")


@cache
def facts_of(car):
    return facts(LIBRARY, SHEET_OF.get(car, car), ADDED.get(car))


@cache
def book_of(car):
    return lookup(LIBRARY, SHEET_OF.get(car, car))


@cache
def offered(car):
    return tuple(t.name for t in applicable(LIBRARY, facts_of(car)))


@cache
def work(car, *jobs):
    return expand(LIBRARY, jobs, facts_of(car), book_of(car))


def every(cars=CARS):
    """Yield (car, job, its work list) for each job each car is offered."""
    for car in cars:
        for job in offered(car):
            yield car, job, work(car, job)


def every_task(cars=CARS):
    """Yield each distinct task once, however many cars and jobs it is met in."""
    seen = set()
    for _, _, work_list in every(cars):
        for task in work_list.tasks:
            mark = (task.key.partition("@")[0], task.say, task.cautions, task.lifts)
            if mark not in seen:
                seen.add(mark)
                yield task


def faults(tasks, tags):
    """Walk a list from top to bottom as a mechanic would and say what is wrong with it.

    The car stands cold on its wheels, switched off. Found are: a step barred by a tag that hangs, a tag left
    hanging at the end, a state needed that nothing before it has brought about.
    """
    found = []
    hanging = set()
    states = {"engine cold", "car on its wheels", "ignition off", "handbrake off"}
    for task in tasks:
        others = hanging - set(task.lifts)
        barring = {tag for tag in others if set(tags[tag].bars) & set(task.acts) or tag in task.barred}
        found += [f"{task.key} is barred by {tag}" for tag in sorted(barring)]
        hanging = others | set(task.hangs)
        if "start" in task.acts:
            states.discard("engine cold")
        found += [f"{task.key} needs {state}" for state in task.needs if state not in states]
        for state in task.makes:
            states.discard(OPPOSITES.get(state, ""))
            states.add(state)
    return found + [f"{tag} is left hanging" for tag in sorted(hanging)]


def only_later(tasks):
    """Return (task, state) where a state is needed that only a later task brings about."""
    makers = {state: index for index, task in reversed(list(enumerate(tasks))) for state in task.makes}
    start = {"engine cold", "car on its wheels", "ignition off", "handbrake off"}
    return [
        (task.key, state)
        for index, task in enumerate(tasks)
        for state in task.needs
        if state not in start and makers.get(state, len(tasks)) >= index
    ]


def unordered(tasks):
    """Return (tag, hanger, lifter) where neither of the two is bound to come first.

    A tag hangs once on a car, however many steps ask for it: one that may be lifted by the work on the left while
    the right is still open would lie.
    """
    before = {}
    for task in tasks:  # listed so that each follows those it waits for
        known = [k for k in task.after if k in before]
        before[task.key] = set(known).union(*(before[k] for k in known)) if known else set()
    return [
        (tag, hanger.key, lifter.key)
        for lifter in tasks
        for tag in lifter.lifts
        for hanger in tasks
        if tag in hanger.hangs and hanger.key != lifter.key
        if hanger.key not in before[lifter.key] and lifter.key not in before[hanger.key]
    ]


def stuck(tasks, tags):
    """Return what is left when no step that is ready may be done for the tags that hang, or nothing.

    Steps that do something barred by tags go first, then those that lift, then those that hang.
    """
    left = list(tasks)
    keys = {t.key for t in tasks}
    hanging = set()
    while left:
        waiting = {t.key for t in left}
        ready = [t for t in left if not any(k in waiting and k in keys for k in t.after)]
        free = [t for t in ready if not any(set(tags[g].bars) & set(t.acts) for g in hanging - set(t.lifts))]
        if not free:
            return [t.key for t in ready]
        task = min(free, key=lambda t: (not t.acts, not t.lifts, bool(t.hangs)))
        left.remove(task)
        hanging = (hanging - set(task.lifts)) | set(task.hangs)
    return []
