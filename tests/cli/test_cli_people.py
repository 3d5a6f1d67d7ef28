"""Who works here, from the shell, and the PINs that are asked there."""

import pytest

from shopcli.cli import pin
from shopcli.shop.pin_hash import Argon
from shopcli.store.shop import Shop
from tests.cli.conftest import Run
from tests.conftest import Busy, journal_acts

QUICK = Argon(time_cost=1, memory_cost=8, parallelism=1)


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hand the shops the commands open a hasher of the least costs there are."""
    monkeypatch.setattr(Shop, "hasher", QUICK)
    for name in (pin.BY_ENVIRONMENT, pin.NEW_BY_ENVIRONMENT):
        monkeypatch.delenv(name, raising=False)


def test_people_come_change_and_go(run: Run, busy_shop: Busy) -> None:
    status, _out, err = run("person-add", "Ned")
    assert (status, "is for the owner, not for Tom" in err) == (2, True)
    assert run("person-add", "Ned", "--role", "desk", "--role", "mechanic", "--by", "Olive")[0] == 0
    assert "Ned    desk, mechanic" in run("people")[1]
    assert run("person-change", "Ned", "--name", "Edward", "--by", "Olive")[1] == "Edward: desk, mechanic.\n"
    assert run("person-change", "Edward", "--role", "owner", "--by", "Olive")[1] == "Edward: owner.\n"
    assert run("person-leaves", "Olive", "--by", "Edward")[0] == 0
    status, _out, err = run("person-leaves", "Edward", "--by", "Edward")
    assert (status, "only owner" in err) == (2, True)
    status, _out, err = run("person-change", "Edward", "--role", "desk", "--by", "Edward")
    assert (status, "Make somebody else an owner first." in err) == (2, True)
    assert "Olive" not in run("people")[1]
    assert run("person-back", "Olive", "--by", "Edward")[1] == "Olive works here again.\n"
    assert run("person-back", "Olive", "--by", "Edward")[0] == 2
    names = busy_shop.shop.fetch(
        "SELECT p.name FROM journal j JOIN person p ON p.id = j.person_id WHERE j.act = 'PersonLeaves'"
    )
    assert names == [("Edward",)]


def test_who_has_a_pin_gives_it(run: Run, busy_shop: Busy, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SHOPCLI_NEW_PIN", "135790")
    assert run("pin-set", "Olive", "--by", "Olive")[1] == "Olive's PIN is set: asked from now on.\n"
    status, out, err = run("away", "Tom", "2026-12-24", "--by", "Olive")
    assert (status, out) == (2, "")
    assert "set SHOPCLI_PIN" in err
    assert run("week", "--by", "Olive")[0] == 2  # what only the owner sees
    assert run("list", "--by", "Olive")[0] == 0  # anybody looks
    monkeypatch.setenv("SHOPCLI_PIN", "2222")
    assert "that is not Olive's PIN" in run("away", "Tom", "2026-12-24", "--by", "Olive")[2]
    monkeypatch.setenv("SHOPCLI_PIN", "135790")
    assert run("away", "Tom", "2026-12-24", "--by", "Olive")[0] == 0
    monkeypatch.setenv("SHOPCLI_NEW_PIN", "8642")
    assert run("pin-set", "Olive", "--by", "Olive")[0] == 0
    monkeypatch.setenv("SHOPCLI_PIN", "8642")
    assert run("pin-set", "Tom", "--by", "Olive")[0] == 0
    assert "that is Nell's PIN" in run("pin-set", "Nell", "--by", "Tom")[2]
    assert run("pin-clear", "Olive", "--by", "Olive")[0] == 0
    monkeypatch.delenv("SHOPCLI_PIN")
    assert run("week", "--by", "Olive")[0] == 0
    assert journal_acts(busy_shop.shop).count("SignIn") == 1  # the wrong one


def test_it_is_typed_at_a_terminal(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    typed = iter(["2468", "2469", "2468", "2468", "2468"])
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("getpass.getpass", lambda _question, **_to: next(typed))
    assert "not the same" in run("pin-set", "Tom")[2]
    assert run("pin-set", "Tom")[0] == 0
    assert run("pin-clear", "Tom")[0] == 0
    assert list(typed) == []
