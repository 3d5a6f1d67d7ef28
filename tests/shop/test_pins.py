"""PINs on real records: who may set one, how a wrong one is answered, and that nothing of it is written down."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest

from shopcli.errors import BadInput, Refused
from shopcli.shop.commands import ClearPin, PersonLeaves, SetPin, SignIn
from shopcli.shop.inverses import is_kept
from shopcli.shop.pin_hash import Argon
from shopcli.store.shop import Shop
from tests.conftest import Busy, Clock, journal_acts

QUICK = Argon(time_cost=1, memory_cost=8, parallelism=1)


@pytest.fixture
def tom(busy_shop: Busy) -> int:
    busy_shop.shop.hasher = QUICK
    busy_shop.do(SetPin(busy_shop.people["Tom"], "2468"))
    return busy_shop.people["Tom"]


def wrong(busy: Busy, person: int, pin: str = "0000") -> str:
    with pytest.raises(Refused) as refused:
        busy.shop.do(SignIn(person, pin), by=person)
    return f"{refused.value.message}. {refused.value.hint}"


def everything(shop: Shop) -> str:
    return "\n".join(str(row) for row in shop.fetch("SELECT * FROM journal"))


def test_the_right_one_lets_in_and_leaves_no_trace(busy_shop: Busy, tom: int) -> None:
    before = journal_acts(busy_shop.shop)
    busy_shop.shop.do(SignIn(tom, "2468"), by=tom)
    assert journal_acts(busy_shop.shop) == before
    (kept,) = busy_shop.shop.fetch("SELECT hash FROM pin")[0]
    assert kept.startswith("$argon2id$")
    assert kept not in everything(busy_shop.shop)
    assert "2468" not in everything(busy_shop.shop)
    assert "2468" not in repr(SetPin(tom, "2468", "2468")) + repr(SignIn(tom, "2468"))
    assert not any(map(is_kept, ("SetPin", "ClearPin", "SignIn")))


def test_five_wrong_tries_lock_everywhere_and_longer_each_time(
    busy_shop: Busy, tom: int, clock: Clock
) -> None:
    assert "4 more tries" in wrong(busy_shop, tom).casefold()
    for _ in range(3):
        said = wrong(busy_shop, tom)
    assert "one more try" in said.casefold()
    assert "locked until 10:16:00" in wrong(busy_shop, tom)
    # The right one is not even looked at, at another terminal and after a restart either: it is in the records.
    assert "locked" in wrong(busy_shop, tom, "2468")
    clock.forward(seconds=61)
    assert "locked until 10:18:01" in wrong(busy_shop, tom)
    clock.forward(seconds=121)
    busy_shop.shop.do(SignIn(tom, "2468"), by=tom)
    assert busy_shop.shop.fetch("SELECT wrong_tries FROM pin") == [(0,)]
    assert journal_acts(busy_shop.shop).count("SignIn") == 6  # each wrong try, none while it was locked


def test_many_terminals_at_once_have_five_tries_together(busy_shop: Busy, tom: int) -> None:
    with ThreadPoolExecutor(8) as terminals:
        said = list(terminals.map(lambda _: wrong(busy_shop, tom), range(16)))
    assert busy_shop.shop.fetch("SELECT wrong_tries FROM pin") == [(5,)]
    assert (
        sum("locked" in words and "5 times" in words for words in said) == 12
    )  # the fifth, and all after it


def test_a_clock_put_back_neither_unlocks_nor_locks_for_ever(busy_shop: Busy, tom: int, clock: Clock) -> None:
    for _ in range(5):
        wrong(busy_shop, tom)
    clock.at -= timedelta(days=400)
    assert "locked" in wrong(busy_shop, tom, "2468")
    clock.forward(seconds=59)
    assert "locked" in wrong(busy_shop, tom, "2468")
    clock.forward(seconds=2)
    busy_shop.shop.do(SignIn(tom, "2468"), by=tom)


def test_a_wrong_try_asked_again_is_tried_again(busy_shop: Busy, tom: int) -> None:
    for _ in range(2):
        with pytest.raises(Refused, match="not Tom's PIN"):
            busy_shop.shop.do(SignIn(tom, "1111"), by=tom, op="the same")
    assert busy_shop.shop.fetch("SELECT wrong_tries FROM pin") == [(2,)]


def test_ones_own_wants_the_old_one_and_an_owner_resets(busy_shop: Busy, tom: int) -> None:
    with pytest.raises(Refused, match="not Tom's PIN"):
        busy_shop.do(SetPin(tom, "1357", old="9999"))
    with pytest.raises(Refused, match="that is Tom's PIN"):
        busy_shop.do(SetPin(tom, "1357"), "Nell")
    with pytest.raises(Refused, match="that is Tom's PIN"):
        busy_shop.do(ClearPin(tom), "Dora")
    busy_shop.do(SetPin(tom, "1357", old="2468"))
    for _ in range(5):
        wrong(busy_shop, tom, "2468")
    busy_shop.do(SetPin(tom, "8642"), "Olive")  # what was locked is open again
    busy_shop.shop.do(SignIn(tom, "8642"), by=tom)
    with pytest.raises(Refused):
        busy_shop.do(ClearPin(tom, old="1357"))
    busy_shop.do(ClearPin(tom, old="8642"))
    assert "has no PIN" in wrong(busy_shop, tom, "8642")


@pytest.mark.parametrize("pin", ["123", "1234567890123", "12 34", "12a4", "", "١٢٣٤"])
def test_a_pin_is_four_to_twelve_figures(busy_shop: Busy, pin: str) -> None:
    with pytest.raises(BadInput, match="4 to 12 figures"):
        busy_shop.do(SetPin(busy_shop.people["Tom"], pin))


def test_who_leaves_leaves_no_pin(busy_shop: Busy, tom: int) -> None:
    busy_shop.do(PersonLeaves(tom), "Olive")
    assert busy_shop.shop.fetch("SELECT * FROM pin") == []
    with pytest.raises(Refused, match="no longer works here"):
        busy_shop.do(SetPin(tom, "2468"), "Olive")


def test_the_recommended_costs_are_those_of_a_shop(busy_shop: Busy) -> None:
    tom = busy_shop.people["Tom"]
    busy_shop.do(SetPin(tom, "2468"))
    (kept,) = busy_shop.shop.fetch("SELECT hash FROM pin")[0]
    # RFC 9106, section 4, the second recommended option: 64 MiB of memory, 3 passes, 4 lanes.
    assert "$m=65536,t=3,p=4$" in kept
    busy_shop.shop.do(SignIn(tom, "2468"), by=tom)
