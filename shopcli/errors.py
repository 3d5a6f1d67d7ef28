"""One family of errors, so that every border can say what went wrong and the way out.

Each error has a ``title`` (what kind of trouble), a message (what exactly) and a ``hint`` (what to do now).
They are caught in two places only: one function for the screens, one for the command line.
"""


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


class StoreTrouble(ShopError, OSError):  # noqa: N818
    """The records cannot be read or written."""

    title = "The records cannot be used"
