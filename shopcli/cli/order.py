"""Commands about the order of work: look at it, wish for a place or a person, move, give back, say how many hands."""

from argparse import Namespace

from shopcli.cli.common import act, card_of, clean, print_json, shop_of, task_id_of, task_of
from shopcli.errors import BadInput, Refused
from shopcli.present import moment
from shopcli.shop.settings_seen import MOST_HANDS
from shopcli.shop.views import CardView
from shopcli.shop.wish_commands import GiveBack, PinTask, SetHands
from shopcli.store.reads import orders, people
from shopcli.store.shop import Shop


def plan(args: Namespace) -> int:
    """Print the order of work of a card."""
    from shopcli.papers.order_of_work import order_text

    shop = shop_of(args)
    card = card_of(shop, args)
    if args.hands is not None and not 1 <= args.hands <= MOST_HANDS:
        raise BadInput(f"a plan for {args.hands} people", hint=f"Between 1 and {MOST_HANDS}.")
    order = orders.order(shop, card.id, hands=args.hands)
    if args.json:
        print_json(order.view)
        return 0
    made = moment(shop.local(order.view.at), shop.settings.tz())
    print(clean(order_text(card, order, made, width=args.width, plain=args.ascii)), end="")
    return 0


def pin(args: Namespace) -> int:
    """Wish for a place of a task, or for who does it."""
    shop = shop_of(args)
    card = card_of(shop, args)
    task = task_of(card, args.task)
    if args.place is not None:
        command = PinTask(task.id, "place", place=args.place)
    elif args.after is not None:
        command = PinTask(task.id, "after", other_id=task_of(card, args.after).id)
    elif args.person is not None:
        command = PinTask(task.id, "by", person_id=people.person(shop, args.person).id)
    else:
        command = PinTask(task.id, "last" if args.last else "next")
    act(args, command, shop)
    return 0


def move(args: Namespace) -> int:
    """Move a task in the order, from where it stands now."""
    shop = shop_of(args)
    card = card_of(shop, args)
    task = task_of(card, args.task)
    place = _place_now(shop, card, task.id) + (-args.places if args.where == "earlier" else args.places)
    act(args, PinTask(task.id, "place", place=place), shop)
    return 0


def _place_now(shop: Shop, card: CardView, task_id: int) -> int:
    order = orders.order(shop, card.id).view
    place = order.place(task_id)
    if place is None:
        raise Refused(
            "the task has no place: it is settled, in hand, or finds no room",
            hint=f"See: shopcli plan {card.number}",
        )
    return place


def give_back(args: Namespace) -> int:
    """Give back the wishes for a task, or all of a card."""
    shop = shop_of(args)
    card = card_of(shop, args)
    act(args, GiveBack(card.id, task_id_of(card, args.task)), shop)
    return 0


def hands(args: Namespace) -> int:
    """Say how many people work on a card."""
    shop = shop_of(args)
    card = card_of(shop, args)
    act(args, SetHands(card.id, args.count or None), shop)
    return 0
