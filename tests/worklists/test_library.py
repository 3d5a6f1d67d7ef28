"""Folders lie over one another file by file, and one broken file never stops the rest."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from shopcli.errors import NotFound
from shopcli.shipped import shipped
from shopcli.worklists.load import load_library
from tests.worklists.small import HEAD, SPEC, TAGS, put, small_library, task


def test_shipped_folders_are_found():
    assert (shipped("jobtemplates") / "tasks" / "points.toml").is_file()
    with pytest.raises(NotFound, match="did not come with"):
        shipped("no-such-folder")


def test_an_installed_package_finds_them_inside_itself(tmp_path):
    root = Path(__file__).parents[2]
    inside = tmp_path / "shopcli" / "_shipped" / "jobtemplates"
    inside.mkdir(parents=True)
    (tmp_path / "jobtemplates").mkdir()
    for name in ("__init__.py", "errors.py", "shipped.py"):
        (tmp_path / "shopcli" / name).write_text((root / "shopcli" / name).read_text())
    code = "from shopcli.shipped import shipped; print(shipped('jobtemplates'))"
    env = {**os.environ, "PYTHONPATH": str(tmp_path)}
    out = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=env, cwd=tmp_path
    )
    assert out.stdout.strip() == str(inside)


def test_the_shipped_library_has_no_problems_and_all_its_sums_exist():
    library = load_library(shipped("jobtemplates"), with_shipped=False)
    assert [str(p) for p in library.problems] == []


def test_a_broken_template_never_stops_the_others(tmp_path):
    library = small_library(
        tmp_path, {"tasks/points.toml": task("minutes = 'x'"), "tasks/plugs.toml": task()}
    )
    assert list(library.templates) == ["plugs"]
    assert len(library.problems) == 1
    with pytest.raises(NotFound, match=r'"points" is not usable: .*points.toml:6: "minutes" is "x"'):
        library.template("points")


def test_a_broken_sheet_never_stops_the_others(tmp_path):
    library = small_library(tmp_path, {"sheets/lark.toml": "title = 5\n", "sheets/wren.toml": SPEC})
    assert list(library.sheets) == ["general", "wren"]
    assert [p.line for p in library.problems] == [1]


def test_a_template_over_a_broken_one_is_not_usable_either(tmp_path):
    service = 'title = "S"\nsystem = "engine"\ninclude = [\n  "plugs",\n  "points",\n]\n'
    library = small_library(
        tmp_path,
        {
            "tasks/points.toml": task("minutes = -1"),
            "tasks/plugs.toml": task(),
            "tasks/service.toml": service,
        },
    )
    assert list(library.templates) == ["plugs"]
    problem = next(p for p in library.problems if p.file.endswith("service.toml"))
    assert (problem.line, problem.hint) == (5, 'Put "points" right first.')


def test_includes_that_go_round_are_named(tmp_path):
    def of(name):
        return HEAD + f'include = ["{name}"]\n'

    files = {
        "tasks/a.toml": of("b"),
        "tasks/b.toml": of("c"),
        "tasks/c.toml": of("b"),
        "tasks/d.toml": task(),
    }
    library = small_library(tmp_path, files)
    assert list(library.templates) == ["d"]
    rounds = [(Path(p.file).name, p.line) for p in library.problems if "go round" in p.message]
    assert rounds == [("b.toml", 3), ("c.toml", 3)]
    assert any('"b" includes "c" includes "b"' in p.message for p in library.problems)


def test_a_reference_to_another_template_that_leads_nowhere_is_listed_but_kept(tmp_path):
    library = small_library(tmp_path, {"tasks/points.toml": task('after = ["oil:drain"]')})
    assert list(library.templates) == ["points"]
    assert [p.line for p in library.problems] == [6]


def test_the_shops_own_files_lie_over_ours(tmp_path):
    own = put(
        tmp_path,
        {
            "tasks/points.toml": task(),
            "cautions.toml": '[caution."pit"]\ntext = "Cover the pit."\n[caution."high tension"]\ntext = "Ours."\n',
        },
    )
    ours, library = load_library(), load_library(own)
    assert library.template("points").title == "Points"
    (problem,) = library.problems  # ours speaks of a task that the shop's own file does not have
    assert 'has no task "check-timing", which "' in problem.message
    assert problem.file == str(own / "tasks" / "points.toml"), "it is said of the file that can be changed"
    assert "engine-service" in library.templates
    assert library.template("oil-change") == ours.template("oil-change")
    assert library.cautions["high tension"].text == "Ours."
    assert set(library.cautions) == {*ours.cautions, "pit"}
    assert library.sheets.keys() == ours.sheets.keys()


def test_the_shops_own_broken_file_does_not_bring_ours_back(tmp_path):
    own = put(tmp_path, {"tasks/points.toml": "nonsense"})
    library = load_library(own)
    assert "points" not in library.templates
    assert "oil-change" in library.templates


def test_sums_of_the_shops_own_templates_are_checked(tmp_path):
    own = put(tmp_path, {"tasks/mine.toml": task('working = { name = "no-such-sum" }')})
    (problem,) = load_library(own).problems
    assert problem.line == 6


def test_every_tag_bars_the_hand_over(tmp_path):
    library = small_library(tmp_path, {"tags.toml": TAGS})
    assert library.tags["sump dry"].bars == ("start", "hand over")
    assert all("hand over" in tag.bars for tag in load_library().tags.values())


def test_windows_files_read_the_same(tmp_path):
    text = task('say = """\none\ntwo"""\nminutes = 5')
    plain = small_library(tmp_path / "a", {"tasks/points.toml": text}).template("points")
    windows = b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode()
    other = small_library(tmp_path / "b", {"tasks/points.toml": windows}).template("points")
    assert other.tasks == plain.tasks
    assert other.version == plain.version


def test_the_version_follows_the_text(tmp_path):
    one = small_library(tmp_path / "a", {"tasks/points.toml": task("minutes = 5")}).template("points")
    two = small_library(tmp_path / "b", {"tasks/points.toml": task("minutes = 6")}).template("points")
    assert one.version != two.version


def test_controls_and_turned_text_do_not_get_in(tmp_path):
    text = HEAD.replace("Points", "Po\\u001b[31mints\\u202e") + '[[task]]\nid = "a"\ntitle = "A"\n'
    assert small_library(tmp_path, {"tasks/points.toml": text}).template("points").title == "Po[31mints"


def test_other_files_are_left_alone(tmp_path):
    files = {
        "tasks/points.toml~": "x",
        "tasks/.points.toml": "x",
        "tasks/readme.txt": "x",
        "tasks/points.toml": task(),
    }
    library = small_library(tmp_path, files)
    assert list(library.templates) == ["points"]
    assert library.problems == ()


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="needs a file that cannot be read")
def test_a_file_that_cannot_be_read(tmp_path):
    put(tmp_path, {"tasks/points.toml": task()})
    (tmp_path / "tasks/points.toml").chmod(0)
    (problem,) = small_library(tmp_path, {}).problems
    assert "cannot be read" in problem.message


def test_kits_come_along_with_a_template(tmp_path):
    kit = 'title = "Set"\nkit = [{ part = "contact set" }, { part = "condenser", optional = true }]\n'
    text = 'kits = ["set"]\n' + HEAD + 'kit = [{ part = "grease" }]\n[[task]]\nid="a"\ntitle="A"\n'
    library = small_library(tmp_path, {"kits/set.toml": kit, "tasks/points.toml": text})
    assert [line.part for line in library.template("points").kit] == ["grease", "contact set", "condenser"]


def test_the_names_of_numbers_are_known_without_a_value(tmp_path):
    library = small_library(tmp_path, {})
    assert library.kinds["oil_fill"].quantity == "volume"
    assert [s.name for s in library.sheet("general").specs] == ["points_gap", "plug_gap"]


def test_unknown_names_give_the_nearest():
    with pytest.raises(NotFound) as caught:
        load_library().template("oil-chnage")
    assert caught.value.hint == 'Write "oil-change" instead.'
    with pytest.raises(NotFound) as caught:
        load_library().sheet("demo-lark")
    assert "demo-lark-1200" in caught.value.hint


def test_the_core_stays_light():
    code = (
        "import sys, shopcli.worklists.load, shopcli.worklists.expand, shopcli.worklists.freeze as f\n"
        "shopcli.worklists.load.load_library()\n"
        "print([m for m in ('pint', 'jinja2', 'pydantic', 'sqlmodel', 'scipy') if m in sys.modules],\n"
        "'shopcli.workings.catalogue' in sys.modules)"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[] False"
