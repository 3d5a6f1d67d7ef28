"""What earlier visits left pops up before a card is saved: one figure takes a thing on, another key writes down the no."""

import pytest
from textual.pilot import Pilot

from shopcli.screens.desk.carried import CarriedScreen
from shopcli.screens.desk.new_card import NewCardScreen
from shopcli.screens.desk.station import DeskScreen
from shopcli.shop.commands import AddFinding, FinishTask, SettleFinding
from shopcli.store.reads import bench, desk
from shopcli.store.shop import Shop
from tests.stations.build import HOSTILE, Story, press, seen, story, write

NEXT = "J00006"
SMALL = (80, 24)


@pytest.fixture
def told(shop: Shop) -> Story:
    """A shop where Ben Marrow's Brindle brings a blowing exhaust, a leaking hub and a brake check that is due."""
    told = story(shop)
    told.do(AddFinding(told.cards["ben"], "rear left", "hub leaks oil", "stop", wanted="brakes"))
    with shop.many() as run:
        run.fetch("SELECT 1")
    adjusted = told.task("ben", "brakes:adjust")
    told.shop.engine  # noqa: B018 - the mapper is loaded before the record is written below
    _owe(told, adjusted)
    return told


def _owe(told: Story, task: int) -> None:
    """Write a check promised for 61,200 miles, as a job of the shipped library would."""
    from sqlmodel import Session

    from shopcli.shop.records import Owed

    with Session(told.shop.engine) as session:
        session.add(
            Owed(
                vehicle_id=told.vehicles["BRW 16"], card_id=told.cards["ben"], task_id=task,
                title="Brakes: adjust again", before="distance", due_odometer=61_200, state="owed",
                promised_at=told.shop.at(),
            )
        )  # fmt: skip
        session.commit()


async def take_the_brindle(pilot: Pilot[None], odometer: str = "61 250") -> None:
    """Choose Ben Marrow, then his Brindle, and type the odometer."""
    await press(pilot, "f2")
    await write(pilot, "marrow")
    await press(pilot, "enter", "enter")
    await write(pilot, odometer)


def tasks(told: Story) -> dict[str, str]:
    view = bench.card(told.shop, bench.card_id(told.shop, NEXT))
    return {t.task.key.partition(":")[0]: t.task.title for t in view.tasks}


async def test_it_stands_there_before_the_card_is_saved(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await take_the_brindle(pilot)
        await press(pilot, "f2")
        assert isinstance(app.screen, CarriedScreen)
        picture = seen(app)
        for words in (
            "1  ◦ left     ⊠ stop: rear left: hub leaks oil",
            "Tom, Wed 25 Nov, J00002; wants the job brakes",
            "2  ◦ left     ! soon: exhaust: blowing at the joint",
            "takes: a gasket",
            "3  ◦ left     ! owed: Brakes: adjust again",
            "due at 61,200 mi",
        ):
            assert words in picture
        assert told.shop.fetch("SELECT COUNT(*) FROM card") == [(5,)]


async def test_one_figure_takes_a_thing_on(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await take_the_brindle(pilot)
        await press(pilot, "f2", "1", "3", "2", "2", "f2")
        assert isinstance(app.screen, DeskScreen)
    assert tasks(told) == {
        "brakes": "Adjust the brakes, all wheels",
        "finding": "Put right: rear left, hub leaks oil",
        "owed": "Brakes: adjust again",
    }
    assert [c.title for c in desk.carried(told.shop, told.vehicles["BRW 16"], 61_250)] == [
        "exhaust: blowing at the joint"
    ], "what was left is asked again"
    for task in bench.card(told.shop, bench.card_id(told.shop, NEXT)).tasks:
        told.do(FinishTask(task.id))
    assert [c.title for c in desk.carried(told.shop, told.vehicles["BRW 16"])] == [
        "exhaust: blowing at the joint"
    ]


async def test_a_no_is_written_down_with_who_said_it(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await take_the_brindle(pilot)
        await press(pilot, "f2", "down", "n")
        await write(pilot, "It blows since 1990")
        await press(pilot, "enter", "enter")
        assert "2  ⊘ declined ! soon" in seen(app)
        assert "Ben Marrow: It blows since 1990" in seen(app)
        await press(pilot, "down", "n")
        await write(pilot, "I do them myself")
        await press(pilot, "enter")
        await write(pilot, "his son, by phone")
        await press(pilot, "enter", "f2")
        assert isinstance(app.screen, DeskScreen)
    rows = told.shop.fetch("SELECT settled_for, declined_by FROM finding WHERE state = 'declined'")
    assert rows == [("It blows since 1990", "Ben Marrow")]
    waived = told.shop.fetch("SELECT settled_for FROM owed WHERE state = 'waived'")
    assert waived == [("his son, by phone: I do them myself",)]


async def test_esc_goes_back_to_the_form_and_keeps_what_was_decided(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await take_the_brindle(pilot)
        await press(pilot, "f2", "1", "escape")
        assert isinstance(app.screen, NewCardScreen)
        assert "✓ taken on ⊠ stop: rear left" in seen(app)
        assert told.shop.fetch("SELECT COUNT(*) FROM card") == [(5,)]
        await press(pilot, "f2")
        assert isinstance(app.screen, DeskScreen), "asked once is enough"
    assert "finding" in tasks(told)


async def test_f3_opens_it_at_any_time_and_what_is_not_due_says_so(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await press(pilot, "f2", "f3")
        assert "Choose a known vehicle first" in seen(app)
        await press(pilot, "escape")
        await take_the_brindle(pilot, "61 100")
        await press(pilot, "f3")
        assert "not due yet: at 61,200 mi" in seen(app).replace("\n", " ")
        await press(pilot, "l", "escape")
        await write(pilot, "61 300")
        await press(pilot, "f2")
        assert isinstance(app.screen, CarriedScreen), "the check fell due meanwhile"


async def test_what_another_terminal_settled_meanwhile_is_said_in_the_form(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await take_the_brindle(pilot)
        await press(pilot, "f2", "2")
        told.do(SettleFinding(_finding(told, "exhaust"), "done"), by="Olive")
        await press(pilot, "f2")
        assert isinstance(app.screen, NewCardScreen)
        assert "is done already" in seen(app)
        assert told.shop.fetch("SELECT COUNT(*) FROM card") == [(5,)]


async def test_text_of_people_stays_text(told: Story) -> None:
    for text in HOSTILE:
        told.do(AddFinding(told.cards["ben"], "roof", text[:300], "watch", text[:300]))
    app = told.app()
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await take_the_brindle(pilot)
        await press(pilot, "f2")
        assert isinstance(app.screen, CarriedScreen)
        assert "roof" in seen(app)


def _finding(told: Story, place: str) -> int:
    return int(str(told.shop.fetch("SELECT id FROM finding WHERE place = ?", (place,))[0][0]))


async def test_a_car_that_brings_nothing_is_not_asked_about(told: Story) -> None:
    app = told.app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "f2")
        await write(pilot, "oddy")
        await press(pilot, "enter", "enter", "f2", "f2")  # the odometer is asked about once
        assert isinstance(app.screen, DeskScreen)
