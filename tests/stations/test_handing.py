"""From the last hindrance to the car on the road: waivers in sight, papers written, money taken, the car handed over."""

from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from shopcli.screens.desk.closing import ClosingScreen
from shopcli.screens.desk.handing import HandingScreen
from shopcli.screens.dialogs import AskKey, AskText
from shopcli.screens.summary import SummaryScreen
from shopcli.shop.commands import ChangeCard, CloseCard, Waive
from shopcli.store.reads import bench
from shopcli.store.shop import Shop
from tests.stations.build import HOSTILE, Story, press, seen, settle, still, story, until, write
from tests.stations.test_carried_over import _owe

SIZES = pytest.mark.parametrize(
    "size",
    [(80, 24), (120, 40), pytest.param((200, 50), marks=pytest.mark.long)],
    ids=["80x24", "120x40", "200x50"],
)


@pytest.fixture
def told(shop: Shop, tmp_path: Path) -> Story:
    shop.settings = shop.settings._replace(papers_folder=str(tmp_path / "papers"))
    told = story(shop)
    card = bench.card(shop, told.cards["hallam"])
    told.do(ChangeCard(card.id, card.version, car_keys="two", left_with="a rug"), "Dora")
    return told


async def closed(pilot: Pilot[None], told: Story) -> HandingScreen:
    """Close Clara's card at the screen, as the desk does."""
    await still(pilot)
    await write(pilot, "J00004")
    await press(pilot, "f3", "f3", "y")
    screen = pilot.app.screen
    assert isinstance(screen, HandingScreen)
    assert told.state("hallam") == "closed"
    return screen


async def test_papers_money_and_the_car(told: Story, tmp_path: Path) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await closed(pilot, told)
        picture = seen(app)
        due = told.shop.fetch("SELECT due_minor FROM invoice ORDER BY id DESC LIMIT 1")[0][0]
        assert f"£{due / 100:.2f} is due on invoice" in picture
        assert "not fetched yet" in picture
        assert "keys: two" in picture
        app.clear_notifications()
        await press(pilot, "f2")
        assert "J00004-invoice.pdf, J00004-invoice.txt, J00004-summary.pdf" in seen(app)
        assert sorted(p.name for p in (tmp_path / "papers").iterdir()) == [
            "J00004-invoice.pdf",
            "J00004-invoice.txt",
            "J00004-summary.pdf",
            "J00004-summary.txt",
        ]
        await press(pilot, "f9")
        assert isinstance(app.screen, AskText)
        await write(pilot, "20")
        await press(pilot, "enter", "enter")
        assert f"£{due / 100 - 20:.2f} is due on invoice" in seen(app)
        await press(pilot, "p", "enter", "down", "enter")
        assert "nothing is due on invoice" in seen(app)
        await press(pilot, "f3")
        assert "nothing is due on invoice" in seen(app)
        await write(pilot, "her brother [/oops]")
        await press(pilot, "enter")
        assert "handed over to her brother [/oops], Wed 25 Nov" in seen(app)
        await press(pilot, "f3")
        assert "before" in seen(app)
        await press(pilot, "y")
        assert isinstance(app.screen, SummaryScreen)
    paid = told.shop.fetch("SELECT kind, amount_minor, method FROM payment ORDER BY id")
    assert paid == [("deposit", 5_000, "cash"), ("payment", 2_000, "cash"), ("payment", due - 2_000, "card")]


