"""What jobs would cost on a vehicle, asked from outside a rule: for the desk's form, a card, the command line."""

from collections.abc import Sequence

from shopcli.errors import BadInput
from shopcli.shop.past_times import PastTime, estimator, past_times
from shopcli.shop.price_ahead import Extra, price
from shopcli.shop.price_views import PriceView
from shopcli.store.reads.offers import knowledge
from shopcli.store.shop import Shop
from shopcli.worklists.together import together


def price_for(
    shop: Shop,
    templates: Sequence[str],
    vehicle_id: int | None = None,
    *,
    sheet: str = "",
    customer_id: int | None = None,
    extras: Sequence[Extra] = (),
) -> PriceView:
    """Return what jobs would cost on a vehicle at today's prices, with the range the shop's past gives them.

    Parameters
    ----------
    shop : Shop
        The shop; nothing is written.
    templates : sequence of str
        Names of the jobs.
    vehicle_id : int, optional
        A vehicle that is written down; one that is not is known by its `sheet` alone.
    sheet : str, optional
        Spec sheet of a vehicle not written down yet.
    customer_id : int, optional
        Whose such a vehicle is to be.
    extras : sequence of Extra, optional
        Outwork, sundries and fees known beforehand.

    Raises
    ------
    BadInput
        When no job is named.
    ShopError
        When the jobs are not known, do not fit the vehicle or cannot share a card.
    """
    if not templates:
        raise BadInput("no job is named to be priced", hint="Choose one job at least.")
    known = knowledge(shop, sheet, vehicle_id)
    work = together(known.library, tuple(templates), known.facts, known.book)
    return price(
        shop.fetch,
        shop.settings,
        work,
        estimator(shop.fetch, shop.at()),
        vehicle_id=vehicle_id,
        customer_id=customer_id,
        kind=sheet if vehicle_id is None else kind_of(shop, vehicle_id),
        titles={name: template.title for name, template in known.library.templates.items()},
        extras=extras,
    )


def kind_of(shop: Shop, vehicle_id: int) -> str:
    """Return the spec sheet of a vehicle, by which past jobs are compared."""
    rows = shop.fetch("SELECT sheet FROM vehicle WHERE id = ?", (vehicle_id,))
    return str(rows[0][0]) if rows else ""


def past(shop: Shop) -> tuple[PastTime, ...]:
    """Return the past times estimates learn from, oldest first."""
    return past_times(shop.fetch, shop.at())
