"""A job added to a card joins what is there: shared steps that are still open become one, settled ones stay settled."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput
from shopcli.worklists.expand import expand
from shopcli.worklists.freeze import task_from_json, task_to_json
from shopcli.worklists.library import Library
from shopcli.worklists.model import Standing, Task, WorkList
from shopcli.worklists.sheets import facts, lookup
from shopcli.worklists.together import together
from tests.worklists.small import CAR, run, small_library

OIL = """
title = "Oil"
system = "engine"
kit = [{ part = "oil", qty = 4, unit = "L" }]
[[task]]
id = "raise"
title = "Raise the car"
once = "raise"
minutes = 5
[[task]]
id = "drain"
title = "Drain"
after = ["raise"]
[[task]]
id = "lower"
title = "Lower the car"
once = "lower"
after = ["drain"]
minutes = 5
[[task]]
id = "test"
title = "Road test"
once = "road test"
after = ["lower", "brakes:test"]
minutes = 10
say = "Oil pressure."
kit = [{ part = "seal", qty = 1 }]
"""
BRAKES = """
title = "Brakes"
system = "brakes"
kit = [{ part = "fluid", qty = 1 }, { part = "oil", qty = 1, unit = "L" }]
[[task]]
id = "raise"
title = "Raise the car for the brakes"
once = "raise"
minutes = 7
[[task]]
id = "adjust"
title = "Adjust"
after = ["raise"]
[[task]]
id = "lower"
title = "Lower the car"
once = "lower"
after = ["adjust"]
[[task]]
id = "test"
title = "Brake test"
once = "road test"
after = ["lower"]
minutes = 15
say = "Stop from thirty."
readings = [{ name = "pull", spec = "plug_gap" }]
specs = ["plug_gap"]
kit = [{ part = "seal", qty = 1 }, { part = "washer", qty = 1 }]
"""
BOTH = 'title = "Both"\nsystem = "car"\ninclude = ["oil", "brakes"]\n'
CIRCLE = """
title = "Circle"
system = "car"
[[task]]
id = "test"
title = "Test"
once = "road test"
[[task]]
id = "before"
title = "Before"
once = "lower"
after = ["test"]
"""


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    files = {
        f"tasks/{n}.toml": t
        for n, t in (("oil", OIL), ("brakes", BRAKES), ("both", BOTH), ("circle", CIRCLE))
    }
    return small_library(tmp_path_factory.mktemp("joining"), files)


def join(library: Library, there: WorkList, *names: str, settled: tuple[str, ...] = ()) -> dict[str, Task]:
    standing = Standing(there.tasks, frozenset(settled))
    work = expand(library, names, facts(library, "", CAR), lookup(library, ""), standing)
    return {t.key: t for t in work.tasks}


def test_shared_steps_that_are_open_become_one(library: Library) -> None:
    tasks = join(library, run(library, "oil"), "brakes")
    assert set(tasks) == {"oil:raise", "oil:drain", "oil:lower", "oil:test", "brakes:adjust"}
    assert set(tasks["oil:lower"].after) == {"oil:drain", "brakes:adjust"}, (
        "not lowered before the brakes are done"
    )
    assert tasks["brakes:adjust"].after == ("oil:raise",)
    assert tasks["oil:raise"].minutes == 7
    assert tasks["oil:raise"].title == "Raise the car"


def test_what_comes_of_it_is_what_an_include_would_make(library: Library) -> None:
    at_once = {t.key: t for t in run(library, "both").tasks}
    later = join(library, run(library, "oil"), "brakes")
    assert set(later) == set(at_once)
    for key, task in later.items():
        assert set(task.after) == set(at_once[key].after)
        assert (task.say, task.readings, task.minutes) == (
            at_once[key].say,
            at_once[key].readings,
            at_once[key].minutes,
        )


def test_a_shared_step_brings_its_words_its_readings_and_the_parts_that_lack(library: Library) -> None:
    test = join(library, run(library, "oil"), "brakes")["oil:test"]
    assert test.say == "Oil pressure.\nStop from thirty."
    assert [r.name for r in test.readings] == ["pull"]
    assert [(line.part, line.qty) for line in test.kit] == [("seal", "1"), ("washer", "1")]


def test_a_settled_step_is_done_again_for_the_new_job(library: Library) -> None:
    tasks = join(
        library, run(library, "oil"), "brakes", settled=("oil:raise", "oil:drain", "oil:lower", "oil:test")
    )
    assert set(tasks) == {"brakes:raise", "brakes:adjust", "brakes:lower", "brakes:test"}
    half = join(library, run(library, "oil"), "brakes", settled=("oil:raise", "oil:drain"))
    assert set(half) == {"oil:lower", "oil:test", "brakes:raise", "brakes:adjust"}
    assert set(half["oil:lower"].after) == {"oil:drain", "brakes:adjust"}


def test_the_same_job_again_changes_nothing(library: Library) -> None:
    there = run(library, "oil")
    assert join(library, there, "oil") == {t.key: t for t in there.tasks}
    done = {"oil:raise", "oil:drain"}
    assert set(join(library, there, "oil", settled=tuple(done))) == {t.key for t in there.tasks} - done


def test_kit_of_the_new_job_only(library: Library) -> None:
    standing = Standing(run(library, "oil").tasks)
    work = expand(library, ("both",), facts(library, "", CAR), lookup(library, ""), standing)
    assert [(k.part, k.qty) for k in work.kit] == [("fluid", "1"), ("oil", "1"), ("washer", "1")]
    assert [name for name, _title, _version in work.templates] == ["both", "brakes"]


def test_a_shared_step_fits_the_parts_of_both(tmp_path_factory: pytest.TempPathFactory) -> None:
    job = 'title = "{0}"\nsystem = "x"\nkit = [{{ part = "{0} seal" }}]\n[[task]]\nid = "on"\ntitle = "On"\nonce = "on"\nfits = ["{0} seal"]\n'
    files = {f"tasks/{n}.toml": job.format(n) for n in ("front", "rear")}
    own = small_library(tmp_path_factory.mktemp("fits"), files)
    (task,) = run(own, "front", "rear").tasks
    assert task.fits == ("front seal", "rear seal")
    assert task.kit == ()
    assert [line.part for line in run(own, "front", "rear").kit] == ["front seal", "rear seal"]
    assert task_from_json(task_to_json(task)) == task


def test_steps_written_by_hand_and_jobs_that_are_no_more_stay_as_they_are(library: Library) -> None:
    own = Task("carried-over:finding-1", "carried-over", "1", "Mend the hose", "car")
    gone = Task("gone:test", "gone", "1", "Test", "car")
    tasks = join(library, WorkList((own, gone)), "brakes")
    assert tasks["carried-over:finding-1"] == own
    assert tasks["gone:test"] == gone
    assert {"brakes:raise", "brakes:test"} <= set(tasks)


def test_a_job_that_would_make_the_card_wait_for_itself_is_refused_by_name(library: Library) -> None:
    standing = Standing(run(library, "oil").tasks)
    with pytest.raises(BadInput, match="Circle") as refused:
        together(library, ("circle",), facts(library, "", CAR), lookup(library, ""), standing)
    assert "card of its own" in refused.value.hint


@given(st.sets(st.sampled_from(("oil:raise", "oil:drain", "oil:lower", "oil:test"))))
def test_whatever_is_settled_nothing_is_lost_and_nothing_waits_for_nothing(
    library: Library, settled: set[str]
) -> None:
    there = run(library, "oil")
    tasks = join(library, there, "brakes", settled=tuple(settled))
    every = set(tasks) | settled
    assert {t.key for t in there.tasks} <= every
    assert all(set(t.after) <= every for t in tasks.values())
    shared = (("oil:raise", "brakes:raise"), ("oil:lower", "brakes:lower"), ("oil:test", "brakes:test"))
    for old, new in shared:
        assert (new in tasks) == (old in settled)
