"""What the chosen jobs would cost and when they could be ready, in a few lines below the intake form.

Read in a thread while the form is filled in; nothing of it is kept but the date somebody takes for a promise.
"""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from textual.content import Content

from shopcli.columns import cut
from shopcli.errors import ShopError
from shopcli.screens.desk.dates import read_date
from shopcli.screens.desk.looking import today
from shopcli.shop.typed_figures import read_sum
from shopcli.store.shop import Shop

if TYPE_CHECKING:
    from shopcli.shop.price_views import PriceView

STYLES = {"next": "bold", "quiet": "dim", "bad": "$text-error", "open": "$text-warning"}
SLIPS_MOST = 3


@dataclass(frozen=True, slots=True)
class Question:
    """The jobs asked about, on which vehicle of whom, and the date as it is typed."""

    jobs: tuple[str, ...]
    vehicle_id: int | None
    sheet: str
    wanted: str
    customer_id: int | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """Lines to show, each with its kind, the date 85 in 100 such queues keep, and the price."""

    lines: tuple[tuple[str, str], ...] = ()
    sure: date | None = None
    price: "PriceView | None" = None


def price_and_promise(shop: Shop, asked: Question) -> Answer:
    """Return what the jobs would cost and when they could be ready; jobs that go together with nothing say so."""
    from shopcli.price_words import foot_words, promise_blocks
    from shopcli.store.reads.prices import price_for
    from shopcli.store.reads.promises import promise_for

    if not asked.jobs:
        return Answer()
    try:
        wanted = read_date(asked.wanted, today(shop))
    except ShopError:
        wanted = None  # the field itself says what is wrong with it
    try:
        price = price_for(
            shop, asked.jobs, asked.vehicle_id, sheet=asked.sheet, customer_id=asked.customer_id
        )
        ready = promise_for(shop, asked.jobs, asked.vehicle_id, sheet=asked.sheet, wanted=wanted)
    except ShopError as error:
        return Answer(((f"! {error.message}", "bad"),))
    (sure, _next), _how, *said = promise_blocks(ready)[0].lines
    # What is said of the date somebody typed, and who would slip for it, stands behind the sure date.
    when = "; ".join((sure, *(text for text, _kind in said[:1])))
    loudest = next((kind for _text, kind in said[:1] if kind), "")
    return Answer(((foot_words(price), "next"), (when, loudest), *said[1:SLIPS_MOST]), ready.sure, price)


def falls_short(answer: Answer, text: str) -> str:
    """Return words where a sum typed as authority is less than the jobs usually come to; else nothing."""
    from shopcli.price_words import short_words

    minor = read_sum(text, "authority")
    short = short_words(answer.price, minor) if answer.price is not None and minor is not None else ""
    return f"{short}. F2 again keeps the limit" if short else ""


def as_content(answer: Answer, width: int) -> Content:
    """Return the lines as they are shown."""
    lines = [(cut(text, width), STYLES.get(kind, "")) for text, kind in answer.lines]
    return Content("\n").join(Content.assemble((text, style) if style else text) for text, style in lines)
