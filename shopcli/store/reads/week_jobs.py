"""What the templates of the week are called and which system each is for, without the library where it is not there yet."""

from collections.abc import Iterable, Mapping
from pathlib import Path

from shopcli.store.shop import Shop
from shopcli.worklists.heads import NO_SYSTEM, Head, heads

NO_TEMPLATE = "no template"
TITLE = "SELECT title FROM card_template WHERE template = ? ORDER BY id DESC LIMIT 1"


def jobs(shop: Shop, names: Iterable[str]) -> Mapping[str, Head]:
    """Return title and system by template; one that is gone is called as on the last card that had it."""
    wanted = tuple(dict.fromkeys(names))
    known = shop.__dict__.get("files")
    if known is not None:
        there = known.templates
        found = {
            name: Head(one.title, one.system, one.service, one.include)
            for name in wanted
            if (one := there.get(name)) is not None
        }
    else:
        own = shop.settings.templates_folder
        found = heads(wanted, Path(own).expanduser() if own else None)
    return {name: found.get(name) or _gone(shop, name) for name in wanted}


def _gone(shop: Shop, name: str) -> Head:
    rows = shop.fetch(TITLE, (name,)) if name else []
    return Head(rows[0][0] if rows else name or NO_TEMPLATE, NO_SYSTEM)
