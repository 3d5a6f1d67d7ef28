"""What somebody took back today and may want done after all: the last act taken back, as long as nothing new was done."""

import json
from dataclasses import replace
from typing import Any

from shopcli.shop import asked
from shopcli.shop.card_commands import ChangeCard
from shopcli.shop.command import Command
from shopcli.shop.hours import midnight
from shopcli.shop.inverses import short
from shopcli.shop.lately import AgainView
from shopcli.shop.touched import from_text
from shopcli.store.shop import Shop

MINE = """
SELECT j.id, j.act, j.asked, j.undid, j.answer, j.touched, j.at FROM journal j
WHERE j.person_id = ? AND j.at >= ? AND (j.card_id = ? OR (j.card_id IS NULL AND j.act IN ('EnterSpec', 'TakeBack')))
ORDER BY j.id"""


def to_do_again(shop: Shop, person_id: int, card_id: int) -> AgainView | None:
    """Return the act somebody took back last on a card today, None once they did anything else since.

    An act done again uncovers the one taken back before it, as often as several were taken back.
    """
    today = midnight(shop.local(shop.at()).date(), shop.settings.tz())
    by_id: dict[int, tuple[Any, ...]] = {}
    taken_back: list[tuple[Any, ...]] = []
    for row in shop.fetch(MINE, (person_id, today, card_id)):
        key, act, wanted, undid = row[:4]
        by_id[key] = row
        if undid is not None:
            taken_back += [by_id[undid]] if undid in by_id else []
        elif taken_back and (act, wanted) == taken_back[-1][1:3]:
            taken_back.pop()
        else:
            taken_back.clear()
    return _again(shop, taken_back[-1]) if taken_back else None


def _again(shop: Shop, row: tuple[Any, ...]) -> AgainView | None:
    _key, act, wanted, _undid, answer, touched, at = row
    command = asked.from_text(act, wanted)
    if isinstance(command, ChangeCard):
        command = _as_it_is_now(shop, command, touched)
    if command is None:
        return None
    return AgainView(command, tuple(json.loads(answer)) or (short(act),), shop.local(at))


def _as_it_is_now(shop: Shop, command: ChangeCard, touched: str) -> Command | None:
    """Return a change of a card for the card as it stands, None when somebody else changed the same since."""
    for row in from_text(touched):
        if row.table != "card" or row.was is None:
            continue
        names = [name for name in row.was if hasattr(command, name)]
        if not names:
            continue
        now = shop.fetch(f"SELECT {', '.join(names)}, version FROM card WHERE id = ?", (command.card_id,))
        if not now or list(now[0][:-1]) != [row.was[name] for name in names]:
            return None
        return replace(command, version=now[0][-1])
    return None
