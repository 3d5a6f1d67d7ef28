"""Commands of the desk: open a card, add a job, hold, go on, void."""

from argparse import Namespace

from shopcli.cli.common import act, card_of, minor, shop_of, vehicle_known
from shopcli.errors import BadInput
from shopcli.shop.card_commands import AddTemplates, MoveCard, OpenCard
from shopcli.shop.people_commands import AddCustomer, AddVehicle
from shopcli.store.reads.found import find_customers
from shopcli.store.shop import Shop


def _customer(shop: Shop, args: Namespace) -> int:
    same = [
        c
        for c in find_customers(shop, args.customer)
        if c.name.casefold() == args.customer.strip().casefold()
    ]
    if len(same) > 1:
        raise BadInput(
            f"{len(same)} customers are called '{args.customer}'", hint="Open the card at the desk."
        )
    return same[0].id if same else act(args, AddCustomer(args.customer, args.phone), shop).id


def _vehicle(shop: Shop, args: Namespace) -> int:
    known = vehicle_known(shop, args.registration)
    if known:
        return known.id
    if not (args.customer and args.make):
        raise BadInput(
            f"{args.registration} is not known yet",
            hint="Add --customer NAME --make MAKE (and --sheet, --model, --year).",
        )
    command = AddVehicle(
        _customer(shop, args),
        args.registration,
        args.make,
        args.model,
        args.year,
        sheet=args.sheet,
        distance_unit=args.odometer_unit,
    )
    return act(args, command, shop).id


def new(args: Namespace) -> int:
    """Open a card."""
    shop = shop_of(args)
    authority = minor(args.authority, "authority") if args.authority else None
    for name in args.templates:
        shop.library.template(name)
    act(
        args,
        OpenCard(
            _vehicle(shop, args),
            tuple(args.templates),
            words=args.words,
            title=args.title,
            odometer=args.odometer,
            left_with=args.left_with,
            authority_minor=authority,
            authority_by=args.authority_by,
            promised=args.promised,
            take=tuple(args.take),
            authority_how=args.authority_how,
            car_keys=args.keys,
            fuel=args.fuel,
            damage=args.damage,
            odometer_why=args.odometer_why,
        ),
        shop,
    )
    return 0


def add_job(args: Namespace) -> int:
    """Expand a further job onto a card."""
    shop = shop_of(args)
    act(args, AddTemplates(card_of(shop, args).id, tuple(args.template)), shop)
    return 0


def _move(args: Namespace, state: str, reason: str = "", *, for_parts: bool = False) -> int:
    shop = shop_of(args)
    act(args, MoveCard(card_of(shop, args).id, state, reason, for_parts), shop)
    return 0


def hold(args: Namespace) -> int:
    """Hold a card."""
    return _move(args, "held", args.reason, for_parts=args.parts)


def go_on(args: Namespace) -> int:
    """Take a card in hand."""
    return _move(args, "in hand")


def void(args: Namespace) -> int:
    """Void a card."""
    return _move(args, "void", args.reason)
