"""Intake while somebody stands there: few keys, price and date beside it, and nothing half-filled is ever lost."""

import subprocess
import sys
from pathlib import Path

import pytest
from textual.pilot import Pilot

from shopcli.screens.desk.draft import Draft
from shopcli.screens.desk.intake_ahead import Question, price_and_promise
from shopcli.screens.desk.new_card import NewCardScreen
from shopcli.screens.desk.station import DeskScreen
from shopcli.screens.kept_forms import FormKeeper, KeptForm
from shopcli.screens.widgets.field import Field
from shopcli.shop.commands import OpenCard
from shopcli.store.reads import bench
from shopcli.store.shop import Shop
from tests.stations.build import Story, press, seen, settle, still, story, write

KEYS_MOST = 25
FILLED = {
    "odometer": "61 250",
    "words": "Squeals when braking",
    "car_keys": "two",
    "left_with": "a rug",
    "fuel": "half",
    "damage": "wing dented",
    "authority": "300",
    "authority_by": "Ben",
    "authority_how": "p",
    "promised": "fri",
}
SIZES = pytest.mark.parametrize(
    "size",
    [(80, 24), (120, 40), pytest.param((200, 50), marks=pytest.mark.long)],
    ids=["80x24", "120x40", "200x50"],
)


@pytest.fixture
def told(shop: Shop) -> Story:
    return story(shop)


async def say(pilot: Pilot[None], *lines: str) -> int:
    """Type each line and go on with Enter; return how many keys that took beside the text itself."""
    for line in lines:
        if line:
            await write(pilot, line)
        await press(pilot, "enter")
    return len(lines)


async def test_a_returning_customer_takes_few_keys_beside_what_is_said(
    told: Story, capsys: pytest.CaptureFixture[str]
) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f2")
        keys = 1 + await say(
            pilot, "brw", "", "61 250", "Squeals when braking", "two", "a rug", "half", "wing dented", "300",
            "Ben", "p", "fri", "", "brak",
        )  # fmt: skip
        assert "about £72.00, at most" in seen(app)
        assert "sure by" in seen(app)
        await press(pilot, "f2", "1", "f2")  # what earlier visits left is asked about: one figure takes it on
        keys += 3
        assert isinstance(app.screen, DeskScreen)
    view = bench.card(told.shop, bench.card_id(told.shop, "J00006"))
    assert (view.registration, view.templates) == ("BRW 16", ("brakes",))
    assert [t.task.title for t in view.tasks if t.task.key.startswith("finding")]
    with capsys.disabled():
        print(f"\nintake of a returning customer: {keys} keys beside the text typed")
    assert keys < KEYS_MOST


