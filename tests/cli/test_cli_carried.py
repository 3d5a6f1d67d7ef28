"""What earlier visits left, at the command line: listed, taken on with a new card or an open one, declined."""

import json
from pathlib import Path

from tests.cli.conftest import Run
from tests.conftest import Busy
from tests.shop.test_carried import GREASE, promise

HOSE = ("finding", "1", "engine bay", "fuel hose perished", "--takes", "2 m of hose")


def test_nothing_left_is_said(run: Run) -> None:
    assert run("carried", "lrk  120") == (0, "Nothing is open from earlier visits of LRK 120.\n", "")
    assert run("carried", "NO 1")[0] == 2


def test_what_is_left_is_listed_with_what_it_takes_and_when_it_is_due(run: Run, busy_shop: Busy) -> None:
    run(*HOSE, "--bad", "stop", "--wanted", "fuel-lines", "--photo", "photos/hose.jpg")
    key = promise(busy_shop)
    _status, out, _err = run("carried", "LRK 120", "--odometer", "49213")
    assert out.splitlines()[0] == "finding:1    ⊠ stop: engine bay: fuel hose perished"
    for words in (
        "takes: 2 m of hose",
        "wants the job fuel-lines",
        "photo photos/hose.jpg",
        f"! owed: {GREASE}",
    ):
        assert words in out
    assert "; due at 49,213 mi" in out
    assert "not due yet: at 49,213 mi" in run("carried", "LRK 120")[1]
    rows = json.loads(run("carried", "LRK 120", "--json")[1])
    assert [(r["key"], r["due"], r["wanted"]) for r in rows] == [
        ("finding:1", True, "fuel-lines"),
        (key, False, ""),
    ]


def test_a_new_card_takes_on_what_was_left(run: Run, busy_shop: Busy) -> None:
    run(*HOSE, "--wanted", "fuel-lines")
    key = promise(busy_shop)
    status, out, err = run("new", "LRK 120", "--odometer", "49300", "--take", "finding:1", "--take", key)
    assert (status, err) == (0, "")
    assert "Card J00003 opened." in out
    shown = run("show", "3")[1]
    assert "Put right: engine bay, fuel hose perished" in shown
    assert GREASE in shown
    assert run("carried", "LRK 120")[1].startswith("Nothing is open")
    assert f"No longer owed: {GREASE}." in run("done", "3", key)[1]
    assert "Finding put right: fuel hose perished." in run("done", "3", "finding:1")[1]


def test_an_open_card_takes_on_what_was_left(run: Run) -> None:
    run(*HOSE)
    assert run("take", "1", "finding:1")[1].startswith("Taken on: engine bay, fuel hose perished (15 min).")
    status, _out, err = run("take", "1", "finding:1")
    assert status == 2
    assert "stands on card J00001 already" in err


def test_a_no_is_written_down_with_who_said_it(run: Run, busy_shop: Busy) -> None:
    run(*HOSE)
    key = promise(busy_shop)
    out = run("decline", "finding:1", "not this year", "--said-by", "her brother")[1]
    assert out == "Finding declined by her brother: fuel hose perished.\n"
    assert "is waived" in run("decline", key, "I grease it myself", "--said-by", "Ada")[1]
    assert busy_shop.shop.fetch("SELECT settled_for FROM owed WHERE state = 'waived'") == [
        ("Ada: I grease it myself",)
    ]
    assert run("carried", "LRK 120")[1].startswith("Nothing is open")
    for words, message in (
        (("decline", "finding:1", "no"), "declined already"),
        (("decline", "hose", "no"), "names nothing carried over"),
        (("decline", "finding:9", "no"), "no finding 9"),
        (("new", "LRK 120", "--take", "finding:1"), "declined already"),
        ((*HOSE, "--wanted", "fuel-line"), "fuel-line"),
    ):
        status, _out, err = run(*words)
        assert (status, message in err) == (2, True), words


def test_who_hung_a_tag_and_when_stands_in_the_list_and_in_the_closing_check(
    run: Run, tmp_path: Path
) -> None:
    run("done", "1", "raise-car")
    assert "Hung by Tom, " in " ".join(run("show", "1")[1].split())
    assert "Hung by Tom on " in run("check", "1")[1]
