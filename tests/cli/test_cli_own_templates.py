"""Job templates of the shop's own: begun with one command, checked with another, laid over ours without touching them."""

import json
from pathlib import Path

import pytest

from shopcli.cli import main
from shopcli.shipped import shipped
from tests.cli.conftest import Run
from tests.conftest import Busy
from tests.worklists.small import put

GOOD = 'title = "Horn: find it"\nsystem = "electrics"\n[[task]]\nid = "horn"\ntitle = "Find the horn"\nminutes = 5\n'
BROKEN = 'title = "Wipers"\nsystem = "electrics"\n[[task]]\nid = "wipe"\ntitle = "Wipe"\nminuts = 5\nneeds = ["engne cold"]\n'


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A folder of the shop's own, with one of each kind and one broken file."""
    return put(
        tmp_path / "own",
        {
            "tasks/horn.toml": GOOD,
            "tasks/wipers.toml": BROKEN,
            "tasks/points.toml": GOOD.replace("Horn: find it", "Points: our way").replace("horn", "points"),
            "kits/horn-kit.toml": 'title = "Horn kit"\nkit = [{ part = "horn", qty = 1 }]\n',
            "sheets/own-lark.toml": 'title = "Our Lark"\nunder = "demo-lark-1200"\n[spec.idle_speed]\nnominal = 850\nunit = "rpm"\nfrom = "handbook"\ndocument = "Our book"\npage = "3"\n',
            "cautions.toml": '[caution."loud"]\ntext = "Ears."\n[caution."high tension"]\ntext = "Our own words for it."\n',
            "tags.toml": '[tag."horn out"]\nsays = "No horn."\nbars = ["drive"]\n',
        },
    )


