"""A customer is erased: who they were is nowhere in the records or in the bytes of the file, what the law has kept is whole."""

import json
from pathlib import Path

import pytest

from shopcli.errors import BadInput, Refused
from shopcli.shop.commands import (
    AddCustomer,
    AddFinding,
    AddVehicle,
    ChangeCard,
    ChangeCustomer,
    CloseCard,
    DeclineOffer,
    EraseCustomer,
    HandOver,
    MakeOffer,
    MoveCard,
    NoteCall,
    NoteOnTask,
    OpenCard,
    TakeBack,
    TakePayment,
)
from shopcli.shop.seen import over
from shopcli.store.reads import bench
from shopcli.store.reads.customer_data import chosen, customer_data
from shopcli.store.reads.found import find_customers
from shopcli.store.reads.made_offers import paper_of
from shopcli.store.shop import Shop
from shopcli.store.trouble import told
from shopcli.store.whole.examining import examine
from tests.conftest import Busy
from tests.shop.test_closing import settle_everything

# Ada as she is filled in, and Bea who never had a bill; both have words of their own everywhere.
ADA = ("Ada Lark", "01234 567890", "2 Proof Road", "LRK 120")
BEA = ('Bea "Bee" Müller', "01632 960444", "bea@muller.example", "7 Quiet Row", "QZ 77 BEE", "CHASSIS0042")


def with_bea(busy: Busy) -> int:
    """Have Bea come with a car, say things, be offered something, and go away."""
    name, phone, mail, street, plate, chassis = BEA
    rest = {"email": mail, "address": f"{street}\nLittle Proof", "post_code": "ZZ1 9QQ"}
    bea = busy.do(AddCustomer("Bea Formerly", phone, **rest), "Dora").id
    busy.do(ChangeCustomer(bea, 1, name, phone, **rest), "Dora")
    car = busy.do(AddVehicle(bea, plate, "Lark", "1200", 1966, chassis_number=chassis), "Dora").id
    card = busy.do(OpenCard(car, words="My late uncle's car", left_with="a violin"), "Dora").id
    view = bench.card(busy.shop, card)
    change = over(view, ChangeCard(card, view.version, damage="a dent by her gate", authority_by=name))
    act = busy.do(change, "Dora")
    assert act.said
    busy.do(
        NoteOnTask(busy.view().tasks[0].id, f"as on {name.upper()}'s car, ring {phone}"), "Tom"
    )  # Ada's card
    busy.do(AddFinding(card, "boot", f"rust, {plate}", "watch"), "Tom")
    made = busy.do(MakeOffer(car, ("oil-change",), words="My late uncle's car"), "Dora").id
    busy.do(DeclineOffer(made, "her brother", "phone", "too dear for Bea's purse"), "Dora")
    busy.do(NoteCall(bea, f"card:{card}", "her sister", "she moved abroad", card_id=card), "Dora")
    row = busy.shop.fetch("SELECT id FROM journal WHERE act = 'ChangeCard' ORDER BY id DESC LIMIT 1")[0][0]
    busy.do(TakeBack(row), "Dora")
    busy.do(MoveCard(card, "void", f"{name} changed her mind"), "Dora")
    return int(bea)


SAID = (
    "Bea Formerly",
    "late uncle",
    "violin",
    "by her gate",
    "her brother",
    "her sister",
    "moved abroad",
    "Bea's purse",
)


def texts(shop: Shop) -> dict[str, str]:
    """Return every table's text, read by the engine's own list of tables."""
    sql = (
        "SELECT name FROM sqlite_master WHERE type = 'table'"
        if shop.place.file
        else "SELECT tablename FROM pg_tables WHERE schemaname = 'public'"
    )
    names = [name for (name,) in shop.fetch(sql)]
    return {name: repr(shop.fetch(f"SELECT * FROM {name}")).casefold() for name in names}


def holding(shop: Shop, words: tuple[str, ...]) -> set[tuple[str, str]]:
    return {
        (table, word)
        for table, text in texts(shop).items()
        for word in words
        if word.casefold() in text.replace('\\\\"', '"')
    }


def test_nothing_says_any_more_who_somebody_was(busy_shop: Busy) -> None:
    shop, bea = busy_shop.shop, with_bea(busy_shop)
    words = (*BEA, "Müller", *SAID, "ZZ1 9QQ")
    assert {word for _table, word in holding(shop, words)} == set(words)  # each can be found before
    sums = shop.fetch("SELECT id, net_minor, gross_minor, number FROM offer")
    acts = shop.fetch("SELECT id, op, at, person_id, act, subject, subject_id, card_id, undid FROM journal")
    with pytest.raises(Refused, match="for the owner"):
        busy_shop.do(EraseCustomer(bea, "asked to"), "Dora")
    with pytest.raises(BadInput, match="reason"):
        busy_shop.do(EraseCustomer(bea, " "), "Olive")
    done = busy_shop.do(EraseCustomer(bea, f"{BEA[0]} asked for it in writing"), "Olive")
    assert done.said[0].startswith("Erased: name")
    assert holding(shop, words) == set()
    assert shop.fetch("SELECT id, net_minor, gross_minor, number FROM offer") == sums
    kept = shop.fetch("SELECT id, op, at, person_id, act, subject, subject_id, card_id, undid FROM journal")
    assert kept[: len(acts)] == acts
    assert [row[4] for row in kept[len(acts) :]] == ["EraseCustomer"]
    if shop.place.file:
        assert "What lay there is overwritten." in done.said
        found = [
            (file.name, word)
            for file in shop.place.file.parent.glob(f"{shop.place.file.name}*")
            for word in (*BEA[1:], "Müller", *SAID)
            if word.casefold().encode() in file.read_bytes().lower()
        ]
        assert found == []
    assert find_customers(shop, "muller") == find_customers(shop, "qz77") == ()
    assert examine(shop) == ()
    # What is left can be read and shown.
    assert paper_of(shop, shop.fetch("SELECT MAX(id) FROM offer")[0][0]).buyer.name == "erased"
    assert all(text == "" or json.loads(text) for (text,) in shop.fetch("SELECT touched FROM journal"))
    with pytest.raises(Refused, match="erased already"):
        busy_shop.do(EraseCustomer(bea, "again"), "Olive")


