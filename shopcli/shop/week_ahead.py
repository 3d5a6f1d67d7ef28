"""When the queue clears and how many cards go out by a day, from the shop's own weeks, with how often that came true."""

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from shopcli.shop.week_views import PastWeeks
from shopcli.workings.weeks_ahead import (
    WINDOW,
    Ahead,
    ByWeek,
    Held,
    by_week,
    clears,
    tried_by_week,
    tried_clears,
)

FAR_WEEKS = 8
TRIED_WEEKS = 52  # statements of the last year are held against what came
TRIED_PLAYS = 400
FAR_TRIED = 4


@dataclass(frozen=True, slots=True)
class AheadView:
    """The forecast. `ahead` is None and `weeks` empty while too few weeks are known.

    Dates are None where they lie beyond two years. `pace` is how many cards were closed in a week of the `known` ones on average.
    `tried_queue` and `tried_cards` say how often such statements of the past year came true, the latter for
    `tried_weeks` ahead; they are played when they are first asked for, for nothing else of the week has to wait for them.
    """

    today: date
    monday: date
    cards: int
    ahead: Ahead | None
    usual: date | None
    sure: date | None
    weeks: tuple[ByWeek, ...]
    known: int
    past: tuple[tuple[int, ...], ...]
    stood: tuple[int, ...]
    tried_weeks: int = FAR_TRIED
    pace: float = 0.0

    @property
    def tried_queue(self) -> Held:
        """How often the day named for the queue was kept."""
        return _tried(self.past, self.stood)[0]

    @property
    def tried_cards(self) -> Held:
        """How often the number named for the weeks ahead was."""
        return _tried(self.past, self.stood)[1]

    def last_day(self, one: ByWeek) -> date:
        """Return the last day of so many weeks ahead, this week the first."""
        return self.monday + timedelta(days=7 * one.ahead - 1)


def ahead_of(past: PastWeeks) -> AheadView:
    """Return the forecast from what was.

    Notes
    -----
    Counted from tomorrow on: what still goes out today is left out, so on a Friday evening nothing is promised twice.
    """
    begun = (past.today - past.monday).days + 1
    said = clears(past.past, past.open_now, begun=begun)
    last = past.past[-WINDOW:]
    return AheadView(
        today=past.today,
        monday=past.monday,
        cards=past.open_now,
        ahead=said,
        usual=_on(past.monday, said.usual_day if said else None),
        sure=_on(past.monday, said.sure_day if said else None),
        weeks=by_week(past.past, FAR_WEEKS, begun=begun),
        known=min(len(past.past), WINDOW),
        past=past.past[-(TRIED_WEEKS + WINDOW) :],
        stood=past.stood[-(TRIED_WEEKS + WINDOW) :],
        pace=sum(map(sum, last)) / len(last) if last else 0.0,
    )


@lru_cache(maxsize=8)
def _tried(past: tuple[tuple[int, ...], ...], stood: tuple[int, ...]) -> tuple[Held, Held]:
    """Return how often it was right: the same all week long."""
    return tried_clears(past, stood, TRIED_PLAYS), tried_by_week(past, FAR_TRIED, TRIED_PLAYS)


def _on(monday: date, day: int | None) -> date | None:
    return None if day is None else monday + timedelta(days=max(0, day - 1))
