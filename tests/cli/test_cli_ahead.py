"""Prices, promises, authorities and offers at the command line: words, data, status, refusals."""

import json
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from shopcli.present import day
from tests.cli.conftest import Run
from tests.conftest import Busy

JOBS = ("--for", "oil-change", "--for", "points")


def in_days(days: int) -> str:
    """Return a date from today on: the shell has the real clock."""
    return (datetime.now(ZoneInfo("Europe/London")).date() + timedelta(days=days)).isoformat()


def test_what_jobs_would_cost_with_the_range(run: Run) -> None:
    status, out, _err = run("cost", "LRK 120", *JOBS)
    assert status == 0
    lines = out.splitlines()
    assert lines[0] == "Price"
    assert lines[1].startswith("  about £182.47, at most £2")
    assert "Engine oil and filter: change: 1 h 02, at most 1 h " in out
    assert "nothing clocked yet: the listed time, with a wide range" in out
    assert "No price is known for: engine oil" in out or "engine oil 20W-50" in out
    data = json.loads(run("cost", "--sheet", "demo-lark-1200", *JOBS, "--json")[1])
    assert data["usual"]["with_vat"] == "182.47"


def test_what_cannot_be_priced_is_said(run: Run) -> None:
    assert "no job is named" in run("cost", "LRK 120")[2]
    status, _out, err = run("cost", "ABC 1", *JOBS)
    assert status == 2
    assert "--sheet NAME" in err
    assert "like 2026-12-04" in run("promise", "LRK 120", *JOBS, "--wanted", "soon")[2].casefold()


def test_when_it_could_be_ready_and_a_wanted_day(run: Run) -> None:
    out = run("promise", "LRK 120", *JOBS)[1]
    assert "sure by " in out
    assert "1 card before it, 2 pairs of hands" in out
    assert "Put before all others" in out
    assert "nobody's promise slips" in out
    far = json.loads(run("promise", "LRK 120", *JOBS, "--wanted", in_days(200), "--json")[1])
    assert (far["wanted"], far["chance"]) == (in_days(200), 100)
    data = json.loads(run("promise", "--card", "1", "--json")[1])
    assert (data["wanted"], data["cards"]) == ("2026-11-27", 0)
    assert 0 <= data["chance"] <= 100


def test_the_authority_of_cards_and_a_status_to_act_on(run: Run) -> None:
    status, out, _err = run("authority")
    assert status == 0
    assert "J00001" in out
    assert "£400.00" in out
    run("new", "LRK 120", "--for", "oil-change", "--authority", "10", "--authority-by", "Ada")
    status, out, _err = run("authority", "--json")
    assert status == 1
    assert [row["level"] for row in json.loads(out)][-1] == "will pass"


def test_an_offer_from_made_to_an_open_card(run: Run) -> None:
    status, out, _err = run("offer", "LRK 120", *JOBS, "--outwork", "Skim the flywheel=85.00", "--days", "14")
    assert status == 0
    assert out.startswith("Offer OF00001 made: about 284.47, at most ")
    assert f"holds until {day(date.fromisoformat(in_days(14)))}." in out
    assert run("offer-open", "1")[0] == 2
    assert run("offer-yes", "OF00001", "Ada Lark", "--how", "mail", "--up-to", "300")[1] == (
        "Offer OF00001 accepted by Ada Lark: up to 300.00.\n"
    )
    assert "accepted already" in run("offer-no", "1", "Ada")[2]
    assert run("offer-open", "1", "--odometer", "48300", "--promised", "2026-12-04")[1].startswith(
        "Card J00002 opened."
    )
    (row,) = json.loads(run("offers", "--json")[1])
    assert (row["opened"], row["answer"], row["amount"], row["how"]) == (
        "J00002",
        "accepted",
        "300.00",
        "mail",
    )
    assert "OF00001" in run("offers", "LRK 120")[1]
    assert "OF00001" not in run("offers", "--open")[1]


def test_offers_that_cannot_be(run: Run, busy_shop: Busy) -> None:
    for words, why in (
        (("offer", *JOBS), "registration"),
        (("offer", "NO 1", *JOBS), "no vehicle"),
        (("offer", "LRK 120", "--fee", "Post"), "no price"),
        (("offer-yes", "7", "Ada"), "no offer '7'"),
    ):
        status, _out, err = run(*words)
        assert status == 2, words
        assert why in err
    assert run("offer", "--card", "1", "--for", "plugs-leads")[0] == 0
    assert (
        run("offer-no", "1", "Ada Lark", "--reason", "next year")[1]
        == "Offer OF00001 declined by Ada Lark.\n"
    )
