"""The cards behind comebacks, readings, waivers and tools, and the cases behind a job's times."""

from collections.abc import Callable
from datetime import date

from shopcli.shop.week_views import Noticed, OpenedRow, Period, QualityView
from shopcli.store.reads.week_actuals import actuals
from shopcli.store.reads.week_bounds import bounds
from shopcli.store.reads.week_quality import comebacks, quality
from shopcli.store.reads.week_rows_flow import Answer
from shopcli.store.shop import Shop


def came_back(shop: Shop, period: Period, words: tuple[str, ...]) -> Answer:
    """Return the cards that came back, all or those of one system, with what they came back to."""
    found = []
    for one in comebacks(shop, bounds(shop, period)):
        if words and one.system != words[0]:
            continue
        miles = "" if one.miles is None else f", {one.miles} mi"
        detail = f"{one.system}: {one.days} days{miles} after {one.before}, {one.before_title}"
        found.append(OpenedRow(one.card_id, one.number, one.registration, one.title, detail, one.opened))
    return "Came back", found


def _noticed(
    of: Callable[[QualityView], tuple[Noticed, ...]], title: str
) -> Callable[[Shop, Period, tuple[str, ...]], Answer]:
    def answer(shop: Shop, period: Period, _words: tuple[str, ...]) -> Answer:
        return title, [
            OpenedRow(
                one.card_id,
                one.card,
                one.registration,
                one.what,
                ", ".join(filter(None, (one.detail, one.person))),
                one.on,
            )
            for one in of(quality(shop, period))
        ]

    return answer


def times(shop: Shop, _period: Period, words: tuple[str, ...]) -> Answer:
    """Return the jobs of a template on closed cards, the latest first, with what was clocked on each."""
    job = next((a for a in actuals(shop) if a.template == words[1]), None)
    if job is None:
        return "Clocked", []
    rows = [
        OpenedRow(
            case.card_id,
            case.card,
            case.registration,
            job.title,
            f"listed {case.listed_min:.0f} min, {case.ratio:.2f} times that",
            date.fromisocalendar(int(case.week[:4]), int(case.week[6:]), 1),
            seconds=case.clocked_s,
        )
        for case in reversed(job.cases)
    ]
    return job.title, rows


QUESTIONS = {
    "comebacks": came_back,
    "limits": _noticed(lambda view: view.limits, "Left out of limits"),
    "waived": _noticed(lambda view: view.waived, "Waived"),
    "practice": _noticed(lambda view: view.practice, "Numbers confirmed"),
    "tools": _noticed(lambda view: view.tools, "Past calibration"),
    "actuals": times,
}
