"""Charts: every value in the picture stands at its place, texts are never markup, the three forms tell the same."""

import re
from base64 import b64decode
from datetime import date
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.columns import display_width
from shopcli.papers.as_html import paper_html
from shopcli.papers.as_pdf import paper_pdf
from shopcli.papers.as_text import paper_text
from shopcli.papers.blocks import Fields, Paper, Picture
from shopcli.papers.chart_svg import BOTTOM, HEIGHT, TOP, chart_svg
from shopcli.papers.charts import Bars, Range, Ranges, Series, alt, chart_text, ends_of, top_of, top_of_bars

BAD = '</text><script>alert(1)</script>&"[/oops]'
values = st.lists(st.floats(0, 1e6, allow_subnormal=False), min_size=1, max_size=26)


def bars(*rows: list[float], title: str = "Cards") -> Bars:
    names = tuple(f"W{n:02d}" for n in range(len(rows[0])))
    series = tuple(
        Series(name, tuple(map(float, row)), tuple(f"{v:g}" for v in row))
        for name, row in zip(("opened", "closed"), rows, strict=False)
    )
    return Bars(title, names, series)


RANGES = Ranges(
    "Clocked over listed", (Range("points", 0.8, 0.9, 1.2, "0.90"), Range(BAD, 1.1, 1.4, 1.5)), 1.0, "listed"
)


def paper(chart: object) -> Paper:
    return Paper("Week", "2026-W48", ("Shop",), Fields(()), Fields(()), (Picture(chart),), date(2026, 11, 27))


@given(values)
def test_the_scale_holds_every_value_and_is_not_ten_times_too_long(row: list[float]) -> None:
    top = top_of(row)
    assert max(row) <= top
    assert top <= max(4, 2.01 * max(row), 0)


@given(values)
def test_bars_are_as_tall_as_their_values(row: list[float]) -> None:
    chart = bars(row)
    root = ET.fromstring(chart_svg(chart))
    boxes = [b for b in root.iter("{http://www.w3.org/2000/svg}rect") if b.get("fill") == "#333"]
    tall = [float(b.get("height")) for b in boxes]
    room = HEIGHT - BOTTOM - TOP
    expected = [v / top_of_bars(chart) * room for v in row if v > 0]
    assert tall[1:] == pytest.approx(expected, abs=0.06)


@pytest.mark.parametrize("most", [3, 900_000_000])
def test_the_widest_figure_of_the_scale_is_on_the_picture(most: int) -> None:
    root = ET.fromstring(chart_svg(bars([most, 1])))
    texts = [t for t in root.iter("{http://www.w3.org/2000/svg}text") if t.get("text-anchor") == "end"]
    figure = max(texts, key=lambda t: len(t.text or ""))
    # A figure is 1139 of 2048 units wide: table hmtx of the file LiberationSans-Regular.ttf, read by hand.
    assert float(figure.get("x", 0)) >= 0.556 * float(figure.get("font-size", 0)) * len(figure.text or "")


def test_series_differ_without_colours_and_are_named() -> None:
    svg = chart_svg(bars([1, 2, 3], [2, 1, 0]))
    colours = set(re.findall(r"#[0-9a-f]{3,6}", svg))
    assert colours == {"#000", "#fff", "#333"}
    assert svg.count("url(#h)") == 3  # two bars and the key; nothing has no bar
    for name in ("opened", "closed"):
        assert f">{name}</text>" in svg


def test_texts_of_people_are_no_markup() -> None:
    for chart in (RANGES, bars([1], [2], title=BAD)):
        svg = chart_svg(chart)
        ET.fromstring(svg)
        assert "<script" not in svg
        page = paper_html(paper(chart))
        assert "<script" not in page
        (shown,) = re.findall(r"data:image/svg\+xml;base64,([A-Za-z0-9+/=]+)", page)
        assert b64decode(shown).decode() == svg


@given(values, st.integers(72, 200))
def test_typewritten_bars_keep_to_the_page(row: list[float], width: int) -> None:
    for line in chart_text(bars(row, row[::-1]), width):
        assert display_width(line) <= width


def test_typewritten_bars_are_higher_for_more_and_something_is_never_nothing() -> None:
    lines = chart_text(bars([1, 50, 100]), 80)[1:-1]
    column = [
        "".join(line[6 + 8 * n] if len(line) > 6 + 8 * n else " " for line in lines).count("#")
        for n in range(3)
    ]
    assert column == sorted(column)
    assert column[0] == 1
    assert column[2] == 6


@given(
    st.lists(st.tuples(*[st.floats(0.1, 9)] * 3).map(sorted), min_size=1, max_size=9), st.integers(72, 200)
)
def test_ranges_keep_to_the_page_and_stand_in_order(rows: list[list[float]], width: int) -> None:
    chart = Ranges("t", tuple(Range(f"job {n}", *row, "1.0") for n, row in enumerate(rows)), 1.0, "listed")
    low, high = ends_of(chart)
    assert low < min(r[0] for r in rows)
    assert high > max(r[2] for r in rows)
    ET.fromstring(chart_svg(chart))
    for line in chart_text(chart, width):
        assert display_width(line) <= width


def test_without_rows_there_is_no_picture_typewritten() -> None:
    assert chart_text(Ranges("t", ()), 80) == []
    assert chart_text(Bars("t", (), ()), 80) == []


def test_all_three_papers_show_it_and_say_it_in_words() -> None:
    chart = bars([1, 2, 3], [2, 1, 0])
    assert "##" in paper_text(paper(chart))
    assert alt(chart) in paper_html(paper(chart))
    made = paper_pdf(paper(chart))
    assert made.lacking == ""
    import pypdfium2

    text = pypdfium2.PdfDocument(made.content)[0].get_textpage().get_text_range()
    assert "opened" in text
    assert "W02" in text