@pytest.fixture
def run(shell: Run, busy_shop: Busy, own: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    (tmp_path / "s.toml").write_text(f"templates_folder = {json.dumps(str(own))}\n", encoding="utf-8")
    monkeypatch.setenv("SHOPCLI_DB", str(busy_shop.shop.place.file))
    monkeypatch.setenv("SHOPCLI_SETTINGS", str(tmp_path / "s.toml"))
    return shell


def line_of(out: str, name: str) -> str:
    return next(line for line in out.splitlines() if line.startswith(f"{name} "))


def test_the_library_says_what_is_our_own_and_goes_on_beside_a_broken_file(run: Run, own: Path) -> None:
    status, out, err = run("templates")
    assert status == 1
    assert line_of(out, "horn").split()[4:] == ["own", "Horn:", "find", "it"]
    assert "own, in place of the program's  Points: our way" in line_of(out, "points")
    assert "program" in line_of(out, "oil-change")
    assert not any(line.startswith("wipers ") for line in out.splitlines())
    for what, names in (
        ("jobs", "horn, points"),
        ("spec", "own-lark"),
        ("kits", "horn-kit"),
        ("cautions", "high tension, loud"),
        ("tags", "horn out"),
    ):
        assert names in line_of(out, what), what
    assert f"Your own folder: {own}" in out
    said = [line for line in err.splitlines() if line]
    assert said == [
        (
            f'{own / "tasks" / "points.toml"}:1: has no task "check-timing", which "carb-balance-triple", "carb-balance-twin", "engine-service", '
            '"idle-mixture" waits for  Give the step that does it id = "check-timing", so that the order of work holds.'
        ),
        f'{own / "tasks" / "wipers.toml"}:6: "minuts" is not known here  Write "minutes" instead.',
        f'{own / "tasks" / "wipers.toml"}:7: no state is called "engne cold"  Write "engine cold" instead.',
    ]


def test_ours_is_not_touched_and_what_lies_over_it_is_used(run: Run) -> None:
    before = (shipped("jobtemplates") / "tasks" / "points.toml").read_bytes()
    assert "Find the points" in run("preview", "points", "--vehicle", "LRK 120")[1]
    assert "Our own words for it." in run("preview", "ignition-coil", "--vehicle", "LRK 120")[1]
    assert "hands-on" in run("preview", "oil-change", "--sheet", "own-lark")[1]
    assert (shipped("jobtemplates") / "tasks" / "points.toml").read_bytes() == before
    status, _out, err = run("preview", "wipers", "--vehicle", "LRK 120")
    assert (status, "is not usable" in err) == (2, True)


def test_a_template_of_our_own_is_usable_at_once(run: Run, own: Path) -> None:
    words = (
        "--title",
        "Tow bar: fit & wire",
        "--system",
        "body",
        "--task",
        "Hold it to the car",
        "--task",
        "Bolt it",
    )
    status, out, err = run("template-new", *words, "--task", "Bolt it")
    assert (status, err) == (0, "")
    file = own / "tasks" / "tow-bar-fit-wire.toml"
    assert f"Written: {file}" in out
    assert "# cautions" in file.read_text(encoding="utf-8")
    assert run("template-check", "tow-bar-fit-wire") == (0, "1 file looked at, nothing wrong.\n", "")
    shown = run("preview", "tow-bar-fit-wire", "--vehicle", "LRK 120")[1]
    assert shown.index("Hold it to the car") < shown.index("Bolt it")
    assert "0 h 30 hands-on, 3 tasks" in shown
    status, _out, err = run("template-new", *words)
    assert (status, "is there already" in err) == (2, True)
    assert "Card J00002 opened." in run("new", "LRK 120", "--for", "tow-bar-fit-wire")[1]


def test_what_is_explained_in_the_file_is_usable_too(run: Run, own: Path) -> None:
    run("template-new", "all", "--title", "All", "--system", "body")
    file = own / "tasks" / "all.toml"
    lines = file.read_text(encoding="utf-8").splitlines()
    keys = [line.removeprefix("# ") if line.startswith("# ") and " = " in line else line for line in lines]
    file.write_text("\n".join(keys), encoding="utf-8")
    assert run("template-check", "all") == (0, "1 file looked at, nothing wrong.\n", "")


def test_a_job_of_the_program_is_copied_to_be_had_our_way(run: Run, own: Path) -> None:
    assert run("template-new", "--like", "oil-change")[0] == 0
    file = own / "tasks" / "oil-change.toml"
    assert file.read_text(encoding="utf-8").startswith("# Our own oil-change")
    assert run("template-check", str(file))[0] == 0
    assert "own, in place of the program's" in line_of(run("templates")[1], "oil-change")
    assert run("template-new", "oil-quick", "--like", "oil-change")[0] == 0
    for words, message in (
        (("--like", "oil-chang"), "oil-change"),
        (("--like", "horn"), "is your own already"),
        (("--like", "points", "--title", "x"), "has its title and tasks already"),
        (("Big Name", "--title", "x", "--system", "y"), "cannot be a name"),
        (("--title", "", "--system", "y"), "the title is empty"),
        (("--title", "???", "--system", "y"), "cannot be a name"),
        (("--title", "x", "--system", ""), "the system is empty"),
        (
            ("--title", "x {{ spec.moon }}", "--system", "y", "--task", "{{ spec.moon }}"),
            "would not be usable",
        ),
    ):
        status, _out, err = run("template-new", *words)
        assert (status, message in err) == (2, True), (words, err)
    assert {f.stem for f in (own / "tasks").glob("*")} == {
        "horn",
        "wipers",
        "points",
        "oil-change",
        "oil-quick",
    }


def test_one_file_or_a_folder_is_checked_with_line_and_remedy(run: Run, own: Path, tmp_path: Path) -> None:
    status, _out, err = run("template-check", str(own / "tasks" / "horn.toml"))
    assert (status, err) == (0, ""), "what is wrong with its neighbour is not said of it"
    status, _out, err = run("template-check", "wipers")
    assert (status, len(err.splitlines())) == (1, 2)
    assert err.startswith(f'{own / "tasks" / "wipers.toml"}:6: "minuts" is not known here')
    assert run("template-check")[0] == 1, "all of the shop's own"
    draft = put(
        tmp_path / "drafts", {"new.toml": GOOD.replace("minutes = 5", 'hangs = ["horn out"]\nkits = 3')}
    )
    status, _out, err = run("template-check", str(draft / "new.toml"))
    assert (status, "new.toml:6: " in err or "new.toml:7: " in err) == (1, True), err
    put(
        draft,
        {
            "tags.toml": '[tag."x"]\nsays = "X."\nbars = ["drve"]\n',
            "sheets/own.toml": 'title = "S"\nunder = "nowhere"\n',
        },
    )
    rows = json.loads(run("template-check", str(draft), "--json")[1])
    assert {(Path(r["file"]).name, r["line"]) for r in rows} >= {
        ("tags.toml", 3),
        ("own.toml", 2),
        ("new.toml", 1),
    }
    assert all(r["hint"] for r in rows)
    assert run("template-check", str(tmp_path / "nowhere.toml"))[0] == 2


def test_without_a_folder_the_way_is_said(
    busy_shop: Busy, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("SHOPCLI_DB", str(busy_shop.shop.place.file))
    assert main(("template-new", "--title", "X", "--system", "y")) == 2
    assert "templates_folder" in capsys.readouterr().err
    assert main(("template-new", "--title", "X", "--system", "y", "--folder", str(tmp_path / "mine"))) == 0
    assert (tmp_path / "mine" / "tasks" / "x.toml").is_file()
    assert main(("template-check", str(tmp_path / "mine"))) == 0
    assert main(("templates",)) == 0
    assert "none is named in the settings" in capsys.readouterr().out
