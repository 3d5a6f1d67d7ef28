"""What a price with a range and a promise date look like, before anybody has taken a card on.

`shopcli.store.reads.prices.price_for(shop, templates, vehicle_id=None, *, sheet="")` answers a `PriceView`,
`shopcli.store.reads.promises.promise_for(shop, templates, vehicle_id=None, *, sheet="", wanted=None)` a
`PromiseView`; a vehicle not written down yet is known by its sheet alone. Both are for a reading thread, are of one
moment, and neither is kept: an offer is what is kept.
"""

from dataclasses import dataclass
from datetime import date

from shopcli.shop.money import Line, Totals


@dataclass(frozen=True, slots=True)
class JobHours:
    """How long one job is expected to take, hands on.

    `listed_min` is what its template says; half of such jobs are over by `usual_min`, four in five by `most_min`,
    [min]. `past` is how many the shop has clocked, `on_such` of them on vehicles with the same spec sheet.
    """

    template: str
    title: str
    listed_min: int
    usual_min: float
    most_min: float
    past: int
    on_such: int
    says: str


@dataclass(frozen=True, slots=True)
class PriceView:
    """What jobs would cost on a vehicle at today's prices.

    `lines` add up to `usual`, to the penny; `at_most`, with the labour of a job that takes longer, to `most`.
    Four in five stay below `most`. `notes` say what the price does not know.
    """

    vehicle_id: int | None
    templates: tuple[str, ...]
    jobs: tuple[JobHours, ...]
    usual_min: int
    most_min: int
    lines: tuple[Line, ...]
    at_most: tuple[Line, ...]
    usual: Totals
    most: Totals
    currency: str
    notes: tuple[str, ...] = ()
    tax_word: str = "VAT"

    @property
    def expected_min(self) -> int:
        """What the jobs are listed with: the hours a card of them is expected to take, wherever it is shown, [min]."""
        return sum(job.listed_min for job in self.jobs)


@dataclass(frozen=True, slots=True)
class Slip:
    """A card whose own sure date moves past its promise when another is squeezed in."""

    card_id: int
    number: str
    registration: str
    customer: str
    phone: str
    promised: date
    before: date
    after: date


@dataclass(frozen=True, slots=True)
class PromiseView:
    """When a job could be ready, by the queue as it stands.

    `usual` is the date half of all such queues keep, `sure` the one 85 in 100 keep, both with the job at the end of
    the queue, an open card in its own place, behind so many `cards`; `squeezed_usual` and `squeezed_sure` are those
    with the job put first, which makes `slips`.
    `waits` says why no day is sure at all: what it waits for has none; the days are then as if it went on now.
    `late` are cards whose own sure date is past their promise as it is. None where no day is found within a year.
    `chance` is how many in 100 keep the date `wanted`, with the job standing where that date puts it, and
    `wanted_slips` what that costs others.
    """

    at: int
    today: date
    usual: date | None
    sure: date | None
    squeezed_usual: date | None
    squeezed_sure: date | None
    slips: tuple[Slip, ...]
    late: tuple[Slip, ...]
    cards: int
    hands: int
    wanted: date | None = None
    chance: int | None = None
    wanted_slips: tuple[Slip, ...] = ()
    notes: tuple[str, ...] = ()
    waits: str = ""
