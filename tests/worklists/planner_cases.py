"""Work to be planned: shipped jobs, and lists made up from a seed, like a shop's day or like nothing on earth."""

from dataclasses import replace
from random import Random

from shopcli.worklists.expand import expand
from shopcli.worklists.load import load_library
from shopcli.worklists.planner import PlanTask
from shopcli.worklists.sheets import facts, lookup

LIBRARY = load_library()
AT = ("engine bay", "under the car", "at the wheels", "bench", "driver's seat", "")
NEEDS = ("engine cold", "engine warm", "car raised", "car on its wheels", "ignition off")


def shipped(demo, *names):
    """Return the tasks of shipped jobs on a shipped demo car."""
    work = expand(LIBRARY, names, facts(LIBRARY, demo), lookup(LIBRARY, demo))
    return [PlanTask.of(task, LIBRARY.tags) for task in work.tasks]


def wild(seed, n, *, most=9):
    """Return tasks with every kind of rule between them at random; not every such list can be done."""
    random = Random(seed)

    def some(*of, share):
        return tuple(x for x in of if random.random() < share)

    tasks = []
    for j in range(n):
        lifts = some("sump dry", "on charge", share=0.15)
        tasks.append(
            PlanTask(
                str(j),
                f"task {j}",
                random.randint(1, most),
                random.choice((0, 0, 0, random.randint(1, 3 * most))),
                random.choice(AT),
                tuple(str(i) for i in range(j) if random.random() < 1.2 / max(j, 4)),
                some(*NEEDS, share=0.12),
                random.choice(((),) * 8 + (("engine warm",), ("car raised",), ("car on its wheels",))),
                some("start", share=0.1)
                + some("crank", "drive", share=0.03)
                + (("hand over",) if j == n - 1 and random.random() < 0.2 else ()),
                some("sump dry", "on charge", share=0.15),
                lifts,
                tuple(tag for tag in some("sump dry", "on charge", share=0.2) if tag not in lifts),
                job=random.choice("abc"),
            )
        )
    return tasks


def sane(seed, n, *, most=6, longest=12):
    """Return a short list as a shop could have it: what is hung is lifted, what is raised is let down."""
    random = Random(seed)
    after = [{i for i in range(j) if random.random() < 0.9 / max(j, 3)} for j in range(n)]
    tasks = [
        PlanTask(
            str(j),
            f"task {j}",
            random.randint(1, most),
            random.choice((0, 0, random.randint(1, longest))),
            random.choice(AT),
            acts=("start",) if random.random() < 0.15 else ("drive",) if random.random() < 0.06 else (),
            job=random.choice("ab"),
        )
        for j in range(n)
    ]

    def change(j, **fields):
        kept = {name: (*getattr(tasks[j], name), value) for name, value in fields.items()}
        tasks[j] = replace(tasks[j], **kept)

    def pair():
        first, second = sorted(random.sample(range(n), 2))
        after[second].add(first)
        return (
            first,
            second,
            set(random.sample(range(n), random.randint(1, max(1, n // 2)))) - {first, second},
        )

    for tag in ("sump dry", "open")[: random.randint(0, 2)]:
        hanger, lifter, others = pair()
        change(hanger, hangs=tag)
        change(lifter, lifts=tag)
        for j in others:
            change(j, barred=tag)
    if random.random() < 0.5:
        up, down, others = pair()
        change(up, makes="car raised")
        change(down, makes="car on its wheels")
        for j in others:
            change(j, needs=random.choice(("car raised", "car raised", "car on its wheels")))
    if random.random() < 0.5:
        warm, cool, others = pair()
        change(warm, makes="engine warm")
        cools = random.random() < 0.3
        for j in others:
            change(j, needs=random.choice(("engine warm", "ignition off", NEEDS[4 if cools else 0])))
        for j in {j for j in others if cools and j > cool}:
            change(j, needs="engine cold")
            after[j].add(cool)
        change(cool, **({"makes": "engine cold"} if cools else {}))
    return [replace(t, after=tuple(str(i) for i in sorted(after[j]))) for j, t in enumerate(tasks)]


def shop_day(seed, n):
    """Return a day as a shop has it: jobs of a few steps, some that drain or cure, one warm-up, one run."""
    random = Random(seed)
    tasks = [
        PlanTask("raise", "Raise", 8, 0, "under the car", makes=("car raised",), hangs=("on stands",)),
        PlanTask("warm", "Warm up", 2, 10, AT[4], makes=("engine warm",), acts=("start",), barred=("open",)),
    ]
    ends, under, job = [], [], 0
    while len(tasks) < n - 4:
        job += 1
        steps = _job(random, f"job {job}", min(random.randint(2, 7), n - 4 - len(tasks)))
        tasks += steps
        under += [step.key for step in steps if "car raised" in step.needs]
        ends.append(steps[-1].key)
    wheels, bars = ("car on its wheels",), ("open", "on stands")
    return [
        *tasks,
        PlanTask("lower", "Lower", 5, 0, AT[1], tuple(under), makes=wheels, lifts=("on stands",)),
        PlanTask("run", "Run", 6, 5, AT[0], (*ends, "lower"), acts=("crank", "start"), barred=("open",)),
        PlanTask("road", "Road test", 15, 0, "on the road", ("run",), acts=("start", "drive"), barred=bars),
        PlanTask("keys", "Keys", 2, 0, AT[4], ("road",), acts=("hand over",), barred=bars),
    ]


def _job(random, name, count):
    place = random.choice(AT[:5] + AT[:1])
    engine = place == "engine bay"
    cold, opens = engine and random.random() < 0.25, engine and count > 1 and random.random() < 0.4
    needs = ("engine cold", "ignition off") if cold else ("ignition off",) if opens else ()
    if place in {"under the car", "at the wheels"}:
        needs = ("car raised",)
    return [
        PlanTask(
            f"{name} step {k}",
            f"{name.capitalize()}, step {k}",
            random.choice((3, 4, 5, 6, 8, 10, 12, 15, 20, 30)),
            random.choice((0, 0, 0, 0, 0, 10, 20, 30, 60)) if k < count - 1 else 0,
            place if random.random() < 0.85 else "bench",
            (f"{name} step {k - 1}",) if k else (),
            needs,
            hangs=("open",) if opens and k == 0 else (),
            lifts=("open",) if opens and k == count - 1 else (),
            job=name,
        )
        for k in range(count)
    ]
