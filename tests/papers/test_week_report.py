"""The report of a week: one page, the same in three forms, nothing for who may not see it, every table fit to be read back."""

import csv
import html
import io
import json
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.columns import display_width
from shopcli.papers.as_html import paper_html
from shopcli.papers.as_pdf import paper_pdf
from shopcli.papers.as_text import paper_text
from shopcli.papers.blocks import Logo
from shopcli.papers.week.ahead import tried_words
from shopcli.papers.week.export import report_data, sheet_csv
from shopcli.papers.week.model import Report
from shopcli.papers.week.paper import paper_pen, week_paper
from shopcli.papers.week.pen import screen_pen
from shopcli.papers.week.report import report_of
from shopcli.papers.week.todo import for_others
from shopcli.papers.writing import Writing
from shopcli.shop.week_times import held_against, new_factor
from shopcli.shop.week_views import Actuals, Case
from shopcli.workings.weeks_ahead import Held
from tests.papers.test_bill_paper import SVG
from tests.papers.week_seen import cards, flow, quality, seen, todo
from tests.stations.build import HOSTILE

W = Writing("GBP", "en_GB")
PLAIN = Writing("GBP", "en_GB", plain=True)


@pytest.fixture(scope="module")
def report() -> Report:
    return report_of(seen(), paper_pen(W))


def sheet(report: Report, name: str) -> object:
    return next(s for s in report.sheets if s.name == name)


def test_one_page_is_one_page_and_two_in_full(report: Report) -> None:
    one = pypdfium2.PdfDocument(paper_pdf(week_paper(report, W)).content)
    text = one[0].get_textpage().get_text_range()
    assert len(one) == 1
    for words in (
        "On Monday",
        "In figures",
        "Where cards wait",
        "Came back",
        "When all that is booked in is done",
        "Loses money",
    ):
        assert words in text
    one.close()
    full = pypdfium2.PdfDocument(paper_pdf(week_paper(report, W, full=True)).content)
    assert len(full) > 2
    full.close()


def test_one_page_stays_one_below_the_sign_of_the_shop() -> None:
    full = report_of(seen(flow=replace(flow(), cards=cards(40))), paper_pen(W))
    made = pypdfium2.PdfDocument(paper_pdf(week_paper(full, W, Logo("svg", SVG))).content)
    assert len(made) == 1
    made.close()


def test_three_lines_of_the_monday_list_stand_at_the_top(report: Report) -> None:
    text = paper_text(week_paper(report, W))
    lines = [line.strip() for line in text.splitlines()]
    at = lines.index("On Monday")
    assert lines[at + 2] == "1. Ring Customer 1, 01632 960001: LRK 101 (Lark 1200, J00002) is ready. Bill"
    said = " ".join(" ".join(lines[at:]).split())
    assert "Promised for 27 Nov 2026; ready for 1 day; £210.40 to be billed, without VAT." in said
    assert (
        "2. Ring Brook & Co, 01632 960002: does it come in time? belt, for LRK 100 (Lark 1200, J00001); ring Customer 1, "
        "01632 960001, and name another day." in said
    )
    assert "2 less pressing ones like these besides." in said
    assert at < lines.index("In figures")


@pytest.mark.parametrize("full", [False, True])
def test_text_keeps_to_the_page_and_to_plain_signs(full: bool) -> None:
    plain = report_of(seen(), paper_pen(PLAIN))
    text = paper_text(week_paper(plain, PLAIN, full=full))
    assert max(map(display_width, text.splitlines())) <= 80
    assert not {c for c in text if ord(c) > 127} - set("×")


def test_every_figure_of_a_table_is_on_the_page_in_full(report: Report) -> None:
    page = html.unescape(paper_html(week_paper(report, W, full=True)))
    for table in report.sheets:
        if table.name == "todo":
            continue
        for line in table.lines[: table.on_paper]:
            for cell in line.cells:
                assert cell.said in page, (table.name, cell)


def test_who_may_not_see_money_finds_none_in_any_form() -> None:
    made = seen(hours=None, hours_before=None, money=None, money_before=None, todo=for_others(todo()))
    report = report_of(made, paper_pen(W))
    assert [page.name for page in report.pages] == ["front", "flow", "quality", "ahead"]
    for full in (False, True):
        text = paper_text(week_paper(report, W, full=full))
        assert "£" not in text
        assert "argin" not in text
    assert not {"money", "earns", "hours"} & set(report_data(report)["tables"])


