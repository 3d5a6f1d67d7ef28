"""Invoices and credit notes on paper: as read and found right, whatever is written in them, however long they are."""

import re
import struct
import zlib
from dataclasses import replace
from decimal import Decimal
from io import BytesIO

import pikepdf
import pypdfium2
import pytest

from shopcli.errors import BadInput
from shopcli.papers.adds_up import DoesNotAddUp
from shopcli.papers.as_pdf import paper_pdf
from shopcli.papers.bill import bill_html, bill_pdf, bill_text
from shopcli.papers.blocks import Col, Fields, Logo, Paper, Row, Section, Table
from shopcli.present import display_width
from shopcli.shop.bill import Bill, BillPayment, Party
from tests.papers.figures import expected, of_pdf
from tests.papers.golden_file import same_as_golden
from tests.papers.paper_bill import BUYER, LINES, bill, credit, many, rich
from tests.papers.test_bench_sheet import HOSTILE, read_pdf
from tests.papers.test_summary_paper import read

D = Decimal


def test_by_hand() -> None:
    one = rich()
    assert one.line_net == D("24.94") + D("43.65") + D("67.34") + D("53.82") + D("86.50") + D("6.80") + D(
        "54.85"
    )
    assert one.groups[0].basis == D("135.93") + D("43.83") + D("86.50") + D("6.80") - D("5.00") + D("2.50")
    assert one.tax == D("54.11")  # 270.56 at 20 % is 54.112
    assert one.due == D("335.40") + D("54.11") - D("150.00") - D("0.01")


@pytest.mark.parametrize(("name", "one"), [("bill_rich", rich()), ("credit_note", credit())])
def test_golden(name: str, one: Bill) -> None:
    same_as_golden(f"{name}.txt", bill_text(one))
    same_as_golden(f"{name}.html", bill_html(one))


def test_in_the_locale_of_the_shop() -> None:
    text = bill_text(replace(rich(), currency="EUR"), locale="de_DE")
    for words in ("27. November 2026", "7,333", "12.11.2026", "239,50\u00a0€"):
        assert words in text
    plain = bill_text(replace(rich(), buyer=Party("Somebody")), locale="fr-FR", plain=True)
    assert plain.isascii()
    assert "GBP 239,50" in plain
    assert "2026-12-11" in plain
    assert '<html lang="fr-FR">' in bill_html(rich(), locale="fr-FR")
    with pytest.raises(BadInput, match="xx_YY"):
        bill_text(rich(), locale="xx_YY")


@pytest.mark.parametrize(("point", "figures"), [(".", ["12", "0.75", "1.5"]), (",", ["12", "0,75", "1,5"])])
def test_figures_stand_on_their_point_in_a_pdf(point: str, figures: list[str]) -> None:
    section = Section("", tuple(Row((f"line {nth}", text)) for nth, text in enumerate(figures)))
    table = Table((Col("What", fills=True), Col("Hours", right=True)), (section,))
    made = Paper("Card", "1", ("Shop",), Fields(()), Fields(()), (table,), rich().issued)
    words = pypdfium2.PdfDocument(paper_pdf(made, point=point).content)[0].get_textpage()
    printed = words.get_text_range()
    where = []
    for text in figures:
        first = printed.index(text, printed.index("Hours"))
        end = text.find(point) if point in text else len(text)
        where.append(
            words.get_charbox(first + end - 1, loose=True)[2]
        )  # the right edge of the last whole digit
    assert where == pytest.approx([where[0]] * 3, abs=0.5)


def test_halves_are_rounded_up_though_the_writer_of_figures_would_not() -> None:
    assert "0.13" in bill_text(
        replace(rich(), allowances=(replace(rich().allowances[0], base=D("0.125")), rich().allowances[1]))
    )


def test_a_negative_due_is_given_back_and_no_account_is_asked_for() -> None:
    one = bill(LINES[:1], payments=(BillPayment("deposit", D("100.00"), "card", rich().issued),))
    text = bill_text(one)
    assert re.search(r"To be given back +£70\.07", text)  # 24.94 with 4.99 VAT is 29.93
    assert "IBAN" not in text
    assert "Due by" not in text


def test_another_word_for_the_tax() -> None:
    text = bill_text(replace(rich(), tax_word="Sales tax"))
    assert "VAT" not in text.replace("VAT of each rate", "")
    assert "Before sales tax" in text
    assert text.index("Before sales tax") > text.index("Sum of the lines")
    seller = rich().seller.vat_number
    assert seller
    assert seller not in text, "a sales tax has no VAT number"


@pytest.mark.parametrize("make", [bill_text, bill_html, bill_pdf])
def test_what_does_not_add_up_does_not_leave(make) -> None:
    for wrong in (
        replace(rich(), due=D("239.51")),
        replace(rich(), payments=rich().payments[:1]),
        replace(rich(), lines=(replace(LINES[0], net=D("24.95")), *LINES[1:])),
        replace(rich(), groups=rich().groups[:2]),
    ):
        with pytest.raises(DoesNotAddUp, match="INV-000123"):
            make(wrong)


