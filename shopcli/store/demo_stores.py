"""What happens in the stores of the invented shop: parts counted, ordered, taken in and sent back, beside the cards."""

import tomllib
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from shopcli.errors import BadInput, NotFound, ShopError
from shopcli.shop.buying_commands import (
    AddToOrder,
    DraftOrder,
    GoodsIn,
    NotComing,
    SendBack,
    SendOldUnit,
    SendOrder,
)
from shopcli.shop.stock_commands import AddSupplier, CountStock
from shopcli.store.demo_days import Days
from shopcli.store.demo_story import Line, milli, minor, read_line

if TYPE_CHECKING:
    from shopcli.store.demo_player import Player

DRAFTED = "SELECT id FROM purchase_order WHERE supplier_id = ? AND state = 'drafted' ORDER BY id"
COMING = """
SELECT n.id FROM order_line n JOIN purchase_order o ON o.id = n.order_id
WHERE o.supplier_id = ? AND n.part_id = ? AND o.state IN ('sent', 'part in') AND n.closed_for = ''
AND n.in_milli < n.qty_milli ORDER BY n.id"""
FITTED = """
SELECT l.id FROM card_part l JOIN card c ON c.id = l.card_id JOIN vehicle v ON v.id = c.vehicle_id
WHERE v.registration = ? AND l.description LIKE ? AND l.state = 'fitted' AND l.surcharge_minor > 0 ORDER BY l.id"""
Verb = Callable[["Player", Line], None]


def read_stores(file: Path, days: Days) -> tuple[Line, ...]:
    """Return what happens in the stores, as its file tells it.

    Raises
    ------
    BadInput
        When a line cannot be read, or its verb is unknown.
    """
    told = tomllib.loads(file.read_text(encoding="utf-8"))["told"]
    lines = tuple(read_line(text.strip(), days) for text in told.splitlines() if text.strip())
    unknown = next((line for line in lines if line.verb not in VERBS), None)
    if unknown is not None:
        raise BadInput(f"stores: '{unknown.verb}' is unknown", hint=", ".join(sorted(VERBS)))
    return lines


def supplier_of(row: Mapping[str, str]) -> AddSupplier:
    """Return a supplier as the table has it."""
    return AddSupplier(
        row["name"], row["phone"], row["email"], row["account"], row["note"], int(row["days"] or 0)
    )


def put_on_list(player: "Player", lines: tuple[Line, ...]) -> None:
    """Put everything on the list for its instant; it is played among the cards."""
    for line in lines:
        player.at(line.at, partial(_play, player, line))


def _play(player: "Player", line: Line) -> None:
    try:
        VERBS[line.verb](player, line)
    except ShopError as error:
        raise BadInput(f"stores, '{line.text}': {error.message}", hint=error.hint) from error


def _id(player: "Player", sql: str, params: tuple[object, ...], what: str) -> int:
    rows = player.run.fetch(sql, params)
    if not rows:
        raise NotFound(f"there is no {what}")
    return int(rows[0][0])


def _supplier(player: "Player", line: Line) -> int:
    return _id(player, "SELECT id FROM supplier WHERE name = ?", (line.part(0),), f"supplier {line.part(0)}")


def counts(player: "Player", line: Line) -> None:
    """Write down a count."""
    part = player.cast.parts[line.part(0)]
    player.do(CountStock(((part, milli(line.part(1))),)), line.who, line.at)


def puts(player: "Player", line: Line) -> None:
    """Put a part on a supplier's drafted order."""
    command = AddToOrder(_supplier(player, line), player.cast.parts[line.part(1)], milli(line.part(2)))
    player.do(command, line.who, line.at)


def drafts(player: "Player", line: Line) -> None:
    """Put all that is to be ordered from a supplier on an order."""
    player.do(DraftOrder(_supplier(player, line)), line.who, line.at)


def sends(player: "Player", line: Line) -> None:
    """Say that the supplier's drafted order went out."""
    order = _id(player, DRAFTED, (_supplier(player, line),), "drafted order")
    player.do(SendOrder(order), line.who, line.at)


def _coming(player: "Player", line: Line) -> int:
    return _id(
        player, COMING, (_supplier(player, line), player.cast.parts[line.part(1)]), "such part to come"
    )


def takes(player: "Player", line: Line) -> None:
    """Take goods in."""
    cost = minor(line.part(3)) if line.part(3) else None
    player.do(GoodsIn(_coming(player, line), milli(line.part(2)), cost), line.who, line.at)


def misses(player: "Player", line: Line) -> None:
    """Say that the rest is not coming."""
    player.do(NotComing(_coming(player, line), line.part(2)), line.who, line.at)


def returns(player: "Player", line: Line) -> None:
    """Send a part back to its supplier."""
    part, credit = player.cast.parts[line.part(0)], minor(line.part(3) or "0")
    player.do(SendBack(part, milli(line.part(1)), line.part(2), credit), line.who, line.at)


def gives_back(player: "Player", line: Line) -> None:
    """Send the old unit of an exchange to its supplier."""
    unit = _id(player, FITTED, (line.part(0), f"{line.part(1)}%"), "exchange unit on that car")
    player.do(SendOldUnit(unit), line.who, line.at)


VERBS: Mapping[str, Verb] = {
    "counts": counts,
    "puts": puts,
    "drafts": drafts,
    "sends": sends,
    "takes": takes,
    "misses": misses,
    "returns": returns,
    "gives_back": gives_back,
}