async def test_a_credit_note_is_written_at_the_counter(told: Story, tmp_path: Path) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await closed(pilot, told)
        await press(pilot, "f12", "down", "enter")
        await write(pilot, "10")
        await press(pilot, "enter")
        await write(pilot, "it squeaks")
        await press(pilot, "enter", "enter")
        assert "£10.00 without VAT: it squeaks" in seen(app)
        assert told.shop.fetch("SELECT id FROM credit_note") == [], "Enter alone writes none"
        await press(pilot, "y")
        assert told.shop.fetch("SELECT net_minor, reason FROM credit_note") == [(1_000, "it squeaks")]
        await until(pilot, lambda: "J00004-credit-note-1.pdf" in seen(app))
        assert "credit note £12.00, Wed 25 Nov" in seen(app)
        assert (tmp_path / "papers" / "J00004-credit-note-1.pdf").stat().st_size > 1_000
        app.clear_notifications()
        await press(pilot, "f12", "enter")
        await write(pilot, "all of it")
        await press(pilot, "enter", "n")
        assert len(told.shop.fetch("SELECT id FROM credit_note")) == 1, "n writes none"
        await press(pilot, "f12", "enter")
        await write(pilot, "all of it")
        await press(pilot, "enter", "y")
        assert "in the customer's favour" in seen(app), "the deposit is theirs again"
    (gross,) = told.shop.fetch("SELECT SUM(gross_minor) FROM credit_note")[0]
    assert gross == told.shop.fetch("SELECT gross_minor FROM invoice ORDER BY id DESC LIMIT 1")[0][0]


async def test_what_is_due_next_is_told_and_stands_on_the_summary(told: Story) -> None:
    _ = told.shop.engine
    _owe(told, told.task("ben", "brakes:adjust"))
    told.shop.fetch("SELECT 1")
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        app.push_screen(HandingScreen(told.cards["wipers"]))
        await settle(pilot)
        assert "Brakes: adjust again: at 61,200 mi" in seen(app)
        assert "soon: exhaust, blowing at the joint" in " ".join(seen(app).split())
        await press(pilot, "f4")
        assert "Brakes: adjust again" in app.screen._text  # type: ignore[attr-defined]


async def test_esc_and_wrong_keys_take_nothing_and_hand_nothing_over(told: Story) -> None:
    told.do(CloseCard(told.cards["hallam"]), "Dora")
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.push_screen(HandingScreen(told.cards["hallam"]))
        await settle(pilot)
        await press(pilot, "d", "space", "enter", "f9", "escape", "f9", "enter", "escape", "h", "escape")
        assert isinstance(app.screen, HandingScreen)
    assert told.shop.fetch("SELECT COUNT(*) FROM payment WHERE kind = 'payment'") == [(0,)]
    assert bench.card(told.shop, told.cards["hallam"]).handed is None


async def test_a_folder_that_cannot_be_written_is_said(told: Story, tmp_path: Path) -> None:
    (tmp_path / "papers").write_text("a file, no folder")
    told.do(CloseCard(told.cards["hallam"]), "Dora")
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        app.push_screen(HandingScreen(told.cards["hallam"]))
        await settle(pilot)
        await press(pilot, "f2")
        assert "cannot be made" in " ".join(seen(app).split())
        (tmp_path / "papers").unlink()
        app.clear_notifications()
        await press(pilot, "f2")
        assert "J00004-summary.pdf" in " ".join(seen(app).split())


async def test_what_was_set_aside_is_shown_with_its_reason_and_by_whom(told: Story) -> None:
    card = told.cards["ada"]
    found = next(h for h in bench.hindrances(told.shop, card) if h.key.startswith("finding"))
    told.do(Waive(card, found.key, "told, will bring a hose"), "Tom")
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.push_screen(ClosingScreen(card))
        await settle(pilot)
        picture = " ".join(seen(app).split())
        assert (
            "set aside: front left: brake hose perished: told, will bring a hose (Tom, 25 Nov 2026)"
            in picture
        )
        await press(pilot, "p")
        await write(pilot, "25")
        await press(pilot, "enter", "enter")
        assert "Deposit of 25.00 taken." in seen(app)


async def test_text_of_people_stays_text(told: Story) -> None:
    card = bench.card(told.shop, told.cards["hallam"])
    odd = ChangeCard(
        card.id, card.version, car_keys=HOSTILE[0][:90], left_with=HOSTILE[3][:200], damage=HOSTILE[1]
    )
    told.do(odd, "Dora")
    told.do(CloseCard(card.id), "Dora")
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.push_screen(HandingScreen(card.id))
        await settle(pilot)
        assert "[/oops]" in seen(app)


@SIZES
def test_hand_over(told: Story, snap_compare, size: tuple[int, int]) -> None:  # type: ignore[no-untyped-def]
    async def stand(pilot: Pilot[None]) -> None:
        await closed(pilot, told)
        pilot.app.clear_notifications()
        await settle(pilot)
        await still(pilot)

    assert snap_compare(told.app(), terminal_size=size, run_before=stand)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=lambda s: f"{s[0]}x{s[1]}")
