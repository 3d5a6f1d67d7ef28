"""Moves a shop to another place, from a file to a server or back, and proves every row of it."""

from collections.abc import Iterator
from itertools import zip_longest

from shopcli.errors import Refused, StoreTrouble
from shopcli.store.place import Place
from shopcli.store.whole.written import lines, read_in


def move(source: Place, target: Place) -> int:
    """Copy every record of one place to another, empty one; return how many rows there are.

    The source stays as it is. Every line of both is compared afterwards: what another terminal wrote to the source
    meanwhile is found by that, too.

    Raises
    ------
    Refused
        When both are the same place, there are records in the target, or the source was written to meanwhile.
    StoreTrouble
        When a place is out of reach, or the copy is not like its source.
    """
    if source == target:
        raise Refused("the shop is there already", hint="Name another place to move it to.")
    count = read_in(target, lines(source))
    wrong = first_difference(source, target)
    if wrong:
        raise StoreTrouble(
            f"the copy differs from its source: {wrong}",
            hint="Was somebody still writing? Close every terminal and move to an empty place again.",
        )
    return count


def first_difference(one: Place, other: Place) -> str:
    """Say where two places differ first; empty when they hold the same rows."""
    for number, (here, there) in enumerate(zip_longest(_rows(one), _rows(other)), 1):
        if here != there:
            return f"row {number}: {_short(here)} against {_short(there)}"
    return ""


def _rows(place: Place) -> Iterator[str]:
    return (line for line in lines(place) if not line.startswith('{"end"'))


def _short(line: str | None) -> str:
    return "nothing" if line is None else line[:120]
