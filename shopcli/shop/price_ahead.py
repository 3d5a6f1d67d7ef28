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
from shopcli.shop.money import Line, total
from shopcli.shop.price_views import JobHours, PriceView
from shopcli.shop.pricing import priced_line
from shopcli.shop.settings import Settings
from shopcli.shop.work_to_come import JobToCome, to_come
from shopcli.workings.estimates import Estimator
from shopcli.worklists.model import KitLine, WorkList

PART = """
SELECT name, unit, price_minor, surcharge_minor, vat FROM part WHERE number = ? OR name = ?
ORDER BY CASE WHEN number = ? THEN 0 ELSE 1 END, number LIMIT 1"""
REVERSED_OF = """
SELECT k.id FROM customer k WHERE k.id = {whose} AND k.reverse_charge AND k.vat_number <> ''"""
OF_VEHICLE = "(SELECT v.customer_id FROM vehicle v WHERE v.id = ?)"
EXTRA_SIGN = "O"  # how the lines of extras are numbered


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
    customer_id: int | None = None,
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
    customer_id : int, optional
        Whose such a vehicle is to be, where that is known: a customer may account for the tax.
    kind : str
        Its spec sheet, which is what past jobs are compared by.
    titles : mapping of str to str
        Titles of templates, for what is included by others.
    extras : sequence of Extra, optional
        Outwork, sundries, fees.
    """
    jobs = tuple(_jobs(work, estimator, kind, titles))
    kit = _kit(fetch, settings, work.kit)
    coming = to_come(
        settings,
        estimator,
        kind,
        [JobToCome(job.template, job.title, job.listed_min) for job in jobs],
        (*kit.lines, *(_extra(settings, n, e) for n, e in enumerate(extras, 1))),
        reverse=_is_reversed(fetch, vehicle_id, customer_id),
    )
    return PriceView(
        vehicle_id=vehicle_id,
        templates=tuple(name for name, _title, _version in work.templates),
        jobs=jobs,
        usual_min=round(coming.usual_min),
        most_min=round(coming.most_min),
        lines=coming.usual,
        at_most=coming.most,
        usual=total(coming.usual),
        most=total(coming.most),
        currency=settings.currency,
        notes=(*work.notes, *kit.notes()),
        tax_word=settings.tax_word,
    )


def _is_reversed(fetch: Fetch, vehicle_id: int | None, customer_id: int | None) -> bool:
    """Whether the customer accounts for the tax: the vehicle's, or the one it is to be written down for."""
    if vehicle_id is None and customer_id is None:
        return False
    if vehicle_id is not None:
        return bool(fetch(REVERSED_OF.format(whose=OF_VEHICLE), (vehicle_id,)))
    return bool(fetch(REVERSED_OF.format(whose="?"), (customer_id,)))


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


def _extra(settings: Settings, number: int, extra: Extra) -> Line:
    each = from_minor(extra.price_minor)
    return priced_line(
        settings, extra.kind, f"{EXTRA_SIGN}{number}", extra.what, Decimal(1), "pc", each, extra.vat
    )


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
        made.lines.append(priced_line(settings, "part", key, text, qty, unit, from_minor(minor), vat))
        if surcharge and line.exchange:
            owed = from_minor(surcharge)
            made.exchange.append(f"An exchange surcharge of {owed} on each {text}")
    return made
