"""The stores on a server: the same acts leave the same shelf, orders and credits as in a file, and are taken back alike."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from shopcli.shop.clock_commands import TakeBack
from shopcli.shop.commands import CancelOrder, DraftOrder, GoodsIn, NotComing
from shopcli.shop.stock import out_of_step, wrong_suppliers
from shopcli.store.reads.buying import parts_arrived, purchases, to_order
from shopcli.store.reads.outwork import counts, exchanges, outwork
from shopcli.store.reads.stock import part_story, stock, suppliers
from shopcli.store.reads.stores_acts import last_store_acts
from shopcli.store.shop import Shop, open_shop
from tests.conftest import SETTINGS, Clock
from tests.stations.build import Story
from tests.stations.stores_help import full


def a_day(told: Story) -> Story:
    """Do what writes in the stores, some of it taken back."""
    needed = to_order(told.shop)
    told.do(DraftOrder(2, tuple(n.key for n in needed)), "Dora")
    told.do(GoodsIn(1, 3_000, 2_550, over=True), "Dora")
    told.do(NotComing(2, "gone"), "Dora")
    told.do(CancelOrder(2, "too dear"), "Dora")
    told.do(TakeBack(told.shop.fetch("SELECT MAX(id) FROM journal")[0][0]), "Dora")
    return told


def seen(told: Story) -> list[Any]:
    """Return everything the stores show."""
    shop = told.shop
    return [
        stock(shop),
        [part_story(shop, part.id) for part in stock(shop)],
        suppliers(shop),
        to_order(shop),
        purchases(shop, over=True),
        parts_arrived(shop),
        outwork(shop, back=True),
        exchanges(shop, settled=True),
        counts(shop),
        [(act.act, act.said, act.effects) for act in last_store_acts(shop, told.people["Dora"])],
    ]


@pytest.fixture
def on_server(postgres_url: str) -> Iterator[Story]:
    shop = open_shop(postgres_url, settings=SETTINGS, now=Clock())
    yield a_day(full(shop))
    shop.close()


def test_a_server_and_a_file_show_the_same_stores(on_server: Story, make_shop: Callable[..., Shop]) -> None:
    in_file = a_day(full(make_shop()))
    for there, here in zip(seen(on_server), seen(in_file), strict=True):
        assert there == here
    assert out_of_step(on_server.shop.fetch) == wrong_suppliers(on_server.shop.fetch) == ()
