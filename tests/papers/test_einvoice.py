"""E-invoices against the published rules, offline, and their figures against the bill they were made from."""

from dataclasses import replace
from decimal import Decimal
from io import BytesIO

import pikepdf
import pytest
from hypothesis import HealthCheck, given, settings

from shopcli.papers.adds_up import DoesNotAddUp
from shopcli.papers.bill import bill_html, bill_pdf, bill_text
from shopcli.papers.einvoice_check import NotComplete
from shopcli.papers.einvoice_cii import bill_cii
from shopcli.papers.einvoice_codes import UNITS, payment_means
from shopcli.papers.einvoice_ubl import bill_ubl
from shopcli.papers.facturx_pdf import bill_facturx
from shopcli.shop.bill import Bill, Party
from tests.papers.figures import expected, of_bill, of_cii, of_html, of_pdf, of_text, of_ubl
from tests.papers.paper_bill import BUYER, SELLER, STANDARD, bill, credit, line, rich
from tests.papers.random_bills import bills
from tests.papers.validators import broken

D = Decimal
BOTH = pytest.mark.parametrize("make", [bill_cii, bill_ubl])
HEALTH = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.function_scoped_fixture]


def see(one: Bill) -> None:
    """Hold a bill against the rules in both syntaxes, and its figures in all five forms against itself."""
    cii, ubl = bill_cii(one), bill_ubl(one)
    assert broken(cii) == []
    assert broken(ubl) == []
    assert of_cii(cii) == of_ubl(ubl) == of_bill(one)
    column = expected(one)
    assert of_text(bill_text(one, width=120)) == column
    assert of_html(bill_html(one)) == column
    assert of_pdf(bill_pdf(one).content) == column


@pytest.mark.parametrize("one", [rich(), credit()], ids=["invoice", "credit note"])
def test_the_bills_of_these_tests(one: Bill) -> None:
    see(one)


@settings(max_examples=12, deadline=None, suppress_health_check=HEALTH)
@given(one=bills())
def test_any_bill_is_valid_and_says_the_same_everywhere(one: Bill) -> None:
    see(one)


@pytest.mark.long
@settings(max_examples=500, deadline=None, suppress_health_check=HEALTH)
@given(one=bills())
def test_five_hundred_bills_are_valid_and_say_the_same_everywhere(one: Bill) -> None:
    see(one)


@BOTH
def test_every_unit_is_in_the_code_list(make) -> None:
    lines = tuple(
        line(str(n), "part", f"in {unit}", "1", unit, "1", STANDARD) for n, unit in enumerate((*UNITS, "tin"))
    )
    content = make(bill(lines))
    assert broken(content) == []
    assert b"Unit: tin" in content


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        (b"<ram:DuePayableAmount>239.50", b"<ram:DuePayableAmount>239.51", "BR-CO-16"),
        (b"<ram:TaxBasisTotalAmount>335.40", b"<ram:TaxBasisTotalAmount>335.41", "BR-CO-13"),
        (b"<ram:ID>INV-000123</ram:ID>", b"", "schema"),
        (b'unitCode="HUR"', b'unitCode="HOURS"', "FX-SCH-A-000612"),
        (b'schemeID="VA">GB', b'schemeID="VA">99', "BR-CO-09"),
    ],
)
def test_the_rules_of_cii_see_what_is_wrong(old: bytes, new: bytes, rule: str) -> None:
    content = bill_cii(rich())
    assert old in content
    assert any(rule in text for text in broken(content.replace(old, new)))


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        (b'"GBP">239.50</cbc:PayableAmount', b'"GBP">239.51</cbc:PayableAmount', "BR-CO-16"),
        (b'unitCode="HUR"', b'unitCode="HOURS"', "BR-CL-23"),
        (b"<cbc:TaxExemptionReason>", b"<!--", "BR-E-10"),
    ],
)
def test_the_rules_of_ubl_see_what_is_wrong(old: bytes, new: bytes, rule: str) -> None:
    content = bill_ubl(rich())
    assert old in content
    wrong = content.replace(old, new)
    if new == b"<!--":
        wrong = wrong.replace(b"</cbc:TaxExemptionReason>", b"-->")
    assert any(rule in text for text in broken(wrong))


def exempt(category: str, **more: object) -> Bill:
    rate = ("some", D(0), category)
    return bill((line("1", "part", "Thing", "1", "pc", "5", rate),), reasons={category: "because"}, **more)


def no_reason(one: Bill) -> Bill:
    return replace(one, groups=tuple(replace(g, reason="") for g in one.groups))


