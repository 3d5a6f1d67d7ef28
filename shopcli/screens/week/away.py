"""Who was away, asked at the week: whose days, which, and why; or an absence that was none."""

import re
from dataclasses import dataclass
from datetime import date, timedelta

from shopcli.errors import BadInput
from shopcli.present import day_long
from shopcli.screens.asks import Asks
from shopcli.screens.dialogs import Choice
from shopcli.shop.absence_commands import NoteAbsence, WithdrawAbsence
from shopcli.shop.absence_views import AbsenceView
from shopcli.shop.week_rights import HOURS, sees
from shopcli.store.reads.absences import absences
from shopcli.store.reads.people import people

WAYS = "2026-12-24, 24.12., today; two days with a blank between; 90 min; a reason last"
LOOKED_BACK = 60
_FIGURES = re.compile(r"(\d{1,2})[./](\d{1,2})\.?")
_MINUTES = re.compile(r"\b(\d{1,4}) ?min\b")


@dataclass(frozen=True, slots=True)
class Days:
    """Days away as they were typed; `minutes` of each, None for whole days."""

    first: date
    last: date
    minutes: int | None
    why: str

    @property
    def says(self) -> str:
        """The days in full, so that a slip is seen before it is kept."""
        until = "" if self.last == self.first else f" to {day_long(self.last)}"
        much = "whole days" if self.minutes is None else f"{self.minutes} min of each"
        return ", ".join(filter(None, (f"{day_long(self.first)}{until}", much, self.why)))


def read_days(text: str, today: date) -> Days:
    """Read days away: one or two days, how many minutes of each, and why.

    Raises
    ------
    BadInput
        When the text does not begin with a day.

    Examples
    --------
    >>> on = date(2026, 12, 28)
    >>> read_days("24.12. 2027-01-02 Christmas", on)
    Days(first=datetime.date(2026, 12, 24), last=datetime.date(2027, 1, 2), minutes=None, why='Christmas')
    >>> read_days("today 90 min dentist", on).minutes, read_days("5.1.", on).first
    (90, datetime.date(2027, 1, 5))
    """
    found = _MINUTES.search(text)
    words = _MINUTES.sub(" ", text, count=1).split()
    first = _day(words[0], today) if words else None
    if first is None:
        raise BadInput("away since when?", hint=f"Write it like {WAYS}.")
    last = _day(words[1], today) if len(words) > 1 else None
    rest = words[1:] if last is None else words[2:]
    return Days(first, last or first, int(found[1]) if found else None, " ".join(rest))


def _day(word: str, today: date) -> date | None:
    if word.casefold() == "today":
        return today
    try:
        if match := _FIGURES.fullmatch(word):
            return _nearest(int(match[1]), int(match[2]), today)
        return date.fromisoformat(word)
    except ValueError:
        return None


def _nearest(number: int, month: int, today: date) -> date:
    """Return the nearest day of that name: those away are noted before and after."""
    around = (date(today.year + by, month, number) for by in (-1, 0, 1))
    return min(around, key=lambda one: abs(one - today))


class AwayAsks(Asks):
    """A station at which it is noted who was away."""

    def action_away(self) -> None:
        """Note that somebody was or is away, or that they were not."""
        if HOURS not in sees(self.desk_app.who.role):
            self.tell("Who was away is for the owner.")
            return
        self.ask(AwayAsks._ask_away)

    async def _ask_away(self) -> None:
        shop = self.desk_app.shop
        today = shop.local(shop.at()).date()
        noted = absences(shop, today - timedelta(days=LOOKED_BACK))
        who = [Choice(f"p{p.id}", p.name, "note days away") for p in people(shop)]
        choices = (*who, *(Choice(f"a{a.id}", _words(a), "was not away after all") for a in noted))
        picked = await self.ask_pick("Who was away?", choices)
        if picked is None:
            return
        if picked[0] == "a":
            self.carry_out(WithdrawAbsence(int(picked[1:])))
            return
        typed = await self.ask_text(
            "Which days?",
            note=WAYS,
            check=lambda text: read_days(text, today),
            understood=lambda text: read_days(text, today).says,
        )
        if typed is not None:
            days = read_days(typed, today)
            first, last = days.first.isoformat(), days.last.isoformat()
            self.carry_out(NoteAbsence(int(picked[1:]), first, last, days.minutes, days.why))


def _words(one: AbsenceView) -> str:
    return f"{one.person}: {Days(one.first, one.last, one.minutes, one.why).says}"
