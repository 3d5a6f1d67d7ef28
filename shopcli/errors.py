"""One family of errors, so that every border can say what went wrong and the way out.

Each error has a ``title`` (what kind of trouble), a message (what exactly) and a ``hint`` (what to do now).
They are caught in two places only: one function for the screens, one for the command line.
"""

from collections.abc import Sequence
from dataclasses import dataclass


class ShopError(Exception):
    """Base of everything the shop refuses on purpose."""

    title = "Something went wrong"

    def __init__(self, message: str, *, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


class OutOfRange(ShopError, ValueError):  # noqa: N818 - reads as the trade says it
    """A number outside what a sum or a table is good for."""

    title = "Value out of range"

    def __init__(self, name: str, value: float, allowed: str, *, hint: str = "") -> None:
        super().__init__(f"{name} is {value:g}; allowed: {allowed}", hint=hint)
        self.name = name
        self.value = value
        self.allowed = allowed


class BadInput(ShopError, ValueError):  # noqa: N818
    """Something typed that cannot be read."""

    title = "Cannot read that"


class BadUnit(BadInput):
    """A unit we do not know, or of another kind than asked for."""

    title = "Wrong unit"


class Ambiguous(BadInput):
    """A unit that means more than one thing; ``choices`` are the ways to say it clearly."""

    title = "Which one?"

    def __init__(self, message: str, choices: tuple[str, ...], *, hint: str = "") -> None:
        super().__init__(message, hint=hint or "Write one of: " + ", ".join(choices))
        self.choices = choices


class BadTemplate(ShopError, ValueError):  # noqa: N818
    """A template or sheet file that cannot be used; names the file, the line and the remedy."""

    title = "Template not usable"

    def __init__(self, file: str, line: int, message: str, *, hint: str = "") -> None:
        super().__init__(f"{file}:{line}: {message}", hint=hint)
        self.file = file
        self.line = line


class NotFound(ShopError, LookupError):  # noqa: N818
    """Nothing there by that name or number."""

    title = "Not found"


class Refused(ShopError):  # noqa: N818
    """A rule of the shop says no."""

    title = "Not allowed now"


class RunsBackwards(Refused):
    """An odometer that shows less than it did before, and nothing is said about why; ``last`` is what it was."""

    title = "The odometer runs backwards"

    def __init__(self, message: str, last: int, *, hint: str = "") -> None:
        super().__init__(message, hint=hint)
        self.last = last


class Barred(Refused):
    """A tag on the vehicle bars the act."""

    title = "Barred"


class Stale(Refused):
    """Another terminal changed the record meanwhile."""

    title = "Changed meanwhile"


@dataclass(frozen=True, slots=True)
class Clash:
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
    """Somebody else gave the same field another value meanwhile. `version` is the record's now."""

    def __init__(self, what: str, clashes: Sequence[Clash], version: int) -> None:
        told = "; ".join(f"{c.named}: yours is {c.mine}, {c.whose} put {c.theirs}" for c in clashes)
        super().__init__(
            f"{what} was changed meanwhile. {told[:1].upper()}{told[1:]}",
            hint="Nothing of yours was written. Look at it again; asked for once more, yours takes its place.",
        )
        self.what = what
        self.clashes = tuple(clashes)
        self.version = version


class StoreTrouble(ShopError, OSError):  # noqa: N818
    """The records cannot be read or written."""

    title = "The records cannot be used"