INCOMPLETE = {
    "BR-CO-26": replace(rich(), seller=replace(SELLER, vat_number="")),
    "BR-CO-25": replace(rich(), due_by=None, terms=""),
    "BR-09": replace(rich(), seller=replace(SELLER, country="")),
    "BR-11": replace(rich(), buyer=replace(BUYER, country="England")),
    "BR-07": replace(rich(), buyer=replace(BUYER, name=" ")),
    "BR-05": replace(rich(), currency="£"),
    "BR-CO-09": replace(rich(), seller=replace(SELLER, vat_number="123456789")),
    "BR-E-10": no_reason(rich()),
    "BR-O-02": exempt("O"),
    "BR-AE-02": exempt("AE"),
    "BR-IC-11": exempt("K", supplied=None, buyer=replace(BUYER, vat_number="GB1")),
    "BR-O-11": bill(
        (
            line("1", "part", "A", "1", "pc", "5", STANDARD),
            line("2", "fee", "B", "1", "pc", "5", ("o", D(0), "O")),
        ),
        reasons={"O": "because"},
    ),
    "BR-16": bill(()),
    "BR-55": replace(credit(), corrects=""),
    "sales tax": replace(rich(), tax_word="Sales tax"),
    "BR-S-05": bill((line("1", "part", "A", "1", "pc", "5", ("none", D(0), "S")),)),
}


@pytest.mark.parametrize("rule", INCOMPLETE)
def test_what_the_standard_asks_for_is_asked_for_before(rule: str) -> None:
    for make in (bill_cii, bill_ubl):
        with pytest.raises(NotComplete, match=rule):
            make(INCOMPLETE[rule])


@BOTH
def test_a_bill_that_does_not_add_up_becomes_no_document(make) -> None:
    with pytest.raises(DoesNotAddUp, match="amount due"):
        make(replace(rich(), due=D("239.49")))


def test_the_way_to_pay_is_the_right_code() -> None:
    # UNTDID 4461: 58 SEPA credit transfer, 30 credit transfer, 1 instrument not defined.
    one = rich()
    assert payment_means(replace(one, currency="EUR")) == "58"
    assert payment_means(one) == "30"
    assert payment_means(replace(one, iban="")) == "1"


@BOTH
@pytest.mark.parametrize(
    "text",
    ["\x00\x1b[2J bell \u202eleft", "]]> <!-- & </cbc:ID>", "車検 👩\u200d🔧", "\ufffe\uffff odd", "&#0;"],
)
def test_odd_texts_are_kept_or_left_out_and_never_break_it(make, text: str) -> None:
    person = Party(text, (text, text, text), text, text, "GB", "GB1", "", text, text)
    one = replace(
        rich(),
        seller=replace(person, name="Shop " + text),
        buyer=replace(person, name="Buyer " + text),
        vehicle=text,
        order="O " + text,
        card="C " + text,
        terms=text,
        notes=(text,),
        account_name=text,
        lines=tuple(replace(x, description=text, note=text, unit=x.unit) for x in rich().lines),
        groups=tuple(replace(g, reason=g.reason and g.reason + text) for g in rich().groups),
    )
    assert broken(make(one)) == []


@BOTH
@pytest.mark.parametrize("text", ["valves #1 and #2", "#ab#", "#<<<# odd", "#AAI# said so", "###", "####"])
def test_a_number_sign_in_a_note_is_no_subject_code(make, text: str) -> None:
    # In UBL a note may begin with its subject between two such signs (BT-21); ours never mean that.
    content = make(replace(rich(), notes=(text,)))
    assert broken(content) == []
    assert text in content.decode().replace("&lt;", "<")


def test_facturx_is_one_file_for_people_and_machines() -> None:
    one = rich()
    content = bill_facturx(one).content
    assert of_pdf(content) == expected(one)
    with pikepdf.open(BytesIO(content)) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert list(pdf.attachments) == ["factur-x.xml"]
        inside = pdf.attachments["factur-x.xml"].get_file().read_bytes()
        assert len(pdf.Root.AF) == 1
        assert pdf.Root.AF[0].AFRelationship == "/Alternative"
        assert pdf.Root.MarkInfo.Marked
        assert "/StructTreeRoot" in pdf.Root
        assert "/OutputIntents" in pdf.Root
        with pdf.open_metadata() as meta:
            assert (meta["pdfaid:part"], meta["pdfaid:conformance"]) == ("3", "B")
            space = "{urn:factur-x:pdfa:CrossIndustryDocument:invoice:1p0#}"
            assert meta[space + "ConformanceLevel"] == "EN 16931"
            assert meta[space + "DocumentFileName"] == "factur-x.xml"
    assert inside == bill_cii(one)
    assert broken(inside) == []
    assert of_cii(inside) == of_bill(one)
