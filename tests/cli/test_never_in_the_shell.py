"""The two that must never happen, from the shell: an engine cranked with the sump dry, a car handed over on hand-tight nuts."""

import pytest

from shopcli.shop.commands import ClockOn, FinishTask
from shopcli.store.reads import bench
from tests.cli.conftest import Run
from tests.conftest import Busy
from tests.shop.test_bench_rules import drain
from tests.shop.test_never import NUTS, key_of_tag, leave, open_wheels


@pytest.fixture
def run(shell: Run, busy_shop: Busy, monkeypatch: pytest.MonkeyPatch) -> Run:
    monkeypatch.setenv("SHOPCLI_DB", str(busy_shop.shop.place.file))
    return shell


def test_the_shell_refuses_to_start_with_the_sump_dry(run: Run, busy_shop: Busy) -> None:
    drain(busy_shop)
    status, out, err = run("done", "1", "oil-change:run-and-look", "--by", "Nell")
    assert (status, out) == (2, "")
    assert err.startswith("Barred: 'Run the engine and look for leaks' is barred: sump dry.")
    assert "Hung by Tom on Wed 25 Nov 10:15 with 'Drain the oil'." in err
    assert busy_shop.task("oil-change:run-and-look").state == "open"


def test_the_shell_lets_no_car_go_on_hand_tight_nuts(run: Run, busy_shop: Busy) -> None:
    number = bench.card(busy_shop.shop, card := open_wheels(busy_shop)).number
    tag = key_of_tag(busy_shop, card)
    status, out, _err = run("check", number)
    assert status == 1
    assert (
        f"{tag:<12} Tag on the car: {NUTS} (Wheel nuts not torqued. Hung by Tom on Wed 25 Nov 10:15.)" in out
    )
    for words, message in (
        (("close", number), NUTS),
        (("waive", number, tag, "it will do"), "cannot be waived"),
        (("lift", number, NUTS, " "), "needs a reason"),
        (("void", number, "he is in a hurry"), "cannot be voided"),
    ):
        status, out, err = run(*words, "--by", "Olive")
        assert (status, out) == (2, ""), words
        assert message in err
    assert bench.card(busy_shop.shop, card).state == "in hand"


def test_the_second_pair_of_eyes_is_somebody_elses_in_the_shell_too(run: Run, busy_shop: Busy) -> None:
    card = open_wheels(busy_shop)
    view = bench.card(busy_shop.shop, card)
    torque = next(t for t in view.tasks if t.task.key == "brakes-adjust:torque-nuts")
    run("take-back", view.number, str(torque.position))
    busy_shop.do(ClockOn(torque.id), "Olive")
    busy_shop.do(FinishTask(torque.id, "for the test"))
    for name in ("Tom", "Olive"):
        status, _out, err = run("second", view.number, str(torque.position), "--by", name)
        assert (status, "did not do the work" in err) == (2, True), name
    leave(busy_shop, "Dora")
    assert run("second", view.number, str(torque.position), "--by", "Dora")[0] == 2
    assert "Checked by Nell" in run("second", view.number, str(torque.position), "--by", "Nell")[1]
