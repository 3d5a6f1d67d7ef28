"""The command that changes a customer."""

from argparse import Namespace

from shopcli.cli.common import act, shop_of
from shopcli.errors import BadInput
from shopcli.shop.people_commands import ChangeCustomer
from shopcli.shop.seen import over
from shopcli.store.reads.customer_data import chosen
from shopcli.store.reads.customers import customer_entry

FIELDS = ("name", "phone", "email", "address", "city", "post_code", "country", "vat_number")


def change(args: Namespace) -> int:
    """Change what is named of a customer; the rest stays."""
    told = {name: getattr(args, name) for name in FIELDS if getattr(args, name) is not None}
    if not told:
        raise BadInput("nothing is to be changed", hint="Name what: --phone, --address and so on.")
    if "address" in told:
        told["address"] = "\n".join(line.strip() for line in told["address"].split(";"))
    shop = shop_of(args)
    entry = customer_entry(shop, chosen(shop, args.customer))
    now = {name: getattr(entry, name) for name in FIELDS}
    act(args, over(entry, ChangeCustomer(entry.id, entry.version, **{**now, **told})), shop)
    return 0
