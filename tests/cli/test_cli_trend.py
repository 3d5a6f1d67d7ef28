"""Readings over the years from the shell: every visit, where it is going, and what that means."""

import json
from collections.abc import Callable

import pytest

from shopcli.cli import main
from shopcli.store.shop import Shop
from tests.conftest import Busy, Clock
from tests.stations.bench_help import bench_shop
from tests.store.test_earlier import again, read

EXHAUST, INLET = "clearance@1 exhaust|as found", "clearance@1 inlet|as found"


@pytest.fixture
def busy(make_shop: Callable[..., Shop], clock: Clock, monkeypatch: pytest.MonkeyPatch) -> Busy:
    busy = bench_shop(make_shop, clock)
    monkeypatch.setenv("SHOPCLI_DB", str(busy.shop.place.file))
    monkeypatch.setenv("SHOPCLI_BY", "Tom")
    return busy


def told(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    status = main(words)
    out = capsys.readouterr()
    return status, out.out, out.err


def visits(busy: Busy, clock: Clock) -> list[int]:
    """Read an exhaust valve that tightens from 8 to 6 thou, an inlet that stays, each on a card of its own."""
    cards = [busy.card]
    for typed in ("8 thou", "7 thou", "6 thou"):
        card = cards[-1] if typed == "8 thou" else again(busy, clock)
        cards += [card] if card not in cards else []
        read(busy, card, "measure", EXHAUST, typed)
        read(busy, card, "measure", INLET, "6 thou")
    return cards


def test_a_valve_that_tightens_at_every_visit(
    busy: Busy, clock: Clock, capsys: pytest.CaptureFixture[str]
) -> None:
    first, second, _third = visits(busy, clock)
    status, out, _err = told(capsys, "trend", "TWN 2", "exhaust")
    assert status == 0
    assert [line.split()[0] for line in out.splitlines() if "thou" in line][:3] == [
        "2026-11-25",
        "2027-11-25",
        "2028-11-24",
    ]
    assert "12,345 mi" in out
    assert "↘ tightening 1 thou a year over 3 visits" in out
    assert "burning" in out
    assert "inlet" not in out
    _status, out, _err = told(capsys, "trend", str(second), "clearance", "exhaust")
    assert "6 thou" not in out, "a card looks back from itself"
    assert "1 thou tighter since" in out
    assert "one visit" in told(capsys, "trend", str(first), "exhaust")[1]


def test_every_reading_of_a_vehicle_as_data(
    busy: Busy, clock: Clock, capsys: pytest.CaptureFixture[str]
) -> None:
    read(busy, busy.card, "measure", EXHAUST, "9 thou")
    visits(busy, clock)
    data = json.loads(told(capsys, "trend", "TWN 2", "--json")[1])
    by_name = {(d["label"], d["phase"]): d for d in data}
    assert len(by_name) == 2
    exhaust = next(d for d in data if "exhaust" in d["label"])
    assert [v["typed"] for v in exhaust["visits"]] == ["8 thou", "7 thou", "6 thou"], (
        "the last reading of a card"
    )
    assert exhaust["trend"]["keeps"] is True
    inlet = next(d for d in data if "inlet" in d["label"])
    assert inlet["trend"]["way"] == 0


def test_what_was_never_read_says_what_was(
    busy: Busy, clock: Clock, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "Nothing was read on it yet" in told(capsys, "trend", "TWN 2", "dwell")[2]
    visits(busy, clock)
    status, _out, err = told(capsys, "trend", "TWN 2", "dwell")
    assert status != 0
    assert "no reading 'dwell' was taken on TWN 2" in err
    assert "clearance" in err
