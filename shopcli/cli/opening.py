"""Opening the shop and finding the person: all that the application and the lists need, and nothing heavier."""

import os

from shopcli.errors import NotFound
from shopcli.shop.listed import PersonView
from shopcli.store.reads import people
from shopcli.store.shop import Shop, open_shop

TYPE_CHECKING = False
if TYPE_CHECKING:
    from argparse import Namespace


BY_ENVIRONMENT = "SHOPCLI_BY"


def shop_of(args: "Namespace") -> Shop:
    """Open the shop the options name."""
    return open_shop(getattr(args, "db", None), settings_file=getattr(args, "settings", None))


def who(shop: Shop, args: "Namespace") -> PersonView:
    """Return who acts: the option, the environment, or the first owner.

    Raises
    ------
    NotFound
        When the name is nobody's, or nobody is named and there is no owner.
    """
    name = getattr(args, "by", None) or os.environ.get(BY_ENVIRONMENT, "")
    if name:
        return people.person(shop, name)
    for person in people.people(shop):
        if person.role == "owner":
            return person
    raise NotFound("nobody is named to act", hint="Give --by NAME.")


def signed_in(shop: Shop, args: "Namespace") -> PersonView:
    """Return who acts, once they proved it where they have a PIN; what proved it is kept in ``args.proved``.

    Raises
    ------
    NotFound
        As `who` does.
    Refused
        When the PIN is wrong, or locked.
    """
    person = who(shop, args)
    if getattr(args, "proved", None) is None:
        args.proved = ""
        if people.has_pin(shop, person.id):
            from shopcli.cli.pin import prove

            args.proved = prove(shop, person)
    return person
