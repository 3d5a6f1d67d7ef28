"""Lists of another program: looked at, taken in, taken in again; whatever is wrong is told with its line."""

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopcli.errors import BadInput
from shopcli.store.lists.taking import take_list
from shopcli.store.shop import Shop
from shopcli.store.trial import NEW, SAME, WRONG
from tests.conftest import Busy, journal_acts

CUSTOMERS = """Kunde;Telefon;PLZ;Ort
Bea Kestrel;01632 960 311;AB1 2CD;Little Proof
Cy Rook;01632 960 312;;

"Dee ""Dot"" Finch";;;"""
GERMAN = {"name": "Kunde", "phone": "Telefon", "post_code": "PLZ", "city": "Ort"}
VEHICLES = "Registration,Make,Customer,Year\nbea 1,Lark,bea kestrel,1964\nCY 2,Brindle,Cy  Rook,\n"
PARTS = "number\tname\tcost\tstock\tsupplier\nX-1\tfan belt\t4,20\t2.5\tSparkwell\nX-2\tlamp\t1.5\t\t\n"


def outcomes(done: object) -> list[tuple[int, str]]:
    return [(line.line, line.outcome) for line in done]  # type: ignore[attr-defined]


def count(shop: Shop, table: str) -> int:
    return int(shop.fetch(f"SELECT COUNT(*) FROM {table}")[0][0])


def test_customers_are_looked_at_then_taken_in_then_known(shop: Shop) -> None:
    looked = take_list(shop, "customers", CUSTOMERS, GERMAN, by=1, write=False)
    assert outcomes(looked) == [(2, NEW), (3, NEW), (5, NEW)]
    assert count(shop, "customer") == 0
    assert take_list(shop, "customers", CUSTOMERS, GERMAN, by=1, write=True) == looked
    rows = shop.fetch("SELECT name, phone, post_code, city FROM customer ORDER BY id")
    assert rows[0] == ("Bea Kestrel", "01632 960 311", "AB1 2CD", "Little Proof")
    assert rows[2][0] == 'Dee "Dot" Finch'
    assert journal_acts(shop).count("AddCustomer") == 3
    again = take_list(shop, "customers", CUSTOMERS, GERMAN, by=1, write=True)
    assert outcomes(again) == [(2, SAME), (3, SAME), (5, SAME)]
    assert count(shop, "customer") == 3


def test_two_of_one_name_are_two_people_when_their_telephones_differ(shop: Shop) -> None:
    text = "name,phone\nAda Wren,01632 1\nada wren,01632 2\nAda Wren,(01632) 1\n"
    done = take_list(shop, "customers", text, {}, by=1, write=True)
    assert outcomes(done) == [(2, NEW), (3, NEW), (4, SAME)]
    cars = "registration,make,customer,phone\nW 1,Lark,Ada Wren,\nW 2,Lark,Ada Wren,01632-2\n"
    done = take_list(shop, "vehicles", cars, {}, by=1, write=False)
    assert [line.outcome for line in done] == [WRONG, NEW]
    assert "2 customers are called Ada Wren" in done[0].said


def test_vehicles_find_their_customers(busy_shop: Busy) -> None:
    shop = busy_shop.shop
    take_list(shop, "customers", CUSTOMERS, GERMAN, by=1, write=True)
    done = take_list(shop, "vehicles", VEHICLES, {}, by=1, write=True)
    assert outcomes(done) == [(2, NEW), (3, NEW)]
    found = "SELECT v.registration, v.year, c.name FROM vehicle v JOIN customer c ON c.id = v.customer_id WHERE v.id > ?"
    assert shop.fetch(found, (busy_shop.vehicle,)) == [
        ("BEA 1", 1964, "Bea Kestrel"),
        ("CY 2", None, "Cy Rook"),
    ]
    known = take_list(
        shop, "vehicles", "registration,make,customer\nlrk  120,Lark,Nobody\n", {}, by=1, write=True
    )
    assert outcomes(known) == [(2, SAME)]


def test_parts_with_figures_as_they_are_written_there(shop: Shop) -> None:
    done = take_list(shop, "parts", PARTS, {}, by=1, write=True)
    assert outcomes(done) == [(2, NEW), (3, NEW)]
    rows = shop.fetch("SELECT number, cost_minor, stock_milli, supplier FROM part ORDER BY id")
    assert rows == [("X-1", 420, 2_500, "Sparkwell"), ("X-2", 150, 0, "")]
    assert outcomes(take_list(shop, "parts", PARTS, {}, by=1, write=True)) == [(2, SAME), (3, SAME)]


