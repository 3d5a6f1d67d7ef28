"""How values are written, and that columns hold whatever the text."""

import subprocess
import sys
import unicodedata
from datetime import UTC, date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli import marks, present
from shopcli.errors import BadInput
from shopcli.shop import states

D = Decimal
FRIDAY = date(2026, 11, 27)


@pytest.mark.parametrize(
    ("d", "currency", "plain", "wanted"),
    [
        ("1234.5", "GBP", False, "£1,234.50"),
        ("1234.5", "GBP", True, "GBP 1,234.50"),
        ("-1234567.895", "USD", False, "-$1,234,567.90"),
        ("-0.001", "EUR", False, "€0.00"),
        ("7", "CHF", False, "CHF 7.00"),
        ("-7", "CHF", False, "CHF -7.00"),
    ],
)
def test_money(d, currency, plain, wanted):
    assert present.money(D(d), currency, plain=plain) == wanted


@pytest.mark.parametrize(
    ("d", "wanted"),
    [("4.000", "4"), ("0.7", "0.7"), ("0", "0"), ("-0.0", "0"), ("1E+3", "1,000"), ("0.116667", "0.116667")],
)
def test_quantity(d, wanted):
    assert present.qty(D(d)) == wanted


def test_price_keeps_every_decimal_it_has():
    assert [present.price(D(d)) for d in ("7.5", "7", "0.00880", "1273.000")] == [
        "£7.50",
        "£7.00",
        "£0.0088",
        "£1,273.00",
    ]


def test_durations():
    assert [present.hours(s) for s in (0, 59, 60, 7500, 90_000)] == [
        "0 h 00",
        "0 h 00",
        "0 h 01",
        "2 h 05",
        "25 h 00",
    ]
    assert [present.h_mm(s) for s in (0, 7500, -7500)] == ["0:00", "2:05", "-2:05"]


def test_dates_do_not_ask_the_machine_for_its_language():
    assert present.day_long(FRIDAY) == "Friday 27 November 2026"
    assert [present.day(date(2026, m, 1))[-3:] for m in range(1, 13)] == [m[:3] for m in present.MONTHS]
    assert [present.day(date(2026, 11, 23 + n))[:3] for n in range(7)] == [d[:3] for d in present.DAYS]


@pytest.mark.parametrize(
    ("promised", "wanted"),
    [
        (None, "-"),
        (date(2026, 11, 23), "! Mon 23 Nov (late)"),
        (FRIDAY, "Fri 27 Nov (today)"),
        (date(2026, 11, 28), "Sat 28 Nov (tomorrow)"),
        (date(2026, 12, 4), "Fri 4 Dec"),
        (date(2027, 1, 4), "Mon 4 Jan 2027"),
    ],
)
def test_promise(promised, wanted):
    assert present.promise(promised, FRIDAY) == wanted


def test_promise_at_the_end_of_time():
    assert present.promise(date.max, date.max) == "Fri 31 Dec (today)"


def test_moments_follow_the_zone_through_the_change_of_the_clocks():
    london = ZoneInfo("Europe/London")
    before, after = datetime(2026, 10, 25, 0, 30, tzinfo=UTC), datetime(2026, 10, 25, 1, 30, tzinfo=UTC)
    assert present.moment(before, london) == present.moment(after, london) == "Sun 25 Oct 01:30"
    assert present.moment(after, UTC, year=True) == "Sun 25 Oct 2026 01:30"
    with pytest.raises(BadInput):
        present.moment(datetime(2026, 10, 25), london)  # noqa: DTZ001


TABLES = {
    states.CardState: marks.CARD_MARKS,
    states.TaskState: marks.TASK_MARKS,
    states.Severity: marks.SEVERITY_MARKS,
    states.PartState: marks.PART_MARKS,
    states.OwedState: marks.OWED_MARKS,
    states.FindingState: marks.FINDING_MARKS,
}


@pytest.mark.parametrize("kind", TABLES)
def test_every_state_has_its_mark(kind):
    table = TABLES[kind]
    assert {str(s) for s in kind} <= set(table)
    assert len({m.sign for m in table.values()}) == len(table)
    assert len({m.ascii for m in table.values()}) == len(table)
    for mark in table.values():
        assert mark.ascii.isascii()
        # Neither wide nor ambiguous: one column in every terminal, whatever its language.
        assert unicodedata.east_asian_width(mark.sign) in {"N", "Na"}
        assert present.display_width(mark.sign) == len(mark.ascii) == 1


def test_an_unknown_state_is_shown_and_not_hidden():
    assert present.card_state("mislaid") == "? mislaid"
    assert present.severity_long("odd") == "odd"


def test_running_is_seen_before_barred_and_a_done_task_is_neither():
    assert present.task_state("open", running=True, barred=True, plain=True) == "# barred"
    assert present.task_state("done", running=True) == "✓ done"


texts = st.text(st.characters(codec="utf-8"), max_size=200) | st.text(
    "ab é\u0301車🚗\u200d\ufe0f\n\t", max_size=80
)


@given(texts, st.integers(2, 40))
def test_wrap_never_runs_over_and_loses_nothing(text, width):
    lines = present.wrap(text, width)
    assert lines
    for line in lines:
        assert present.display_width(line) <= width
        assert "\n" not in line
    assert "".join("".join(lines).split()) == "".join(present.shown(text).split())


@given(texts, st.integers(2, 40), st.booleans())
def test_cut_never_runs_over(text, width, plain):
    line = present.cut(text, width, plain=plain)
    assert present.display_width(line) <= width
    assert "\n" not in line


@given(texts)
def test_shown_has_no_controls_and_nothing_that_reorders(text):
    for char in present.shown(text):
        assert char == "\n" or unicodedata.category(char) not in {"Cc", "Cs"}
        assert unicodedata.bidirectional(char) not in {
            "LRE",
            "RLE",
            "LRO",
            "RLO",
            "PDF",
            "LRI",
            "RLI",
            "FSI",
            "PDI",
        }


def test_wrap_of_wide_and_combining_letters():
    assert present.wrap("車検整備記録", 5) == ["車検", "整備", "記録"]
    assert present.wrap("e\u0301" * 5, 2) == ["e\u0301e\u0301", "e\u0301e\u0301", "e\u0301"]
    assert present.cut("車検整備", 5) == "車検…"
    assert present.cut("車検整備", 8) == "車検整備"
    assert present.wrap("", 10) == [""]
    assert present.wrap("a\n\nb", 10) == ["a", "", "b"]


def test_a_column_too_narrow_for_a_wide_letter_is_refused():
    with pytest.raises(BadInput):
        present.wrap("x", 1)


def test_pad_fills_by_columns():
    assert present.pad("車", 5) + "|" == "車   |"
    assert present.pad("車", 5, right=True) == "   車"
    assert present.pad("longer", 3) == "longer"


def test_present_is_light():
    heavy = ("jinja2", "pint", "sqlmodel", "sqlalchemy", "textual", "rich")
    code = f"import sys, shopcli.present; print([m for m in {heavy!r} if m in sys.modules])"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"
