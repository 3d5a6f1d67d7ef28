"""The words of the commands about the order of work, beside the others because they are many."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from shopcli.cli.parser import Commands


def add_order(c: "Commands", task_help: str) -> None:
    """Add what looks at the order of work and what wishes for another."""
    plan = c.add(
        "plan", "order:plan", "show the order of work of a card: when, by whom, why", json=True, card=True
    )
    plan.add_argument(
        "--hands", type=int, metavar="N", help="how many people this plan is for; nothing is kept"
    )
    plan.add_argument("--ascii", action="store_true", help="draw with plain characters")
    plan.add_argument(
        "--width", type=int, default=80, metavar="COLUMNS", help="width of the page, 72 to 200 (80)"
    )
    pin = c.add(
        "pin", "order:pin", "wish for a place of a task in the order of work, or for who does it", card=True
    )
    pin.add_argument("task", help=task_help)
    wish = pin.add_mutually_exclusive_group(required=True)
    wish.add_argument("--next", action="store_true", help="before everything that is not begun")
    wish.add_argument("--last", action="store_true", help="after everything")
    wish.add_argument("--place", type=int, metavar="N", help="as the n-th of what is not begun")
    wish.add_argument("--after", metavar="TASK", help="after another task")
    wish.add_argument("--person", metavar="NAME", help="by this person")
    move = c.add(
        "move", "order:move", "move a task in the order of work, from where it stands now", card=True
    )
    move.add_argument("task", help=task_help)
    move.add_argument("where", choices=("earlier", "later"))
    move.add_argument("places", type=int, nargs="?", default=1, metavar="PLACES", help="how many places (1)")
    back = c.add(
        "give-back", "order:give_back", "give back the wishes for a task, or all of the card", card=True
    )
    back.add_argument("task", nargs="?", help=task_help)
    hands = c.add("hands", "order:hands", "say how many people work on a card", card=True)
    hands.add_argument("count", type=int, help="1 to 8; 0 for as many as the shop usually has")
