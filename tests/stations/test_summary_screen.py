"""The summary on the screen: read, saved, copied, paid; never written over, never claimed to be copied."""

from pathlib import Path

import pytest
from textual.pilot import Pilot

from shopcli.errors import BadInput, StoreTrouble
from shopcli.screens import summary
from shopcli.screens.dialogs import AskText
from shopcli.screens.summary import SummaryScreen, free_path, see_free, text_of, write_new
from shopcli.shop.commands import CloseCard
from shopcli.store.shop import Shop
from tests.papers.test_bench_sheet import read_pdf
from tests.stations.build import Story, press, seen, story, write


@pytest.fixture
def told(shop: Shop) -> Story:
    return story(shop)


@pytest.fixture(autouse=True)
def _papers_go_to(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(summary, "default_folder", lambda: tmp_path)


async def opened(pilot: Pilot[None]) -> None:
    await press(pilot, "f4")
    assert isinstance(pilot.app.screen, SummaryScreen)


async def test_the_summary_is_shown_whole_at_80_columns(told: Story) -> None:
    app = told.app()
    whole = text_of(told.shop, told.cards["ada"])
    read: list[str] = []
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await opened(pilot)
        assert f"Summary J00001  lines 1 to 22 of {whole.count(chr(10))}" in seen(app)
        for _ in range(5):
            read += [line.rstrip() for line in seen(app).split("\n")]
            await press(pilot, "pagedown")
    assert {line.rstrip() for line in whole.split("\n") if line.strip()} <= set(read)


async def test_text_and_page_are_saved_where_it_says(told: Story, tmp_path: Path) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await opened(pilot)
        await press(pilot, "f2")
        assert isinstance(app.screen, AskText)
        await press(pilot, "enter")
        assert "Saved:" in seen(app)
        await press(pilot, "f3", "enter", "f2", "enter", "d", "enter")
    text = (tmp_path / "J00001-summary.txt").read_text(encoding="utf-8")
    assert text == text_of(told.shop, told.cards["ada"])
    assert (tmp_path / "J00001-summary.html").read_text(encoding="utf-8").startswith("<!")
    assert "J00001" in read_pdf((tmp_path / "J00001-summary.pdf").read_bytes())[1]
    assert (tmp_path / "J00001-summary-2.txt").read_text(encoding="utf-8") == text


async def test_a_name_that_is_taken_or_nowhere_stays_in_the_field(told: Story, tmp_path: Path) -> None:
    (tmp_path / "there.txt").write_text("mine", encoding="utf-8")
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await opened(pilot)
        await press(pilot, "f2")
        for name, words in (
            (str(tmp_path / "there.txt"), "that name is taken"),
            (str(tmp_path / "nowhere" / "x.txt"), "there is no such folder"),
        ):
            await write(pilot, name)
            await press(pilot, "enter")
            assert words in seen(app)
    assert (tmp_path / "there.txt").read_text(encoding="utf-8") == "mine"


async def test_copy_says_what_it_did_and_no_more(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await opened(pilot)
        await press(pilot, "f4")
        assert app.clipboard == text_of(told.shop, told.cards["ada"])
        assert "Sent to the terminal clipboard." in seen(app)


async def test_the_money_is_taken_after_the_invoice_as_a_payment(told: Story) -> None:
    told.do(CloseCard(told.cards["hallam"]), by="Olive")
    app = told.app()
    async with app.run_test(size=(120, 60), notifications=True) as pilot:
        app.push_screen(SummaryScreen(told.cards["hallam"]))
        await press(pilot, "p")
        await write(pilot, "100")
        assert "£100.00" in seen(app)
        await press(pilot, "enter")
        await write(pilot, "cash")
        await press(pilot, "enter")
        assert "Payment of 100.00 taken." in seen(app)
    rows = told.shop.fetch("SELECT kind, amount_minor FROM payment ORDER BY id")
    assert rows == [("deposit", 5_000), ("payment", 10_000)]


async def test_esc_goes_back(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await opened(pilot)
        await press(pilot, "escape")
        assert not isinstance(app.screen, SummaryScreen)


async def test_a_card_that_is_not_there_is_told(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        app.push_screen(SummaryScreen(999))
        await press(pilot, "f2")
        assert "there is no card 999" in seen(app)
        assert isinstance(app.screen, SummaryScreen)


def test_file_names_hold_nothing_of_a_number_that_a_disk_could_misread(tmp_path: Path) -> None:
    assert free_path(tmp_path, "../J 1/é", ".txt").name == "J-1-summary.txt"
    assert free_path(tmp_path, "///", ".txt").name == "card-summary.txt"


@pytest.mark.parametrize("text", ["\0", "x" * 5000, "/nowhere/at/all.txt", "~nobody-here/x"])
def test_what_is_no_file_name_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        see_free(text)


def test_what_cannot_be_written_is_told_with_its_path(tmp_path: Path) -> None:
    with pytest.raises(StoreTrouble, match="cannot be written"):
        write_new(tmp_path, "x")
    path = write_new(tmp_path / "a.txt", "one\ntwo")
    with pytest.raises(StoreTrouble):
        write_new(path, "other")
    assert path.read_bytes() == b"one\ntwo"
