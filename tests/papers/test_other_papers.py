"""Offer, receipt, statement, vehicle history and the summary as PDF: one builder each, three forms of one content."""

from dataclasses import fields, is_dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from shopcli.errors import BadInput
from shopcli.papers.adds_up import DoesNotAddUp
from shopcli.papers.forms import FORMS, written
from shopcli.papers.history import history_paper
from shopcli.papers.offer import offer_paper
from shopcli.papers.receipt import receipt_paper
from shopcli.papers.statement import statement_paper
from shopcli.papers.summary_paper import summary_paper
from shopcli.present import display_width
from shopcli.shop.offer_view import OfferReply
from tests.papers.figures import of_html, of_pdf, of_text
from tests.papers.golden_file import same_as_golden
from tests.papers.paper_others import history, offer, receipt, statement
from tests.papers.paper_summary import bare, rich
from tests.papers.test_bench_sheet import read_pdf
from tests.papers.test_summary_paper import read

D = Decimal
PAPERS = {
    "offer": (offer_paper, offer()),
    "receipt": (receipt_paper, receipt()),
    "statement": (statement_paper, statement()),
    "history": (history_paper, history()),
    "summary": (summary_paper, rich()),
}
KINDS = pytest.mark.parametrize("name", PAPERS)
HOSTILE = '#read("/x") [/oops] <script>x</script> \x1b[2J {{ 7 * 7 }} "onload="x" \u202eleft'


def form(name: str, kind: str, view: Any = None, **more: Any) -> bytes:
    build, usual = PAPERS[name]
    made = written(lambda w, logo: build(view or usual, w, logo), kind, currency="GBP", **more)
    assert made.lacking == ""
    return made.content


@pytest.mark.parametrize("name", ["offer", "receipt", "statement", "history"])
def test_golden(name: str) -> None:
    same_as_golden(f"{name}.txt", form(name, "text").decode())
    same_as_golden(f"{name}.html", form(name, "html").decode())


@KINDS
def test_the_three_forms_say_the_same(name: str) -> None:
    text, html, pdf = (form(name, kind) for kind in FORMS)
    assert of_text(text.decode()) == of_html(html.decode()) == of_pdf(pdf)
    _pages, printed = read_pdf(pdf)
    words = {w for w in " ".join(printed.split()).split() if w.isalpha()}
    page = set(" ".join(read(html.decode()).words).split())
    assert {w for w in words if w not in page} <= {"page", "of"}


def test_the_statement_by_hand() -> None:
    figures = of_text(form("statement", "text").decode())
    assert figures[:5] == [D("120.00"), D("509.51"), D("359.51"), D("291.65"), D("291.65")]
    assert figures[-1] == D("291.65")


def test_the_offer_has_its_range_and_a_place_to_sign() -> None:
    text = form("offer", "text").decode()
    flat = " ".join(text.split())
    for words in ("4.9", "£514.20", "Signature:", "Valid until 20 December 2026", "we ask again"):
        assert words in flat
    answered = replace(
        offer(), reply=OfferReply("declined", "Mrs. Fenwick", "phone", date(2026, 11, 21), None, "Too dear.")
    )
    said = " ".join(form("offer", "text", answered).decode().split())
    assert "Signature" not in said
    assert "Declined by Mrs. Fenwick on 21 November 2026 (phone): Too dear." in said


def test_money_given_back_is_said_so() -> None:
    view = replace(receipt(), kind="refund", amount=D("-20.00"), left=D("259.51"))
    text = form("receipt", "text", view).decode()
    assert "We gave back £20.00" in text
    assert "Given to" in text


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("offer", replace(offer(), with_vat=D("1.00"))),
        ("offer", replace(offer(), groups=())),
        ("statement", replace(statement(), opening=D("120.01"))),
        ("statement", replace(statement(), closing=D("291.66"))),
        ("summary", replace(rich(), totals=replace(rich().totals, due=D("1.00")))),
    ],
)
def test_what_does_not_add_up_does_not_leave(name: str, wrong: Any) -> None:
    for kind in FORMS:
        with pytest.raises(DoesNotAddUp):
            form(name, kind, wrong)


def test_an_unknown_form_is_refused() -> None:
    with pytest.raises(BadInput, match="docx"):
        form("receipt", "docx")


def test_nothing_but_what_must_be_there() -> None:
    empty = replace(
        statement(), opening=D(0), lines=(), closing=D(0), ages=(), iban="", bic="", account_name="", terms=""
    )
    assert "How to pay" not in form("statement", "text", empty).decode()
    bare_history = replace(history(), visits=(), readings=(), findings=(), about=())
    for kind in FORMS:
        assert form("history", kind, bare_history)
        assert form("summary", kind, bare())
        assert form("receipt", kind, replace(receipt(), total=None, kind=""))


def spoil(value: Any, text: str) -> Any:
    """Put one text wherever a text stands in a view, but for the words the program itself chooses among."""
    if is_dataclass(value):
        keep = {"currency", "kind", "category", "percent", "severity", "state", "unit", "outcome"}
        changed = {
            f.name: spoil(getattr(value, f.name), text)
            for f in fields(value)
            if f.name not in keep and f.init
        }
        return replace(value, **changed)
    if isinstance(value, tuple):
        return tuple(spoil(v, text) for v in value)
    return text if isinstance(value, str) else value


@KINDS
def test_text_of_people_is_set_and_never_obeyed(name: str) -> None:
    view = spoil(PAPERS[name][1], HOSTILE)
    assert max(map(display_width, form(name, "text", view).decode().splitlines())) <= 80
    seen = read(form(name, "html", view).decode())
    assert "script" not in seen.tags
    assert not {a for a in seen.attributes if a.startswith("on")}
    _pages, printed = read_pdf(form(name, "pdf", view))
    assert "#read(" in printed
    assert "{{ 7 * 7 }}" in " ".join(seen.words)


def test_in_the_locale_of_the_shop() -> None:
    assert "20. November 2026" in form("offer", "text", locale="de_DE").decode()
