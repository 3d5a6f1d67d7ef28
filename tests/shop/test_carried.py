"""What outlives the card: findings and promised checks are there at the next visit, taken on, declined or left."""

import importlib
import sqlite3
from datetime import date

import pytest
from alembic.migration import MigrationContext
from alembic.operations import Operations
from sqlalchemy import create_engine

from shopcli.errors import BadInput, Barred, NotFound, Refused
from shopcli.shop.commands import (
    AddFinding,
    AddVehicle,
    CloseCard,
    EnterSpec,
    FinishTask,
    LeaveOut,
    MovePart,
    OpenCard,
    ReopenTask,
    SecondCheck,
    SettleFinding,
    SettleOwed,
    TakeOn,
    Waive,
)
from shopcli.shop.views import Carried, TaskView
from shopcli.store.reads import bench, desk
from tests.conftest import Busy, journal_after
from tests.shop.test_bench_rules import drain

GREASE = (
    "Greasing due again: by the handbook, or at this distance"  # promised by greasing:can for 1,000 miles on
)
CARPETS = "Look under the carpets after the first heavy rain"  # promised by water-leaks:wet for 30 days on


def find(busy: Busy, **more: str) -> str:
    """Write down a finding and return its name."""
    finding = AddFinding(busy.card, "engine bay", "fuel hose perished", "soon", "2 m of hose", **more)
    return f"finding:{busy.do(finding).id}"


def visit(busy: Busy, *take: str, odometer: int | None = 48_300, jobs: tuple[str, ...] = ()) -> int:
    return busy.do(OpenCard(busy.vehicle, jobs, odometer=odometer, take=take), "Dora").id


def tasks(busy: Busy, card: int) -> dict[str, TaskView]:
    return {t.task.key: t for t in bench.card(busy.shop, card).tasks}


def brings(busy: Busy, odometer: int | None = None) -> dict[str, Carried]:
    return {c.key: c for c in desk.carried(busy.shop, busy.vehicle, odometer)}


def hindering(busy: Busy, card: int) -> list[str]:
    return [h.what for h in bench.hindrances(busy.shop, card)]


def promise(busy: Busy, job: str = "greasing", title: str = GREASE) -> str:
    """Do the task of a job that promises a check for later, close the card, and return the check's name."""
    card = visit(busy, odometer=48_213, jobs=(job,))
    for task in bench.card(busy.shop, card).tasks:
        if any(slot.title == title for slot in task.task.owes):
            busy.do(FinishTask(task.id, "for the test"))
            if task.task.second:
                busy.do(SecondCheck(task.id), "Nell")
        else:
            busy.do(LeaveOut(task.id, "not on this visit"))
    for part in bench.card(busy.shop, card).parts:
        busy.do(MovePart(part.id, "not used"))
    for hindrance in bench.hindrances(busy.shop, card):
        busy.do(Waive(card, hindrance.key, "for the test"))
    busy.do(CloseCard(card))
    return next(c.key for c in brings(busy).values() if c.title == title)


def test_a_finding_keeps_where_how_bad_what_it_takes_its_job_and_its_photo(busy_shop: Busy) -> None:
    key = find(busy_shop, wanted="fuel-lines", photo="photos/lrk120/hose.jpg")
    (one,) = desk.findings(busy_shop.shop, busy_shop.vehicle)
    assert (one.wanted, one.photo) == ("fuel-lines", "photos/lrk120/hose.jpg")
    left = brings(busy_shop)[key]
    assert (left.title, left.severity, left.takes) == (
        "engine bay: fuel hose perished",
        "soon",
        "2 m of hose",
    )
    assert (left.by, left.on, left.card, left.due) == ("Tom", date(2026, 11, 25), "J00001", True)


def test_a_finding_wants_a_job_that_exists(busy_shop: Busy) -> None:
    with pytest.raises(NotFound, match="fuel-line") as caught:
        find(busy_shop, wanted="fuel-line")
    assert "fuel-lines" in caught.value.hint
    assert brings(busy_shop) == {}


def test_a_finding_taken_on_is_a_task_and_doing_it_settles_it(busy_shop: Busy) -> None:
    key = find(busy_shop)
    card = visit(busy_shop, key)
    view = bench.card(busy_shop.shop, card)
    assert view.title == "engine bay, fuel hose perished"
    task = tasks(busy_shop, card)[key]
    assert task.task.title == "Put right: engine bay, fuel hose perished"
    assert "It would take: 2 m of hose" in task.task.say
    assert task.task.place == "engine bay"
    assert brings(busy_shop) == {}, "it is on a card: nobody is asked twice"
    done = busy_shop.do(FinishTask(task.id))
    assert "Finding put right: fuel hose perished." in done.said
    assert desk.findings(busy_shop.shop, busy_shop.vehicle) == ()
    busy_shop.do(ReopenTask(task.id))
    assert [f.what for f in desk.findings(busy_shop.shop, busy_shop.vehicle)] == ["fuel hose perished"]


