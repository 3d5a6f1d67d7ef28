"""How many cards will go out by a day, and when those that stand here will have gone: played from the shop's own weeks.

Nothing is assumed of how a week goes but that the next may be like any of the last. Each play draws the weeks ahead from
those, and a week that was drawn is likelier to come again: that is how little a few weeks tell about the shop's pace.
"""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from random import Random

from shopcli.errors import OutOfRange

WEEK = 7
USUAL, SURE = 0.50, 0.85
FEWEST, WINDOW = 8, 26  # weeks looked back at, least and most: common practice, no source
FARTHEST = 104  # a queue longer than two years is not given a day
PLAYS, SEED = 1_000, 19_610_601


@dataclass(frozen=True, slots=True)
class Ahead:
    """When a queue will have gone, in days from the first one counted on (1 is that day); None beyond two years.

    `usual_day` is kept in one play of two, `sure_day` in 85 of 100.
    """

    cards: int
    usual_day: int | None
    sure_day: int | None
    weeks: int


@dataclass(frozen=True, slots=True)
class ByWeek:
    """How many cards go out within so many weeks: `usual` or more in one play of two, `sure` or more in 85 of 100."""

    ahead: int
    usual: int
    sure: int


@cache
def _urn(weeks: int, ahead: int, plays: int) -> tuple[tuple[int, ...], ...]:
    """Return which past week each week ahead is drawn from, play by play."""
    rng = Random(SEED)  # noqa: S311 - the same answer every time is wanted
    drawn = []
    for _ in range(plays):
        one: list[int] = []
        for k in range(ahead):
            nth = int(rng.random() * (weeks + k))
            one.append(nth if nth < weeks else one[nth - weeks])
        drawn.append(tuple(one))
    return tuple(drawn)


def _looked_at(past: Sequence[Sequence[int]], begun: int) -> list[Sequence[int]]:
    if not 0 <= begun <= WEEK:
        raise OutOfRange("begun", begun, "0 to 7 days")
    for days in past:
        if len(days) != WEEK or min(days) < 0:
            raise OutOfRange("days of a week", len(days), "seven counts, 0 or more")
    return list(past[-WINDOW:])


def clears(past: Sequence[Sequence[int]], cards: int, plays: int = PLAYS, begun: int = 0) -> Ahead | None:
    """Return when as many cards as stand here now will have gone out; None while too few weeks are known.

    Parameters
    ----------
    past : sequence of sequence of int
        Whole past weeks, oldest first, each the cards that went out on its seven days, Monday first, [-]
    cards : int
        How many cards stand here, [-]
    plays : int, optional
        How often it is played, always from the same seed.
    begun : int, optional
        Days of the first week ahead that are over: nothing more goes out on these, 0 to 7, [day]

    Raises
    ------
    OutOfRange
        When a week has not seven days, or a count is below zero.

    Examples
    --------
    >>> even = [(1, 1, 1, 1, 1, 0, 0)] * 10
    >>> clears(even, 7)
    Ahead(cards=7, usual_day=9, sure_day=9, weeks=10)
    >>> clears(even, 7, begun=4).sure_day, clears(even[:7], 7)
    (15, None)

    Notes
    -----
    Days are counted from the Monday after the last week of the past. Which card goes out first does not matter: cards
    opened later may overtake, and the count says so only as long as the shop goes on taking them on as it did.

    References
    ----------
    .. [1] D. B. Rubin, The Bayesian Bootstrap, Annals of Statistics 9, 1981, pages 130 to 134.
    .. [2] D. Blackwell and J. B. MacQueen, Ferguson Distributions via Polya Urn Schemes, Annals of Statistics 1, 1973,
       pages 353 to 355: drawing one after the other what such a bootstrap predicts.
    """
    if cards < 0:
        raise OutOfRange("cards", cards, "0 or more")
    weeks = _looked_at(past, begun)
    if len(weeks) < FEWEST:
        return None
    if not cards:
        return Ahead(0, 0, 0, len(weeks))
    totals = [sum(days) for days in weeks]
    far = FARTHEST * WEEK + 1
    ahead = _far_enough(totals, cards)
    # What the days that are over would have brought has to be done besides.
    days = sorted(
        _day(weeks, totals, drawn, cards + sum(weeks[drawn[0]][:begun]), far)
        for drawn in _urn(len(weeks), ahead, plays)
    )
    usual, sure = (days[_place(part, plays)] for part in (USUAL, SURE))
    return Ahead(cards, usual if usual < far else None, sure if sure < far else None, len(weeks))


def _far_enough(totals: Sequence[int], cards: int) -> int:
    """Return how many weeks are drawn: four times what the usual pace needs, in steps, so that draws are shared."""
    pace = sum(totals) / len(totals)
    need = FARTHEST if not pace else min(FARTHEST, int(4 * cards / pace) + WEEK)
    return next(step for step in (13, 26, 52, FARTHEST) if need <= step)


