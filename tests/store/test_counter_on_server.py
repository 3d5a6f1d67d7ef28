"""The counter on a server: customers found by the same words, calls noted, cars handed over, whom to ring read alike."""

from collections.abc import Iterator

import pytest

from shopcli.errors import Refused
from shopcli.ring_words import call_words
from shopcli.shop.commands import AddCustomer, ChangeCustomer, CloseCard, EraseCustomer, HandOver, NoteCall
from shopcli.store.reads import bench
from shopcli.store.reads.found import find_customers
from shopcli.store.reads.handing import handing
from shopcli.store.reads.ringing import whom_to_ring
from shopcli.store.reads.story import story
from shopcli.store.shop import open_shop
from shopcli.store.trouble import told
from shopcli.worklists.library import Library
from tests.conftest import SETTINGS, Busy, Clock, fill
from tests.shop.test_closing import settle_everything


@pytest.fixture
def busy(cluster: object, library: Library) -> Iterator[Busy]:
    shop = open_shop(cluster.make("counter"), settings=SETTINGS, now=(clock := Clock()))  # type: ignore[attr-defined]
    shop.library = library
    yield fill(shop, clock)
    shop.close()


def test_the_counter_on_a_server(busy: Busy) -> None:
    shop = busy.shop
    key = busy.do(AddCustomer("Zoë O'Quick-Field", "+44 (0)20 7946-0018"), "Dora").id  # type: ignore[attr-defined]
    for text in ("zo", "qui", "FIELD", "79460018", "7946 00", "zoë fi"):
        assert [c.id for c in find_customers(shop, text)] == [key], text
    for text in ("lrk", "rk1", "LRK 120", "567"):
        assert [c.name for c in find_customers(shop, text)] == ["Ada Lark"], text
    other = busy.do(AddCustomer("Søren Müller Aakjær-Weiß"), "Dora").id  # type: ignore[attr-defined]
    for text in ("soren", "SØR", "soeren mueller", "muller", "aakjaer", "WEIẞ", "aakjær", "sø", "mu"):
        assert [c.id for c in find_customers(shop, text)] == [other], text
    assert find_customers(shop, "%") == find_customers(shop, "a_a") == ()
    busy.do(ChangeCustomer(key, 1, "Eve Stone"), "Dora")
    assert find_customers(shop, "quick") == ()
    settle_everything(busy)
    busy.do(CloseCard(busy.card), "Dora")
    (row,) = whom_to_ring(shop)
    busy.do(NoteCall(row.customer_id, row.key, "", "", "2026-11-26", row.card_id), "Dora")
    (row,) = whom_to_ring(shop)
    assert row.last is not None
    assert "again Thu 26 Nov" in call_words(row.last)
    assert handing(shop, busy.card).invoice.startswith("INV-")
    busy.do(HandOver(busy.card), "Dora")
    assert whom_to_ring(shop) == ()
    assert bench.card(shop, busy.card).handed_to == "Ada Lark"
    assert [visit.card for visit in story(shop, busy.vehicle).visits] == ["J00001"]
    # Erased, she is in no journal row either; the guards let nothing else through.
    done = busy.do(EraseCustomer(key, "asked in writing"), "Olive")
    assert "What lay there is overwritten." in done.said  # type: ignore[attr-defined]
    words = ("O'Quick", "Eve Stone", "7946-0018")
    for column in ("before", "after", "answer", "touched", "asked"):
        texts = " ".join(text for (text,) in shop.fetch(f"SELECT {column} FROM journal"))
        assert not [word for word in words if word in texts], column
    ((row,),) = shop.fetch("SELECT MIN(row_id) FROM erased_row")
    for statement in (
        f"UPDATE journal SET answer = 'nothing' WHERE id = {row}",
        f"UPDATE journal SET at = at + 1 WHERE id = {row}",
        "DELETE FROM erased_row",
        "TRUNCATE erasure CASCADE",
    ):
        with pytest.raises(Refused, match="fixed for good"), told(), shop.engine.begin() as connection:
            connection.exec_driver_sql(statement)