def test_the_job_a_finding_wants_comes_along_and_is_mended_last(busy_shop: Busy) -> None:
    key = find(busy_shop, wanted="fuel-lines")
    card = visit(busy_shop, key, jobs=("oil-change",))
    there = tasks(busy_shop, card)
    assert bench.card(busy_shop.shop, card).templates == ("oil-change", "fuel-lines")
    assert set(there[key].task.after) == {k for k in there if k.startswith("fuel-lines:")}
    assert [k for k in there if there[k].task.title == "Raise the car level and set it on stands"] == [
        "oil-change:raise-car"
    ]


def test_a_finding_left_out_is_carried_on(busy_shop: Busy) -> None:
    key = find(busy_shop)
    card = visit(busy_shop, key)
    busy_shop.do(LeaveOut(tasks(busy_shop, card)[key].id, "no hose here"))
    assert list(brings(busy_shop)) == [key]


def test_a_finding_whose_job_is_gone_or_does_not_fit_stands_alone(busy_shop: Busy) -> None:
    key = find(busy_shop, wanted="cooling-flush")  # the engine is cooled by air
    done = busy_shop.do(OpenCard(busy_shop.vehicle, take=(key,), odometer=50_000))
    assert any("does not fit" in said and "stands as a task alone" in said for said in done.said)
    assert list(tasks(busy_shop, done.id)) == [key]


def test_a_finding_is_declined_by_the_customers_word_with_who_said_so(busy_shop: Busy) -> None:
    first, second = find(busy_shop), find(busy_shop)
    number = int(first.partition(":")[2])
    with pytest.raises(BadInput, match="reason"):
        busy_shop.do(SettleFinding(number, "declined"))
    done = busy_shop.do(SettleFinding(number, "declined", "not this year"), "Dora")
    assert done.said == ("Finding declined by Ada Lark: fuel hose perished.",)
    busy_shop.do(
        SettleFinding(int(second.partition(":")[2]), "declined", "too dear", "her brother, by phone")
    )
    assert brings(busy_shop) == {}
    kept = busy_shop.shop.fetch("SELECT state, settled_for, declined_by FROM finding ORDER BY id")
    assert kept == [
        ("declined", "not this year", "Ada Lark"),
        ("declined", "too dear", "her brother, by phone"),
    ]


def test_a_check_due_at_a_distance_is_left_until_the_odometer_says_so(busy_shop: Busy) -> None:
    key = promise(busy_shop)
    assert not brings(busy_shop, 49_212)[key].due
    assert brings(busy_shop, 49_213)[key].due
    assert not brings(busy_shop)[key].due, "without an odometer the highest written counts"
    early = visit(busy_shop, odometer=49_212)
    assert hindering(busy_shop, early) == []
    later = visit(busy_shop, odometer=49_213)
    assert hindering(busy_shop, later) == [f"Check still owed: {GREASE}"]
    assert "due at 49,213" in bench.hindrances(busy_shop.shop, later)[0].why


def test_a_check_due_at_a_date_is_left_until_that_day(busy_shop: Busy) -> None:
    key = promise(busy_shop, "water-leaks", CARPETS)
    assert (brings(busy_shop)[key].due, brings(busy_shop)[key].due_date) == (False, date(2026, 12, 25))
    card = visit(busy_shop)
    assert hindering(busy_shop, card) == []
    busy_shop.clock.forward(days=30)
    assert brings(busy_shop)[key].due
    assert hindering(busy_shop, card) == [f"Check still owed: {CARPETS}"]


def test_a_check_taken_on_is_a_task_and_doing_it_settles_it(busy_shop: Busy) -> None:
    key = promise(busy_shop)
    card = visit(busy_shop, key, odometer=49_400)
    task = tasks(busy_shop, card)[key]
    assert (task.task.title, task.task.place) == (GREASE, "round the car")
    assert task.task.say.splitlines() == [
        "Promised on card J00002 with 'Oil can and hinges'.",
        "Due at 49,213 mi.",
    ]
    number = int(key.partition(":")[2])
    with pytest.raises(Refused, match="settled by doing"):
        busy_shop.do(SettleOwed(number, "done", "looked fine"))
    assert brings(busy_shop, 49_400) == {}
    done = busy_shop.do(FinishTask(task.id))
    assert f"No longer owed: {GREASE}." in done.said
    assert hindering(busy_shop, card) == []
    busy_shop.do(ReopenTask(task.id))
    assert f"Check still owed: {GREASE}" in hindering(busy_shop, card)
    busy_shop.do(LeaveOut(task.id, "no grease here"))
    assert list(brings(busy_shop, 49_400)) == [key], "left out it is still owed"
    busy_shop.do(SettleOwed(number, "waived", "Ada greases it herself"))
    assert hindering(busy_shop, card) == []


