"""The real application with a clock that a test sets: ``timed_app.py DATABASE SETTINGS CLOCKFILE PERSON``."""

import sys
from datetime import datetime
from pathlib import Path

from shopcli.screens.app import ShopApp
from shopcli.store.reads.people import person
from shopcli.store.shop import open_shop


def main() -> None:
    """Run until the person leaves."""
    database, settings, clock, who = sys.argv[1:5]
    shop = open_shop(
        database,
        settings_file=settings,
        now=lambda: datetime.fromisoformat(Path(clock).read_text(encoding="utf-8")),
    )
    ShopApp(shop, person(shop, who)).run()
    shop.close()


if __name__ == "__main__":
    main()
