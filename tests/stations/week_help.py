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
