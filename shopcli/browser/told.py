"""What a page may say to the server: keys, its size, whether it is looked at. Anything else ends the conversation."""

import json
from typing import NamedTuple

from shopcli.errors import BadInput

COLUMNS, ROWS = (20, 500), (5, 250)


class Told(NamedTuple):
    """One message of a page: its kind, and what was typed or the size."""

    kind: str
    text: str = ""
    size: tuple[int, int] = (0, 0)


def fit_size(columns: object, rows: object) -> tuple[int, int]:
    """Return a size of a terminal one can draw on; what is no number is the usual one.

    Examples
    --------
    >>> fit_size("120", "40"), fit_size("-3", "1e9"), fit_size(10**9, None)
    ((120, 40), (20, 24), (500, 24))
    """
    return _within(columns, COLUMNS, 80), _within(rows, ROWS, 24)


def _within(said: object, limits: tuple[int, int], usual: int) -> int:
    try:
        number = int(said)  # type: ignore[call-overload]
    except (TypeError, ValueError, OverflowError):
        return usual
    return max(limits[0], min(limits[1], number))


def read(message: str) -> Told:
    """Return what a page said.

    Raises
    ------
    BadInput
        When it is nothing a page of ours says.

    Examples
    --------
    >>> read('["stdin", "6 thou"]').text
    '6 thou'
    """
    try:
        said = json.loads(message)
    except (ValueError, RecursionError) as error:
        raise BadInput("not a message of the page") from error
    match said:
        case ["stdin", str(text)]:
            return Told("stdin", text)
        case ["resize", {"width": width, "height": height}]:
            return Told("resize", size=fit_size(width, height))
        case ["ping", str(text)]:
            return Told("ping", text)
        case ["focus" | "blur" as kind, *_]:
            return Told(str(kind))
    raise BadInput("not a message of the page")
