"""The sheet that hangs on the car: text and PDF read back as a person and a scanner would, whatever was written in it."""

import json
from dataclasses import replace
from datetime import UTC, date, datetime
from io import BytesIO

import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from shopcli.codes import card_code
from shopcli.papers.bench_sheet import bench_sheet_text
from shopcli.papers.sheet import sheet_file
from shopcli.papers.sheet_data import sheet_data
from shopcli.papers.sheet_pdf import bench_sheet_pdf
from shopcli.papers.square import modules, square_lines, square_svg
from shopcli.present import display_width
from shopcli.shop.views import CardView, TaskView
from shopcli.units import IMPERIAL, METRIC
from tests.conftest import Busy
from tests.papers.golden_file import same_as_golden
from tests.papers.test_bench_list import card

CARD = card()
HOSTILE = (
    '#read("/etc/passwd")',
    '"; #panic("out")',
    "]#sys.inputs[ $x^2$ *bold* _it_ `raw` <label> @ref // not a comment /* nor this",
    '\\u{41} \\ #import "@preview/x:1.0.0": y',
    "\x1b[2J\x00\x07 bell \u202eright to left\u202c",
    "{{ 7 * 7 }} %s {0}",
)


def read_pdf(content: bytes) -> tuple[int, str]:
    document = pypdfium2.PdfDocument(content)
    return len(document), "\n".join(page.get_textpage().get_text_range() for page in document)


def scanned(picture: Image.Image) -> list[str]:
    return [found.text for found in zxingcpp.read_barcodes(picture)]


def ink(rows: list[list[int]]) -> Image.Image:
    """Draw modules as ink on paper, four dots each."""
    picture = Image.new("L", (len(rows[0]), len(rows)), 255)
    picture.putdata([0 if m else 255 for row in rows for m in row])
    return picture.resize((picture.width * 4, picture.height * 4), Image.Resampling.NEAREST)


def read_lines(lines: list[str]) -> list[list[int]]:
    """Read half blocks back into modules."""
    halves = {" ": (0, 0), "▀": (1, 0), "▄": (0, 1), "█": (1, 1)}
    rows: list[list[int]] = []
    for line in lines:
        pairs = [halves[sign] for sign in line]
        rows += [[a for a, _ in pairs], [b for _, b in pairs]]
    return rows


@pytest.mark.parametrize("text", ["%C%J00012", "%C%2026-0147", "%P%TL-2001", "%P%" + "9" * 40])
def test_the_square_says_what_was_printed(text: str) -> None:
    assert scanned(ink([list(row) for row in modules(text, border=4)])) == [text]
    assert scanned(ink(read_lines(square_lines(text, border=4)))) == [text]
    assert b"<script" not in square_svg(text)
    assert square_svg(text).startswith(b"<svg")


def test_the_plain_square_is_of_number_signs() -> None:
    lines = square_lines("%C%J00012", plain=True, border=4)
    assert set("".join(lines)) == {"#", " "}
    assert scanned(ink([[int(line[i] == "#") for i in range(0, len(line), 2)] for line in lines])) == [
        "%C%J00012"
    ]


def test_the_sheet_as_it_was_read_and_found_right() -> None:
    same_as_golden("bench_sheet.txt", bench_sheet_text(CARD, METRIC))
    same_as_golden("bench_sheet_imperial_plain.txt", bench_sheet_text(CARD, IMPERIAL, plain=True))


def test_the_text_holds_what_the_bench_needs() -> None:
    text = bench_sheet_text(CARD, METRIC)
    assert max(map(display_width, text.splitlines())) <= 80
    flat = " ".join(text.split())
    for words in (
        "Runs rough when warm.",
        "0.36 to 0.45 mm (14 to 18 thou), cold <handbook: Lark 1200 owner's handbook, page 14>",
        "as found 9 thou (▾ low), as left ________",
        "Caution: Used engine oil harms the skin",
        "There is no oil in the sump.",
        card_code(CARD.number),
    ):
        assert words in flat
    assert bench_sheet_text(CARD, METRIC, plain=True).replace("ë", "e").isascii()


