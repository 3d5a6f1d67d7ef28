"""The list of open jobs: grouped by customer and vehicle, late ones said in words."""

from datetime import UTC, date, datetime

import pytest

from shopcli.errors import BadInput
from shopcli.papers.render import open_cards_text
from shopcli.present import display_width
from shopcli.shop.views import CardRow
from tests.papers.golden_file import same_as_golden

TODAY = date(2026, 11, 27)
replace = CardRow._replace
ROW = CardRow(
    id=1,
    number="2026-0147",
    customer_id=1,
    customer="Zoë Fenwick-Harrowgate",
    phone="01632 960222",
    vehicle_id=1,
    registration="LRK 61A",
    vehicle="Lark 1200 saloon, 1961",
    title="Engine service and brakes",
    state="held",
    held_for="contact set on order",
    promised=date(2026, 11, 23),
    opened=datetime(2026, 11, 20, 9, 0, tzinfo=UTC),
    expected_minutes=210,
    clocked_seconds=7500,
    tasks=12,
    tasks_settled=4,
    running=("J. Ash",),
    open_tags=("sump dry",),
    owed=2,
)
ROWS = (
    ROW,
    replace(
        ROW,
        id=2,
        number="2026-0150",
        customer_id=2,
        customer="B. Moor",
        phone="",
        vehicle_id=9,
        vehicle="Hallam 35",
        registration="",
        state="booked",
        held_for="",
        promised=None,
        clocked_seconds=0,
        tasks_settled=0,
        running=(),
        open_tags=(),
        owed=0,
        title="Winter check",
    ),
    replace(
        ROW,
        id=3,
        number="2026-0151",
        state="in hand",
        promised=TODAY,
        title="Rear lamp",
        open_tags=(),
        running=(),
    ),
    replace(
        ROW,
        id=4,
        number="2026-0152",
        vehicle_id=2,
        vehicle="Brindle 1600",
        registration="BRN 2",
        state="checked",
    ),
)


def test_golden():
    same_as_golden("open_cards.txt", open_cards_text(ROWS, TODAY))


def test_cards_stand_under_their_customer_and_vehicle_once():
    text = open_cards_text(ROWS, TODAY)
    assert text.count("Zoë Fenwick-Harrowgate") == text.count("Lark 1200 saloon") == 1
    places = [text.index(n) for n in ("2026-0147", "2026-0151", "2026-0152", "2026-0150")]
    assert places == sorted(places)
    assert (
        text.index("2026-0151") < text.index("Brindle 1600") < text.index("2026-0152") < text.index("B. Moor")
    )


def test_late_held_and_owed_are_said_in_words():
    text = " ".join(open_cards_text(ROWS, TODAY).split())
    assert "! Mon 23 Nov (late)" in text
    assert "Fri 27 Nov (today)" in text
    assert "held up by: contact set on order, sump dry" in text
    assert "on it: J. Ash" in text
    assert "checks owed: 2" in text
    assert "2 h 05 clocked, 3 h 30 expected" in text
    assert "4 open, 2 late" in text


def test_two_customers_of_one_name_stay_two():
    rows = (ROW, replace(ROW, customer_id=2, vehicle_id=2, number="2026-0160"))
    assert open_cards_text(rows, TODAY).count("Zoë Fenwick-Harrowgate") == 2


def test_no_open_jobs():
    assert "No open jobs." in open_cards_text((), TODAY)


@pytest.mark.parametrize(
    "text", ["[/oops]", "{{7*7}}", "\x1b[2J\u202ex", "車検" * 60, "x" * 3000, "", "word " * 300], ids=range(7)
)
def test_no_text_breaks_the_page(text):
    row = replace(
        ROW, number=text, customer=text, phone=text, vehicle=text, registration=text, title=text, state=text,
        held_for=text, running=(text,), open_tags=(text, text),
    )  # fmt: skip
    for width in (72, 80):
        paper = open_cards_text((row,), TODAY, width, plain=True)
        assert max(map(display_width, paper.splitlines())) <= width
        assert "\x1b" not in paper


def test_a_page_too_narrow_is_refused():
    with pytest.raises(BadInput):
        open_cards_text(ROWS, TODAY, 20)
