"""Who may do what: every command by every role, asked of the rules, and that a shop keeps an owner."""

import re
import typing
from contextlib import suppress
from dataclasses import MISSING, fields

import pytest

from shopcli.errors import BadInput, NotFound, Refused, Stale
from shopcli.shop import commands
from shopcli.shop.commands import (
    AddPerson,
    ChangePerson,
    ClockOn,
    Command,
    GiveDiscount,
    NoteOnTask,
    PersonComesBack,
    PersonLeaves,
    TakeBack,
)
from shopcli.shop.rights import ALL_MAY, RIGHTS, may
from shopcli.shop.states import Role
from shopcli.store.reads.people import everybody
from shopcli.store.reads.promises import PEOPLE
from tests.conftest import Busy

NAMES = tuple(name for name in commands.__all__ if name != "Command")
OF_ROLE = re.compile(r" is for the (owner|desk or the owner), not for ")
WORKS = {Role.OWNER: "Olive", Role.DESK: "Dora", Role.MECHANIC: "Tom"}


def made(name: str) -> Command:
    """Return a command of that name that asks for nothing that is there."""
    kind = getattr(commands, name)
    types = typing.get_type_hints(kind)
    empty: dict[object, object] = {int: 0, str: "", bool: False}
    wanted = [f for f in fields(kind) if f.default is MISSING and f.default_factory is MISSING]
    return typing.cast("Command", kind(**{f.name: empty.get(types[f.name], ()) for f in wanted}))


def first_task(busy: Busy) -> int:
    ((task,),) = busy.shop.fetch("SELECT MIN(id) FROM task")
    return int(task)


def test_every_command_is_in_the_table_once() -> None:
    assert set(NAMES) == ALL_MAY | set(RIGHTS)
    assert not ALL_MAY & set(RIGHTS)
    assert all(Role.OWNER in right.roles for right in RIGHTS.values())


@pytest.mark.parametrize("role", Role)
def test_the_rules_ask_the_table(busy_shop: Busy, role: Role) -> None:
    """Whatever else speaks against it is said to those only who may."""
    for name in NAMES:
        refusal = ""
        with suppress(Exception):  # that it asks for nothing that is there is another matter
            try:
                busy_shop.do(made(name), WORKS[role])
            except Refused as error:
                refusal = error.message
        assert bool(OF_ROLE.search(refusal)) is not may(role, name), (name, refusal)
        assert name in RIGHTS or may(role, name)


def test_roles_add_up(busy_shop: Busy) -> None:
    nell = next(p for p in everybody(busy_shop.shop) if p.name == "Nell")
    with pytest.raises(Refused, match="A discount is for the desk or the owner, not for Nell"):
        busy_shop.do(GiveDiscount(busy_shop.card, "old friend", rate_hundredths=1000), "Nell")
    busy_shop.do(ChangePerson(nell.id, nell.version, "Nell", "mechanic desk"), "Olive")
    assert next(p for p in everybody(busy_shop.shop) if p.name == "Nell").role == "desk, mechanic"
    busy_shop.do(GiveDiscount(busy_shop.card, "old friend", rate_hundredths=1000), "Nell")
    assert busy_shop.shop.fetch(PEOPLE) == [(2,)]  # Nell is a pair of hands still
    with pytest.raises(BadInput, match="no role 'boss'"):
        busy_shop.do(AddPerson("Ned", "boss"), "Olive")
    with pytest.raises(Stale):
        busy_shop.do(ChangePerson(nell.id, nell.version, "Nell", "owner"), "Olive")


def test_the_only_owner_stays_one(busy_shop: Busy) -> None:
    olive = next(p for p in everybody(busy_shop.shop) if p.name == "Olive")
    for command in (PersonLeaves(olive.id), ChangePerson(olive.id, olive.version, "Olive", "mechanic")):
        with pytest.raises(Refused, match="the only owner"):
            busy_shop.do(command, "Olive")
    busy_shop.do(ChangePerson(olive.id, olive.version, "Olive B", "owner mechanic"), "Olive")
    ned = busy_shop.shop.do(AddPerson("Ned", "owner"), by=olive.id).id
    busy_shop.do(PersonLeaves(olive.id), "Olive")
    with pytest.raises(Refused, match="the only owner"):
        busy_shop.shop.do(PersonLeaves(ned), by=ned)
    with pytest.raises(Refused, match="does not work here now"):
        busy_shop.do(AddPerson("Nobody"), "Olive")
    busy_shop.shop.do(PersonComesBack(olive.id), by=ned)
    with pytest.raises(Refused, match="already here"):
        busy_shop.shop.do(AddPerson("Olive B"), by=ned)
    said = busy_shop.shop.fetch(
        "SELECT act, person_id FROM journal WHERE subject = 'person' ORDER BY id DESC"
    )
    assert said[0] == ("PersonComesBack", ned)


def test_who_leaves_has_no_clock_running(busy_shop: Busy) -> None:
    busy_shop.do(ClockOn(first_task(busy_shop)))
    with pytest.raises(Refused, match="Tom's clock still runs"):
        busy_shop.do(PersonLeaves(busy_shop.people["Tom"]), "Olive")


def test_nobody_acts_but_to_take_on_the_first(busy_shop: Busy) -> None:
    assert busy_shop.shop.fetch("SELECT person_id FROM journal WHERE act = 'AddPerson' ORDER BY id") == [
        (None,),
        (1,),
        (1,),
        (1,),
    ]
    for by in (0, -1, 99):
        with pytest.raises(NotFound):
            busy_shop.shop.do(AddPerson("Ned", "owner"), by=by)


def test_what_one_may_no_longer_do_one_does_not_take_back(busy_shop: Busy) -> None:
    dora = next(p for p in everybody(busy_shop.shop) if p.name == "Dora")
    busy_shop.do(GiveDiscount(busy_shop.card, "old friend", rate_hundredths=1000), "Dora")
    ((act,),) = busy_shop.shop.fetch("SELECT MAX(id) FROM journal")
    busy_shop.do(ChangePerson(dora.id, dora.version, "Dora", "mechanic"), "Olive")
    with pytest.raises(Refused, match="not for Dora"):
        busy_shop.do(TakeBack(act), "Dora")
    busy_shop.do(NoteOnTask(first_task(busy_shop), "look"), "Dora")
