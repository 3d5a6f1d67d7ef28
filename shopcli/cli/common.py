"""What the commands share: opening the shop, finding the person, the card and the task, printing data."""

import json
import sys
from argparse import Namespace
from collections.abc import Sequence
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from shopcli.cli.opening import shop_of, signed_in, who
from shopcli.errors import BadInput, NotFound
from shopcli.shop.act import Done
from shopcli.shop.command import Command
from shopcli.shop.views import CardView, TaskView, VehicleView
from shopcli.store.reads import bench
from shopcli.store.shop import Shop


def act(args: Namespace, command: Command, shop: Shop | None = None) -> Done:
    """Do one thing as the person named, and say what came of it."""
    own = shop or shop_of(args)
    done = own.do(command, by=signed_in(own, args).id)
    for line in done.said:
        print(clean(line))
    return done


def card_of(shop: Shop, args: Namespace) -> CardView:
    """Return the card the command names."""
    return bench.card(shop, bench.card_id(shop, args.card))


def vehicle_known(shop: Shop, registration: str) -> VehicleView | None:
    """Return the vehicle of that registration, however its blanks and letters are typed; None when there is none."""
    from shopcli.store.reads.desk import find_vehicles

    wanted = " ".join(registration.upper().split())
    return next((v for v in find_vehicles(shop, wanted) if v.registration == wanted), None)


def vehicle_of(shop: Shop, registration: str) -> VehicleView:
    """Return the vehicle of that registration.

    Raises
    ------
    NotFound
        When there is none.
    """
    found = vehicle_known(shop, registration)
    if found is None:
        raise NotFound(f"there is no vehicle '{registration}'", hint="See: shopcli vehicles")
    return found


def task_id_of(card: CardView, wanted: str) -> int | None:
    """Return the id of the task meant, None where none was named."""
    return task_of(card, wanted).id if wanted else None


def task_of(card: CardView, wanted: str) -> TaskView:
    """Return the task meant by a number, or by the beginning of its title or key.

    Raises
    ------
    NotFound
        When none or more than one is meant.
    """
    text = wanted.strip().casefold()
    if text.isdigit():
        found = [t for t in card.tasks if t.position == int(text)]
    else:
        found = [t for t in card.tasks if t.task.key.casefold() == text] or [
            t
            for t in card.tasks
            if t.task.title.casefold().startswith(text)
            or t.task.key.casefold().split(":")[-1].startswith(text)
        ]
    if len(found) == 1:
        return found[0]
    if found:
        raise NotFound(
            f"'{wanted}' means more than one task",
            hint="; ".join(f"{t.position} {t.task.title}" for t in found),
        )
    raise NotFound(f"card {card.number} has no task '{wanted}'", hint=f"See: shopcli show {card.number}")


def minor(text: str, name: str) -> int:
    """Return an amount like ``400`` or ``399.50`` in minor units.

    Raises
    ------
    BadInput
        When it is not an amount of at most two decimals.
    """
    try:
        amount = Decimal(text.strip())
        scaled = amount * 100
        if amount.is_finite() and scaled == scaled.to_integral_value() and 0 <= amount < 10**9:
            return int(scaled)
    except ArithmeticError:
        pass
    raise BadInput(f"the {name} '{clean(text)[:30]}' is not an amount", hint="Write it like 400 or 399.50.")


def clean(text: str) -> str:
    """Return text fit for a terminal: nothing that drives it."""
    return "".join(c for c in text if c == "\n" or c.isprintable())


def _plain(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        data = {f.name: _plain(getattr(value, f.name)) for f in fields(value)}
        data.update({n: _plain(getattr(value, n)) for n in _extra(value)})
        return data
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        return {n: _plain(getattr(value, n)) for n in (*value._fields, *_extra(value))}
    if isinstance(value, dict):
        return {str(k): _plain(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(v) for v in value]
    if isinstance(value, Decimal):
        return format(value, "f")
    if isinstance(value, datetime | date):
        return value.isoformat()
    return value


def _extra(value: Any) -> tuple[str, ...]:
    return tuple(n for n, v in vars(type(value)).items() if isinstance(v, property) and not n.startswith("_"))


def print_json(value: Any) -> None:
    """Print views as JSON: sums as exact decimal text, times in ISO form."""
    json.dump(_plain(value), sys.stdout, ensure_ascii=False, indent=2)
    print()


def table(head: Sequence[str], rows: Sequence[Sequence[object]], right: Sequence[int] = ()) -> str:
    """Return rows as a plain table; columns in `right` align right."""
    cells = [[clean(str(c)).replace("\n", " ") for c in row] for row in [head, *rows]]
    widths = [max(len(row[i]) for row in cells) for i in range(len(head))]
    lines = []
    for row in cells:
        parts = [
            c.rjust(w) if i in right else c.ljust(w) for i, (c, w) in enumerate(zip(row, widths, strict=True))
        ]
        lines.append("  ".join(parts).rstrip())
    return "\n".join(lines)


__all__ = [
    "act",
    "card_of",
    "clean",
    "minor",
    "print_json",
    "shop_of",
    "signed_in",
    "table",
    "task_of",
    "vehicle_known",
    "vehicle_of",
    "who",
]
