"""The summary: its figures by hand, its form by golden files, and nothing a text can do to it."""

import re
import subprocess
import sys
import unicodedata
from dataclasses import replace
from decimal import Decimal
from html.parser import HTMLParser

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jinja2 import TemplateError

from shopcli.errors import BadInput
from shopcli.papers.adds_up import DoesNotAddUp, contradictions
from shopcli.papers.render import environment, summary_html, summary_text
from shopcli.present import display_width, shown
from shopcli.shop.money import Allowance, Line, Net, total
from shopcli.shop.views import (
    PartyView,
    PaymentView,
    PriceLine,
    SummaryView,
    TotalsView,
    VatGroupView,
    WorkDone,
)
from tests.papers.golden_file import same_as_golden
from tests.papers.paper_summary import FINDINGS, LINES, OWED, READINGS, TOTALS, bare, rich

D = Decimal
HOSTILE = [
    "[/oops]",
    "[bold red]boo[/]",
    "{{7*7}}",
    "{% for x in view %}{{ x }}{% endfor %}",
    "<script>alert(1)</script>",
    "</td></table><img src=x onerror=alert(1)>",
    '" onmouseover="x',
    "&lt;b&gt;",
    "שלום עולם מכונית ישנה",
    "evil \u202egnp.exe\u2066 name",
    "\x1b[2J\x07\x00 bell",
    "車検整備記録簿" * 20,
    "e\u0301\u0302\u0303" * 50,
    "👩\u200d🔧 ❤\ufe0f 🚗",
    "x" * 10_000,
    "many words " * 900,
    "%s %d {0} \\n $HOME",
    "",
    " ",
]


def with_texts(text: str) -> SummaryView:
    """Put one text wherever a person's words can stand."""
    view = rich()
    party = PartyView(text, (text, text), text, text, text)
    return replace(
        view,
        shop=party,
        customer=party,
        card=text,
        state=text,
        invoice_number=text,
        registration=text,
        vehicle=text,
        odometer=text,
        closed=None,
        title=text,
        words=text,
        authority=text,
        currency=text,
        done=(*(WorkDone(text, text, text, text, text) for _ in range(2)), *view.done),
        readings=(
            *(replace(r, title=text, label=text) for r in READINGS),
            *(
                replace(r, found=text, left=text, limits=text, verdict=text, provenance=text)
                for r in READINGS
            ),
        ),
        lines=tuple(replace(x, description=text, kind=text, vat=text, unit=text) for x in LINES),
        totals=replace(TOTALS, groups=tuple(replace(g, vat=text) for g in TOTALS.groups)),
        payments=tuple(replace(p, kind=text, method=text) for p in view.payments),
        findings=tuple(
            replace(f, place=text, what=text, severity=text, takes=text, seen_by=text) for f in FINDINGS
        ),
        owed=tuple(replace(o, title=text, before=text, due_date=None, due_odometer=None) for o in OWED),
        waived=(text,),
    )


class Reader(HTMLParser):
    """Collects what a browser would see: tags, attributes, words; and whether every element is closed."""

    VOID = ("meta", "br", "img", "link", "input")

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.attributes: set[str] = set()
        self.words: list[str] = []
        self.open: list[str] = []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes |= {name for name, _ in attrs}
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)


def read(html: str) -> Reader:
    reader = Reader()
    reader.feed(html)
    reader.close()
    assert reader.open == []
    return reader


def test_the_invented_bill_is_right_by_hand_and_by_the_calculator():
    view = rich()
    by_hand = {
        "20": D("273.74"),
        "labour": D("143.41"),
        "part": D("53.82"),
        "outwork": D("86.50"),
        "postage": D("6.20"),
    }
    assert D("24.94") + D("43.65") + D("74.82") == by_hand["labour"]
    assert D("12.90") + D("12.60") + D("18.33") + D("9.99") == by_hand["part"]
    assert (
        by_hand["labour"] + by_hand["part"] + by_hand["outwork"] + by_hand["postage"] == view.totals.line_net
    )
    assert by_hand["labour"] + by_hand["part"] - D("9.99") + by_hand["outwork"] == by_hand["20"]
    assert view.totals.line_net + D("54.75") == D("344.68")
    ours = total([Line(*(getattr(x, n) for n in NAMES)) for x in LINES], paid=D("150.00"))
    assert ours.due == view.totals.due == D("194.68")
    assert [(g.category, g.basis, g.tax) for g in ours.groups] == [
        (g.category, g.basis, g.tax) for g in view.totals.groups
    ]


NAMES = ("id", "kind", "description", "qty", "unit", "price", "vat", "percent", "category")


@pytest.mark.parametrize(("name", "view"), [("summary_rich", rich()), ("summary_bare", bare())])
def test_golden(name, view):
    same_as_golden(f"{name}.txt", summary_text(view))
    same_as_golden(f"{name}.html", summary_html(view))


def test_golden_wide_and_plain():
    wide = summary_text(rich(), width=120)
    same_as_golden("summary_rich_120.txt", wide)
    plain = summary_text(replace(rich(), customer=PartyView("Mrs. Fenwick"), readings=()), plain=True)
    assert plain.isascii()
    assert "GBP 194.68" in plain


