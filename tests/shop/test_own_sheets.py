"""The shop's own sheets and the numbers on them: rules on real files, the history, the layers, what may judge."""

import json

import pytest

from shopcli.errors import BadInput, BadUnit, NotFound, Refused, Stale
from shopcli.shop.commands import AddVehicle, EnterSpec, OpenCard, TakeReading
from shopcli.shop.sheet_commands import (
    ChangeSheet,
    ChangeVehicleFacts,
    EnterOnSheet,
    MakeSheet,
    WithdrawNumber,
)
from shopcli.store.reads import bench, sheets
from shopcli.store.reads.vehicle_facts import vehicle_facts
from shopcli.store.shop import Shop, open_shop
from tests.conftest import SETTINGS, Busy, Clock, journal_acts
from tests.stations.build import HOSTILE

GAP = "points gap|as left"


@pytest.fixture
def own(busy_shop: Busy) -> Busy:
    """A shop with an own sheet under the family of flat fours, and a car that names it."""
    key = busy_shop.do(
        MakeSheet("lark-mk2", "Lark 1200 mark 2", "flat-four-air", facts=(("volts", "12"),))
    ).id
    car = busy_shop.do(AddVehicle(busy_shop.customer, "MK 2", "Lark", sheet="lark-mk2")).id
    busy_shop.more.update(sheet=key, car=car)
    return busy_shop


def enter(
    own: Busy, name: str = "points_gap", low: str = "0.35 mm", high: str = "0.45 mm", **more: str
) -> object:
    given = {"document": "Lark handbook", "page": "12"} | more
    return own.do(EnterOnSheet(own.more["sheet"], name, low, "", high, **given))


def gap_of(own: Busy, where: str = "vehicle") -> object:
    key = own.more["car"] if where == "vehicle" else own.more["sheet"]
    return sheets.sheet(own.shop, where, key).number("points_gap")


# Sheets -----------------------------------------------------------------------------------------------------


def test_an_own_sheet_is_seen_as_a_file_is(own: Busy) -> None:
    enter(own)
    sheet = own.shop.library.sheet("lark-mk2")
    assert (sheet.under, sheet.file) == ("flat-four-air", "records")
    assert [s.limits.text() for s in sheet.specs] == ["0.35 to 0.45 mm"]
    assert vehicle_facts(own.shop, own.more["car"]).volts == 12
    card = own.do(OpenCard(own.more["car"], ("points",), odometer=1)).id
    task = next(t for t in bench.card(own.shop, card).tasks if t.task.key == "points:set-gap").task
    assert task.spec("points_gap").limits.text() == "0.35 to 0.45 mm"
    assert (
        task.spec("points_gap").provenance.words() == "handbook: Lark handbook, page 12, by Tom, 2026-11-25"
    )


def test_another_terminal_sees_it_without_being_told(own: Busy) -> None:
    place = str(own.shop.place.file or own.shop.place.url)
    other = open_shop(place, settings=SETTINGS, now=Clock())
    other.library = own.shop.files
    assert other.library.sheet("lark-mk2").specs == ()
    before = other.library
    assert other.library is before, "nothing changed, nothing is read again"
    enter(own)
    assert [s.name for s in other.library.sheet("lark-mk2").specs] == ["points_gap"]
    other.close()


def test_an_act_that_fails_leaves_no_sheet_behind(own: Busy) -> None:
    def twice() -> None:
        with own.shop.many() as run:
            run.do(MakeSheet("gone", "Gone"), by=1)
            assert run.do(AddVehicle(own.customer, "G 1", "X", sheet="gone"), by=1).id
            run.do(MakeSheet("gone", "Gone again"), by=1)

    with pytest.raises(Refused, match="there already"):
        twice()
    assert "gone" not in own.shop.library.sheets
    own.do(MakeSheet("other", "Other"))
    assert "other" in own.shop.library.sheets


NO_SHEETS = [
    (MakeSheet("Lark mk2!", "x"), BadInput, "cannot be the name"),
    (MakeSheet("general", "x"), Refused, "there already"),
    (MakeSheet("lark-mk2", "x"), Refused, "there already"),
    (MakeSheet("a", ""), BadInput, "title"),
    (MakeSheet("a", "A", "nowhere"), NotFound, "no spec sheet"),
    (MakeSheet("a", "A", facts=(("cylindres", "4"),)), BadInput, "no fact is called"),
    (MakeSheet("a", "A", facts=(("volts", "many"),)), BadInput, "whole number"),
    (MakeSheet("a", "A", "inline-four-water", facts=(("firing_order", "1-2-3"),)), BadInput, "firing order"),
]


def test_what_cannot_be_a_sheet_is_refused_with_the_way_out(own: Busy) -> None:
    for command, error, words in NO_SHEETS:
        with pytest.raises(error, match=words) as caught:
            own.do(command)
        assert caught.value.hint, command
    assert own.shop.fetch("SELECT name FROM sheet") == [("lark-mk2",)]