def test_tables_are_read_back_as_they_were(report: Report) -> None:
    data = json.loads(json.dumps(report_data(report)))
    for table in report.sheets:
        rows = list(csv.DictReader(io.StringIO(sheet_csv(table))))
        assert [head.field for head in table.heads] == list(
            rows[0] if rows else [h.field for h in table.heads]
        )
        assert len({head.field for head in table.heads}) == len(table.heads)
        for row, line, plain in zip(rows, table.lines, data["tables"][table.name], strict=True):
            for head, cell in zip(table.heads, line.cells, strict=True):
                if isinstance(cell.value, Decimal):
                    assert Decimal(row[head.field]) == cell.value == Decimal(plain[head.field])
                elif isinstance(cell.value, date):
                    assert date.fromisoformat(row[head.field]) == cell.value
                elif isinstance(cell.value, int | float):
                    assert float(row[head.field]) == cell.value == plain[head.field]
                elif cell.value is None:
                    assert row[head.field] == ""
                    assert plain[head.field] is None


def test_every_figure_that_counts_something_opens_to_rows(report: Report) -> None:
    """Ratios, days before and words are made of figures that open; every other figure has its key."""
    for name in ("flow-weeks", "waits", "cards", "money-weeks", "earns", "comebacks"):
        for line in sheet(report, name).lines:
            for cell in line.cells:
                if isinstance(cell.value, int | Decimal) and not isinstance(cell.value, bool) and cell.value:
                    assert cell.key or name == "comebacks", (name, cell)


def test_names_that_would_be_formulas_or_markup_stay_texts() -> None:
    for text in (*HOSTILE[:20], "=1+1", "</td><script>x</script>"):
        odd = tuple(replace(card, title=text, held_for=text) for card in cards(2))
        report = report_of(seen(flow=replace(flow(), cards=odd)), paper_pen(W))
        page = paper_html(week_paper(report, W, full=True))
        assert "<script>x" not in page
        rows = list(csv.DictReader(io.StringIO(sheet_csv(sheet(report, "cards")))))
        assert not rows[0]["job"].startswith(("=", "+", "@"))
        assert paper_text(week_paper(report, PLAIN, full=True))


def test_an_empty_shop_has_a_report_too() -> None:
    from shopcli.papers.week.seen import Trend
    from shopcli.shop.week_ahead import ahead_of
    from shopcli.shop.week_views import FlowView, PastWeeks
    from tests.papers.week_seen import MONDAY, TODAY, WEEK

    nothing = FlowView(WEEK, (), 0, 0, 0, 0, 0, None, None, None, 0.0, 0.0, (), ())
    bare = seen(
        trend=Trend((), (), ()),
        flow=nothing,
        flow_before=nothing,
        actuals=(),
        against={},
        todo=(),
        ahead=ahead_of(PastWeeks(MONDAY, TODAY, (), (), 0, (0,) * 5, 0)),
    )
    text = paper_text(week_paper(report_of(bare, paper_pen(W)), W, full=True))
    assert "Nothing stands out" in text
    assert "wants 8 whole weeks" in text
    assert paper_pdf(week_paper(report_of(bare, paper_pen(W)), W)).content


# In words that stand alone -----------------------------------------------------------------------------------


def figures(**more: object) -> dict[str, tuple[str, ...]]:
    """Return what the first page says of each figure: now, before, how it changed."""
    lines = sheet(report_of(seen(**more), paper_pen(W)), "figures").lines
    return {line.cells[0].said: tuple(cell.said for cell in line.cells[1:4]) for line in lines}


@given(st.integers(-5_000, 5_000), st.integers(-5_000, 5_000))
def test_a_change_from_next_to_nothing_is_no_percentage(now: int, before: int) -> None:
    said = paper_pen(W).change(now, before)
    if said.endswith("%"):
        assert abs(int(said[:-2])) <= 300
        assert (now > before) is said.startswith("+")
    elif said.endswith("times"):
        assert before > 0
        assert 4 <= round(now / before) == int(said.split()[0]) <= 20
    elif said.startswith("far"):
        assert (now > before) is (said == "far more")
        assert abs(now - before) > 3 * abs(before) > 0
    else:
        assert said in {"as before", "new"}


def test_how_a_figure_changed_is_said_as_its_kind_wants() -> None:
    """82 and 41 of 114 hours are 72 and 36 per cent: 36 points. A margin from 140.00 to 110.00 below nothing is 250.00 worse."""
    from tests.papers.week_seen import hours, hours_line, money

    now, before = (
        replace(money(), parts=money().parts_cost + more) for more in (Decimal(-110), Decimal(140))
    )
    fewer = replace(hours(), total=hours_line("", "all", 114, 41, 0))
    said = figures(hours_before=fewer, money=now, money_before=before)
    assert said["clocked of paid"] == ("72 %", "36 %", "+36 points")
    assert said["margin of parts"] == ("-£110.00", "£140.00", "£250.00 worse")


