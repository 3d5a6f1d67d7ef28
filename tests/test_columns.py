"""Columns hold whatever is put into them: no line is wider than it says, nothing vanishes unsaid."""

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from shopcli.columns import cut, display_width, pad, shown, wrap
from tests.hostile_text import bare, harmless, hostile, is_shown, short, too_wide

WIDTHS = st.integers(2, 90)


def test_no_character_is_wider_than_it_is_taken_for() -> None:
    every = (chr(i) for i in range(0x20000) if not 0xD800 <= i < 0xE000)
    assert [hex(ord(c)) for c in every if shown(c) and cell_len(c) > display_width(c)] == []


@given(hostile, WIDTHS)
def test_wrapped_text_is_whole_and_no_line_is_too_wide(text: str, width: int) -> None:
    drawn = "\n".join(wrap(text, width))
    assert too_wide(drawn, width) == []
    assert harmless(drawn)
    assert "".join(drawn.split()) == bare(text)


@given(hostile, WIDTHS)
def test_what_is_cut_says_so(text: str, width: int) -> None:
    line = cut(text, width)
    assert too_wide(line, width) == []
    assert "\n" not in line
    assert harmless(line)
    assert line.endswith("…") or "".join(line.split()) == bare(text)
    assert display_width(cut(text, width, plain=True)) <= width


@given(short, WIDTHS)
def test_filled_up_it_is_as_wide_as_the_column(text: str, width: int) -> None:
    line = cut(text, width)
    assert display_width(pad(line, width)) == display_width(pad(line, width, right=True)) == width


def test_missing_characters_are_noticed() -> None:
    assert is_shown("drain plug", "drain\n  plug")
    assert is_shown("drain plug", "drain pl…")
    assert not is_shown("drain plug", "drain pl")
    assert not harmless("\x1b[2J")
    assert not harmless("\u202eabc")
    assert too_wide("abc\nabcd", 3) == ["abcd"]
