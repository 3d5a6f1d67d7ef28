"""Places in the order that a person has asked for: whether they can be kept, and what stands against them."""

from collections.abc import Sequence

from shopcli.errors import BadInput, Refused
from shopcli.worklists.planner.site import Site
from shopcli.worklists.planner.tasks import Pin

_HINT = "Give it another place, or take the wish back."


def places_asked(site: Site, pins: Sequence[Pin]) -> dict[int, int]:
    """Return the place of each task that has one by wish, from 0, without what is in hand.

    Raises
    ------
    BadInput
        If there is no such place.
    Refused
        If two want one place, or too much must come before or after; the message names it.
    """
    open_tasks = [j for j in range(len(site.tasks)) if not site.in_hand(j)]
    seats: dict[int, int] = {}
    for pin in pins:
        if pin.kind not in {"place", "last"}:
            continue
        j, count = site.number[pin.key], len(open_tasks)
        seat = count - 1 if pin.kind == "last" else pin.number - 1
        title = site.tasks[j].title
        if site.in_hand(j):
            raise Refused(f'"{title}" is in hand already', hint=_HINT)
        if not 0 <= seat < count:
            raise BadInput(f'no place {pin.number} for "{title}"', hint=f"Places run from 1 to {count}.")
        if seats.get(j, seat) != seat or seat in (s for k, s in seats.items() if k != j):
            raise Refused(f'place {seat + 1} for "{title}" is at odds with another wish', hint=_HINT)
        _see_it_fits(site, j, seat, count)
        seats[j] = seat
    return seats


def _see_it_fits(site: Site, j: int, seat: int, count: int) -> None:
    chains, title = site.chains, site.tasks[j].title
    earlier = (chains.before[j] & ~site.early).bit_count()
    later = chains.behind[j].bit_count()
    if earlier > seat:
        told = _told(chains.ties_at(j, before=True))
        raise Refused(f'"{title}" cannot have place {seat + 1}: {earlier} come before it; {told}', hint=_HINT)
    if later > count - 1 - seat:
        told = _told(chains.ties_at(j, before=False))
        raise Refused(f'"{title}" cannot have place {seat + 1}: {later} come after it; {told}', hint=_HINT)


def _told(ties: Sequence[str]) -> str:
    most = 3
    return "; ".join([*ties[:most], "..."] if len(ties) > most else ties)
