"""What of a task in hand stays as it is while a reading is typed: its text and its numbers, laid out once."""

from collections.abc import Callable
from typing import Concatenate, ParamSpec, TypeVar

from shopcli.screens.bench.inhand import InHand

P = ParamSpec("P")
LaidT = TypeVar("LaidT")


class Kept:
    """Lays out parts of a task that depend neither on what is typed nor on what is taken, and keeps them."""

    def __init__(self) -> None:
        self._hand: InHand | None = None
        self._laid: dict[object, object] = {}

    def take(self, hand: InHand) -> None:
        """Take another state of the task in hand; all is forgotten where more differs than its readings."""
        if self._hand is None or not _alike(hand, self._hand):
            self._laid.clear()
        self._hand = hand

    def lay(self, part: Callable[Concatenate[InHand, P], LaidT], *args: P.args, **kwargs: P.kwargs) -> LaidT:
        """Return a part of the task in hand, laid out now or before."""
        if self._hand is None:
            raise LookupError("there is no task in hand to lay out")
        key = (part, args, tuple(kwargs.items()))
        if key not in self._laid:
            self._laid[key] = part(self._hand, *args, **kwargs)
        return self._laid[key]  # type: ignore[return-value]  # what was kept under the part is what it returned


def _alike(one: InHand, other: InHand) -> bool:
    """Whether text and numbers are the same: of the same card and task as they were read, for the same hands."""
    return (
        one.task is other.task
        and one.view is other.view
        and (one.prefs, one.titled, one.tools, one.marked())
        == (other.prefs, other.titled, other.tools, other.marked())
    )
