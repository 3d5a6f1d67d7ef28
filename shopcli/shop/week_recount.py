"""The sums of the week counted row by row from nothing: another way than they are kept (`shopcli.shop.week_sums`), to check them by."""

from collections.abc import Iterable, Mapping

from shopcli.shop.week_parts import DayRow

Sums = dict[tuple[object, ...], list[int]]
Rows = list[tuple[object, ...]]
Sold = tuple[str, int, str, int, int, int]
"""Week, person, template, card, seconds, minor units."""


def hours_counted(days: Iterable[DayRow], sold: Iterable[Sold]) -> Rows:
    """Return the rows of `week_hours`."""
    found: Sums = {}
    for day in days:
        _add(found, (day.week, day.person_id, day.template), (day.seconds, 0))
    for week, person_id, template, _card, seconds, _minor in sold:
        _add(found, (week, person_id, template), (0, seconds))
    return _rows(found)


def jobs_counted(days: Iterable[DayRow], sold: Iterable[Sold]) -> Rows:
    """Return the rows of `week_jobs`."""
    found: Sums = {}
    seen: set[tuple[str, str, int]] = set()
    billed: dict[int, str] = {}
    for week, _person, template, card_id, seconds, minor in sold:
        first = (week, template, card_id) not in seen
        seen.add((week, template, card_id))
        billed[card_id] = week
        _add(found, (week, template), (int(first), seconds, minor, 0))
    for day in days:
        if day.card_id in billed:
            _add(found, (billed[day.card_id], day.template), (0, 0, 0, day.seconds))
    return _rows(found)


def _add(found: Sums, key: tuple[object, ...], amounts: Iterable[int]) -> None:
    there = found.get(key)
    found[key] = [a + b for a, b in zip(there, amounts, strict=True)] if there else list(amounts)


def _rows(found: Mapping[tuple[object, ...], list[int]]) -> Rows:
    return [(*key, *amounts) for key, amounts in found.items()]