def test_changing_a_sheet(own: Busy) -> None:
    key = own.more["sheet"]
    own.do(ChangeSheet(key, 1, title="Lark, late", facts=(("volts", "6"), ("earth", ""))))
    assert own.shop.library.sheet("lark-mk2").title == "Lark, late"
    assert vehicle_facts(own.shop, own.more["car"]).volts == 6
    with pytest.raises(Stale):
        own.do(ChangeSheet(key, 1, title="late again"))
    own.do(MakeSheet("nearer", "Nearer", "lark-mk2"))
    with pytest.raises(BadInput, match="lies under"):
        own.do(ChangeSheet(key, 2, under="nearer"))
    with pytest.raises(BadInput, match="lies under"):
        own.do(ChangeSheet(key, 2, under="lark-mk2"))
    assert journal_acts(own.shop)[-2:] == ["ChangeSheet", "MakeSheet"]


def test_a_sheet_whose_wider_one_is_gone_stops_nobody(own: Busy) -> None:
    files = own.shop.files
    own.do(MakeSheet("nearer", "Nearer", "lark-mk2"))
    left = {n: s for n, s in files.sheets.items() if n != "flat-four-air" and s.under != "flat-four-air"}
    own.shop.library = type(files)(files.templates, left, files.cautions, files.tags, files.kits)
    assert {p.file for p in own.shop.library.problems} == {"records"}
    assert "lark-mk2" not in own.shop.library.sheets
    seen = sheets.sheet(own.shop, "vehicle", own.more["car"])
    assert "lark-mk2" in seen.trouble
    assert sheets.sheet(own.shop, "sheet", own.more["sheet"]).trouble


def test_facts_of_a_vehicle(own: Busy) -> None:
    car = own.more["car"]
    own.do(ChangeVehicleFacts(car, 1, facts=(("volts", "6"), ("heads", "iron"))))
    facts = vehicle_facts(own.shop, car)
    assert (facts.volts, facts.fact("heads"), facts.layout) == (6, "iron", "flat four")
    with pytest.raises(Stale):
        own.do(ChangeVehicleFacts(car, 1, facts=()))
    with pytest.raises(NotFound):
        own.do(ChangeVehicleFacts(car, 2, sheet="nowhere"))
    with pytest.raises(BadInput, match="rotor"):
        own.do(ChangeVehicleFacts(car, 2, facts=(("rotor", "sideways"),)))
    own.do(ChangeVehicleFacts(car, 2, sheet="inline-six-water", facts=()))
    assert len(vehicle_facts(own.shop, car).cylinders) == 6


# Numbers ----------------------------------------------------------------------------------------------------


def test_a_number_keeps_what_was_printed_and_how(own: Busy) -> None:
    enter(own, low='.014"', high='.018"', also="0.35 to 0.45 mm", note="at the peak of a lobe")
    number = gap_of(own, "sheet")
    shown = number.shown
    assert (shown.printed.low, shown.printed.high, shown.printed.also) == (
        '.014"',
        '.018"',
        "0.35 to 0.45 mm",
    )
    assert shown.spec.limits.step == pytest.approx(25.4e-6)
    assert shown.spec.limits.text_in("mm") == "0.35 to 0.45 mm"
    assert shown.spec.note == "at the peak of a lobe"
    enter(own, "plug_gap", low="0.60", high="0.70", unit="mm")
    plug = sheets.sheet(own.shop, "sheet", own.more["sheet"]).number("plug_gap").shown
    assert (plug.printed.low, plug.spec.limits.text()) == ("0.60 mm", "0.60 to 0.70 mm")


def test_older_values_stay_with_who_when_and_why(own: Busy, clock: Clock) -> None:
    enter(own)
    clock.forward(days=3)
    done = own.do(
        EnterOnSheet(
            own.more["sheet"], "points_gap", "0.30 mm", "", "0.40 mm", document="Lark handbook", page="13",
            why="page 12 is the mark 1",
        ),
        by="Nell",
    )  # fmt: skip
    newest, oldest = sheets.history(own.shop, "sheet", own.more["sheet"], "points_gap")
    assert newest.row == done.id
    assert (newest.entered_by, newest.why, newest.put_aside) == ("Nell", "page 12 is the mark 1", None)
    assert (oldest.entered_by, oldest.put_aside_by, oldest.withdrawn_for) == ("Tom", "Nell", "")
    assert oldest.put_aside is not None
    assert oldest.put_aside.day == 28
    before = own.shop.fetch("SELECT before FROM journal WHERE act = 'EnterOnSheet' ORDER BY id DESC")[0][0]
    assert "0.00035" in before


