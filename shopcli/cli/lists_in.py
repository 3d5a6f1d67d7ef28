"""Lists of another program in the shell: customers, vehicles and parts, looked at first."""

from argparse import Namespace
from collections.abc import Iterable

from shopcli.cli.common import clean, shop_of, signed_in
from shopcli.cli.number_tables import tell, text_of
from shopcli.errors import BadInput
from shopcli.store.lists.taking import take_list


def list_in(args: Namespace) -> int:
    """Take a list in, or say what would come of it."""
    shop = shop_of(args)
    mapping = _mapping(args.column)
    done = take_list(
        shop, args.kind, text_of(args.file), mapping, by=signed_in(shop, args).id, write=args.write
    )
    return tell(done, "the shop", kept=args.write, json=args.json)


def _mapping(pairs: Iterable[str]) -> dict[str, str]:
    mapping = {}
    for pair in pairs:
        ours, given, theirs = pair.partition("=")
        if not given or not ours.strip() or not theirs.strip():
            raise BadInput(
                f"'{clean(pair)[:60]}' names no column", hint="Write it like --column phone=Telephone."
            )
        mapping[ours.strip()] = theirs.strip()
    return mapping
