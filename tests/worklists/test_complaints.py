"""Every complaint about a file carries the file, the line, and what to write instead."""

import pytest

from tests.worklists.small import HEAD, SPEC, put, small_library, task

TASKS = "tasks/points.toml"
SHEET = "sheets/lark.toml"
SHEET_HEAD = 'title = "Lark"\n'


# file, text, line, what is wrong, what to write instead
COMPLAINTS = [
    # the head of a template
    (TASKS, 'system = "x"\n[[task]]\nid = "a"\ntitle = "A"\n', 1, '"title" is missing', "title ="),
    (TASKS, 'title = "P"\n[[task]]\nid = "a"\ntitle = "A"\n', 1, '"system" is missing', "system ="),
    (TASKS, 'title = 5\nsystem = "x"\n[[task]]\nid="a"\ntitle="A"', 1, '"title" must be a text', "title ="),
    (TASKS, HEAD + 'titel = "x"\n[[task]]\nid = "a"\ntitle = "A"\n', 3, '"titel" is not known', '"title"'),
    (TASKS, HEAD, 1, "has no tasks", "[[task]]"),
    (TASKS, HEAD + 'task = "fit"\n', 3, '"task" must be a list of tables', "[[task]]"),
    (TASKS, HEAD + 'include = ["oil"]\n', 3, '"oil", which does not exist', "none yet"),
    (TASKS, HEAD + 'include = [3]\n', 3, "must be a list of texts", 'include = ["oil-change"]'),
    (TASKS, HEAD + 'kits = ["set"]\n[[task]]\nid="a"\ntitle="A"', 3, 'no kit is called "set"', "none yet"),
    (TASKS, HEAD + 'applies = { ignitoin = "x" }\n[[task]]\nid="a"\ntitle="A"', 3, "no fact", '"ignition"'),
    (TASKS, HEAD + 'applies = { ignition = true }\n[[task]]\nid="a"\ntitle="A"', 3, "must be a text", 'ignition = "'),
    (TASKS, HEAD + 'applies = "x"\n[[task]]\nid="a"\ntitle="A"', 3, "must be a table", "{ ignition ="),
    (TASKS, HEAD + 'kit = [\n{ part = "a" },\n{ part = "b", qty = 0 },\n]\n[[task]]\nid="a"\ntitle="A"', 5, '"qty" is 0', "qty = 1"),
    (TASKS, HEAD + 'kit = [{ part = "a", qty = "some" }]\n[[task]]\nid="a"\ntitle="A"', 3, '"qty" must be', "qty = 1"),
    (TASKS, HEAD + 'kit = [{ part = "a", qty = "vehicle.cylinder" }]\n[[task]]\nid="a"\ntitle="A"', 3, "cylinder", '"cylinders"'),
    (TASKS, HEAD + 'kit = [{ qty = 1 }]\n[[task]]\nid="a"\ntitle="A"', 3, '"part" is missing', "part ="),
    # the head of a task
    (TASKS, HEAD + '[[task]]\ntitle = "A"\n', 3, '"id" is missing', 'id = "set-gap"'),
    (TASKS, HEAD + '[[task]]\nid = "Set Gap"\ntitle = "A"\n', 4, "cannot be an id", "hyphens"),
    (TASKS, HEAD + '[[task]]\nid = "a"\n', 3, '"title" is missing', "title ="),
    (TASKS, task() + '[[task]]\n\nid = "fit"\ntitle = "Again"\n', 9, "already used in line 3", "of its own"),
    (TASKS, task('minuts = 5'), 6, '"minuts" is not known', '"minutes"'),
    (TASKS, task('minutes = "ten"'), 6, '"ten"; it must be a whole number from 0 to 10000', "minutes = 12"),
    (TASKS, task('minutes = -1'), 6, "-1; it must be a whole number", "minutes = 12"),
    (TASKS, task('minutes = 10001'), 6, "10001; it must be", "minutes = 12"),
    (TASKS, task('minutes = 1.5'), 6, "1.5; it must be", "minutes = 12"),
    (TASKS, task('minutes = true'), 6, "True; it must be", "minutes = 12"),
    (TASKS, task('\nwaits = 99999'), 7, '"waits" is 99999', "waits = 12"),
    (TASKS, task('second = "yes"'), 6, "must be true or false", "second = true"),
    (TASKS, task('first = 1'), 6, "must be true or false", "first = true"),
    (TASKS, task('after = ["b"]\nfirst = true', "a") + '[[task]]\nid="b"\ntitle="B"', 7, "cannot come after another", "Take out"),
    (TASKS, task('say = 3'), 6, '"say" must be a text', "say ="),
    (TASKS, task('say = "' + "x" * 4001 + '"'), 6, "4001 characters", "Shorten"),
    # references inside the template
    (TASKS, task('fits = [\n"contact st",\n]', head=HEAD + 'kit = [{ part = "contact set" }]\n'), 8, 'has no "contact st" to fit', '"contact set"'),
    (TASKS, task('fits = [3]'), 6, "must be a list of texts", 'fits = ["contact set"]'),
    (TASKS, task('after = [\n"fit-ponts",\n]', "fit-points"), 7, 'no task "fit-ponts"', '"fit-points"'),
    (TASKS, task('after = ["b"]', "a") + '[[task]]\nid="b"\ntitle="B"\nafter = ["a"]', 6, '"a" after "b" after "a"', "out of after"),
    (TASKS, task('after = ["fit"]'), 6, '"fit" after "fit"', "out of after"),
    (TASKS, task('after = ["points:fit"]'), 6, '"fit" after "fit"', "out of after"),
    (TASKS, task('after = ["oil:drain"]'), 6, 'no template "oil"', "none yet"),
    (TASKS, task('after = ["points:fti"]'), 6, 'no task of "points"', '"fit"'),
    (TASKS, task('owes = [{ check = "chek" }]', "check"), 6, 'no task is called "chek"', '"check"'),
    (TASKS, task('owes = [{ check = "x", title = "X", before = "sunday" }]'), 6, '"before" is "sunday"', "hand-over"),
    (TASKS, task('owes = [{ check = "x", title = "X", before = "distance" }]'), 6, "does not say how far", "miles = 500"),
    (TASKS, task('owes = [{ check = "x", title = "X", before = "date" }]'), 6, "does not say when", "days = 14"),
    (TASKS, task('owes = ["check"]'), 6, "must be a list of tables", "{ check ="),
    # words of the library
    (TASKS, task('cautions = ["hihg tension"]'), 6, 'no caution is called "hihg tension"', '"high tension"'),
    (TASKS, task('hangs = ["sump dri"]'), 6, 'no tag is called "sump dri"', '"sump dry"'),
    (TASKS, task('lifts = ["dry"]'), 6, 'no tag is called "dry"', '"sump dry"'),
    (TASKS, task('barred = ["x"]'), 6, 'no tag is called "x"', "sump dry"),
    (TASKS, task('needs = ["engne cold"]'), 6, 'no state is called "engne cold"', '"engine cold"'),
    (TASKS, task('acts = ["crnak"]'), 6, 'no act is called "crnak"', '"crank"'),
    (TASKS, task('hangs = ["sump dry", "sump dry"]'), 6, "twice", "Keep one"),
    (TASKS, task('for = "cilinder"'), 6, 'repeat over "cilinder"', '"cylinder"'),
    # numbers
    (TASKS, task('specs = ["points gap"]'), 6, "cannot be the name of a number", "points_gap"),
    (TASKS, task('specs = [\n"plug_gap",\n"point_gap"]'), 8, 'no sheet has a number called "point_gap"', '"points_gap"'),
    (TASKS, task('say = "at {{ spec.point_gap }}"'), 6, 'no sheet has a number called "point_gap"', '"points_gap"'),
    (TASKS, task('say = "at {{ shop.name }}"'), 6, 'cannot fill in "shop.name"', "{{ spec.points_gap }}"),
    (TASKS, task('say = "at {{ spec.points_gap"'), 6, 'cannot fill in "{{"', "{{ each }}"),
    (TASKS, task('say = "at {{ vehicle.firing }}"'), 6, "asks for vehicle.firing", '"firing_order"'),
    (TASKS, task('say = "{{ each }}"'), 6, "nothing repeats", 'for = "cylinder"'),
    (TASKS, HEAD + '[[task]]\nid = "a"\ntitle = "Gap {{ spec.points_gap }}"\n', 5, "cannot fill in", "vehicle"),
    # readings
    (TASKS, task('readings = [\n{ name = "gap", spec = "point_gap" } ]'), 7, "no sheet has", '"points_gap"'),
    (TASKS, task('readings = [{ name = "gap", spec = "Points" }]'), 6, "cannot be the name", "small letters"),
    (TASKS, task('readings = [{ name = "gap" }]'), 6, "does not say what it measures", "quantity ="),
    (TASKS, task('readings = [{ spec = "points_gap" }]'), 6, '"name" is missing', "name ="),
    (TASKS, task('readings = [{ name = "g", quantity = "lenght" }]'), 6, 'no quantity is called "lenght"', '"length"'),
    (TASKS, task('readings = [{ name = "g", quantity = "length", unit = "psi" }]'), 6, "does not measure", "thou"),
    (TASKS, task('readings = [{ name = "g", quantity = "length", unit = "milimetre" }]'), 6, "no unit is written", "mm"),
    (TASKS, task('readings = [{ name = "g", spec = "points_gap", quantity = "torque" }]'), 6, "is a length in the sheets", 'quantity = "length"'),
    (TASKS, task('readings = [{ name = "g", spec = "points_gap", when = ["as fuond"] }]'), 6, 'no moment is called "as fuond"', '"as found"'),
    (TASKS, task('readings = [{ name = "g", spec = "points_gap", for = "valv" }]'), 6, 'repeat over "valv"', '"valve"'),
    (TASKS, task('readings = [\n{ name = "g", spec = "points_gap" },\n{ name = "g", spec = "plug_gap" }]'), 8, "there twice", "another name"),
    # sums
    (TASKS, task('working = { name = "dwell-precent" }'), 6, "dwell-precent", "dwell-percent"),
    (TASKS, task('working = { name = "dwell-percent", with = { lobe = 4 } }'), 6, 'no input "lobe"', '"lobes"'),
    (TASKS, task('working = { name = "dwell-percent", with = { lobes = "vehicle.cylinder" } }'), 6, "which is not there", '"cylinders"'),
    (TASKS, task('working = { name = "dwell-percent", with = { dwell_deg = "reading.dwell" } }'), 6, "which is not there", "none yet"),
    (TASKS, task('working = { name = "dwell-percent", with = { lobes = [4] } }'), 6, "a text or a number", "vehicle.cylinders"),
    # the file as such
    (TASKS, HEAD + "minutes == 3\n", 3, "not proper TOML", "minutes = 12"),
    (TASKS, HEAD + 'title = "again"\n', 3, "not proper TOML", "twice"),
    (TASKS, HEAD + "x = {{}}\n", 3, "not proper TOML", ""),
    (TASKS, HEAD + "x = ten\n", 3, "not proper TOML", "double quotes"),
    (TASKS, HEAD + 'x = "open\n', 3, "not proper TOML", '"""'),
    (TASKS, HEAD + "x = [1, 2\n", 3, "not proper TOML", "]"),
    (TASKS, b'title = "P"\n\n\xff\xfe', 3, "not UTF-8", "UTF-8"),
    (TASKS, "x = " + "[" * 5000 + "\n", 1, "lists within lists", "flat"),
    ("tasks/Oil Change.toml", task(), 1, "cannot be a name", "hyphens"),
    # sheets
    (SHEET, "", 1, '"title" is missing', "title ="),
    (SHEET, SHEET_HEAD + 'specs = 1\n', 2, '"specs" is not known', '"spec"'),
    (SHEET, SHEET_HEAD + 'under = "flat-for"\n', 2, 'under "flat-for", which does not exist', "general"),
    (SHEET, SHEET_HEAD + 'under = "lark"\n', 2, "in a circle", "Correct"),
    (SHEET, SHEET_HEAD + '[facts]\nfiring_ordr = "1-2"\n', 3, "firing_ordr", '"firing_order"'),
    (SHEET, SHEET_HEAD + '[facts]\nvolts = "many"\n', 3, '"volts" must be', "volts ="),
    (SHEET, SHEET_HEAD + '[facts]\nrotor = "left"\n', 3, "cannot turn", "clockwise"),
    (SHEET, SHEET_HEAD + '[facts]\ncylinders = ["1", "1"]\n', 3, "twice", "once"),
    (SHEET, SHEET_HEAD + '[spec."points gap"]\nunit = "mm"\n', 2, "cannot be the name of a number", "points_gap"),
    (SHEET, SHEET_HEAD + '[spec.x]\nunit = "mil"\n', 3, 'no unit is written "mil"', "Write"),
    (SHEET, SHEET_HEAD + '[spec.x]\nnominal = 1\nfrom = "demo"\n', 2, '"unit" is missing', "unit ="),
    (SHEET, SHEET_HEAD + '[spec.x]\nnominal = 1\nunit = "mm"\n', 2, '"from" is missing', "from ="),
    (SHEET, SHEET_HEAD + '[spec.x]\nnominal = 1\nunit = "mm"\nfrom = "memory"\n', 5, '"from" is "memory"', "practice"),
    (SHEET, SHEET_HEAD + '[spec.x]\nnominal = 1\nunit = "mm"\nfrom = "handbook"\n', 2, '"document" is missing', "document ="),
    (SHEET, SHEET_HEAD + '[spec.x]\nnominal = 1\nunit = "mm"\nfrom = "measured"\nwho = "T"\n', 2, '"on" is missing', "on ="),
    (SHEET, SHEET_HEAD + '[spec.x]\nnominal = "16"\nunit = "mm"\nfrom = "demo"\n', 3, '"nominal" must be a number', "without quotes"),
    (SHEET, SHEET_HEAD + '[spec.x]\nhigh = inf\nunit = "mm"\nfrom = "demo"\n', 3, '"high" must be a number', "0.15"),
    (SHEET, SHEET_HEAD + '[spec.x]\nlow = 2\nhigh = 1\nunit = "mm"\nfrom = "demo"\n', 3, "out of order", "Low is at most"),
    (SHEET, SHEET_HEAD + '[spec.x]\nlow = 2\nunit = "mm"\nquantity = "torque"\nfrom = "demo"\n', 4, "does not measure a torque", "Nm"),
    (SHEET, SHEET_HEAD + '[spec.x]\nlow = 2\nunit = "mm"\nquantity = "lenth"\nfrom = "demo"\n', 5, "lenth", '"length"'),
    (SHEET, SHEET_HEAD + '[spec.x]\nlow = 2\nunit = "mm"\nfrom = "demo"\nalso = [\n{ low = 2, unit = "inch" }]\n', 7, "inch", "Write"),
    (SHEET, SHEET_HEAD + '[spec.x]\nlow = 2\nunit = "mm"\nfrom = "demo"\nalso = [{ low = 2, unit = "in" }]\n', 3, "cannot be the same limit", "misprint"),
    (SHEET, SHEET_HEAD + '[spec.x]\nunit = "mm"\nalso = [{ low = 2, unit = "in" }]\n', 4, "has none", "low and high"),
    (SHEET, SHEET_HEAD + '[spec.x]\nunti = "mm"\nunit = "mm"\n', 3, '"unti" is not known', '"unit"'),
    (SHEET, SHEET_HEAD + 'spec = { x = 3 }\n', 2, "must be a table", "nominal"),
    # the small libraries
    ("cautions.toml", '[caution."x"]\ntex = "a"\n', 2, '"tex" is not known', '"text"'),
    ("cautions.toml", '[cautions."x"]\ntext = "a"\n', 1, '"cautions" is not known', '"caution"'),
    ("cautions.toml", '[caution."x"]\ntext = ""\n', 1, "says nothing", "text ="),
    ("tags.toml", '[tag."x"]\nsays = "a"\nbars = [\n"strat"]\n', 4, 'no act is called "strat"', '"start"'),
    ("tags.toml", '[tag."x"]\nbars = ["start"]\n', 1, '"says" is missing', "says ="),
    ("kits/set.toml", 'title = "Set"\n', 1, "no lines", "kit ="),
    ("kits/set.toml", 'title = "Set"\nkit = [{ part = "a", qty = -1 }]\n', 2, '"qty" is -1', "qty = 1"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "text", "line", "what", "remedy"),
    COMPLAINTS,
    ids=[f"{i}-{c[3][:30]}" for i, c in enumerate(COMPLAINTS)],
)
def test_complaint(tmp_path, name, text, line, what, remedy):
    problems = small_library(tmp_path, {name: text}).problems
    assert any(
        p.file == str(tmp_path / name)
        and p.line == line
        and what in p.message
        and remedy in p.hint
        and p.hint
        for p in problems
    ), [(p.message, p.hint) for p in problems]


