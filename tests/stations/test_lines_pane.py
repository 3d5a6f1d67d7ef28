"""A pane paints the rows that differ and no others, and asks for a new layout only where it needs other room."""

from hypothesis import given, settings
from hypothesis import strategies as st
from textual.app import App, ComposeResult
from textual.geometry import Region
from textual.style import Style
from textual.widgets import Static

from shopcli.screens.bench.worklist import window
from shopcli.screens.widgets.lines import Line
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.screens.widgets.scrollmark import BACK, BODY, scroll_mark, with_scroll_mark
from shopcli.screens.widgets.strips import strip_of


class Pane(LinesPane):
    def __init__(self) -> None:
        super().__init__()
        self.says = ["one", "two", "three"]
        self.painted: list[tuple[Region, ...]] = []
        self.layouts = 0

    def lay(self, width: int, rows: int) -> list[Line]:
        return [((text, "bold"),) for text in self.says]

    def refresh(
        self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False
    ) -> "Pane":
        self.painted.append(regions)
        self.layouts += layout
        super().refresh(*regions, repaint=repaint, layout=layout, recompose=recompose)
        return self


class Two(App[None]):
    CSS = "Pane { width: 20; }"

    def compose(self) -> ComposeResult:
        yield Pane()
        yield Static("below", id="below")

    def row(self, y: int) -> str:
        return self.screen._compositor.render_strips()[y].text.rstrip()


async def test_only_the_rows_that_differ_are_painted() -> None:
    app = Two()
    async with app.run_test(size=(40, 10)) as pilot:
        pane = app.query_one(Pane)
        await pilot.pause()
        pane.painted, pane.layouts = [], 0
        pane.lay_again()
        assert pane.painted == []
        pane.says = ["one", "2", "three"]
        pane.lay_again()
        await pilot.pause()
        assert pane.painted == [(Region(0, 1, 20, 1),)]
        assert pane.layouts == 0
        assert [app.row(y) for y in range(4)] == ["one", "2", "three", "below"]


async def test_other_room_is_asked_for_when_more_or_fewer_rows_are_needed() -> None:
    app = Two()
    async with app.run_test(size=(40, 10)) as pilot:
        pane = app.query_one(Pane)
        for says in (["a"], ["a", "b", "c", "d"]):
            await pilot.pause()
            pane.says, pane.layouts = says, 0
            pane.lay_again()
            await pilot.pause()
            assert pane.layouts == 1
            assert [app.row(y) for y in range(len(says) + 1)] == [*says, "below"]


async def test_a_pane_of_fixed_height_moves_nothing() -> None:
    app = Two()
    async with app.run_test(size=(40, 10)) as pilot:
        pane = app.query_one(Pane)
        pane.styles.height = 3
        await pilot.pause()
        pane.layouts = 0
        for says in (["a"], ["a", "b", "c", "d"], ["a", "b"]):
            pane.says = says
            pane.lay_again()
            await pilot.pause()
            assert [app.row(y) for y in range(4)] == [*[*says, "", ""][:3], "below"]
        assert pane.layouts == 0


async def test_another_theme_dresses_the_lines_anew() -> None:
    app = Two()
    async with app.run_test(size=(40, 10)) as pilot:
        await pilot.pause()
        dark = app.screen._compositor.render_strips()[0]
        app.theme = "textual-light"
        await pilot.pause()
        light = app.screen._compositor.render_strips()[0]
        assert dark.text == light.text
        assert dark != light


def test_what_would_drive_the_terminal_is_not_painted() -> None:
    strip = strip_of((("gap\x1b[2J \x00 [/oops]\n6", ""),), Style())
    assert "\x1b" not in strip.text
    assert "\n" not in strip.text
    assert "[/oops]" in strip.text


def test_the_mark_begins_on_top_ends_at_the_foot_and_never_goes_back() -> None:
    for rows in range(1, 12):
        for total in range(rows + 1, 40):
            marks = [scroll_mark(rows, total, top) for top in range(total - rows + 1)]
            assert all(len(mark) == rows for mark in marks)
            assert marks[0][0] is BODY
            assert marks[-1][-1] != BACK
            begins = [next(i for i, piece in enumerate(mark) if piece != BACK) for mark in marks]
            assert begins == sorted(begins)


def test_the_mark_stands_in_the_last_column() -> None:
    lines = with_scroll_mark([(("one", "bold"),), ()], 10, 6, 0)
    assert [sum(len(text) for text, _ in line) for line in lines] == [10, 10]


@given(
    st.lists(st.integers(1, 4), min_size=1, max_size=30),
    st.data(),
    st.integers(4, 30),
)
@settings(max_examples=40)
def test_the_list_stays_where_it_is_while_the_chosen_task_has_neighbours_in_sight(
    heights: list[int], data: st.DataObject, rows: int
) -> None:
    first: int | None = None
    for at in data.draw(st.lists(st.integers(0, len(heights) - 1), min_size=1, max_size=12)):
        before = first
        first, last = window(heights, at, rows, before)
        assert first <= at < last <= len(heights)
        assert sum(heights[first:last]) <= rows
        assert last == len(heights) or sum(heights[first : last + 1]) > rows
        if (first, last) != window(heights, at, rows):
            assert first == before
            assert first == 0 or first < at
            assert last == len(heights) or at < last - 1