@pytest.mark.parametrize("width", [71, 201, 0, -5])
def test_a_page_too_narrow_or_wide_is_refused(width):
    with pytest.raises(BadInput):
        summary_text(rich(), width=width)


@pytest.mark.parametrize("make", [summary_text, summary_html])
def test_everything_the_customer_must_read_is_there(make):
    paper = make(rich())
    words = " ".join((" ".join(read(paper).words) if make is summary_html else paper).split())
    wanted = [
        "Brook Lane Motor Works",
        "GB 000 0000 00",
        "Zoë Fenwick-Harrowgate",
        "54,320 mi",
        "smell of petrol",
        "left out, declined by the customer",
        "checked by M. Dale",
        "9 thou",
        "8,2 bar",
        "owner's handbook, page 14",
        "Labour, in units of 6 min",
        "0.7 h £62.35 43.65 20 %",
        "2.5 L £7.333 18.33",
        "Together 2.3 h 143.41",
        "Skim a pair of brake drums",
        "standard, 20 % 273.74 54.75",
        "0 % E (exempt)",
        "Deposit, card, Mon 23 Nov -£100.00",
        "Due £194.68",
        "not to be driven before it is mended",
        "fuel hose perished",
        "Declined by the customer",
        "at 54,820 mi or on Monday 1 March 2027",
        "guide is worn",
    ]
    assert [w for w in wanted if w not in words] == []


def test_the_worst_finding_comes_first():
    text = summary_text(rich())
    assert text.index("fuel hose") < text.index("drips") < text.index("weeps")


def test_figures_stand_on_their_point():
    lines = summary_text(rich()).splitlines()
    nets = [line for line in lines if re.search(r"\d\.\d\d +(20 %|0 % [ZE])$", line)]
    assert len(nets) == len(LINES)
    assert len({re.search(r"\.\d\d +(20 %|0 % [ZE])$", line).start() for line in nets}) == 1
    sums = [line for line in lines if re.search(r"-?£[\d,.]+$", line)]
    assert len(sums) == 6
    assert len({line.rindex(".") for line in sums}) == 1


def test_a_debt_of_the_shop_is_said_in_words():
    paid = PaymentView("deposit", D("400.00"), "card", rich().opened)
    view = replace(
        rich(), payments=(paid,), totals=replace(TOTALS, paid=D("400.00"), due=TOTALS.with_vat - D("400.00"))
    )
    assert "To be given back" in summary_text(view)
    assert "£55.32" in summary_text(view)


def test_what_is_not_invoiced_says_so():
    view = replace(rich(), invoice_number="")
    assert "This summary is not an invoice." in summary_text(view)
    assert "This summary is not an invoice." in summary_html(view)
    assert "not an invoice" not in summary_text(rich())


def test_labour_in_minutes_is_priced_by_the_hour():
    line = PriceLine(
        "L1", "labour", "Set the points", D(70), "min", D("60.03"), D("70.04"), "standard", D(20), "S"
    )
    # 70 min at 60.03 an hour = 70.035, up to 70.04; tax 14.008
    sums = TotalsView(
        D("70.04"),
        D("70.04"),
        D("14.01"),
        D("84.05"),
        D(0),
        D("84.05"),
        (VatGroupView("", "S", D(20), D("70.04"), D("14.01")),),
    )
    view = replace(rich(), lines=(line,), totals=sums, payments=(), labour_unit_minutes=10)
    assert "70 min £60.03/h" in " ".join(summary_text(view).split())


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_text_stays_text(text):
    paper = summary_text(with_texts(text))
    assert max(map(display_width, paper.splitlines())) <= 80
    for char in paper:
        assert char == "\n" or unicodedata.category(char) not in {"Cc", "Cs"}
        assert unicodedata.bidirectional(char) not in {"RLO", "LRO", "RLI", "LRI", "FSI", "RLE", "LRE"}
    kept = "".join(shown(text).split())
    assert kept in "".join(paper.split())


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_text_stays_text_in_html(text):
    reader = read(summary_html(with_texts(text)))
    assert not {"script", "img", "b", "iframe"} & set(reader.tags)
    assert {"content", "http-equiv", "lang", "dir", "class", "charset", "name"} == reader.attributes
    kept = "".join(shown(text).split())
    assert kept in "".join("".join(reader.words).split())


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(max_size=60), st.integers(72, 130))
def test_no_text_breaks_the_page(text, width):
    paper = summary_text(with_texts(text), width=width)
    assert max(map(display_width, paper.splitlines())) <= width


def test_long_figures_stay_on_the_page():
    net = D("123456789.01") * 6
    tax = (net * D("0.2")).quantize(D("0.01"))
    line = PriceLine(
        "1", "part", "very dear " * 9, D(6), "pc", D("123456789.01"), net, "standard", D(20), "S"
    )
    odd = PriceLine(
        "2", "part", "x", D("0.123456789012"), "pc", D("0.100000000001"), D("0.01"), "zero", D(0), "Z"
    )
    group = VatGroupView("standard", "S", D(20), net, tax)
    small = VatGroupView("zero", "Z", D(0), D("0.01"), D(0))
    without = net + D("0.01")
    sums = TotalsView(without, without, tax, without + tax, D(0), without + tax, (group, small))
    paper = summary_text(replace(rich(), lines=(line, odd), totals=sums, payments=(), currency="XXX"))
    assert "740,740,734.06" in paper
    assert max(map(display_width, paper.splitlines())) <= 80


