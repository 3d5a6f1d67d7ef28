"""Two people changed the same: both values are shown with who put the other, and a letter says which one stands."""

from typing import TYPE_CHECKING, Any

from shopcli.clash import ChangedMeanwhile
from shopcli.screens.dialogs import AskKey, Choice

if TYPE_CHECKING:
    from shopcli.screens.doing import Acting
    from shopcli.shop.command import Command

THEIRS, MINE = "t", "m"
STANDS = "What was there stands."


def question(error: ChangedMeanwhile) -> AskKey:
    """Return what is asked where two people changed the same."""
    one = error.clashes[0]
    more = len(error.clashes) > 1
    told = "\n".join(
        f"{c.named[:1].upper()}{c.named[1:]}: {c.theirs} from {c.whose}; yours is {c.mine}"
        for c in error.clashes
    )
    return AskKey(
        f"While you were writing, {error.what} was changed. Which stands?",
        (
            Choice(THEIRS, "Theirs stands" if more else f"Theirs stands: {one.theirs}"),
            Choice(MINE, "Mine takes its place" if more else f"Mine takes its place: {one.mine}"),
        ),
        note=told,
        back="leaves everything as it is",
    )


def ask_whose(screen: "Acting[Any]", command: "Command", error: ChangedMeanwhile) -> None:
    """Ask whose value stands, and do what is left to do of the act then."""
    from shopcli.shop.seen import all_the_same, without

    def answer(key: str | None) -> None:
        if key == MINE:
            screen.carry_out(all_the_same(command, error.clashes))
            return
        rest = without(command, error.clashes) if key == THEIRS else None
        if rest is None:
            screen.tell(STANDS)
        else:
            screen.carry_out(rest)

    screen.app.push_screen(question(error), answer)
