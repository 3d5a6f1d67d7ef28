"""A shop written out and read in: the same rows wherever it lives, all of them or none."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from shopcli.errors import BadInput, Refused, StoreTrouble
from shopcli.shop.commands import AddCustomer
from shopcli.store.place import Place, find_place
from shopcli.store.schema import HEAD
from shopcli.store.shop import Shop, open_shop
from shopcli.store.whole import moving
from shopcli.store.whole.moving import first_difference, move
from shopcli.store.whole.tables import in_order
from shopcli.store.whole.written import lines, read_in
from tests.conftest import SETTINGS, Clock


@pytest.fixture
def elsewhere(tmp_path: Path) -> Place:
    return find_place(str(tmp_path / "elsewhere.db"))


def test_what_is_referred_to_comes_first_or_waits() -> None:
    placed: set[str] = set()
    for ordered in in_order():
        for key in ordered.table.foreign_keys:
            target, column = key.column.table.name, key.parent.name
            there = target in placed or target == ordered.table.name
            assert there or column in ordered.waiting, (ordered.table.name, column)
            assert not (there and column in ordered.waiting)
        placed.add(ordered.table.name)


def test_to_a_server_and_back_every_row_is_the_same(whole: Shop, postgres_url: str, elsewhere: Place) -> None:
    server = find_place(postgres_url)
    count = move(whole.place, server)
    assert move(server, elsewhere) == count
    first = list(lines(whole.place))
    assert list(lines(server)) == first == list(lines(elsewhere))
    assert json.loads(first[-1])["end"]["rows"] == count == len(first) - 2 > 100


def test_work_goes_on_where_it_was_moved_to(whole: Shop, postgres_url: str) -> None:
    move(whole.place, find_place(postgres_url))
    there = open_shop(postgres_url, settings=SETTINGS, now=Clock())
    try:
        names = (AddCustomer("Bea Moved", "01632 960001"), AddCustomer("Cy Moved", "01632 960002"))
        made = [there.do(command, by=1).id for command in names]
        assert made == [2, 3], "the next keys come after those read in"
        assert there.fetch("SELECT name FROM customer WHERE id = 3") == [("Cy Moved",)]
    finally:
        there.close()


def test_what_one_finds_by_comes_back_with_the_rows(whole: Shop, elsewhere: Place) -> None:
    from shopcli.store.reads.found import find_customers

    move(whole.place, elsewhere)
    there = open_shop(str(elsewhere.file), settings=SETTINGS)
    try:
        assert [c.name for c in find_customers(there, "lar")] == ["Ada Lark"]
    finally:
        there.close()


def shortened(told: list[str]) -> list[str]:
    return told[:-2]


def without_a_row(told: list[str]) -> list[str]:
    return [*told[:5], *told[6:]]


def another_price(told: list[str]) -> list[str]:
    at = next(i for i, line in enumerate(told) if line.startswith('{"part"'))
    return [*told[:at], told[at].replace('"cost_minor": 450', '"cost_minor": 449'), *told[at + 1 :]]


def another_version(told: list[str]) -> list[str]:
    return [told[0].replace(HEAD, "0001"), *told[1:]]


def an_unknown_table(told: list[str]) -> list[str]:
    return [told[0], '{"sqlite_master": {"id": 1}}', *told[1:]]


def other_columns(told: list[str]) -> list[str]:
    row = json.loads(told[1])
    (name,) = row
    return [told[0], json.dumps({name: {**row[name], "x; DROP TABLE card": 1}}), *told[2:]]


def no_json(told: list[str]) -> list[str]:
    return [told[0], "<xml/>", *told[1:]]


def a_list(told: list[str]) -> list[str]:
    return [told[0], "[1]", *told[1:]]


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (shortened, "ends too early"),
        (without_a_row, "damaged"),
        (another_price, "damaged"),
        (another_version, "another version"),
        (an_unknown_table, "line 2 holds no row"),
        (other_columns, "line 2 has other columns"),
        (no_json, "line 2 is no line"),
        (a_list, "line 2 is no line"),
        (lambda _told: [], "ends too early"),
        (lambda _told: ["{}"], "ends too early|not a shop"),
    ],
)
def test_spoilt_lines_leave_nothing_behind(
    whole: Shop, elsewhere: Place, spoil: Callable[[list[str]], list[str]], words: str
) -> None:
    told = list(lines(whole.place))
    spoilt = spoil(told)
    assert spoilt != told
    with pytest.raises(BadInput, match=words):
        read_in(elsewhere, spoilt)
    assert read_in(elsewhere, told) == len(told) - 2, "the place was still empty"


def test_only_an_empty_place_takes_a_shop(whole: Shop, make_shop: Callable[..., Shop]) -> None:
    other = make_shop("other.db")
    before = list(lines(other.place))
    with pytest.raises(Refused, match="records already"):
        move(whole.place, other.place)
    with pytest.raises(Refused, match="there already"):
        move(whole.place, whole.place)
    assert list(lines(other.place)) == before


def test_a_copy_that_differs_is_told(whole: Shop, elsewhere: Place) -> None:
    move(whole.place, elsewhere)
    assert first_difference(whole.place, elsewhere) == ""
    whole.do(AddCustomer("Late Comer"), by=1)
    assert "Late Comer" in first_difference(whole.place, elsewhere)


def test_a_source_written_to_while_it_is_moved_is_noticed(whole: Shop, elsewhere: Place) -> None:
    def and_another(source: Place) -> Iterator[str]:
        for number, line in enumerate(lines(source)):
            yield line
            if number == 1:  # it is read as it was at that moment
                whole.do(AddCustomer("Meanwhile"), by=1)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            moving, "lines", lambda place: and_another(place) if place == whole.place else lines(place)
        )
        with pytest.raises(StoreTrouble, match="Meanwhile"):
            move(whole.place, elsewhere)