def test_the_same_entry_twice_is_one(own: Busy) -> None:
    first, second = enter(own), enter(own)
    assert first.id == second.id
    assert "already" in second.said[0]
    assert len(sheets.history(own.shop, "sheet", own.more["sheet"], "points_gap")) == 1


NO_NUMBERS = [
    ({"low": "40 psi", "high": ""}, BadUnit, "pressure"),
    ({"low": "14 thou", "high": "0.45 mm"}, BadUnit, "mm and thou"),
    ({"low": "0.45 mm", "high": "0.35 mm"}, BadInput, "out of order"),
    ({"low": "-1 mm", "high": ""}, BadInput, "less than nothing"),
    ({"low": "0.35", "high": "0.45"}, BadInput, "no unit"),
    ({"low": "", "high": ""}, BadInput, "no number"),
    ({"low": "1e99 mm", "high": ""}, BadInput, "that large"),
    ({"document": ""}, BadInput, "document"),
    ({"page": ""}, BadInput, "page"),
    ({"kind": "demo"}, BadInput, "comes from"),
    ({"kind": "hearsay"}, BadInput, "comes from"),
    ({"quantity": "torque"}, BadInput, "not a torque"),
    ({"also": "0.9 to 1.2 in"}, BadInput, "cannot be the same limit"),
    ({"unit": "furlong", "low": "1", "high": "2"}, BadUnit, "no unit"),
    ({"on": "yesterday"}, BadInput, "no date"),
    ({"name": "moon_gap"}, NotFound, "no sheet knows"),
    ({"name": "Moon Gap", "quantity": "length"}, BadInput, "name of a number"),
    ({"name": "moon_gap", "quantity": "cheese"}, BadInput, "no quantity"),
]


def test_wrong_numbers_are_refused_with_the_way_out(own: Busy) -> None:
    for fields, error, words in NO_NUMBERS:
        with pytest.raises(error, match=words) as caught:
            enter(own, **fields)
        assert caught.value.hint, fields
    assert own.shop.fetch("SELECT COUNT(*) FROM sheet_spec") == [(0,)]


def test_a_new_number_brings_its_kind(own: Busy) -> None:
    enter(own, "moon_gap", "3 thou", "5 thou", quantity="length", label="moon gap, dark side")
    assert own.shop.library.kinds["moon_gap"].label == "moon gap, dark side"
    own.do(EnterSpec(own.more["car"], "moon_gap", "4 thou", kind="measured"))
    number = sheets.sheet(own.shop, "vehicle", own.more["car"]).number("moon_gap")
    assert [s.layer.name for s in number.layers] == ["MK 2", "lark-mk2"]


def test_the_nearest_layer_counts_and_the_others_stay_visible(own: Busy) -> None:
    enter(own, high="0.40 mm")
    own.do(MakeSheet("lark-late", "Lark, late", "lark-mk2"))
    own.do(ChangeVehicleFacts(own.more["car"], 1, sheet="lark-late"))
    number = gap_of(own)
    assert [s.layer.name for s in number.layers] == ["lark-mk2", "flat-four-air"]
    own.do(EnterSpec(own.more["car"], "points_gap", "0.36 mm", "", "0.40 mm", kind="measured"))
    number = gap_of(own)
    assert [s.layer.name for s in number.layers] == ["MK 2", "lark-mk2", "flat-four-air"]
    assert [s.layer.name for s in number.against] == ["lark-mk2"], "common practice speaks against nobody"


def test_two_documents_that_disagree_are_both_shown(own: Busy) -> None:
    enter(own)
    done = enter(own, low="0.50 mm", high="0.60 mm", document="Workshop manual")
    number = gap_of(own)
    (other,) = number.against
    assert (other.past, other.spec.provenance.document) == (True, "Lark handbook")
    own.do(WithdrawNumber("sheet", other.row, "a misprint"))
    assert gap_of(own).against == ()
    assert gap_of(own).shown.row == done.id


def test_a_disagreement_is_said_when_it_is_entered(own: Busy) -> None:
    enter(own)
    done = own.do(EnterSpec(own.more["car"], "points_gap", "0.60 mm", document="Leaflet"))
    assert done.said[1].startswith("! lark-mk2 says 0.35 to 0.45 mm, handbook: Lark handbook, page 12")


def test_withdrawn_numbers_count_no_more(own: Busy) -> None:
    row = enter(own).id
    with pytest.raises(BadInput, match="reason"):
        own.do(WithdrawNumber("sheet", row, " "))
    with pytest.raises(BadInput, match="has no numbers"):
        own.do(WithdrawNumber("moon", row, "x"))
    own.do(WithdrawNumber("sheet", row, "of another engine"))
    assert [s.layer.name for s in gap_of(own).layers] == ["flat-four-air"]
    with pytest.raises(Refused, match="already"):
        own.do(WithdrawNumber("sheet", row, "again"))
    (entry,) = sheets.history(own.shop, "sheet", own.more["sheet"], "points_gap")
    assert (entry.withdrawn_for, entry.put_aside_by) == ("of another engine", "Tom")
    enter(own)
    assert gap_of(own).shown.layer.name == "lark-mk2"


