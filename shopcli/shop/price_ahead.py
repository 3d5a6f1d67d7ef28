"""What jobs would cost before they are begun: expected hours, the kit at today's prices, and the range to tell.

The lines are made as those of a bill are and added up by the same calculator, so that an offer and the bill it
becomes can be laid side by side.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from shopcli.shop.amounts import from_minor
from shopcli.shop.fetching import Fetch
from shopcli.shop.kit_units import in_stock_unit
from shopcli.shop.labour_pricing import labour_quantity, labour_units
from shopcli.shop.money import Line, total
from shopcli.shop.price_views import JobHours, PriceView
from shopcli.shop.pricing import reversed_lines, sundries
from shopcli.shop.settings import Settings
from shopcli.workings.estimates import Estimator, sum_of_jobs
from shopcli.worklists.model import KitLine, WorkList

PART = """
SELECT name, unit, price_minor, surcharge_minor, vat FROM part WHERE number = ? OR name = ?
ORDER BY CASE WHEN number = ? THEN 0 ELSE 1 END, number LIMIT 1"""
REVERSED_OF = """
SELECT k.id FROM vehicle v JOIN customer k ON k.id = v.customer_id WHERE v.id = ? AND k.reverse_charge AND k.vat_number <> ''"""
EXTRA_SIGN = "O"  # how the lines of extras are numbered
ALLOWANCE = "If the work takes longer: up to this much more labour"


@dataclass(frozen=True, slots=True)
class Extra:
    """Something a work list does not know: work sent out, a sundry, a fee; priced for the whole, before VAT."""

    what: str
    price_minor: int
    kind: str = "outwork"
    vat: str = "standard"


@dataclass(slots=True)
class _Kit:
    lines: list[Line] = field(default_factory=list)
    unpriced: list[str] = field(default_factory=list)
    optional: list[str] = field(default_factory=list)
    exchange: list[str] = field(default_factory=list)

    def notes(self) -> Iterable[str]:
        """Return what the price of the kit does not know."""
        if self.unpriced:
            yield f"No price is known for: {', '.join(self.unpriced)}."
        if self.optional:
            yield f"Not in the price, only if wanted: {', '.join(self.optional)}."
        for text in self.exchange:
            yield f"{text} is owed besides, until the old unit goes back."


def price(
    fetch: Fetch,
    settings: Settings,
    work: WorkList,
    estimator: Estimator,
    *,
    vehicle_id: int | None,
    kind: str,
    titles: Mapping[str, str],
    extras: Sequence[Extra] = (),
) -> PriceView:
    """Return what a work list would cost at today's prices.

    Parameters
    ----------
    fetch : callable
        Reads rows by SQL text with ``?`` parameters.
    settings : Settings
        Labour price and unit, VAT, currency.
    work : WorkList
        The jobs expanded for the vehicle.
    estimator : Estimator
        The shop's past.
    vehicle_id : int or None
        None for a vehicle not written down yet.
    kind : str
        Its spec sheet, which is what past jobs are compared by.
    titles : mapping of str to str
        Titles of templates, for what is included by others.
    extras : sequence of Extra, optional
        Outwork, sundries, fees.
    """
    jobs = tuple(_jobs(work, estimator, kind, titles))
    usual_min, most_min = sum_of_jobs(estimator, [(j.template, kind, float(j.listed_min)) for j in jobs])
    labour, units = _labour(settings, jobs, usual_min)
    kit = _kit(fetch, settings, work.kit)
    lines = (*labour, *kit.lines, *(_extra(settings, n, e) for n, e in enumerate(extras, 1)))
    reverse = vehicle_id is not None and bool(fetch(REVERSED_OF, (vehicle_id,)))
    usual = (*lines, *sundries(lines, settings))
    units_more = (
        labour_units(round(most_min * 60), settings.labour_unit_minutes, settings.labour_rounding) - units
    )
    longer = (_hours(settings, "LA", ALLOWANCE, units_more),) if units_more > 0 else ()
    most = (*lines, *longer, *sundries((*lines, *longer), settings))
    if reverse:
        usual, most = reversed_lines(usual), reversed_lines(most)
    return PriceView(
        vehicle_id=vehicle_id,
        templates=tuple(name for name, _title, _version in work.templates),
        jobs=jobs,
        usual_min=round(usual_min),
        most_min=round(most_min),
        lines=usual,
        at_most=most,
        usual=total(usual),
        most=total(most),
        currency=settings.currency,
        notes=(*work.notes, *kit.notes()),
    )


def _jobs(work: WorkList, estimator: Estimator, kind: str, titles: Mapping[str, str]) -> Iterable[JobHours]:
    listed: dict[str, int] = {}
    for task in work.tasks:
        listed[task.template] = listed.get(task.template, 0) + task.minutes
    for name, minutes in listed.items():
        if minutes:
            hours = estimator.expected(name, kind, minutes)
            yield JobHours(
                name,
                titles.get(name, name),
                minutes,
                hours.usual_min,
                hours.most_min,
                hours.past,
                hours.on_such,
                hours.says,
            )


def _labour(settings: Settings, jobs: Sequence[JobHours], usual_min: float) -> tuple[list[Line], int]:
    """Return a line of labour for each job and how many units they come to.

    The usual time of all jobs is more than the sum of their usual times, so each gets its share of the whole.
    """
    alone = sum(j.usual_min for j in jobs)
    lines: list[Line] = []
    all_units = 0
    for job in jobs:
        seconds = round(job.usual_min * usual_min / alone * 60)
        units = labour_units(seconds, settings.labour_unit_minutes, settings.labour_rounding)
        if units:
            all_units += units
            lines.append(_hours(settings, f"L{len(lines) + 1}", job.title, units))
    return lines, all_units


def _hours(settings: Settings, key: str, text: str, units: int) -> Line:
    qty, measure = labour_quantity(units, settings.labour_unit_minutes)
    return _line(
        settings, "labour", key, text, qty, measure, from_minor(settings.labour_minor), settings.labour_vat
    )


def _line(
    settings: Settings, kind: str, key: str, text: str, qty: Decimal, unit: str, each: Decimal, vat: str
) -> Line:
    rate = settings.vat(vat)
    return Line(
        id=key,
        kind=kind,
        description=text,
        qty=qty,
        unit=unit,
        price=each,
        vat=rate.name,
        percent=rate.percent,
        category=rate.category,
    )


def _extra(settings: Settings, number: int, extra: Extra) -> Line:
    each = from_minor(extra.price_minor)
    return _line(settings, extra.kind, f"{EXTRA_SIGN}{number}", extra.what, Decimal(1), "pc", each, extra.vat)


def _kit(fetch: Fetch, settings: Settings, kit: Sequence[KitLine]) -> _Kit:
    made = _Kit()
    for line in kit:
        if line.optional:
            made.optional.append(line.part)
            continue
        name = line.number or line.part
        rows = fetch(PART, (name, name, name))
        if not rows or not rows[0][2]:
            made.unpriced.append(line.part)
            continue
        text, unit, minor, surcharge, vat = rows[0]
        qty = in_stock_unit(Decimal(line.qty), line.unit, unit)
        key = f"P{len(made.lines) + 1}"
        made.lines.append(_line(settings, "part", key, text, qty, unit, from_minor(minor), vat))
        if surcharge and line.exchange:
            owed = from_minor(surcharge)
            made.exchange.append(f"An exchange surcharge of {owed} on each {text}")
    return made