def test_close_out(told: Story, snap_compare, size: tuple[int, int]) -> None:  # type: ignore[no-untyped-def]
    card = told.cards["ada"]
    found = next(h for h in bench.hindrances(told.shop, card) if h.key.startswith("finding"))
    told.do(Waive(card, found.key, "told, will bring a hose"), "Tom")

    async def stand(pilot: Pilot[None]) -> None:
        await still(pilot)
        pilot.app.push_screen(ClosingScreen(card))
        await still(pilot)

    assert snap_compare(told.app(), terminal_size=size, run_before=stand)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=lambda s: f"{s[0]}x{s[1]}")
def test_taking_the_money(told: Story, snap_compare, size: tuple[int, int]) -> None:  # type: ignore[no-untyped-def]
    async def stand(pilot: Pilot[None]) -> None:
        await closed(pilot, told)
        pilot.app.clear_notifications()
        await press(pilot, "f9")
        await still(pilot)

    assert snap_compare(told.app(), terminal_size=size, run_before=stand)


def test_more_than_is_due(told: Story, snap_compare) -> None:  # type: ignore[no-untyped-def]
    async def stand(pilot: Pilot[None]) -> None:
        await closed(pilot, told)
        pilot.app.clear_notifications()
        await press(pilot, "f9")
        await write(pilot, "500")
        await press(pilot, "enter")
        await still(pilot)

    assert snap_compare(told.app(), terminal_size=(80, 24), run_before=stand)


async def test_more_than_is_due_is_asked_about_and_a_slip_is_typed_again(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await closed(pilot, told)
        due = told.shop.fetch("SELECT due_minor FROM invoice ORDER BY id DESC LIMIT 1")[0][0]
        app.clear_notifications()
        await press(pilot, "f9")
        assert f"£{due / 100:.2f} is due on invoice" in seen(app)
        await write(pilot, f"{(due + 1_200) / 100:.2f}")
        await press(pilot, "enter")
        assert isinstance(app.screen, AskKey)
        assert "£12.00 more than is due. Is that right?" in " ".join(seen(app).split())
        await press(pilot, "enter", "x")  # neither is an answer
        assert isinstance(app.screen, AskKey)
        await press(pilot, "escape")
        assert isinstance(app.screen, AskText)
        await press(pilot, "enter", "y", "enter")
        assert "£12.00" not in seen(app)
        assert "12.00 change" in " ".join(seen(app).split())
        assert "nothing is due on invoice" in seen(app)
        # Nothing being due, there is no change; what is kept can be given back at the same key.
        await press(pilot, "f9")
        await write(pilot, "5")
        await press(pilot, "enter")
        assert "change given back" not in seen(app)
        await press(pilot, "y", "k", "enter")
        assert "£5.00 is in the customer's favour" in seen(app)
        await press(pilot, "f9", "g")
        await write(pilot, "wanted it in the hand")
        await press(pilot, "enter", "enter")
        assert "nothing is due on invoice" in seen(app)
    rows = told.shop.fetch("SELECT kind, amount_minor FROM payment ORDER BY id")
    assert rows == [("deposit", 5_000), ("payment", due), ("payment", 500), ("refund", -500)]


async def test_a_deposit_is_asked_for_under_what_the_card_comes_to_so_far(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await still(pilot)
        await write(pilot, "J00004")
        await press(pilot, "f3", "f9")
        assert isinstance(app.screen, AskText)
        picture = " ".join(seen(app).split())
        assert "£50.00 paid: £" in picture
        assert "as it stands" in picture
        assert app.screen.query_one("Input").value == ""  # type: ignore[attr-defined]


async def test_what_is_offered_gives_way_to_what_is_typed(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await closed(pilot, told)
        await press(pilot, "f9")
        field = app.focused
        assert isinstance(field, Input)
        assert field.value
        await press(pilot, "5", "0")
        assert field.value == "50", "nothing is tacked on to the sum that was offered"