def test_html_asks_for_nothing_from_outside():
    html = summary_html(rich())
    assert not re.search(r"https?:|//|@import|url\(|<link|<script|<img", html)
    assert "default-src 'none'" in html
    assert "@page { size: A4" in html


@pytest.mark.parametrize(
    ("source", "error"),
    [
        ("{{ view.__class__.__mro__ }}", "SecurityError"),
        ("{{ view.shop.__init__.__globals__ }}", "SecurityError"),
        ("{{ ''.__class__ }}", "SecurityError"),
        ("{{ view | attr('__class__') }}", "TemplateAssertionError"),
        ("{{ view.no_such_field }}", "UndefinedError"),
        ("{{ nothing }}", "UndefinedError"),
        ("{{ range(9) }}", "UndefinedError"),
        ("{{ lipsum() }}", "UndefinedError"),
        ("{{ cycler }}", "UndefinedError"),
        ("{{ [].append(1) }}", "SecurityError"),
        ("{% include '/etc/passwd' %}", "TemplateNotFound"),
        ("{% include '../render.py' %}", "TemplateNotFound"),
    ],
)
def test_a_template_reaches_nothing_but_the_view(source, error):
    for html in (False, True):
        with pytest.raises(TemplateError) as caught:
            environment(html=html).from_string(source).render(view=rich())
        assert type(caught.value).__name__ == error


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (
            {"lines": (replace(LINES[0], net=D("24.95")), *LINES[1:])},
            "line L1: quantity times price is 24.94",
        ),
        ({"lines": LINES[1:]}, "sum of the lines is 264.99, not 289.93"),
        (
            {"lines": (*LINES[:3], replace(LINES[3], percent=D(5)), *LINES[4:])},
            "the VAT groups are not those",
        ),
        ({"totals": replace(TOTALS, vat=D("54.74"))}, "sum of VAT is 54.75, not 54.74"),
        ({"totals": replace(TOTALS, with_vat=D("344.69"))}, "total with VAT is 344.68"),
        ({"totals": replace(TOTALS, due=D("194.69"))}, "amount due is 194.68"),
        ({"payments": ()}, ""),
        (
            {"payments": (PaymentView("deposit", D("1"), "cash", rich().opened),)},
            "sum of the payments is 1.00",
        ),
        ({"totals": replace(TOTALS, due=D("NaN"))}, "amount due is 194.68, not NaN"),
        ({"lines": (replace(LINES[0], price=D("NaN")), *LINES[1:])}, "line L1: price is NaN"),
    ],
)
def test_a_paper_that_does_not_add_up_is_not_set(change, said):
    view = replace(rich(), **change)
    if not said:
        assert contradictions(view) == ()
        assert "Paid" in summary_text(view)
        return
    for make in (summary_text, summary_html):
        with pytest.raises(DoesNotAddUp, match=said):
            make(view)


def test_vat_wrong_by_a_cent_in_its_group_is_seen():
    groups = (replace(TOTALS.groups[0], tax=D("54.74")), *TOTALS.groups[1:])
    wrong = replace(TOTALS, groups=groups, vat=D("54.74"), with_vat=D("344.67"), due=D("194.67"))
    assert contradictions(replace(rich(), totals=wrong)) == ("VAT at 20 % is 54.75, not 54.74",)


def test_allowance_at_the_foot_is_shown():
    # 10.00 off at 20 %: 263.74 x 0.2 = 52.748 up to 52.75
    groups = (VatGroupView("standard", "S", D(20), D("263.74"), D("52.75")), *TOTALS.groups[1:])
    sums = TotalsView(D("289.93"), D("279.93"), D("52.75"), D("332.68"), D("150.00"), D("182.68"), groups)
    text = summary_text(replace(rich(), totals=sums))
    assert "Allowances and charges" in text
    assert "-£10.00" in text
    nets = [Net(x.net, x.percent, x.category) for x in LINES]
    ours = total(nets, allowances=[Allowance(D("10.00"), D(20), "S")], paid=D("150.00"))
    assert (ours.without_vat, ours.vat, ours.due) == (sums.without_vat, sums.vat, sums.due)


def test_papers_load_no_template_engine_before_the_first_paper():
    heavy = ("jinja2", "pint", "sqlmodel", "sqlalchemy", "textual", "rich")
    code = f"import sys, shopcli.papers.render; print([m for m in {heavy!r} if m in sys.modules])"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


@pytest.mark.parametrize("make", [lambda v: summary_text(v, width=100), summary_html])
def test_a_sales_tax_stands_after_the_lines_in_its_own_word_and_without_a_number(make) -> None:
    text = make(replace(rich(), tax_word="Sales tax"))
    assert "VAT" not in text
    assert "Total with Sales tax" in text
