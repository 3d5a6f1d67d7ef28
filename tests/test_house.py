"""The house keeps its shape: layers, light imports, no markup from people, one list of keys, files of a readable size."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

from shopcli.store.shop import open_shop

ROOT = Path(__file__).parents[1]
SOURCES = sorted((ROOT / "shopcli").rglob("*.py"))
FORBIDDEN_KEYS = {"ctrl+i", "ctrl+m", "ctrl+h", "ctrl+j", "ctrl+b", "ctrl+a"}
# Long only because every table of the first schema is written out in it.
LONG_BY_NATURE = {"v0001_first.py", "views.py"}


def loaded(code: str, names: tuple[str, ...]) -> list[str]:
    """Return which of the modules a piece of code loads, in a process of its own."""
    script = f"import sys\n{code}\nprint(*[m for m in {names!r} if m in sys.modules])"
    out = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=ROOT)
    return out.stdout.split()


@pytest.mark.parametrize(
    "module", ["workings", "units", "worklists", "shop.closing", "store.shop", "papers.render"]
)
def test_the_core_needs_no_screens(module: str) -> None:
    assert loaded(f"import shopcli.{module}", ("textual", "rich")) == []


def test_workings_and_units_need_nothing_heavy() -> None:
    assert (
        loaded(
            "import shopcli.units, shopcli.worklists.load", ("pint", "jinja2", "sqlmodel", "scipy", "numpy")
        )
        == []
    )


def test_papers_load_their_typesetter_with_the_first_sheet() -> None:
    heavy = ("typst", "segno", "jinja2", "PIL", "textual")
    assert loaded("import shopcli.papers.sheet, shopcli.cli.sheet, shopcli.codes", heavy) == []


def test_a_command_is_told_and_help_is_shown_without_anything_heavy() -> None:
    heavy = ("textual", "rich", "pint", "jinja2", "sqlmodel", "sqlalchemy", "pydantic", "alembic", "sqlite3")
    light = ("typing", "dataclasses", "pathlib")
    assert loaded("from shopcli.cli.parser import build_parser; build_parser()", (*heavy, *light)) == []
    page = "from shopcli.cli.help_page import help_page; help_page()"
    assert loaded(page, (*heavy, *light, "argparse", "re", "gettext")) == []


def test_the_list_of_open_cards_loads_what_it_prints(tmp_path: Path) -> None:
    db = str(tmp_path / "shop.db")
    open_shop(db).close()  # made here, so that only the list is looked at below
    asked = f"main(['list', '--db', {db!r}])"
    code = f"import contextlib, io\nfrom shopcli.cli import main\nwith contextlib.redirect_stdout(io.StringIO()): {asked}"
    unwanted = (
        "typing",
        "dataclasses",
        "pathlib",
        "re",
        "argparse",
        "json",
        "tomllib",
        "uuid",
        "shutil",
        "platformdirs",
        "jinja2",
        "sqlmodel",
        "textual",
    )
    ours = ("shopcli.shop.views", "shopcli.worklists.model", "shopcli.units", "shopcli.papers.render")
    assert loaded(code, (*unwanted, *ours)) == []


def test_the_first_screen_needs_no_mapper() -> None:
    code = "import shopcli.cli.start, shopcli.screens.app, shopcli.screens.desk.station"
    heavy = ("sqlmodel", "sqlalchemy", "pydantic", "pint", "jinja2", "alembic", "scipy", "plotext")
    light = ("argparse", "json", "tomllib", "shopcli.cli.parser", "shopcli.screens.ahead.looking")
    ours = (
        "shopcli.worklists.planner",
        "shopcli.shop.known",
        "shopcli.shop.typed_figures",
        "shopcli.store.reads.desk",
    )
    assert loaded(code, (*heavy, *light, *ours)) == []


def test_the_week_opens_without_the_library_and_the_papers() -> None:
    unwanted = ("sqlmodel", "plotext", "shopcli.worklists.model")
    ours = (
        "shopcli.shop.views",
        "shopcli.shop.stores_views",
        "shopcli.shop.paper_views",
        "shopcli.shop.card_bill",
    )
    assert loaded("import shopcli.screens.week.station", (*unwanted, *ours)) == []


def test_imports_run_towards_the_core() -> None:
    command = Path(sys.executable).with_name("lint-imports")
    out = subprocess.run([command, "--no-cache"], capture_output=True, text=True, check=False, cwd=ROOT)
    assert out.returncode == 0, out.stdout


def test_files_say_why_they_exist_and_stay_readable() -> None:
    texts = {path: path.read_text(encoding="utf-8") for path in SOURCES}
    assert [path for path, text in texts.items() if not text.startswith('"""')] == []
    long = [path for path, text in texts.items() if len(text.splitlines()) > 340]
    assert [path for path in long if path.name not in LONG_BY_NATURE] == []


def calls(tree: ast.AST) -> list[ast.Call]:
    return [node for node in ast.walk(tree) if isinstance(node, ast.Call)]


def test_text_is_never_markup_on_screens() -> None:
    """A plain string handed to these is read as markup by the framework and can end the application."""
    found = []
    for path in (ROOT / "shopcli" / "screens").rglob("*.py"):
        for call in calls(ast.parse(path.read_text(encoding="utf-8"))):
            name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
            words = {k.arg: k.value for k in call.keywords}
            where = f"{path.name}:{call.lineno}"
            if name == "notify" and not (
                isinstance(words.get("markup"), ast.Constant) and words["markup"].value is False
            ):
                found.append(f"{where} notify without markup=False")
            first = call.args[0] if call.args else None
            if name in {"Static", "Label", "update", "Button", "Checkbox"} and isinstance(
                first, ast.JoinedStr
            ):
                found.append(f"{where} {name} of an f-string")
    assert found == []


def test_no_fixed_colours() -> None:
    for sheet in (ROOT / "shopcli" / "screens").rglob("*.tcss"):
        assert not re.search(r"#[0-9a-fA-F]{3,8}\b(?![^\n]*\{)", sheet.read_text(encoding="utf-8")), (
            sheet.name
        )


def test_every_key_of_the_list_works_on_every_terminal() -> None:
    from shopcli.screens.acts import ACTS

    ids = [a.id for a in ACTS]
    assert len(ids) == len(set(ids))
    for act in ACTS:
        assert not FORBIDDEN_KEYS & set(act.keys.split(","))
        assert act.help.endswith(".")


STATIONS = ("desk", "bench", "week", "order", "shelf", "needs", "purchases", "outwork", "exchanges", "parts")


@pytest.mark.parametrize("station", STATIONS)
def test_no_key_means_two_things_at_one_station(station: str) -> None:
    from shopcli.screens.acts import acts_of

    keys = [key for act in acts_of(station) for key in act.keys.split(",")]
    assert len(keys) == len(set(keys))


def test_the_version_is_told_once() -> None:
    import tomllib

    from shopcli import __version__

    assert (
        tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
        == __version__
    )
