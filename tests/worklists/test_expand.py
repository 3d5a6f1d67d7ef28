"""Expansion: includes, once, for, applies, and references between steps."""

import pytest

from shopcli.errors import BadInput, NotFound, ShopError
from shopcli.worklists.expand import applicable, expand
from shopcli.worklists.sheets import facts, lookup
from tests.worklists.small import CAR, keys, run, step


def test_tasks_keep_what_the_template_says(library_of):
    library = library_of(
        a=step(
            "x",
            'say = "Do {{ vehicle.firing_order }}"\nminutes = 5\nwaits = 7\nplace = "bench"\nneeds = ["engine cold"]\n'
            'makes = ["engine warm"]\nacts = ["start"]\nhangs = ["sump dry"]\nlifts = ["sump dry"]\n'
            'barred = ["sump dry"]\ncautions = ["high tension"]\nsecond = true\nkit = [{ part = "washer", qty = 2 }]',
            "Title {{ vehicle.cylinders }}",
        )
    )
    (task,) = run(library, "a").tasks
    assert task.title == "Title 2"
    assert task.say == "Do 1-2"
    assert (task.minutes, task.waits, task.place, task.second) == (5, 7, "bench", True)
    assert (task.needs, task.makes, task.acts) == (("engine cold",), ("engine warm",), ("start",))
    assert task.hangs == task.lifts == task.barred == ("sump dry",)
    assert task.cautions[0].text == "Ignition off before touching leads."
    assert [(k.part, k.qty) for k in task.kit] == [("washer", "2")]
    assert task.version == library.template("a").version


def test_includes_bring_everything_once(library_of):
    library = library_of(
        a=step("x", "minutes = 5"),
        b='include = ["a"]\n' + step("y", "minutes = 6"),
        c='include = ["a", "b"]\n' + step("z", "minutes = 7"),
    )
    work = run(library, "c", "a", "b", "c")
    assert keys(work) == ["c:z", "a:x", "b:y"]
    assert work.minutes == 18
    assert [name for name, _, _ in work.templates] == ["c", "a", "b"]
    assert work.templates[0] == ("c", "C", library.template("c").version)


def test_everything_comes_after_what_is_first(library_of):
    library = library_of(
        a=step("x") + step("y", 'after = ["x"]'),
        b='include = ["a"]\n' + step("z") + step("look", "first = true"),
    )
    after = {task.key: task.after for task in run(library, "b").tasks}
    assert after == {"b:look": (), "a:x": ("b:look",), "a:y": ("a:x",), "b:z": ("b:look",)}
    assert keys(run(library, "a")) == ["a:x", "a:y"]


def test_once_makes_one_task_of_several(library_of):
    road = 'once = "road"\n'
    library = library_of(
        a=step("fit")
        + step("road", road + 'after = ["fit"]\nminutes = 10\nsay = "Listen."\nacts = ["drive"]'),
        b=step("set")
        + step(
            "drive",
            road + 'after = ["set"]\nminutes = 15\nsay = "Brake."\nlifts = ["sump dry"]\n'
            'owes = [{ check = "nuts" }]\ncautions = ["high tension"]\nkit = [{ part = "tape" }]\n'
            'readings = [{ name = "g", spec = "points_gap" }]\nspecs = ["oil_fill"]',
            "Drive it",
        )
        + step("nuts", 'after = ["drive"]'),
        c=step("again", road + 'kit = [{ part = "tape" }]'),
    )
    work = run(library, "a", "b")
    assert keys(work) == ["a:fit", "b:set", "a:road", "b:nuts"]
    task = work.tasks[2]
    assert task.title == "road"
    assert task.say == "Listen.\nBrake."
    assert task.after == ("a:fit", "b:set")
    assert task.minutes == 15
    assert task.lifts == ("sump dry",)
    assert task.acts == ("drive",)
    assert [c.name for c in task.cautions] == ["high tension"]
    assert [(o.check, o.key) for o in task.owes] == [("nuts", "b:nuts")]
    assert [s.name for s in task.specs] == ["points_gap"]
    assert task.missing == ("oil_fill",)
    assert [k.part for k in task.kit] == ["tape"]
    assert [(k.part, k.qty) for k in run(library, "a", "b", "c").kit] == [("tape", "1")]
    assert work.tasks[3].after == ("a:road",)
    assert keys(run(library, "b")) == ["b:set", "b:drive", "b:nuts"]


def test_once_across_templates_may_close_a_circle_which_is_named(library_of):
    library = library_of(
        a=step("one", 'once = "x"') + step("two", 'after = ["one"]\nonce = "y"'),
        b=step("two", 'once = "y"') + step("one", 'after = ["two"]\nonce = "x"'),
    )
    with pytest.raises(BadInput, match=r'"one" \(a:one\) waits for "two" \(a:two\) waits for "one"'):
        run(library, "a", "b")