async def test_the_car_whose_plate_found_the_customer_is_the_one_offered(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f2")
        await say(pilot, "cov", "")
        assert app.screen.query_one("#vehicle", Field).text == "COV 24"


async def test_the_sure_date_is_promised_with_one_key(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2", "f4")
        assert "Choose the jobs first" in seen(app)
        await say(pilot, "lark", "", *[""] * 9, "contact")
        await press(pilot, "f4")
        promised = app.screen.query_one("#promised", Field)
        sure = price_and_promise(told.shop, Question(("points",), told.vehicles["LRK 120"], "", "")).sure
        assert sure is not None
        assert promised.text == sure.isoformat()
        assert "as good as certain" in seen(app)


async def test_jobs_that_cannot_be_priced_say_so_and_stop_nobody(told: Story) -> None:
    answer = price_and_promise(told.shop, Question(("no such job",), None, "", "rubbish"))
    assert [kind for _text, kind in answer.lines] == ["bad"]
    assert price_and_promise(told.shop, Question((), None, "", "")).lines == ()


async def test_due_at_this_odometer_is_said_while_it_is_typed(told: Story) -> None:
    from tests.stations.test_carried_over import _owe

    _ = told.shop.engine
    _owe(told, told.task("ben", "brakes:adjust"))
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2")
        await say(pilot, "brw", "")
        assert "due at 61,200 mi" in seen(app)
        await write(pilot, "61200")
        assert "Brakes: adjust again, due now" in seen(app)
        assert "J00005, Tue 3 Nov 2026, 61,004 mi: Wiper blades" in seen(app)


async def test_a_card_opened_in_the_last_moment_is_not_opened_twice(told: Story) -> None:
    """The program ends between the card and the form that is thrown away: saved again, it is the same card."""
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2")
        await say(pilot, "lark", "lrk", "48 300", "Runs rough")
        form = app.screen
        assert isinstance(form, NewCardScreen)
        op = form._draft.op
        told.shop.do(
            OpenCard(told.vehicles["LRK 120"], words="Runs rough", odometer=48_300),
            by=told.people["Dora"],
            op=op,
        )
    again = told.app()
    async with again.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "f2", "f9")
        assert again.screen.query_one("#words", Field).text == "Runs rough"
        await press(pilot, "f2", "f2")
        assert "Card J00006 opened." in seen(again)
    assert told.shop.fetch("SELECT COUNT(*) FROM card") == [(6,)]


HOLDS = """
import sys
from shopcli.screens.kept_forms import FormKeeper, KeptForm
keeper = FormKeeper("the shop")
keeper.keep(KeptForm("abc", 1, "Ada Lark", {"texts": {"customer": "Ada Lark"}}))
print("kept", flush=True)
sys.stdin.read()
"""


def test_a_form_belongs_to_one_terminal_until_that_ends_however_it_ends() -> None:
    other = subprocess.Popen(
        [sys.executable, "-c", HOLDS], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert other.stdout is not None
    assert other.stdout.readline() == "kept\n"
    keeper = FormKeeper("the shop")
    assert keeper.kept() == ()
    assert keeper.take_up("abc") is None
    other.kill()
    other.wait()
    assert [form.name for form in keeper.kept()] == ["Ada Lark"]
    assert FormKeeper("another shop").kept() == ()
    form = keeper.take_up("abc")
    assert form is not None
    assert form.holds["texts"] == {"customer": "Ada Lark"}
    keeper.throw_away("abc")
    assert keeper.kept() == ()


def test_what_cannot_be_read_or_written_stops_nobody(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder")
    monkeypatch.setenv("XDG_STATE_HOME", str(blocked))
    keeper = FormKeeper("the shop")
    keeper.keep(KeptForm("abc", 1, "Ada Lark"))
    assert keeper.kept() == ()
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    keeper.keep(KeptForm("abc", 1, "Ada Lark"))
    keeper.release("abc")
    file = next(tmp_path.glob("**/form-*.json"))
    assert file.stat().st_mode & 0o077 == 0, "it holds names and telephone numbers"
    file.write_text("{half")
    assert keeper.kept() == ()


def test_a_draft_comes_back_as_it_was_kept() -> None:
    from shopcli.screens.desk.draft import Decision

    draft = Draft(7, None, new_vehicle=True, sheet="x", jobs=("oil",), texts={"words": "[b]"}, op="abc")
    draft.decided, draft.written = {"owed:5": Decision("declined", "no", "Ada")}, {"owed:5"}
    assert Draft.from_kept("abc", draft.to_kept()) == draft
    card = OpenCard(1)
    assert draft.op_of(card) == "abc"


@SIZES
def test_intake(told: Story, snap_compare, size: tuple[int, int]) -> None:  # type: ignore[no-untyped-def]
    FormKeeper(str(told.shop.place.file)).keep(
        KeptForm("abc", told.shop.at(), "Ada Lark, LRK 120", Draft(customer_id=1, op="abc").to_kept())
    )

    async def stand(pilot: Pilot[None]) -> None:
        await press(pilot, "f2")
        await say(pilot, "brw", "")
        for key, text in FILLED.items():
            pilot.app.screen.query_one(f"#{key}", Field).input.value = text
        pilot.app.screen.query_one("#jobs", Field).input.focus()
        await settle(pilot)
        await say(pilot, "brak")
        await still(pilot)

    assert snap_compare(told.app(), terminal_size=size, run_before=stand)
