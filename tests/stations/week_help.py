"""What the tests of the week begin with, and how they read its figures off the screen."""

from shopcli.screens.app import ShopApp
from shopcli.shop.commands import CloseCard
from shopcli.store.shop import Shop
from tests.stations.build import TEXT, Story, story


def told_week(shop: Shop) -> Story:
    """Fill an empty shop with the story, a card of it closed in the week that is looked at."""
    filled = story(shop)
    filled.do(CloseCard(filled.cards["hallam"]), by="Olive")
    return filled


def row(picture: str, begins: str) -> list[str]:
    """Return the words of the line that begins so, after that."""
    line = next(line for line in picture.split("On Monday")[1].split("\n") if begins in line)
    return line.split(begins, 1)[1].split()


def height(app: ShopApp, begins: str) -> float:
    """Return how far down the screen the line stands that begins so, lines of nothing counted."""
    texts = TEXT.findall(app.export_screenshot())
    return next(float(y) for _x, y, text in texts if text.replace("&#160;", " ").strip().startswith(begins))


def slow_points(told: Story) -> None:
    """Close ten cards on which the points took twice their listed time."""
    from sqlmodel import Session, select

    from shopcli.shop.commands import OpenCard
    from shopcli.shop.records import Card, ClockEntry, Task
    from shopcli.shop.week_keeping import reckon_anew

    ((car,),) = told.shop.fetch("SELECT vehicle_id FROM card WHERE id = ?", (told.cards["ada"],))
    cards = [told.do(OpenCard(car, ("points",), odometer=48_300), by="Dora").id for _ in range(10)]
    at = told.shop.at() - 5 * 86_400
    with Session(told.shop.engine) as session:
        for nth, key in enumerate(cards):
            start = at
            for task in session.exec(select(Task).where(Task.card_id == key)):
                task.state, took = "done", task.minutes * (115 + nth)
                session.add(
                    ClockEntry(
                        person_id=told.people["Nell"],
                        card_id=key,
                        task_id=task.id,
                        started_at=start,
                        ended_at=start + took,
                    )
                )
                start += took
            card = session.get(Card, key)
            card.state, card.closed_at, card.closed_week = "closed", at, "2026-W47"
        session.flush()
        reckon_anew(session, told.shop.settings.zone, told.shop.settings.tz())
        session.commit()
