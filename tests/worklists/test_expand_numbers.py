"""Expansion: readings and their places, numbers known and missing, sums, owed checks and kit."""

from tests.worklists.small import run, step


def test_readings_repeat_with_labels_and_keys_of_their_own(library_of):
    library = library_of(
        a=step(
            "measure",
            'readings = [{ name = "clearance", spec = "gap_in", for = "inlet valve", when = ["as found", "as left"] },'
            '{ name = "clearance", spec = "gap_ex", for = "exhaust valve" },'
            '{ name = "depth", quantity = "length", unit = "mm", for = "wheel" },'
            '{ name = "points gap", spec = "points_gap", when = ["as found"] },'
            '{ name = "gravity", quantity = "density", for = "cell" }]',
        )
    )
    (task,) = run(library, "a").tasks
    rows = [(s.key, s.label, s.spec) for s in task.readings]
    assert rows[:6] == [
        ("clearance@1 inlet|as found", "valve 1 inlet", "gap_in"),
        ("clearance@1 inlet|as left", "valve 1 inlet", "gap_in"),
        ("clearance@1 exhaust|as left", "valve 1 exhaust", "gap_ex"),
        ("clearance@2 inlet|as found", "valve 2 inlet", "gap_in"),
        ("clearance@2 inlet|as left", "valve 2 inlet", "gap_in"),
        ("clearance@2 exhaust|as left", "valve 2 exhaust", "gap_ex"),
    ]
    assert rows[6] == ("depth@front left|as left", "front left wheel", "")
    assert ("points gap|as found", "", "points_gap") in rows
    assert [r[1] for r in rows[-3:]] == ["cell 1", "cell 2", "cell 3"]
    assert len({r[0] for r in rows}) == len(rows)
    assert [(s.quantity, s.unit) for s in task.readings[:1]] == [("length", "thou")]
    assert task.readings[6].unit == "mm"


def test_the_quantity_of_a_number_nobody_knows_comes_from_its_name(library_of):
    library = library_of(a=step("fill", 'readings = [{ name = "oil put in", spec = "oil_fill" }]'))
    (task,) = run(library, "a").tasks
    assert task.missing == ("oil_fill",)
    assert (task.readings[0].quantity, task.readings[0].unit) == ("volume", "L")


def test_numbers_spoken_of_come_along_unasked(library_of):
    library = library_of(
        a=step(
            "x",
            'say = "{{ spec.plug_gap }}"\nspecs = ["oil_fill"]\nreadings = [{ name = "g", spec = "points_gap" }]\n'
            'working = { name = "timing-arc", with = { angle_deg = "spec.gap_in" } }',
        )
    )
    (task,) = run(library, "a").tasks
    assert [s.name for s in task.specs] == ["plug_gap", "points_gap", "gap_in"]
    assert task.missing == ("oil_fill",)
    assert task.say == "{{ spec.plug_gap }}"


def test_owed_checks_keep_when_they_are_due(library_of):
    library = library_of(
        a=step(
            "x",
            'owes = [{ check = "later", title = "Torque again", before = "distance", miles = 500 },'
            '{ check = "look", title = "Look", before = "date", days = 14 }, { check = "y" }]',
        )
        + step("y", 'for = "cylinder"', "Leak check")
    )
    owes = run(library, "a").tasks[0].owes
    assert [(o.title, o.before, o.miles, o.days, o.key) for o in owes] == [
        ("Torque again", "distance", 500, 0, ""),
        ("Look", "date", 0, 14, ""),
        ("Leak check: cylinder 1", "hand-over", 0, 0, "a:y@cylinder 1"),
        ("Leak check: cylinder 2", "hand-over", 0, 0, "a:y@cylinder 2"),
    ]


def test_sums_get_the_vehicles_facts(library_of):
    library = library_of(
        a=step(
            "x",
            'readings = [{ name = "dwell", quantity = "distributor angle", unit = "deg_dist" }]\n'
            'working = { name = "dwell-percent", with = { lobes = "vehicle.cylinders", dwell_deg = "reading.dwell" } }',
        )
        + step(
            "y", 'working = { name = "lead-order", with = { rotor = "vehicle.rotor", firing_order = "1-2" } }'
        )
    )
    one, two = run(library, "a").tasks
    assert one.working.given == (("lobes", "2"), ("dwell_deg", "reading.dwell"))
    assert two.working.given == (("firing_order", "1-2"),)


def test_kit_is_counted_and_put_together(library_of):
    library = library_of(
        a='kit = [{ part = "washer" }, { part = "plug", qty = "vehicle.cylinders" }, { part = "oil", qty = "spec.oil_fill" }]\n'
        + step("x", 'for = "wheel"\nkit = [{ part = "Washer", qty = 0.5 }]'),
        b='kit = [{ part = "washer", optional = true }, { part = "washer", exchange = true }]\n' + step("y"),
    )
    work = run(library, "a", "b")
    assert [(k.part, k.qty, k.optional, k.exchange) for k in work.kit] == [
        ("washer", "4.0", False, False),
        ("plug", "2", False, False),
        ("oil", "1", False, False),
        ("washer", "1", False, True),
    ]
    assert work.notes == ("oil: how much is not known (oil fill is missing)",)


def test_kit_by_a_number_of_the_sheet_takes_its_unit(library_of):
    library = library_of(a='kit = [{ part = "shim", qty = "spec.points_gap" }]\n' + step("x"))
    assert [(k.qty, k.unit) for k in run(library, "a").kit] == [("16", "thou")]


def test_hot_numbers_on_a_cold_engine_are_told(library_of):
    library = library_of(a=step("set", 'needs = ["engine cold"]\nspecs = ["gap_in", "gap_ex"]'))
    assert run(library, "a").notes == ('"set": gap ex is given hot, but the step wants the engine cold',)
