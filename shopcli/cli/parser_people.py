"""The commands of who works here and of their PINs. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from argparse import ArgumentParser

    from shopcli.cli.parser import Commands


def add_people(c: "Commands") -> None:
    """Add the list of people, taking on and letting go, and PINs."""
    c.add("people", "looking:people", "list who works here and whose clock runs", json=True)
    add = c.add("person-add", "persons:add", "take somebody on (an owner does)")
    add.add_argument("name")
    _roles(add, "mechanic where none is named")
    add.add_argument(
        "--units", choices=("metric", "imperial"), default="metric", help="what their tools speak"
    )
    change = c.add("person-change", "persons:change", "change somebody's name or roles (an owner does)")
    change.add_argument("person", help="who")
    change.add_argument("--name", default="", help="their new name")
    _roles(change, "all of them: those that are not named are theirs no longer")
    leaves = c.add("person-leaves", "persons:leaves", "say that somebody no longer works here")
    leaves.add_argument("person", help="who")
    back = c.add("person-back", "persons:comes_back", "say that somebody works here again")
    back.add_argument("person", help="who")
    pin = c.add(
        "pin-set", "persons:set_pin", "give yourself a PIN, or as an owner somebody else; it is asked for"
    )
    pin.add_argument("person", help="whose")
    clear = c.add("pin-clear", "persons:clear_pin", "take a PIN away; the name alone will do then")
    clear.add_argument("person", help="whose")


def _roles(parser: "ArgumentParser", note: str) -> None:
    parser.add_argument(
        "--role",
        action="append",
        default=[],
        choices=("mechanic", "desk", "owner"),
        help=f"repeatable, one may have several; {note}",
    )
