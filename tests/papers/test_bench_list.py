"""The work list that hangs on the car: all the bench needs, cautions before the step, never over the edge."""

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from shopcli.errors import BadInput
from shopcli.papers.preview import work_list_text
from shopcli.papers.render import bench_list_text
from shopcli.present import display_width
from shopcli.shop.views import CardView, FindingView, OwedView, PartLineView, ReadingView, TagView, TaskView
from shopcli.units import IMPERIAL, METRIC, Limits
from shopcli.worklists.expand import expand
from shopcli.worklists.load import load_library
from shopcli.worklists.model import Caution, OwedSlot, Provenance, ReadingSlot, Spec, Task
from shopcli.worklists.sheets import facts, lookup
from tests.papers.golden_file import same_as_golden

NOW = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)
GAP = Spec(
    "points_gap",
    "points gap",
    Limits.of("length", "thou", low=14, high=18),
    "cold",
    Provenance("handbook", "Lark 1200 owner's handbook", "14"),
    "demo-lark-1200",
)
BELT = Spec(
    "belt_play",
    "belt play",
    Limits.of("length", "mm", low=12, high=15),
    "",
    Provenance("practice"),
    "general",
    "halfway",
)
DRAIN = Task(
    "oil-change:drain",
    "oil-change",
    "1",
    "Drain the oil",
    "lubrication",
    say="Open the drain plug and let it run.",
    minutes=10,
    waits=20,
    place="under the car",
    needs=("engine warm",),
    hangs=("sump dry",),
    cautions=(Caution("used oil", "Used engine oil harms the skin: wear gloves, wash it off at once."),),
)
POINTS = Task(
    "points:set-gap",
    "points",
    "1",
    "Set the points gap",
    "ignition",
    say="Heel on the peak of a lobe. The blade drags at {{ spec.points_gap }}; see {{ spec.dwell }}.",
    specs=(GAP, BELT),
    missing=("dwell",),
    readings=(
        ReadingSlot("points gap|as found", "points gap", "points gap", "as found", "points_gap"),
        ReadingSlot("points gap|as left", "points gap", "points gap", "as left", "points_gap"),
        ReadingSlot("compression@cylinder 2|as left", "compression", "cylinder 2", "as left"),
    ),
    minutes=12,
    place="engine bay",
    owes=(
        OwedSlot("check-dwell", "Check the dwell"),
        OwedSlot("x", "Look again", before="distance", miles=500, days=90),
    ),
    second=True,
)
FOUND = ReadingView(
    id=1,
    task_id=2,
    slot="points gap|as found",
    name="points gap",
    label="points gap",
    phase="as found",
    typed="9 thou",
    value=0.0002286,
    unit="thou",
    quantity="length",
    standing="low",
    verdict="5 thou too tight",
    limits="",
    provenance="handbook",
    tool="feeler",
    person="J. Ash",
    at=NOW,
)
CONTACTS = PartLineView(
    1, 2, 7, "CS-12", "contact set", Decimal(1), "pc", Decimal(13), "fitted", False, False, Decimal(3), "B4"
)  # fmt: skip
OIL = PartLineView(
    2, None, None, "", "engine oil", Decimal("2.500"), "L", Decimal(7), "wanted", True, True, None, ""
)  # fmt: skip


def task(position: int, frozen: Task, **more) -> TaskView:
    usual = TaskView(
        id=position,
        position=position,
        state="open",
        task=frozen,
        readings=(),
        clocked_seconds=0,
        running=(),
        done_by="",
        done_at=None,
        left_out_for="",
        second_by="",
        note="",
        barred_by=(),
        version=1,
    )
    return replace(usual, **more)


def card(**more) -> CardView:
    usual = CardView(
        id=1,
        number="2026-0147",
        state="in hand",
        held_for="",
        title="Engine service",
        words="Runs rough when warm.\nSmell of petrol.",
        left_with="spare key, child seat",
        customer_id=1,
        customer="Zoë Fenwick-Harrowgate",
        phone="01632 960222",
        vehicle_id=1,
        registration="LRK 61A",
        vehicle="Lark 1200 saloon, 1961",
        distance_unit="mi",
        odometer=54320,
        authority=Decimal(400),
        authority_by="Mrs. Fenwick",
        promised=date(2026, 11, 27),
        opened=NOW,
        closed=None,
        expected_minutes=22,
        version=1,
        templates=("oil-change", "points"),
        tasks=(
            task(1, DRAIN, state="done", done_by="J. Ash", clocked_seconds=540),
            task(2, POINTS, readings=(FOUND,), running=("J. Ash",)),
            task(
                3,
                replace(DRAIN, key="t:start", title="Start the engine", hangs=(), cautions=()),
                barred_by=("sump dry",),
            ),
            task(
                4,
                replace(DRAIN, key="t:leads", title="Renew the leads"),
                state="left out",
                left_out_for="declined",
            ),
        ),
        parts=(CONTACTS, OIL),
        tags=(
            TagView(1, "sump dry", "There is no oil in the sump", ("crank", "start"), "J. Ash", NOW, "", ""),
        ),
        owed=(
            OwedView(1, "Check the timing", "hand-over", None, None, "owed", "", "", "", ""),
            OwedView(2, "Long done", "hand-over", None, None, "done", "", "", "", ""),
        ),
        findings=(
            FindingView(1, "engine bay", "fuel hose perished", "stop", "", "open", "J. Ash", NOW.date(), ""),
        ),
    )
    return replace(usual, **more)


