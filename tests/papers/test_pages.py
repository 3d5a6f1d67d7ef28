"""How papers fall into pages and columns: nothing over something else, no total without what it is the total of."""

import re
from dataclasses import replace

import pypdfium2
import pytest

from shopcli.papers.bill import bill_html, bill_pdf
from shopcli.papers.forms import written
from shopcli.papers.summary_paper import summary_paper
from shopcli.shop.bill import Party
from shopcli.shop.views import ReadingLine, SummaryView
from tests.papers.paper_bill import many, rich
from tests.papers.paper_summary import HANDBOOK
from tests.papers.paper_summary import rich as worked

LOW = "low by 0.86 bar (limit 85 psi = 5.86 bar)"


def pdf_of(view: SummaryView) -> pypdfium2.PdfDocument:
    made = written(lambda w, logo: summary_paper(view, w, logo), "pdf", currency="GBP")
    return pypdfium2.PdfDocument(made.content)


def box(page: pypdfium2.PdfPage, words: str) -> tuple[float, float, float, float]:
    """Return where some words stand on a page: left, bottom, right, top."""
    text = page.get_textpage()
    at = text.search(words).get_next()
    assert at is not None, words
    found = [text.get_charbox(n) for n in range(at[0], at[0] + at[1]) if text.get_text_range(n, 1).strip()]
    left, bottom, right, top = zip(*found, strict=True)
    return min(left), min(bottom), max(right), max(top)


def test_a_long_judgement_leaves_room_for_what_was_read() -> None:
    readings = tuple(
        ReadingLine(
            "compression with oil",
            f"cylinder {n}",
            f"5.{n} bar",
            "",
            "85 to 115 psi, aim for 100 psi",
            LOW,
            HANDBOOK,
        )
        for n in range(1, 5)
    )
    dwell = ReadingLine(
        "dwell", "dwell", "", "52°", "44 to 56° distributor, aim for 50° distributor", "", HANDBOOK
    )
    document = pdf_of(replace(worked(), readings=(*readings, dwell)))
    page = next(p for p in document if "cylinder 1" in p.get_textpage().get_text_range())
    for n in range(1, 5):
        name, found = box(page, f"compression with oil, cylinder {n}"), box(page, f"5.{n} bar")
        assert name[3] - name[1] < 14, "the name stands on one line"
        assert name[2] < found[0], "and beside the figure, not under it"


# With so many lines the foot of the first page, or of the second, lies between the tax and the total.
@pytest.mark.parametrize("count", [29, 30, 31])
def test_a_total_never_stands_without_its_tax(count: int) -> None:
    pages = [
        page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(bill_pdf(many(count)).content)
    ]
    for page in pages:
        assert ("Total with VAT" in page) == ("Rate" in page), f"{count} lines"
    assert "break-after: avoid" in bill_html(rich())


def test_a_word_without_end_stays_in_its_column() -> None:
    wide = "W" * 20
    one = replace(rich(), vehicle=f"{wide}, {'Wagonette' * 6}", buyer=Party(wide * 3, (wide,)))
    page = pypdfium2.PdfDocument(bill_pdf(one).content)[0]
    text = page.get_textpage()
    rects = [text.get_rect(n) for n in range(text.count_rects())]
    edge = page.get_width() - 18 / 25.4 * 72
    assert max(right for _left, _bottom, right, _top in rects) <= edge + 1
    assert text.get_text_range().count("W" * 5) >= 4


def test_what_goes_over_several_lines_hangs_behind_its_mark() -> None:
    done = tuple(replace(d, title=f"{d.title} {'and once more ' * 12}") for d in worked().done[:2])
    page = pdf_of(replace(worked(), done=done))[0]
    text = page.get_textpage()
    first = box(page, done[0].title[:12])[0]
    rects = map(text.get_rect, range(text.count_rects()))
    below = [rect[0] for rect in rects if "and once more" in text.get_text_bounded(*rect)]
    assert len(below) >= 3
    assert sum(left >= first - 1 for left in below) >= len(below) - 2, (
        "all but the first of each stand behind the mark"
    )


@pytest.mark.parametrize("words", ["a", "a\na"])
def test_a_title_of_work_is_never_the_last_line_of_a_page(words: str) -> None:
    done = tuple(replace(worked().done[0], title=f"Step {n}", system=f"system {n // 2}") for n in range(60))
    pages = [p.get_textpage().get_text_range() for p in pdf_of(replace(worked(), words=words, done=done))]
    bodies = [page.split("Brook Lane Motor Works Summary")[0].strip() for page in pages[:-1]]
    assert any("Step" in body[-10:] for body in bodies)
    assert not [body[-60:] for body in bodies if re.search(r"System \d+$", body)]
