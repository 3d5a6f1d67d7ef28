"""Commands for who works here: take on, change, let go, take back, and their PINs."""

from argparse import Namespace

from shopcli.cli.common import act, clean
from shopcli.cli.opening import shop_of, signed_in
from shopcli.errors import NotFound
from shopcli.shop.people_commands import AddPerson, ChangePerson, PersonComesBack, PersonLeaves
from shopcli.shop.people_views import PersonKnown
from shopcli.shop.pin_commands import ClearPin, SetPin
from shopcli.shop.seen import over
from shopcli.store.reads.people import everybody, person
from shopcli.store.shop import Shop


def add(args: Namespace) -> int:
    """Take somebody on."""
    act(args, AddPerson(args.name, ", ".join(args.role) or "mechanic", args.units))
    return 0


def _known(shop: Shop, name: str) -> PersonKnown:
    """Return somebody by name, also who left."""
    wanted = name.strip().casefold()
    found = [one for one in everybody(shop) if one.name.casefold() == wanted]
    if found:
        return found[0]
    key = person(shop, name).id
    return next(one for one in everybody(shop) if one.id == key)


def change(args: Namespace) -> int:
    """Change somebody's name or roles."""
    shop = shop_of(args)
    known = _known(shop, args.person)
    role = ", ".join(args.role) or known.role
    act(args, over(known, ChangePerson(known.id, known.version, args.name or known.name, role)), shop)
    return 0


def leaves(args: Namespace) -> int:
    """Say that somebody no longer works here."""
    shop = shop_of(args)
    act(args, PersonLeaves(person(shop, args.person).id), shop)
    return 0


def comes_back(args: Namespace) -> int:
    """Say that somebody works here again."""
    shop = shop_of(args)
    known = _known(shop, args.person)
    if known.active:
        raise NotFound(f"{clean(known.name)} works here")
    act(args, PersonComesBack(known.id), shop)
    return 0


def set_pin(args: Namespace) -> int:
    """Give oneself or, as an owner, somebody else a PIN."""
    from shopcli.cli.pin import asked_twice

    shop = shop_of(args)
    known, by = person(shop, args.person), signed_in(shop, args)
    pin = asked_twice(known.name)
    act(args, SetPin(known.id, pin, args.proved if known.id == by.id else ""), shop)
    return 0


def clear_pin(args: Namespace) -> int:
    """Take a PIN away."""
    shop = shop_of(args)
    known, by = _known(shop, args.person), signed_in(shop, args)
    act(args, ClearPin(known.id, args.proved if known.id == by.id else ""), shop)
    return 0
