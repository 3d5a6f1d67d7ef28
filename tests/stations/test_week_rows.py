"""A page of the week laid out as rows: columns, names and keys, in whatever width there is."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given

from shopcli.columns import display_width
from shopcli.papers.charts import Bars, Series
from shopcli.papers.week.pen import screen_pen
from shopcli.papers.week.report import report_of
from shopcli.screens.week.rows import Figures, drawn, layout, rows_of
from tests.hostile_text import harmless, short, too_wide
from tests.papers.week_seen import cards, flow
from tests.papers.week_seen import seen as seen_week


@pytest.mark.parametrize("width", [78, 118, 198])
def test_tables_hold_their_columns_and_keep_to_the_room(width: int) -> None:
    for page in report_of(seen_week(), screen_pen("GBP")).pages:
        for _key, one in rows_of(page, width):
            text = "".join(piece for piece, _style in drawn(one, width, -1))
            assert display_width(text) <= width, text
            if isinstance(one, Figures) and width >= 118:
                assert all(
                    cell.said in text
                    for n, cell in enumerate(one.line.cells)
                    if n in one.laid.columns and one.sheet.heads[n].right
                )


def test_rows_are_named_each_by_its_own_key() -> None:
    for page in report_of(seen_week(), screen_pen("GBP")).pages:
        keys = [key for key, _row in rows_of(page, 100) if key]
        assert len(keys) == len(set(keys))


def test_spare_columns_go_first_where_room_is_short() -> None:
    times = report_of(seen_week(), screen_pen("GBP")).page("times").sheets[0]
    assert len(layout(times, 160).columns) == len(times.heads)
    assert len(layout(times, 78).columns) < len(times.heads)


def test_no_name_of_a_figure_is_cut_where_room_is_short() -> None:
    dear = seen_week()
    dear = replace(dear, money=replace(dear.money, labour_cost=Decimal(129_900)))
    figures = report_of(dear, screen_pen("GBP")).page("front").sheets[1]
    laid = layout(figures, 76)
    assert laid.widths[0] >= max(len(line.cells[0].said) for line in figures.lines)
    assert len(layout(figures, 118).columns) == len(figures.heads)


def test_a_chart_without_values_draws_nothing() -> None:
    assert Bars("t", (), (Series("a", ()),)).names == ()


@given(short, short)
def test_no_text_of_a_person_drives_the_terminal_or_leaves_its_columns(title: str, why: str) -> None:
    odd = replace(flow(), cards=tuple(replace(card, title=title, held_for=why) for card in cards(2)))
    page = report_of(seen_week(flow=odd), screen_pen("GBP")).page("flow")
    for _key, one in rows_of(page, 78):
        text = "".join(piece for piece, _style in drawn(one, 78, 4))
        assert harmless(text)
        assert not too_wide(text, 78)