def test_the_pdf_holds_the_same_and_can_be_scanned() -> None:
    open_again = replace(CARD, tasks=(replace(CARD.tasks[0], state="open", done_by=""), *CARD.tasks[1:]))
    content = bench_sheet_pdf(
        sheet_data(open_again, METRIC, shop_name="Test Lane Motors", printed="Wed 25 Nov 2026")
    )
    pages, text = read_pdf(content)
    assert pages == 1
    flat = " ".join(text.split())
    for words in (
        "LRK 61A",
        "Runs rough when warm.",
        "14 to 18 thou",
        "page 14",
        "CAUTION: Used engine oil",
        "as left",
    ):
        assert words in flat
    (picture,) = [page.render(scale=2).to_pil() for page in pypdfium2.PdfDocument(content)]
    assert scanned(picture) == [card_code(CARD.number)]
    grey = picture.convert("RGB").getcolors(1 << 20)
    assert all(max(c) - min(c) <= 2 for _n, c in grey), "nothing on it is coloured"


def long_card(steps: int) -> CardView:
    tasks = tuple(
        replace(CARD.tasks[n % 2], id=n, position=n, task=replace(CARD.tasks[n % 2].task, title=f"Step {n}"))
        for n in range(1, steps + 1)
    )
    return replace(CARD, tasks=tasks)


def test_a_long_list_goes_on_with_every_step_whole() -> None:
    pages, text = read_pdf(bench_sheet_pdf(sheet_data(long_card(40), METRIC)))
    assert pages > 2
    assert all(f"Step {n}" in text for n in range(1, 41))
    assert f"page {pages} of {pages}" in text


def hostile(text: str) -> CardView:
    def spoil(view: TaskView) -> TaskView:
        task = replace(view.task, title=text, say=text, place=text, missing=(text,), needs=(text,))
        return replace(view, task=task, note=text, done_by=text, left_out_for=text)

    return replace(
        CARD,
        number=text[:20],
        registration=text,
        vehicle=text,
        customer=text,
        words=text,
        title=text,
        left_with=text,
        held_for=text,
        tasks=tuple(map(spoil, CARD.tasks)),
        parts=tuple(replace(p, description=text, number=text, bin=text) for p in CARD.parts),
        tags=tuple(replace(t, says=text, bars=(text,), hung_by=text) for t in CARD.tags),
        findings=tuple(replace(f, place=text, what=text) for f in CARD.findings),
        owed=tuple(replace(o, title=text) for o in CARD.owed),
    )


@pytest.mark.parametrize("text", HOSTILE)
def test_text_of_people_is_set_and_never_obeyed(text: str) -> None:
    _pages, printed = read_pdf(
        bench_sheet_pdf(sheet_data(hostile(text), METRIC, shop_name=text, printed=text))
    )
    assert "root:" not in printed
    flat = "".join(printed.split())
    for piece in text.replace("\x1b[2J\x00\x07", "").split():
        if piece.isascii() and piece.isprintable() and len(piece) < 12:
            assert piece in flat
    assert max(map(display_width, bench_sheet_text(hostile(text), METRIC).splitlines())) <= 80


def test_the_longest_names_stay_on_the_page() -> None:
    long = "Bartholomew-Featherstonehaugh " * 6
    spoilt = replace(hostile(long.strip()), registration="W" * 40, words=long * 10)
    content = bench_sheet_pdf(sheet_data(spoilt, METRIC))
    document = pypdfium2.PdfDocument(content)
    for page in document:
        text, width = page.get_textpage(), page.get_width()
        for index in range(text.count_rects()):
            left, _bottom, right, _top = text.get_rect(index)
            assert left >= 0
            assert right <= width


def test_the_data_are_texts_only() -> None:
    data = sheet_data(CARD, METRIC)
    assert json.loads(json.dumps(data)) == data


def test_a_real_card_in_the_order_of_work(busy_shop: Busy) -> None:
    text = sheet_file(busy_shop.shop, busy_shop.card, "txt", IMPERIAL).decode()
    assert "BENCH SHEET J00001" in text
    assert "14 to 18 thou" in text
    pages, printed = read_pdf(sheet_file(busy_shop.shop, busy_shop.card, "pdf", IMPERIAL))
    assert pages <= 3
    assert "Wed 25 Nov 2026 10:15" in printed
    assert "Test Lane Motors" in printed
    assert datetime(2026, 11, 25, 10, 15, tzinfo=UTC).date() == date(2026, 11, 25)
    assert BytesIO(sheet_file(busy_shop.shop, busy_shop.card, "pdf", IMPERIAL)).read(5) == b"%PDF-"
