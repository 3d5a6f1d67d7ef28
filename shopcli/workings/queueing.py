"""When the jobs of a queue are over: hands that are free take the first that may begin, time and again.

Time is counted in minutes one pair of hands works, from now. What is not known of the jobs comes as many draws of
each; the queue is played once for every draw.
"""

import heapq
from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.errors import OutOfRange


@dataclass(frozen=True, slots=True)
class Queued:
    """A job in the queue.

    `needs_min` is the hands-on time in each draw, [min]; `hands` how many work on it at once; it may not begin before
    `ready_min` and is not over before `least_min` after its beginning, because something drains or cures, [min].
    """

    needs_min: Sequence[float]
    hands: int = 1
    ready_min: float = 0.0
    least_min: float = 0.0


def finishes(queue: Sequence[Queued], hands: int, draws: int) -> list[list[float]]:
    """Play the queue and return when each job is over in each draw, [min of work from now].

    Parameters
    ----------
    queue : sequence of Queued
        In the order they are to be taken.
    hands : int
        How many people work, 1 or more, [-]
    draws : int
        How often it is played, [-]

    Returns
    -------
    list of list of float
        One list for each job, in the order of the queue.

    Raises
    ------
    OutOfRange
        When nobody works.

    Examples
    --------
    >>> two = [Queued([60.0]), Queued([30.0]), Queued([10.0], ready_min=500)]
    >>> finishes(two, 1, 1), finishes(two, 2, 1)
    ([[60.0], [90.0], [510.0]], [[60.0], [30.0], [510.0]])

    Notes
    -----
    A job that may not begin yet is passed over, never waited for while another could be done. Nothing is interrupted.

    References
    ----------
    .. [1] R. L. Graham, Bounds on multiprocessing timing anomalies, SIAM Journal on Applied Mathematics 17, 1969,
       pages 416 to 429: list scheduling.
    """
    if hands < 1:
        raise OutOfRange("hands", hands, "1 or more")
    over: list[list[float]] = [[0.0] * draws for _ in queue]
    plain = all(job.ready_min <= 0 for job in queue)
    for draw in range(draws):
        _play(queue, hands, draw, over, plain=plain)
    return over


def _play(queue: Sequence[Queued], hands: int, draw: int, over: list[list[float]], *, plain: bool) -> None:
    free = [0.0] * hands
    left = list(range(len(queue)))
    while left:
        now = free[0]
        place = 0 if plain else _first_ready(queue, left, now)
        if place is None:
            now = min(queue[k].ready_min for k in left)
            while free[0] < now:
                heapq.heapreplace(free, now)
            continue
        index = left.pop(place)
        job = queue[index]
        took = min(job.hands, hands)
        if took > 1:
            now = max(heapq.heappop(free) for _ in range(took))
        works = job.needs_min[draw] / took
        over[index][draw] = now + max(works, job.least_min)
        if took == 1:
            heapq.heapreplace(free, now + works)
        else:
            for _ in range(took):
                heapq.heappush(free, now + works)


def _first_ready(queue: Sequence[Queued], left: Sequence[int], now: float) -> int | None:
    return next((place for place, k in enumerate(left) if queue[k].ready_min <= now), None)