def test_nothing_is_a_word_and_no_dash() -> None:
    said = figures(flow=replace(flow(), left=0, stays=0, median_days=None))
    assert said["cards handed over"] == ("none", "8", "-100 %")
    assert said["half stayed at most, days"] == ("none", "12", "")


def test_cars_that_came_back_are_named_and_a_service_that_was_due_is_none_of_them() -> None:
    view = quality()
    due = replace(view.comebacks[0], planned=True)
    made = report_of(seen(quality=replace(view, comebacks=(due, replace(due, system="oil")))), paper_pen(W))
    lines = {line.cells[0].said: line for line in sheet(made, "figures").lines}
    fault, service = lines["cars back with a fault"], lines["planned service visits"]
    assert (fault.cells[1].said, fault.note) == ("none", "")
    assert (service.cells[1].said, service.note) == ("1", "LRK 106")
    words = sheet(made, "comebacks").words
    assert (
        "Cars back with a fault: none; planned service visits: 1 (LRK 106); cards finished in the period: 6."
        in words
    )


def test_how_a_card_stands_says_what_is_missing_and_by_how_much() -> None:
    first, second, third, fourth = cards(4)
    odd = (
        replace(first, stop="rear right wheel: hose chafed", promised=None),
        replace(third, beyond=True, authority=Decimal(60)),
        replace(third, beyond=True, authority=Decimal(60), card_id=2),
        fourth,
    )
    made = report_of(seen(flow=replace(flow(), cards=odd), beyond={3: Decimal("145.2")}), paper_pen(W))
    said = {
        line.cells[0].key: (line.cells[2].said, line.cells[3].said) for line in sheet(made, "cards").lines
    }
    assert second.state == "held"
    assert said["card:1"] == ("none named", "held: parts; customer to answer: rear right wheel: hose chafed")
    assert said["card:3"][1] == "in hand; past what was authorised: £145.20 of £60.00, with VAT"
    assert said["card:2"][1] == "in hand; past what was authorised"
    assert said["card:4"][1] == "booked, waits for a bay or hands"


def test_as_many_are_promised_as_the_table_says_the_ready_one_among_them() -> None:
    ready = tuple(replace(card, state="checked") if n == 0 else card for n, card in enumerate(cards(3)))
    made = report_of(seen(flow=replace(flow(), cards=ready)), paper_pen(W))
    words = " ".join(sheet(made, "queue").words)
    assert "3 of those not closed are promised by 26 Nov 2026; at that pace" in words
    assert "cards a week were closed over the last 26 weeks." in words


def test_the_page_says_what_the_parts_of_the_hours_are_and_whose_were_clocked_on_no_card(
    report: Report,
) -> None:
    text = " ".join(paper_text(week_paper(report, W)).split())
    assert "Sold of clocked: hours billed, of those on cards." in text
    assert "Paid hours clocked on no card this week: Tom 6:00, Nell 4:00." in text


# What is to be changed ---------------------------------------------------------------------------------------


def test_jobs_to_be_changed_stand_first_and_say_to_what(report: Report) -> None:
    lines = sheet(report, "times").lines
    found = {line.take for line in lines if line.take}
    assert "head-gasket" in found
    assert "points" not in found
    assert [bool(line.take) for line in lines] == sorted((bool(line.take) for line in lines), reverse=True)
    gasket = next(line for line in lines if line.take == "head-gasket")
    assert gasket.cells[-1].said.startswith("! longer, × 1.")


def test_forgotten_clocks_teach_nothing() -> None:
    good = tuple(Case(k, "J1", "A 1", "2026-W40", "", 60.0, 3600) for k in range(9))
    odd = tuple(Case(k, "J1", "A 1", "2026-W40", "", 60.0, 3600 * 30) for k in range(9, 12))
    said = held_against([Actuals("points", "Points", "ignition", 1000, good + odd)])["points"]
    assert said.cases == 9
    assert said.middle == 1.0
    assert new_factor(1200, 0.5) == 600


def test_how_often_it_was_right_is_said_with_its_figures() -> None:
    assert "86 of 100 times (86 %; it should be about 85," in tried_words("the day", Held(100, 55, 86))
    assert "Not tried yet" in tried_words("the day", Held(0, 0, 0))


def test_the_pen_of_the_screen_and_that_of_paper_differ_in_dates_only_here() -> None:
    assert screen_pen("GBP").money(Decimal("1234.5")).said == paper_pen(W).money(Decimal("1234.5")).said
    assert screen_pen("GBP", plain=True).spark((0.0, 1.0)) == "_#"
