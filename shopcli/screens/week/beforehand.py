"""What the week wants loaded, loaded behind the first screen once all else is there: nobody waits for it on Friday."""

import importlib

from shopcli.shop.workdays import closed_days
from shopcli.store.reads.week_bounds import day_of
from shopcli.store.shop import Shop

# The first key of all asks about forgotten clocks, whatever it is.
MODULES = ("shopcli.screens.forgotten", "shopcli.screens.week.station", "shopcli.screens.week.plot")


def load(shop: Shop) -> None:
    """Load the station, what draws its pictures, and the holidays of the shop; meant for a thread."""
    for name in MODULES:
        importlib.import_module(name)
    closed_days(shop.settings, day_of(shop, shop.at()))