def test_all_that_is_wrong_with_a_file_is_said_at_once(tmp_path):
    text = task('minutes = "ten"\nhangs = ["sump dri"]\nsecond = 1\n')
    lines = [p.line for p in small_library(tmp_path, {TASKS: text}).problems]
    assert lines == [6, 7, 8]


def test_good_files_have_no_complaint(tmp_path):
    library = small_library(tmp_path, {TASKS: task(), SHEET: SPEC})
    assert library.problems == ()
    assert library.template("points").tasks[0].line == 3


def test_file_of_more_than_a_megabyte(tmp_path):
    library = small_library(tmp_path, {TASKS: task() + "#" * 1_000_000})
    assert [(p.line, p.hint) for p in library.problems] == [(1, "Split it into several files.")]


def test_more_than_five_hundred_tasks(tmp_path):
    blocks = "".join(f'[[task]]\nid = "t{i}"\ntitle = "T"\n' for i in range(501))
    (problem,) = small_library(tmp_path, {TASKS: HEAD + blocks}).problems
    assert "501 tasks; at most 500" in problem.message
    assert problem.line == 3 + 500 * 3


def test_folder_that_is_not_there(tmp_path):
    from shopcli.worklists.load import load_library

    (problem,) = load_library(tmp_path / "nowhere", with_shipped=False).problems
    assert "is not a folder" in problem.message


def test_message_and_hint_name_no_python(tmp_path):
    put(tmp_path, {TASKS: HEAD + "x = nonsense\n"})
    (problem,) = small_library(tmp_path, {}).problems
    assert "Error" not in problem.message
    assert str(problem).startswith(f"{tmp_path / TASKS}:3: ")