def _day(
    weeks: Sequence[Sequence[int]], totals: Sequence[int], drawn: Sequence[int], cards: int, far: int
) -> int:
    left = cards
    for nth, week in enumerate(drawn):
        if totals[week] < left:
            left -= totals[week]
            continue
        for day, count in enumerate(weeks[week]):
            left -= count
            if left <= 0:
                return nth * WEEK + day + 1
    return far


def _place(part: float, plays: int) -> int:
    """Return where in sorted plays the first lies that is not passed in that part of them."""
    return min(plays - 1, max(0, -int(-part * plays // 1) - 1))


def by_week(
    past: Sequence[Sequence[int]], ahead: int, plays: int = PLAYS, begun: int = 0
) -> tuple[ByWeek, ...]:
    """Return how many cards go out within one week, two weeks and so on; nothing while too few weeks are known.

    Parameters
    ----------
    past : sequence of sequence of int
        As for `clears`.
    ahead : int
        How many weeks are looked ahead, 1 to 104.
    plays : int, optional
        How often it is played, always from the same seed.
    begun : int, optional
        Days of the first week ahead that are over, 0 to 7, [day]

    Raises
    ------
    OutOfRange
        When too far ahead is asked, or a week has not seven days.

    Examples
    --------
    >>> [one.sure for one in by_week([(1, 1, 1, 1, 1, 0, 0)] * 10, 3)]
    [5, 10, 15]

    References
    ----------
    As for `clears`.
    """
    if not 1 <= ahead <= FARTHEST:
        raise OutOfRange("ahead", ahead, f"1 to {FARTHEST} weeks")
    weeks = _looked_at(past, begun)
    if len(weeks) < FEWEST:
        return ()
    totals = [sum(days) for days in weeks]
    urn, found = _urn(len(weeks), ahead, plays), []
    sums = [-sum(weeks[drawn[0]][:begun]) for drawn in urn]
    for k in range(ahead):
        sums = [s + totals[drawn[k]] for s, drawn in zip(sums, urn, strict=True)]
        ordered = sorted(sums, reverse=True)
        found.append(ByWeek(k + 1, ordered[_place(USUAL, plays)], ordered[_place(SURE, plays)]))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Held:
    """How often a statement made in the past came true: so many of so many tries, for the usual and the sure figure."""

    tries: int
    usual: int
    sure: int

    @property
    def usual_part(self) -> float | None:
        """Which part of the usual figures came true, None without a try, [-]."""
        return self.usual / self.tries if self.tries else None

    @property
    def sure_part(self) -> float | None:
        """Which part of the sure figures came true, None without a try, [-]."""
        return self.sure / self.tries if self.tries else None

    def with_(self, other: "Held") -> "Held":
        """Return both together."""
        return Held(self.tries + other.tries, self.usual + other.usual, self.sure + other.sure)


def tried_clears(past: Sequence[Sequence[int]], stood: Sequence[int], plays: int = PLAYS) -> Held:
    """Return how often the day named for the queue was kept, asked anew at the start of each past week.

    Parameters
    ----------
    past : sequence of sequence of int
        As for `clears`.
    stood : sequence of int
        How many cards stood here at the start of each of those weeks, [-]
    plays : int, optional
        How often each is played.

    Raises
    ------
    OutOfRange
        When there are not as many counts as weeks.

    Examples
    --------
    >>> tried_clears([(1, 1, 1, 1, 1, 0, 0)] * 12, [5] * 12)
    Held(tries=4, usual=4, sure=4)

    Notes
    -----
    Only what was known then is used. A try counts once the sure day has passed, whether the queue had gone early or not:
    one counted as soon as it is kept would flatter.
    Weeks beside each other share most of their future, so the tries are worth fewer than they are.
    """
    if len(stood) != len(past):
        raise OutOfRange("stood", len(stood), "one count for each week")
    whole = [0]
    for days in past:
        for count in days:
            whole.append(whole[-1] + count)
    known = len(past) * WEEK
    held = Held(0, 0, 0)
    for at in range(FEWEST, len(past)):
        said = clears(past[:at], stood[at], plays)
        if said is None or not said.cards or said.usual_day is None or said.sure_day is None:
            continue
        if at * WEEK + said.sure_day > known:
            continue
        went = bisect_left(whole, whole[at * WEEK] + said.cards) - at * WEEK
        held = held.with_(Held(1, int(went <= said.usual_day), int(went <= said.sure_day)))
    return held


def tried_by_week(past: Sequence[Sequence[int]], ahead: int, plays: int = PLAYS) -> Held:
    """Return how often so many cards did go out within `ahead` weeks, asked anew at the start of each past week.

    Parameters and errors are those of `by_week`; only whole futures are tried.

    Examples
    --------
    >>> tried_by_week([(1, 1, 1, 1, 1, 0, 0)] * 12, 2)
    Held(tries=3, usual=3, sure=3)
    """
    held = Held(0, 0, 0)
    for at in range(FEWEST, len(past) - ahead + 1):
        said = by_week(past[:at], ahead, plays)[-1]
        went = sum(sum(days) for days in past[at : at + ahead])
        held = held.with_(Held(1, int(went >= said.usual), int(went >= said.sure)))
    return held