@pytest.mark.parametrize(
    ("kind", "text", "words"),
    [
        (
            "vehicles",
            "registration,make,customer\nZ 1,Lark,Nobody Known\n",
            "there is no customer 'Nobody Known'",
        ),
        (
            "vehicles",
            "registration,make,customer,year\nZ 1,Lark,Ada Lark,sixty\n",
            "the year 'sixty' is none",
        ),
        ("vehicles", "registration,make,customer,year\nZ 1,Lark,Ada Lark,1700\n", "1700"),
        ("parts", "number,name,cost\nX-1,belt,1.234,50\n", "1.234"),
        ("parts", 'number,name,cost\nX-1,belt,"1,234.50"\n', "is not a figure"),
        ("parts", "number,name,cost\nX-1,belt,-3\n", "is not a figure"),
        ("parts", "number,name,cost\nX-1,belt,1e400\n", "is not a figure"),
        ("parts", "number,name,cost,vat\nX-1,belt,3,luxury\n", "luxury"),
        ("customers", "name\n" + "x" * 2_001 + "\n", "has over 2000 characters"),
        ("customers", "name,country\nAda,England\n", "country"),
    ],
)
def test_one_wrong_line_and_nothing_is_kept(busy_shop: Busy, kind: str, text: str, words: str) -> None:
    shop = busy_shop.shop
    head = text.split("\n", 1)[0]
    good = {
        "vehicles": "Q 9,Lark,Ada Lark,1964\n",
        "parts": "Q-9,good part,1,,\n",
        "customers": "Good Person\n",
    }[kind]
    before = [count(shop, table) for table in ("customer", "vehicle", "part", "journal")]
    done = take_list(shop, kind, text + good, {}, by=1, write=True)
    assert [(line.line, line.outcome) for line in done] == [(2, WRONG), (3, NEW)], head
    assert words in done[0].said
    assert [count(shop, table) for table in ("customer", "vehicle", "part", "journal")] == before


@pytest.mark.parametrize(
    ("text", "mapping", "words"),
    [
        ("", {}, "is empty"),
        ("\n\n", {}, "is empty"),
        ("phone\n1\n", {}, "no column for name"),
        ("name,Name\nA,B\n", {}, "two columns are called"),
        ("name\nA\n", {"nmae": "name"}, "have no column 'nmae'"),
        ("name\nA\n", {"phone": "Tel"}, "the table has no column 'Tel'"),
        ('name\n"Ada\n', {}, "line 2 cannot be read"),
        ("name\n" + "A\n" * 20_001, {}, "over 20000 lines"),
        ("name\n" + "A" * 200_000 + "\n", {}, "cannot be read"),
    ],
)
def test_a_table_that_cannot_be_read(shop: Shop, text: str, mapping: dict[str, str], words: str) -> None:
    with pytest.raises(BadInput, match=words):
        take_list(shop, "customers", text, mapping, by=1, write=True)


def test_what_would_be_a_formula_elsewhere_is_text_here(shop: Shop) -> None:
    text = "name,phone\n'=HYPERLINK(1),'+44 1632\n[/red]\x1b[2J,1\n"
    assert outcomes(take_list(shop, "customers", text, {}, by=1, write=True)) == [(2, NEW), (3, NEW)]
    rows = shop.fetch("SELECT name, phone FROM customer ORDER BY id")
    assert rows[0] == ("=HYPERLINK(1)", "+44 1632")
    assert "\x1b" not in rows[1][0]


@pytest.fixture
def one_shop(make_shop: Callable[..., Shop]) -> Shop:
    return make_shop()


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(kind=st.sampled_from(["customers", "vehicles", "parts"]), body=st.text(max_size=300))
def test_any_text_is_a_list_or_refused_in_words(one_shop: Shop, kind: str, body: str) -> None:
    head = {"customers": "name,phone", "vehicles": "registration,make,customer", "parts": "number,name,cost"}[
        kind
    ]
    try:
        done = take_list(one_shop, kind, f"{head}\n{body}", {}, by=1, write=False)
    except BadInput as error:
        assert error.message
    else:
        assert all(line.said or line.outcome == NEW for line in done)
    assert count(one_shop, "customer") == 0
