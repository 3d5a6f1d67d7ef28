"""Make one task of two that share a `once` name: nobody road-tests the same car twice in an afternoon."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TypeVar

from shopcli.worklists.kit import merge_kit
from shopcli.worklists.model import Task

T = TypeVar("T")


def union(first: Iterable[T], second: Iterable[T]) -> tuple[T, ...]:
    """Return both, each thing once, in the order met.

    Examples
    --------
    >>> union("ab", "bc")
    ('a', 'b', 'c')
    """
    return tuple(dict.fromkeys((*first, *second)))


def merge(first: Task, second: Task) -> Task:
    """Return `first` with everything `second` says, waits for, asks, hangs, lifts, warns of and owes.

    Key and title stay those of the first; the longer time counts.
    """
    known = {slot.key for slot in first.readings}
    missing = union(first.missing, second.missing)
    return replace(
        first,
        say="\n".join(union(first.say.splitlines(), second.say.splitlines())),
        specs=union(first.specs, second.specs),
        missing=missing,
        readings=(*first.readings, *(s for s in second.readings if s.key not in known)),
        minutes=max(first.minutes, second.minutes),
        waits=max(first.waits, second.waits),
        place=first.place or second.place,
        after=tuple(k for k in union(first.after, second.after) if k != first.key),
        needs=union(first.needs, second.needs),
        makes=union(first.makes, second.makes),
        acts=union(first.acts, second.acts),
        hangs=union(first.hangs, second.hangs),
        lifts=union(first.lifts, second.lifts),
        barred=union(first.barred, second.barred),
        owes=union(first.owes, second.owes),
        cautions=union(first.cautions, second.cautions),
        working=first.working or second.working,
        second=first.second or second.second,
        kit=merge_kit((*first.kit, *second.kit)),
        fits=union(first.fits, second.fits),
    )
