"""Commands about a customer's own data: show all of it, give it to them as a file, erase who they are."""

import json
import sys
from argparse import Namespace
from pathlib import Path
from typing import Any

from shopcli.cli.common import act, clean, shop_of
from shopcli.errors import BadInput, Refused
from shopcli.shop.erasing_commands import EraseCustomer
from shopcli.store.reads.customer_data import Held, chosen, customer_data
from shopcli.store.shop import Shop
from shopcli.store.trouble import told

MOMENT = "_at"


def show(args: Namespace) -> int:
    """Show everything held of a customer, or write it into a file: as text, or as JSON."""
    shop = shop_of(args)
    held = customer_data(shop, chosen(shop, args.customer))
    as_json = args.json or (args.out or "").casefold().endswith(".json")
    text = _as_json(held) if as_json else _as_text(shop, held)
    if not args.out:
        sys.stdout.write(text if as_json else clean(text) + "\n")
        return 0
    with told():
        try:
            with Path(args.out).expanduser().open("x", encoding="utf-8") as file:
                file.write(text)
        except FileExistsError:
            raise Refused(f"{args.out} is there already", hint="Name a new file.") from None
    print(clean(f"Written: {args.out}, {sum(len(part.rows) for part in held)} rows."))
    return 0


def _as_json(held: tuple[Held, ...]) -> str:
    return json.dumps({part.name: part.rows for part in held}, ensure_ascii=False, indent=1) + "\n"


def _as_text(shop: Shop, held: tuple[Held, ...]) -> str:
    lines: list[str] = []
    for part in held:
        lines += [f"{part.name} ({len(part.rows)})", ""]
        for row in part.rows:
            lines += [
                f"  {name}: {_told(shop, name, value)}"
                for name, value in row.items()
                if value not in ("", None)
            ]
            lines.append("")
    return "\n".join(lines)


def _told(shop: Shop, name: str, value: Any) -> str:
    if (name == "at" or name.endswith(MOMENT)) and isinstance(value, int):
        return f"{shop.local(value):%Y-%m-%d %H:%M}"
    return str(value).replace("\n", "\n    ")


def erase(args: Namespace) -> int:
    """Erase who a customer is, for good."""
    shop = shop_of(args)
    key = chosen(shop, args.customer)
    if not args.for_good:
        raise BadInput(
            "what is erased cannot be brought back",
            hint="Look first: shopcli customer-data; then say --for-good.",
        )
    act(args, EraseCustomer(key, args.reason), shop)
    return 0


def wipe(args: Namespace) -> int:
    """Overwrite what lies free in the records."""
    from shopcli.store.wiping import wipe as wipe_now

    for line in wipe_now(shop_of(args)):
        print(clean(line))
    return 0