def test_what_the_law_has_kept_stays_whole(busy_shop: Busy) -> None:
    shop = busy_shop.shop
    busy_shop.do(TakePayment(busy_shop.card, 4_000), "Dora")
    with pytest.raises(Refused, match="J00001 is booked"):
        busy_shop.do(EraseCustomer(busy_shop.customer, "asked to"), "Olive")
    settle_everything(busy_shop)
    busy_shop.do(CloseCard(busy_shop.card), "Dora")
    busy_shop.do(HandOver(busy_shop.card), "Dora")
    with pytest.raises(Refused, match=r"40.00 is still the customer's"):
        busy_shop.do(EraseCustomer(busy_shop.customer, "asked to"), "Olive")
    from shopcli.shop.commands import Refund

    busy_shop.do(Refund(busy_shop.card, 4_000, "too much was paid"), "Dora")
    money = {
        table: shop.fetch(f"SELECT * FROM {table} ORDER BY id") for table in ("invoice", "payment", "reading")
    }
    done = busy_shop.do(EraseCustomer(busy_shop.customer, "asked to"), "Olive")
    assert any("Invoices 1 stay whole" in line for line in done.said)
    for table, rows in money.items():
        assert shop.fetch(f"SELECT * FROM {table} ORDER BY id") == rows
    assert {table for table, _word in holding(shop, ADA)} == {"invoice"}
    view = bench.card(shop, busy_shop.card)
    assert (view.customer, view.registration) == ("erased", f"ERASED {busy_shop.vehicle}")
    assert view.tasks  # the work stays
    assert examine(shop) == ()


def test_the_guards_let_through_what_the_erasure_says_and_nothing_else(busy_shop: Busy) -> None:
    shop, bea = busy_shop.shop, with_bea(busy_shop)
    busy_shop.do(EraseCustomer(bea, "asked to"), "Olive")
    ((row,),) = shop.fetch("SELECT MIN(row_id) FROM erased_row WHERE in_table = 'journal'")
    tried = (
        f"UPDATE journal SET answer = 'nothing' WHERE id = {row}",
        f"UPDATE journal SET at = at + 1 WHERE id = {row}",
        "UPDATE journal SET answer = '' WHERE act = 'EraseCustomer'",
        "UPDATE offer SET gross_minor = 1",
        "UPDATE erased_row SET told = '{}'",
        "DELETE FROM erased_row",
        "UPDATE erasure SET reason = ''",
        f"DELETE FROM journal WHERE id = {row}",
    )
    for statement in tried:
        with pytest.raises(Refused, match="fixed for good"), told(), shop.engine.begin() as connection:
            connection.exec_driver_sql(statement)


def test_everything_kept_of_a_customer_is_shown(busy_shop: Busy) -> None:
    shop, bea = busy_shop.shop, with_bea(busy_shop)
    assert chosen(shop, "QZ77") == chosen(shop, str(bea)) == chosen(shop, BEA[0]) == bea
    held = {part.name: part.rows for part in customer_data(shop, bea)}
    for name in ("customer", "vehicles", "cards", "findings", "calls", "offers", "answers to offers"):
        assert len(held[name]) == 1, name
    assert {row["act"] for row in held["journal"]} >= {"AddCustomer", "AddVehicle", "OpenCard", "NoteCall"}
    whole = repr(held)
    for word in (*BEA[1:], *SAID):
        assert word in whole, word
    assert "Ada Lark" not in whole


def test_a_copy_made_before_is_named(busy_shop: Busy, tmp_path: Path) -> None:
    shop, bea = busy_shop.shop, with_bea(busy_shop)
    if shop.place.file is None:
        assert any(
            "server's own log" in line for line in busy_shop.do(EraseCustomer(bea, "asked to"), "Olive").said
        )
        return
    from shopcli.store.whole.backups import back_up, usual_folder

    copy = back_up(shop.place, usual_folder(shop.place), shop.now(), 3)
    said = busy_shop.do(EraseCustomer(bea, "asked to"), "Olive").said
    assert any(str(copy) in line for line in said)
    assert BEA[2].encode() in copy.read_bytes()