# Practice ---------------------------------------------------------------------------------------------------


def test_practice_on_an_own_sheet_judges_nothing_until_confirmed(own: Busy) -> None:
    enter(own, kind="practice", document="", page="")
    card = own.do(OpenCard(own.more["car"], ("points",), odometer=1)).id
    task = next(t for t in bench.card(own.shop, card).tasks if t.task.key == "points:set-gap")
    assert "not judged" in own.do(TakeReading(task.id, GAP, "0.40 mm")).said[0]
    assert gap_of(own).to_confirm
    with pytest.raises(BadInput, match="confirms nothing"):
        own.do(EnterOnSheet(own.more["sheet"], "points_gap", kind="practice", confirm=True))
    with pytest.raises(BadInput, match="document"):
        own.do(EnterOnSheet(own.more["sheet"], "points_gap", confirm=True))
    own.do(EnterOnSheet(own.more["sheet"], "points_gap", confirm=True, document="Lark handbook", page="12"))
    assert not gap_of(own).to_confirm
    assert "not judged" in own.do(TakeReading(task.id, GAP, "0.40 mm")).said[0], "the card keeps its own"
    later = own.do(OpenCard(own.more["car"], ("points",), odometer=2)).id
    task = next(t for t in bench.card(own.shop, later).tasks if t.task.key == "points:set-gap")
    assert "in limits" in own.do(TakeReading(task.id, GAP, "0.40 mm")).said[0]


def test_confirming_keeps_figures_and_state(own: Busy) -> None:
    enter(own, state="cold", kind="practice", document="", page="", note="with the blade dragging")
    own.do(EnterOnSheet(own.more["sheet"], "points_gap", confirm=True, kind="measured"))
    shown = gap_of(own).shown
    assert (shown.spec.state, shown.spec.note) == ("cold", "with the blade dragging")
    assert shown.spec.limits.text() == "0.35 to 0.45 mm"
    with pytest.raises(BadInput, match="no number to confirm"):
        own.do(EnterOnSheet(own.more["sheet"], "idle_speed", confirm=True, document="x", page="1"))


def test_an_expanded_card_keeps_its_numbers_and_shows_the_newer_beside(own: Busy) -> None:
    enter(own)
    card = own.do(OpenCard(own.more["car"], ("points",), odometer=1)).id
    frozen = own.shop.fetch("SELECT frozen FROM task WHERE card_id = ? ORDER BY id", (card,))
    enter(own, low="0.30 mm", high="0.40 mm", page="13")
    assert own.shop.fetch("SELECT frozen FROM task WHERE card_id = ? ORDER BY id", (card,)) == frozen
    task = next(t for t in bench.card(own.shop, card).tasks if t.task.key == "points:set-gap")
    assert task.task.spec("points_gap").limits.text() == "0.35 to 0.45 mm"
    assert [s.limits.text() for s in task.newer] == ["0.30 to 0.40 mm"]
    other = next(t for t in bench.card(own.shop, card).tasks if t.task.spec("points_gap") is None)
    assert other.newer == ()


@pytest.mark.parametrize("text", HOSTILE, ids=["markup", "right to left", "controls", "wide", "endless"])
def test_hostile_text_in_every_field_is_kept_clean_or_refused(own: Busy, text: str, shop: Shop) -> None:
    fields = (
        "state",
        "document",
        "page",
        "note",
        "why",
        "label",
        "also",
        "unit",
        "who",
        "on",
        "quantity",
        "kind",
    )
    for field in fields:
        try:
            enter(own, **{field: text})
        except (BadInput, NotFound) as error:
            assert len(error.message) < 400, field
    for command in (
        MakeSheet("h", text),
        MakeSheet(text, "t"),
        MakeSheet("i", "t", text),
        MakeSheet("j", "t", about=text),
        MakeSheet("k", "t", facts=((text, "1"), ("heads", text))),
        WithdrawNumber("sheet", 1, text),
        WithdrawNumber(text, 1, "x"),
    ):
        try:
            own.do(command)
        except (BadInput, NotFound, Refused) as error:
            assert len(error.message) < 400, command.rule
    kept = json.dumps(own.shop.fetch("SELECT title, under, about, facts FROM sheet"), ensure_ascii=False)
    kept += json.dumps(
        own.shop.fetch("SELECT spec, printed, why, replaced_for FROM sheet_spec"), ensure_ascii=False
    )
    assert not {"\x1b", "\u202e", "\x00"} & set(kept)