def test_for_repeats_a_task_over_the_vehicles_parts(library_of):
    library = library_of(
        a=step("off")
        + step("out", 'for = "cylinder"\nafter = ["off"]\nsay = "Mark {{ each }}."', "Plug out of {{ each }}")
        + step("in", 'for = "cylinder"\nafter = ["out"]\nreadings = [{ name = "g", spec = "points_gap" }]')
        + step("run", 'after = ["in"]')
    )
    work = run(library, "a")
    assert keys(work) == [
        "a:off",
        "a:out@cylinder 1",
        "a:out@cylinder 2",
        "a:in@cylinder 1",
        "a:in@cylinder 2",
        "a:run",
    ]
    assert work.tasks[1].title == "Plug out of cylinder 1"
    assert work.tasks[2].say == "Mark cylinder 2."
    assert work.tasks[3].title == "in: cylinder 1"
    assert work.tasks[4].after == ("a:out@cylinder 2",)
    assert work.tasks[5].after == ("a:in@cylinder 1", "a:in@cylinder 2")
    (slot,) = work.tasks[3].readings
    assert (slot.key, slot.label) == ("g|as left", "cylinder 1")


def test_a_step_on_front_wheels_follows_its_own_wheel_only(library_of):
    library = library_of(
        a=step("off", 'for = "wheel"') + step("front", 'for = "front wheel"\nafter = ["off"]')
        + step("all", 'for = "wheel"\nafter = ["front"]')
    )  # fmt: skip
    after = {t.key: t.after for t in run(library, "a").tasks}
    assert after["a:front@front left wheel"] == ("a:off@front left wheel",)
    assert after["a:all@front left wheel"] == ("a:front@front left wheel",)
    assert after["a:all@rear left wheel"] == ()


def test_what_repeats_over_parts_nobody_knows_is_refused(library_of):
    library = library_of(a=step("x", 'for = "head bolt"'), b=step("x", 'for = "cylinder"'))
    with pytest.raises(BadInput) as caught:
        run(library, "a")
    assert "head bolts" in caught.value.message
    assert caught.value.hint
    assert len(run(library, "a", head_bolts=10).tasks) == 10
    assert keys(run(library, "a", head_bolts="A, B")) == ["a:x@head bolt A", "a:x@head bolt B"]
    with pytest.raises(BadInput, match="more than 200"):
        run(library, "a", head_bolts=4000)
    with pytest.raises(BadInput, match="cylinders"):
        expand(library, ["b"], facts(library, ""), lookup(library, ""))


def test_a_template_that_does_not_fit_says_which_fact(library_of):
    library = library_of(
        a='applies = { ignition = "electronic" }\n' + step("x"), b='include = ["a"]\n' + step("y")
    )
    with pytest.raises(BadInput) as caught:
        run(library, "a")
    assert caught.value.message == '"A" does not fit: the ignition is contact breaker, it is for electronic'
    work = run(library, "b")
    assert keys(work) == ["b:y"]
    assert work.notes == ('"A" is left out: the ignition is contact breaker, it is for electronic',)
    assert [t.name for t in applicable(library, facts(library, "", CAR))] == ["b"]
    assert [t.name for t in applicable(library, facts(library, "", {"ignition": "Electronic"}))] == ["a", "b"]


def test_a_fact_nobody_entered_does_not_fit_either(library_of):
    library = library_of(a='applies = { cooling = ["water", "air"] }\n' + step("x"))
    with pytest.raises(BadInput, match="the vehicle does not say its cooling, it is for water or air"):
        run(library, "a")


def test_tasks_that_do_not_fit_are_left_out_and_hand_on_their_order(library_of):
    library = library_of(
        a=step("one")
        + step("two", 'after = ["one"]\napplies = { drive_belt = "adjusting arm" }')
        + step("three", 'after = ["two"]\napplies = { cooling = "water" }')
        + step("four", 'after = ["three"]\nowes = [{ check = "two" }]')
    )
    work = run(library, "a")
    assert keys(work) == ["a:one", "a:four"]
    assert work.tasks[1].after == ("a:one",)
    assert work.tasks[1].owes == ()
    assert work.notes == ('"three" is left out: the vehicle does not say its cooling, it is for water',)


def test_numbers_count_as_facts(library_of):
    library = library_of(a=step("x", "applies = { volts = 6 }") + step("y", "applies = { volts = [12, 24] }"))
    assert keys(run(library, "a")) == ["a:x"]


def test_references_to_other_templates_hold_when_they_are_on_the_list(library_of):
    library = library_of(a=step("x"), b=step("y", 'after = ["a:x"]\nowes = [{ check = "a:x" }]'))
    assert run(library, "b").tasks[0].after == ()
    (owed,) = run(library, "b").tasks[0].owes
    assert (owed.key, owed.title) == ("", "x")
    work = run(library, "b", "a")
    assert keys(work) == ["a:x", "b:y"]
    assert work.tasks[1].after == ("a:x",)
    assert work.tasks[1].owes[0].key == "a:x"


def test_a_list_without_end_is_refused(library_of):
    many = "".join(step(f"t{i}", 'for = "nut"') for i in range(20))
    with pytest.raises(BadInput, match="beyond 2000 tasks"):
        run(library_of(a=many), "a", nuts=200)


def test_unknown_names_are_refused(library_of):
    library = library_of(points=step("x"))
    with pytest.raises(NotFound) as caught:
        run(library, "point")
    assert caught.value.hint == 'Write "points" instead.'
    assert run(library).tasks == ()


def test_every_refusal_is_the_shops_own(library_of):
    with pytest.raises(ShopError):
        run(library_of(), "anything")
