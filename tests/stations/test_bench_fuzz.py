"""Whatever was typed is drawn at the bench: no crash, no line too wide, nothing that vanishes without a sign of it.

Here without a terminal, every part that draws by itself; `test_bench_odd_card` walks the screens.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from textual.content import Content
from textual.widgets.option_list import Option

from shopcli.columns import shown
from shopcli.errors import ShopError
from shopcli.screens import photos
from shopcli.screens.bench import partslist, pictures, readingwords, tasklines, taskparts, wording
from shopcli.screens.bench.beneath import Brief, Panel, open_said, parts_said
from shopcli.screens.bench.clockpane import ClockPane, Clocks
from shopcli.screens.bench.gridlines import GridCell, grid_lines
from shopcli.screens.bench.numberblocks import number_lines
from shopcli.screens.bench.numberwords import say_numbers
from shopcli.screens.bench.saidline import SaidLine
from shopcli.screens.bench.scalelines import OnScale, scale_lines
from shopcli.screens.bench.undo import ActsPane
from shopcli.screens.bench.worklist import WorkList
from shopcli.screens.dialogs import Choice, Pick
from shopcli.screens.times import wording as times
from shopcli.screens.whereabouts import WherePane
from shopcli.screens.widgets.lines import Line
from shopcli.units import IMPERIAL, METRIC
from shopcli.worklists.engine_plan import plan
from shopcli.worklists.places import places
from tests.hostile_text import harmless, hostile, is_shown, short, too_wide
from tests.stations import odd_views as odd

Draw = Callable[[st.SearchStrategy[Any]], Any]
# The narrowest list and pane there are: a terminal of 40 columns, and half of the middle one for a panel.
ROOMS = st.sampled_from((34, 40, 50, 78, 116))
ENDLESS = 9_999
STATES = st.sampled_from(("open", "done", "left out"))
YES_NO = st.booleans()


def drawn(lines: Iterable[Line]) -> str:
    return "\n".join("".join(piece for piece, _ in line) for line in lines)


def holds(lines: Sequence[Line], width: int, *texts: str) -> str:
    """See that lines fit, drive nothing and show every text; return them."""
    picture = drawn(lines)
    assert picture.count("\n") == max(0, len(lines) - 1), "a line is one line"
    assert too_wide(picture, width) == []
    assert harmless(picture)
    for text in texts:
        assert is_shown(text, picture)
    return picture


def the_list(text: str, draw: Draw) -> None:
    width, state = draw(ROOMS), draw(STATES)
    pane, mine = WorkList(id="list"), odd.task(text, state)
    pane.show(odd.card(text, (mine, odd.other(2, text))), 1)
    holds(pane.lay(width, ENDLESS), width, text)
    holds(pane.lay(width, draw(st.integers(1, 30))), width)


def text_of_the_task(text: str, draw: Draw) -> None:
    width = draw(ROOMS)
    hand = odd.hand(text, state=draw(STATES))
    picture = holds(taskparts.task_text(hand, width, tight=draw(YES_NO)), width, text)
    assert "…" in text or "…" not in picture, "the text of the task is never cut: it scrolls"


def cautions(text: str, draw: Draw) -> None:
    width = draw(ROOMS)
    lines = tasklines.caution_lines([text, text], width, tight=draw(YES_NO))
    assert all(line[0][0] == "▌" for line in lines)
    picture = drawn(lines).replace("▌", "")
    assert "".join(shown(text).split()) in "".join(picture.split()), "a caution is never cut"
    holds(lines, width, text)


def numbers(text: str, draw: Draw) -> None:
    width, rows, least = draw(ROOMS), draw(st.sampled_from((0, 4, 8, 20))), draw(st.integers(1, 2))
    hand = replace(odd.hand(text), prefs=draw(st.sampled_from((METRIC, IMPERIAL))))
    said = say_numbers(hand.task.task.specs, hand.prefs, hand.task.newer)
    holds(number_lines(said, width, rows, marked="gap", least=least), width, text)
    for lay in (taskparts.all_numbers, taskparts.few_numbers, taskparts.one_number):
        holds(lay(hand, width, rows, least), width, text)


def scale(text: str, draw: Draw) -> None:
    width = draw(ROOMS)
    hung = [OnScale(word, 0.0001, shown(text), "thou") for word in ("found", "left")]
    holds(scale_lines(odd.spec(text), IMPERIAL, tuple(hung), width, plain=draw(YES_NO)), width)
    holds(taskparts.number_scale(odd.hand(text, typing=text[:60]), width), width)


def grid(text: str, draw: Draw) -> None:
    width = draw(ROOMS)
    lying = plan(places("cylinder", odd.FACTS), odd.FACTS)
    cells = {n: GridCell(shown(text), "✓", "", shown(text), n == "2") for n in odd.FOUR}
    holds(grid_lines(lying, cells, width, roomy=draw(YES_NO)).lines, width)


def readings(text: str, draw: Draw) -> None:
    width = draw(ROOMS)
    hand = odd.hand(
        text,
        many=draw(YES_NO),
        typing=draw(short)[:60],
        state=draw(STATES),
        standing=draw(st.sampled_from(("low", "in", "high", ""))),
    )
    laid = taskparts.readings(hand, width, draw(st.sampled_from((0, 1, 2))))
    holds([*laid.heading, *laid.rows, *laid.must, *laid.foot], width, text)
    for rows in (1, 3, 7):
        kept = laid.within(rows)
        assert len(kept) <= rows
        holds(kept, width)


def reading_understood(text: str, draw: Draw) -> None:
    mine = odd.task(draw(short))
    assert harmless(readingwords.as_typed(mine.readings[0]))
    try:
        words, _standing = readingwords.preview(mine.task, mine.task.readings[0], text, "thou")
    except ShopError as error:
        words = wording.refusal(error)
    assert harmless(words)


def parts_tags_and_owed(text: str, draw: Draw) -> None:
    width, rows, mine = draw(ROOMS), draw(st.integers(1, 12)), odd.task(text)
    view = odd.card(text, (mine,))
    for say in (parts_said, open_said):
        pane = Panel("Title", "t", say, id="panel")
        pane.show(view, mine)
        holds(pane.lay(width, ENDLESS), width, text)
        assert len(pane.lay(width, rows)) <= rows
        holds(pane.lay(width, rows), width, text)
    brief = Brief(id="brief")
    brief.show(view, mine)
    holds(brief.lay(max(width, 40), ENDLESS), max(width, 40), text)
    holds(brief.lay(max(width, 40), rows), max(width, 40), text)


def clock(text: str, draw: Draw) -> None:
    width, mine = draw(ROOMS), odd.task(text)
    pane = ClockPane(id="clock")
    pane.in_a_line = draw(YES_NO)
    everyone = (odd.clock(text), odd.clock(text, person=3, on_break=True))
    own = odd.clock(text, person=1, on_break=draw(YES_NO))
    pane.show(Clocks(odd.card(text, (mine,)), mine, 0, own, everyone), 90)
    holds(pane.lay(width, ENDLESS), width, text)
    rows = draw(st.sampled_from((1, 2, 5, 7)))
    assert len(pane.lay(width, rows)) <= rows
    holds(pane.lay(width, rows), width, text)


def answers_and_hints(text: str, draw: Draw) -> None:
    width, mine, line = draw(ROOMS), odd.task(text, draw(STATES)), SaidLine(id="said")
    for state in ("in hand", "held", "closed"):
        line.hint(wording.hint(odd.card(text, (mine,), state), mine))
        holds(line.lay(width, ENDLESS), width, *([text] if state != "in hand" else []))
    line.answer((text, text), "refused")
    holds(line.lay(width, ENDLESS), width, text)
    line.answer((wording.refusal(ValueError(text)),), "refused")
    holds(line.lay(width, ENDLESS), width, text)


def where_was_i(text: str, draw: Draw) -> None:
    width, pane = draw(st.sampled_from((40, 78, 99, 100, 116))), WherePane(id="where")
    pane.show(odd.where(text))
    holds(pane.lay(width, ENDLESS), width, text)
    pane.show(replace(odd.where(text), state="held", mine=None, next=None))
    holds(pane.lay(width, ENDLESS), width, text)


def what_is_taken_back(text: str, draw: Draw) -> None:
    width, pane = draw(ROOMS), ActsPane(id="acts")
    pane.show((odd.last_act(text, final=draw(YES_NO)),))
    holds(pane.lay(width, ENDLESS), width, text)


def times_of_a_day(text: str, draw: Draw) -> None:
    width, of_day = draw(st.sampled_from((70, 78, 116))), odd.day(text)
    for stretch in of_day.stretches:
        content = times.line(stretch, of_day, width).plain
        assert too_wide(content, width) == []
        for told in (content, times.which(stretch)):
            assert harmless(told)
            assert is_shown(text, told)
    assert harmless(times.title(of_day))


def pictures_of_the_task(text: str, draw: Draw) -> None:
    width = draw(ROOMS)
    found, _first = pictures.sheets(odd.hand(text, many=True))
    for sheet in found:
        picture = drawn(sheet.lines(width, 0))
        assert harmless(picture)
    holds(found[-1].lines(width, 0), width, text)


def prompt(option: Option) -> str:
    assert isinstance(option.prompt, Content), "never a string: that would be read as markup"
    return option.prompt.plain


def lists_to_pick_from(text: str, draw: Draw) -> None:
    del draw
    lines = [photos._prompt(odd.photo(text)).plain]
    for state in ("wanted", "fitted"):
        part = odd.part(text, state)
        lines.append(prompt(partslist.PartsList((part,), odd.task(text))._option(part)))
    lines += [prompt(o) for o in Pick._options([Choice("a", text, text), Choice("b", text)])]
    for line in lines:
        assert harmless(line)
        assert is_shown(text, line)


PARTS = (
    *(the_list, text_of_the_task, cautions, numbers, scale, grid, readings, reading_understood),
    *(parts_tags_and_owed, clock, answers_and_hints, where_was_i, what_is_taken_back, times_of_a_day),
    *(pictures_of_the_task, lists_to_pick_from),
)
every_part = pytest.mark.parametrize("part", PARTS, ids=lambda part: part.__name__)
# A text of ten thousand characters is slow to make small again, and a room is drawn in the middle of the trial.
OFTEN = settings(deadline=None, suppress_health_check=list(HealthCheck))


@every_part
@settings(OFTEN, max_examples=6)
@given(short, st.data())
def test_what_was_typed_is_drawn(part: Callable[[str, Draw], None], text: str, data: st.DataObject) -> None:
    part(text, data.draw)


@pytest.mark.long
@every_part
@settings(OFTEN, max_examples=150)
@given(hostile, st.data())
def test_what_was_typed_is_drawn_at_any_length(
    part: Callable[[str, Draw], None], text: str, data: st.DataObject
) -> None:
    part(text, data.draw)


# What the long trials found -----------------------------------------------------------------------------


def test_a_verdict_of_an_older_program_drives_no_terminal() -> None:
    assert readingwords.standing_words("low", "low by \x1b[2J\n") == "▾ low by [2J"


def test_a_line_of_readings_is_one_line() -> None:
    cells = readingwords.reading_cells(odd.task("one\r\ntwo"))
    assert (cells[0].label, cells[0].typed) == ("one two", "one two")


def test_a_single_line_is_measured_as_wide_as_it_is_drawn() -> None:
    pane = WherePane(id="where")
    for text in ("車検整備" * 3, "one\ntwo"):
        pane.show(odd.where(text))
        holds(pane.lay(40, ENDLESS), 40, text)


def test_every_clock_is_told_where_rows_are_few() -> None:
    pane = ClockPane(id="clock")
    pane.in_a_line = False
    own = odd.clock("Tom", person=1, on_break=True)
    pane.show(
        Clocks(
            odd.card("J1", (odd.task("gap"),)), odd.task("gap"), 0, own, (odd.clock("Nell", on_break=True),)
        ),
        90,
    )
    for width, rows in ((50, 5), (38, 7)):
        picture = holds(pane.lay(width, rows), width, "your break", "card 0:03 of 1:00", "Nell on a break")
        assert "more lines" not in picture
        assert picture.count("\n") < rows


def test_one_task_never_fills_the_list_and_says_where_its_title_is_cut() -> None:
    pane, mine = WorkList(id="list"), odd.task("drain plug\n" * 40)
    pane.show(odd.card("J1", (mine, odd.other(2, "refill"))), 1)
    lines = pane.lay(40, ENDLESS)
    assert len(lines) == 5
    assert "…" in drawn(lines[3:4])
    assert "refill" in drawn(lines[4:])


def test_the_list_hides_nothing_it_has_room_for() -> None:
    pane = WorkList(id="list")
    pane.show(odd.card("J1", tuple(odd.other(n, f"step {n}") for n in range(1, 8))), 4)
    pane.lay(78, 3)
    assert all(f"step {n}" in drawn(pane.lay(78, 24)) for n in range(1, 8)), (
        "after a small terminal a large one"
    )
