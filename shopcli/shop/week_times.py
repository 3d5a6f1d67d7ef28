"""Which listed times no longer fit, and what to list instead: actuals held against them, leaned on the shop's other jobs."""

from collections.abc import Iterable, Mapping
from math import log

from shopcli.shop.past_times import FORGOTTEN
from shopcli.shop.week_views import Actuals
from shopcli.workings.estimates import Estimator, Past
from shopcli.workings.listed_times import Against, against

STEP, HALF = 10, 0.5
LEAST_RATIO = 1 / FORGOTTEN


def ratios_of(one: Actuals) -> list[float]:
    """Return actual over listed time of the cases that were no forgotten clocks, [-]."""
    return [ratio for case in one.cases if LEAST_RATIO <= (ratio := case.ratio) <= FORGOTTEN]


def held_against(actuals: Iterable[Actuals]) -> Mapping[str, Against]:
    """Return how each template stands against its listed time; those without a case are left out."""
    known = {one.template: ratios for one in actuals if (ratios := ratios_of(one))}
    found = {name: against(ratios) for name, ratios in known.items()}
    doubted = [name for name, said in found.items() if said.to is not None]
    if doubted:
        past = Estimator(Past(name, "", log(r)) for name, ratios in known.items() for r in ratios)
        found |= {name: against(known[name], past.predicted(name, "").point(HALF)) for name in doubted}
    return found


def new_factor(per_mille: int, to: float) -> int:
    """Return the factor that stands, changed by another, in thousandths to the next ten.

    Examples
    --------
    >>> new_factor(1000, 1.35), new_factor(1200, 0.9)
    (1350, 1080)
    """
    return round(per_mille * to / STEP) * STEP
