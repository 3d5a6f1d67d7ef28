"""What work still to come adds to lines that stand: one calculation, for a price ahead, an offer and a card's forecast.

Each job gets a line of labour in the shop's units, then what it may take longer; sundries are reckoned on all of it as on a
bill, and a customer who accounts for the tax is charged none.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shopcli.shop.amounts import from_minor
from shopcli.shop.labour_pricing import labour_quantity, labour_units
from shopcli.shop.money import Line
from shopcli.shop.pricing import finished, priced_line
from shopcli.shop.settings import Settings
from shopcli.workings.estimates import Estimator, sum_of_jobs

ALLOWANCE = "If the work takes longer: up to this much more labour"
COMING = "W"  # how lines of labour to come are numbered: no discount of a line that stands is theirs


@dataclass(frozen=True, slots=True)
class JobToCome:
    """A job that is not done: its template, what a line of it is called, listed and clocked time, [min]."""

    template: str
    title: str
    listed_min: float
    clocked_min: float = 0.0


@dataclass(frozen=True, slots=True)
class ToCome:
    """The lines once the work is done, as half of such work goes and as four in five stay below; and the work, [min]."""

    usual: tuple[Line, ...]
    most: tuple[Line, ...]
    usual_min: float
    most_min: float


def to_come(
    settings: Settings,
    estimator: Estimator,
    kind: str,
    jobs: Sequence[JobToCome],
    besides: Sequence[Line],
    *,
    reverse: bool,
) -> ToCome:
    """Return what lines become once some jobs are done.

    Parameters
    ----------
    settings : Settings
        Labour price and unit, VAT, sundries.
    estimator : Estimator
        The shop's past.
    kind : str
        The vehicle's spec sheet, by which past jobs are compared.
    jobs : sequence of JobToCome
        What is not done yet, each template once.
    besides : sequence of Line
        What stands or comes beside that labour, without sundries and with its tax.
    reverse : bool
        Whether the customer accounts for the tax.
    """
    usual_min, most_min = sum_of_jobs(
        estimator,
        [(job.template, kind, job.listed_min) for job in jobs],
        clocked_min=[job.clocked_min for job in jobs],
    )
    labour, units = _labour(settings, estimator, kind, jobs, usual_min)
    more = labour_units(round(most_min * 60), settings.labour_unit_minutes, settings.labour_rounding) - units
    longer = (_hours(settings, f"{COMING}A", ALLOWANCE, more),) if more > 0 else ()
    lines = (*labour, *besides)
    return ToCome(
        finished(lines, settings, reverse=reverse),
        finished((*lines, *longer), settings, reverse=reverse),
        usual_min,
        most_min,
    )


def _labour(
    settings: Settings, estimator: Estimator, kind: str, jobs: Iterable[JobToCome], usual_min: float
) -> tuple[list[Line], int]:
    """Return a line of labour for each job and how many units they come to.

    The usual time of all jobs is more than the sum of their usual times, so each gets its share of the whole.
    """
    left = [
        max(0.0, job.listed_min * estimator.ratios(job.template, kind)[0] - job.clocked_min) for job in jobs
    ]
    alone = sum(left)
    lines: list[Line] = []
    all_units = 0
    for job, mine in zip(jobs, left, strict=True):
        seconds = round(mine * usual_min / alone * 60) if alone else 0
        units = labour_units(seconds, settings.labour_unit_minutes, settings.labour_rounding)
        if units:
            all_units += units
            lines.append(_hours(settings, f"{COMING}{len(lines) + 1}", job.title, units))
    return lines, all_units


def _hours(settings: Settings, key: str, text: str, units: int) -> Line:
    qty, measure = labour_quantity(units, settings.labour_unit_minutes)
    price = from_minor(settings.labour_minor)
    return priced_line(settings, "labour", key, text, qty, measure, price, settings.labour_vat)
