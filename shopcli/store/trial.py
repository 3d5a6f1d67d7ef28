"""Lines of a table taken in one after the other in one transaction: looked at first, kept all or none."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TypeVar

from shopcli.store.shop import Run, Shop

NEW, CHANGED, SAME, WRONG = "new", "changed", "same", "wrong"


@dataclass(frozen=True, slots=True)
class LineDone:
    """What comes of a line of a table: `outcome` is new, changed, same or wrong, `said` the words for it."""

    line: int
    name: str
    outcome: str
    said: str


Line = TypeVar("Line")


class _OnlyLooked(Exception):  # noqa: N818 - it is no error: it takes the transaction back
    """Ends a trial run."""


def all_or_none(
    shop: Shop, lines: Iterable[Line], take: Callable[[Run, Line], LineDone], *, write: bool
) -> tuple[LineDone, ...]:
    """Take every line and return what came of each; kept only when `write` is asked for and none is wrong."""
    done: list[LineDone] = []
    try:
        with shop.many() as run:
            done += [take(run, line) for line in lines]
            _end_trial(goes_on=write and all(one.outcome != WRONG for one in done))
    except _OnlyLooked:
        return tuple(done)
    return tuple(done)


def _end_trial(*, goes_on: bool) -> None:
    if not goes_on:
        raise _OnlyLooked