def test_a_long_bill_has_its_head_on_every_page_and_counts_them() -> None:
    one = many(90)
    content = bill_pdf(one).content
    pages = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(content)]
    assert len(pages) == 3
    assert all(f"page {n} of 3" in page for n, page in enumerate(pages, 1))
    assert all("Description" in page for page in pages[:2])
    assert all(f"Item number {n} of the list" in "\n".join(pages) for n in range(1, 91))
    assert of_pdf(content) == expected(one)
    # No kind begins at the foot of a page with its first line on the next.
    last = [page.split("page ")[0].strip().splitlines()[-2] for page in pages[:2]]
    assert not {"Labour", "Parts", "Outwork"} & set(last)


def test_the_pdf_is_fit_to_be_kept() -> None:
    content = bill_pdf(rich()).content
    assert content == bill_pdf(rich()).content, "the same bill is the same file"
    with pikepdf.open(BytesIO(content)) as pdf:
        assert pdf.check_pdf_syntax() == []
        with pdf.open_metadata() as meta:
            assert (meta["pdfaid:part"], meta["pdfaid:conformance"]) == ("3", "B")
        assert pdf.Root.MarkInfo.Marked
        assert str(pdf.Root.Lang) == "en"
        fonts = [f for page in pdf.pages for f in page.Resources.get("/Font", {}).values()]
        assert fonts
        for font in fonts:
            described = font.DescendantFonts[0].FontDescriptor
            assert any(key in described for key in ("/FontFile2", "/FontFile3"))
    picture = pypdfium2.PdfDocument(content)[0].render(scale=1).to_pil().convert("RGB")
    assert all(max(c) - min(c) <= 2 for _n, c in picture.getcolors(1 << 20)), "nothing on it is coloured"


def spoilt(text: str) -> Bill:
    person = Party(text, (text, text), text, text, "GB", text, text, text, text)
    one = rich()
    return replace(
        one,
        number=text,
        seller=person,
        buyer=person,
        card=text,
        vehicle=text,
        odometer=text,
        order=text,
        terms=text,
        iban=text,
        bic=text,
        account_name=text,
        why=text,
        notes=(text,),
        rounding_rule=text,
        lines=tuple(
            replace(x, description=text, unit=text if x.unit != "h" else "h", note=text, vat=text)
            for x in one.lines
        ),
        allowances=tuple(replace(a, reason=text) for a in one.allowances),
        payments=tuple(replace(p, kind=text, method=text) for p in one.payments),
        groups=tuple(replace(g, vat=text, reason=text) for g in one.groups),
    )


@pytest.mark.parametrize("text", [*HOSTILE, "<script>alert(1)</script>", '" onload="x', "Bartholomew" * 30])
def test_text_of_people_is_set_and_never_obeyed(text: str) -> None:
    one = spoilt(text)
    assert max(map(display_width, bill_text(one).splitlines())) <= 80
    seen = read(bill_html(one))
    assert not {"script", "iframe", "object"} & set(seen.tags)
    assert not {a for a in seen.attributes if a.startswith("on")}
    document = pypdfium2.PdfDocument(bill_pdf(one).content)
    printed = "\n".join(page.get_textpage().get_text_range() for page in document)
    assert "root:" not in printed
    for page in document:
        words, width = page.get_textpage(), page.get_width()
        rects = [words.get_rect(n) for n in range(words.count_rects())]
        assert all(left >= 0 and right <= width for left, _bottom, right, _top in rects)
    flat = "".join(printed.split())
    for piece in text.replace("\x1b[2J\x00\x07", "").split():
        if piece.isascii() and piece.isprintable() and len(piece) < 12:
            assert piece in flat


def test_signs_no_font_has_are_said_and_stand_as_question_marks() -> None:
    made = bill_pdf(replace(rich(), buyer=replace(BUYER, name="Zoë 車検 \u0e01\ue123")))
    _pages, text = read_pdf(made.content)
    assert "Zoë" in text
    assert set(made.lacking) <= set("車検\u0e01\ue123")
    assert all(sign not in text for sign in made.lacking)
    assert text.count("?") >= len(made.lacking)


def png(width: int = 40, height: int = 20) -> bytes:
    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    rows = b"".join(b"\x00" + b"\x00" * width for _ in range(height))
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(rows))
        + chunk(b"IEND", b"")
    )


SVG = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"><rect width="40" height="20"/></svg>'


@pytest.mark.parametrize("logo", [Logo("png", png()), Logo("svg", SVG)], ids=["png", "svg"])
def test_the_shops_own_sign(logo: Logo) -> None:
    content = bill_pdf(rich(), logo=logo).content
    shot = pypdfium2.PdfDocument(content)[0].render(scale=1).to_pil().convert("L")
    left = shot.crop((51, 43, 140, 85))
    assert sum(1 for v in left.tobytes() if v < 60) > 1000, "the black box stands at the head"
    assert "data:image/" in bill_html(rich(), logo=logo)