def test_a_check_taken_on_is_barred_as_its_work_was(busy_shop: Busy) -> None:
    strobe = "Ignition timing: check with a strobe when one is at hand"
    key = promise(busy_shop, "timing-static", strobe)
    card = visit(busy_shop, key, odometer=49_000)
    task = tasks(busy_shop, card)[key]
    assert {"start", "drive"} <= set(task.task.acts)
    assert {c.name for c in task.task.cautions} == {"road", "hot engine"}
    drain(busy_shop)
    with pytest.raises(Barred, match="is barred: car on stands"):
        busy_shop.do(FinishTask(task.id))


def test_a_check_taken_on_shows_the_number_of_today(busy_shop: Busy) -> None:
    nuts = promise(busy_shop, "wheel-bearings", "Wheel nuts: torque again")
    busy_shop.do(
        EnterSpec(busy_shop.vehicle, "wheel_nut_torque", "90 Nm", "", "100 Nm", document="Book", page="9")
    )
    again = tasks(busy_shop, visit(busy_shop, nuts, odometer=49_000))[nuts]
    spec = again.task.spec("wheel_nut_torque")
    assert spec is not None
    assert spec.provenance.document == "Book"
    assert again.task.second


def test_what_is_taken_on_later_goes_on_an_open_card(busy_shop: Busy) -> None:
    key = find(busy_shop, wanted="fuel-lines")
    card = visit(busy_shop)
    done = busy_shop.do(TakeOn(card, (key,)), "Dora")
    assert done.said[0].startswith("Taken on: engine bay, fuel hose perished (")
    assert key in tasks(busy_shop, card)
    with pytest.raises(Refused, match=r"stands on card J00002 already"):
        busy_shop.do(TakeOn(busy_shop.card, (key,)))
    assert journal_after(busy_shop.shop, "TakeOn") == [{"card_id": card, "take": [key]}]


@pytest.mark.parametrize(
    ("take", "error", "message"),
    [
        ((), BadInput, "nothing is named"),
        (("hose",), BadInput, "names nothing carried over"),
        (("finding:²",), BadInput, "names nothing carried over"),
        (("finding:99",), NotFound, "no finding 99"),
        (("owed:99",), NotFound, "no owed check 99"),
    ],
)
def test_what_cannot_be_taken_on_is_said(
    busy_shop: Busy, take: tuple[str, ...], error: type[Exception], message: str
) -> None:
    with pytest.raises(error, match=message):
        busy_shop.do(TakeOn(busy_shop.card, take))


def test_nothing_settled_or_of_another_car_is_taken_on(busy_shop: Busy) -> None:
    key = find(busy_shop)
    other = busy_shop.do(AddVehicle(busy_shop.customer, "OTH 1", "Lark")).id
    with pytest.raises(NotFound, match="not of OTH 1"):
        busy_shop.do(OpenCard(other, take=(key,)))
    busy_shop.do(SettleFinding(int(key.partition(":")[2]), "done"))
    with pytest.raises(Refused, match="done already"):
        visit(busy_shop, key)
    assert len(busy_shop.shop.fetch("SELECT id FROM card")) == 1


def test_text_of_people_stays_text(busy_shop: Busy) -> None:
    text = "[/oops] {{ spec.points_gap }} " + "x" * 300
    key = f"finding:{busy_shop.do(AddFinding(busy_shop.card, 'roof', text, 'watch')).id}"
    task = tasks(busy_shop, visit(busy_shop, key))[key].task
    assert len(task.title) <= 160
    assert text in task.say


@pytest.mark.sqlite_only("a file of an older version is made by hand")
def test_findings_of_the_first_schema_are_brought_up_unharmed(busy_shop: Busy) -> None:
    """Records from before findings named a job: taken back to that shape, then opened by this program."""
    find(busy_shop)
    shop = busy_shop.shop
    shop.close()
    with sqlite3.connect(str(shop.place.file)) as connection:
        for name in ("wanted", "declined_by"):
            connection.execute(f"ALTER TABLE finding DROP COLUMN {name}")
        kept = connection.execute("SELECT id, place, what, severity, takes, state FROM finding").fetchall()
        module = importlib.import_module("shopcli.store.migrations.versions.v0002_findings")
        context = MigrationContext.configure(create_engine(f"sqlite:///{shop.place.file}").connect())
    with Operations.context(context):
        module.upgrade()
    context.connection.commit()
    with sqlite3.connect(str(shop.place.file)) as connection:
        rows = connection.execute(
            "SELECT id, place, what, severity, takes, state, wanted, declined_by FROM finding"
        )
        assert rows.fetchall() == [(*row, "", "") for row in kept]
    context.connection.close()
