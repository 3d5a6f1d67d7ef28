"""Words that are orders elsewhere – to a database, a page, a typesetter, a terminal – in every field of a card, and on every paper."""

import csv
import io
import re
from dataclasses import dataclass
from datetime import date
from html.parser import HTMLParser

import pypdfium2
import pytest
from lxml import etree

from shopcli.papers.ledger_csv import ledger_csv
from shopcli.papers.of_records import history_of, in_form, invoice_of, receipt_of, summary_of
from shopcli.shop.commands import (
    AddCustomer,
    AddFinding,
    AddToBill,
    AddVehicle,
    CloseCard,
    Command,
    MoveCard,
    OpenCard,
    TakePayment,
)
from shopcli.store.reads.desk import open_cards
from shopcli.store.reads.found import find_customers
from shopcli.store.reads.ledger import ledger
from shopcli.store.reads.people import person
from shopcli.store.shop import Shop
from tests.papers.validators import broken
from tests.told_once import told_once

ORDERS = {
    "database": "'); DROP TABLE card; --",
    "page": '<script src="http://a">x</script><img src=x onerror=y>&amp;"\'',
    "document": ']]><!DOCTYPE a [<!ENTITY e SYSTEM "file:///etc/hostname">]>&e;<?x y?>',
    "template": "{{ 7*7 }}{% for c in ().__class__.__mro__ %}{{c}}{% endfor %}{# no #}",
    "typesetter": '#panic("out") #read("/etc/hostname") $x^2$ *b* _c_ @r <l> \\u{41} = h',
    "terminal": "\x1b[2J\x1b]0;title\x07\x9b31mred\x1b[0m",
    "table": '=HYPERLINK("http://a";"b")',
}
SEEN = {name: text for name, text in ORDERS.items() if name != "terminal"} | {
    "terminal": "[2J]0;title31mred[0m"
}


@dataclass(frozen=True)
class Told:
    """A closed card whose every text is such an order, as it is to be seen."""

    shop: Shop
    seen: str
    customer: int
    vehicle: int
    card: int


@pytest.fixture(params=ORDERS)
def told(request: pytest.FixtureRequest, shop: Shop) -> Told:
    text = ORDERS[request.param]
    party = {"vat_number": "GB123456789", "city": "Little Proof", "post_code": "LP1 1AA", "country": "GB"}
    shop.settings = shop.settings._replace(**party)
    ids = told_once(shop, f"orders {request.param}", lambda: tell(shop, text, text[:60]))
    return Told(shop, SEEN[request.param], *ids)


def tell(shop: Shop, text: str, short: str) -> tuple[int, int, int]:
    dora = person(shop, "Dora").id
    with shop.many() as run:

        def do(command: Command) -> int:
            return run.do(command, by=dora).id

        customer = do(AddCustomer(text, text[:30], short, f"{text}\n{text}", short, text[:20], "GB"))
        car = do(AddVehicle(customer, text[:20], short, short, 1964, "", "mi", short[:40], short[:40]))
        opened = OpenCard(
            car, (), text, text, 100, text, 40_000, text, car_keys=short, fuel=short, damage=text
        )
        card = do(opened)
        do(AddFinding(card, text, text, "soon", text))
        do(AddToBill(card, "sundry", text, 1_250))
        do(MoveCard(card, "held", text))
        do(MoveCard(card, "in hand"))
        do(TakePayment(card, 500))
        do(CloseCard(card))
    return customer, car, card


class Tags(HTMLParser):
    """The tags of a page, with what they ask for from elsewhere, and its text."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: set[str] = set()
        self.asked: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.asked += [k for k, v in attrs if k.startswith("on") or (k in {"src", "href"} and v)]

    def handle_data(self, data: str) -> None:
        self.text += data


def close(text: str) -> str:
    """Return a text without its blanks: a paper breaks its lines where it likes."""
    return "".join(text.split())


def test_words_stay_words_on_every_paper(told: Told) -> None:
    shop, seen = told.shop, told.seen
    for ready in (
        invoice_of(shop, told.card),
        summary_of(shop, told.card),
        receipt_of(shop, told.card),
        history_of(shop, told.vehicle),
    ):
        typed = in_form(shop, ready, "text").content.decode("utf-8")
        assert all(c == "\n" or c.isprintable() for c in typed)
        assert close(seen) in close(typed)
        page = Tags()
        page.feed(in_form(shop, ready, "html").content.decode("utf-8"))
        assert close(seen) in close(page.text)
        assert not page.tags & {"script", "img", "iframe", "object", "l", "x"}
        assert page.asked == []
        pdf = pypdfium2.PdfDocument(in_form(shop, ready, "pdf").content)
        printed = "".join(sheet.get_textpage().get_text_range() for sheet in pdf)
        assert close(seen) in close(re.sub("[\ufffe\u200b]", "", printed))


def test_words_stay_words_for_machines(told: Told) -> None:
    shop, seen = told.shop, told.seen
    for form in ("cii", "ubl"):
        content = in_form(shop, invoice_of(shop, told.card), form).content
        assert broken(content) == []
        tree = etree.fromstring(content, etree.XMLParser(resolve_entities=False)).getroottree()
        assert not tree.docinfo.doctype
        assert close(seen) in {close(text) for text in tree.getroot().itertext()}
    books = ledger(shop, date(2026, 11, 1), date(2026, 11, 30))
    for row in csv.reader(io.StringIO(ledger_csv(books), newline=""), strict=True):
        assert not any(cell.startswith(("=", "+", "@")) for cell in row)


def test_words_are_found_and_the_records_stand(told: Told) -> None:
    shop, seen = told.shop, told.seen
    assert told.customer in {found.id for found in find_customers(shop, seen)}
    assert open_cards(shop, seen) == ()
    assert shop.fetch("SELECT COUNT(*) FROM card") == [(1,)]
