"""What is told without a parser is what the parser would have told, and help names every command there is."""

import argparse
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli import __version__
from shopcli.cli import main
from shopcli.cli.asked import command_named, plainly
from shopcli.cli.parser import build_parser, parse

WHOLE = build_parser()
COMMANDS = tuple(WHOLE._subparsers._group_actions[0].choices)  # type: ignore[union-attr, arg-type]
WORDS = st.sampled_from(
    (
        "list",
        "--db",
        "shop.db",
        "--db=other.db",
        "--by",
        "Tom",
        "--by=Tom",
        "--json",
        "lark",
        "week",
        "-h",
        "--",
        "",
    )
)


@given(st.lists(WORDS, max_size=6))
def test_told_without_a_parser_it_is_the_same(argv: list[str]) -> None:
    told = plainly(argv)
    if told is not None:
        assert vars(told) == vars(WHOLE.parse_args(argv))


@pytest.mark.parametrize(
    "argv", [["list", "lark", "--json"], ["--db=x", "list"], ["list", "--db", "x", "a", "b"], []]
)
def test_the_list_and_the_application_need_no_parser(argv: list[str]) -> None:
    assert vars(plainly(argv) or pytest.fail("a parser was needed")) == vars(WHOLE.parse_args(argv))


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_drawn_up_alone_is_the_one_of_all(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    said = []
    for parsed in (parse, WHOLE.parse_args):
        with pytest.raises(SystemExit) as left:
            parsed([name, "--help"])
        said.append((left.value.code, capsys.readouterr().out))
    assert said[0] == said[1]
    assert said[0][0] == 0


def _words(page: str) -> str:
    return "".join(page.split())


@pytest.mark.parametrize("columns", ["60", "80", "120"])
def test_help_is_that_of_all_commands(
    columns: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    with pytest.raises(SystemExit):
        main(["--help"])
    out = capsys.readouterr().out
    assert out == WHOLE.format_help()
    assert _words(argparse.ArgumentParser.format_help(WHOLE).replace("  COMMAND\n", "")) == _words(out)
    assert max(map(len, out.splitlines())) <= int(columns)


def test_help_fits_a_terminal_nobody_told_about(monkeypatch: pytest.MonkeyPatch) -> None:
    env = {k: v for k, v in os.environ.items() if k != "COLUMNS"}
    out = subprocess.run(
        [sys.executable, "-m", "shopcli", "--help"], capture_output=True, text=True, check=True, env=env,
        cwd=Path(__file__).parents[2],
    )  # fmt: skip
    assert max(map(len, out.stdout.splitlines())) <= 80


def test_a_command_that_is_none_is_told_with_all_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        parse(["lits"])
    assert left.value.code == 2
    assert "'week'" in capsys.readouterr().err


def test_the_version(capsys: pytest.CaptureFixture[str]) -> None:
    for argv in (["--version"], ["--by", "Tom", "--version"]):
        with pytest.raises(SystemExit) as left:
            main(argv)
        assert (left.value.code, capsys.readouterr().out) == (0, f"shopcli {__version__}\n")
    assert command_named(["--version"]) == ""