def test_golden():
    same_as_golden("bench_list.txt", bench_list_text(card(), METRIC))
    same_as_golden(
        "bench_list_imperial_plain.txt", bench_list_text(card(customer="F."), IMPERIAL, plain=True)
    )


def test_plain_signs_are_ascii():
    text = bench_list_text(card(customer="F.", tasks=card().tasks[:1]), IMPERIAL, plain=True)
    assert text.isascii()
    assert "[v done]" in text


def test_what_must_be_seen_is_seen_in_its_order():
    text = " ".join(bench_list_text(card(), METRIC).split())
    assert text.index("There is no oil in the sump") < text.index("Work list")
    assert text.index("harms the skin") < text.index("Open the drain plug")
    assert "14 to 18 thou" in text
    assert "<handbook: Lark 1200 owner's handbook, page 14>" in text
    assert "[practice, to be confirmed]" in text
    assert "[dwell: not known, enter it]" in text
    assert "as found 9 thou (▾ low), as left ________" in text
    assert "compression, cylinder 2: as left ________" in text
    assert "Second person: checked by ________" in text
    assert "Barred by: sump dry" in text
    assert "Left out for: declined" in text
    assert "Owes: Check the dwell, before hand-over" in text
    assert "Owes: Look again, in 500 miles or in 90 days" in text
    assert "1 x contact set CS-12, bin B4 [✓ fitted]" in text
    assert "2.5 L engine oil, customer's own, if needed [◦ wanted]" in text
    assert "Check the timing: before hand-over" in text
    assert "Long done" not in text


def test_an_empty_card_is_still_a_paper():
    text = bench_list_text(
        card(tasks=(), parts=(), tags=(), owed=(), findings=(), odometer=None, promised=None), METRIC
    )
    assert "Work list" not in text
    assert "0 h 22 expected, 0 h 00 clocked" in text


@pytest.mark.parametrize(
    "text",
    ["[/oops] {{7*7}}", "שלום \u202etxt", "\x1b[2J", "車検" * 99, "x" * 5000, "w " * 900],
    ids=range(6),
)
@pytest.mark.parametrize("width", [72, 80, 132])
def test_no_text_breaks_the_page(text, width):
    frozen = replace(
        POINTS,
        title=text,
        place=text,
        say=text,
        missing=(text,),
        needs=(text,),
        cautions=(Caution("x", text),),
        specs=(
            replace(GAP, label=text, state=text, note=text, provenance=Provenance("handbook", text, text)),
        ),
        readings=(ReadingSlot("k", text, text, text),),
        owes=(OwedSlot(text, text, before=text),),
    )
    hostile = card(
        number=text,
        state=text,
        customer=text,
        vehicle=text,
        title=text,
        words=text,
        tasks=(task(1, frozen, state=text, note=text, done_by=text, left_out_for=text, barred_by=(text,)),),
        tags=(replace(card().tags[0], name=text, says=text, bars=(text,), hung_by=text),),
        parts=tuple(replace(p, description=text, number=text, bin=text, state=text) for p in card().parts),
        findings=tuple(replace(f, place=text, what=text, severity=text) for f in card().findings),
        owed=tuple(replace(o, title=text, before=text) for o in card().owed),
    )
    for plain in (False, True):
        paper = bench_list_text(hostile, METRIC, width=width, plain=plain)
        assert max(map(display_width, paper.splitlines())) <= width
        assert "\x1b" not in paper
        assert "\u202e" not in paper


def test_a_page_too_narrow_is_refused():
    with pytest.raises(BadInput):
        bench_list_text(card(), METRIC, width=40)


@pytest.mark.parametrize(
    "sheet", ["demo-lark-1200", "demo-brindle-1600", "demo-corvane-24", "demo-hallam-35"]
)
def test_every_shipped_template_fits_the_page(sheet):
    library = load_library()
    known = facts(library, sheet)
    book = lookup(library, sheet)
    tasks = expand(library, ("engine-service", "brakes-adjust", "pre-delivery"), known, book).tasks
    assert len(tasks) > 20
    text = bench_list_text(card(tasks=tuple(task(n, t) for n, t in enumerate(tasks, 1))), IMPERIAL)
    assert max(map(display_width, text.splitlines())) <= 80
    flat = " ".join(text.split())
    for frozen in tasks:
        assert " ".join(frozen.title.split()) in flat
        for caution in frozen.cautions:
            assert " ".join(caution.text.split()) in flat
    assert "{{" not in text


def test_a_work_list_before_there_is_a_card():
    library = load_library()
    sheet = "demo-lark-1200"
    work = expand(library, ("points", "oil-change"), facts(library, sheet), lookup(library, sheet))
    text = work_list_text(work, METRIC)
    flat = " ".join(text.split())
    assert max(map(display_width, text.splitlines())) <= 80
    assert f"{work.minutes // 60} h {work.minutes % 60:02d} hands-on, {len(work.tasks)} tasks" in flat
    for frozen in work.tasks:
        assert " ".join(frozen.title.split()) in flat
    assert work.kit
    for kit in work.kit:
        assert kit.part in flat
