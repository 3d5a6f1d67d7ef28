"""Two people changed the same field meanwhile: what is refused then, with both values, so that one of them is chosen."""

from collections.abc import Sequence

from shopcli.errors import Stale
from shopcli.tuples import NamedTuple


class Clash(NamedTuple):
    """A field two people changed: what it is called, both values in words, and who put the one that stands, when.

    `field` and `there` are the column and its value as it is stored, for who decides to have the own value all the same.
    """

    field: str
    named: str
    mine: str
    theirs: str
    who: str
    at: str
    there: object

    @property
    def whose(self) -> str:
        """Who put the value that stands, and when, as far as it is known."""
        return f"{self.who} at {self.at}" if self.who else "somebody else"


class ChangedMeanwhile(Stale):
    """Somebody else gave the same field another value meanwhile."""

    def __init__(self, what: str, clashes: Sequence[Clash]) -> None:
        told = "; ".join(f"{c.named}: yours is {c.mine}, {c.whose} put {c.theirs}" for c in clashes)
        super().__init__(
            f"{what} was changed meanwhile. {told[:1].upper()}{told[1:]}",
            hint="Nothing of yours was written. Look at it again; asked for once more, yours takes its place.",
        )
        self.what = what
        self.clashes = tuple(clashes)
