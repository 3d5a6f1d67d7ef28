"""What a figure of the week is made of: one question by the key the figure carries. The parts of the rows come to the figure."""

from collections.abc import Callable, Mapping

from shopcli.errors import NotFound
from shopcli.shop.week_views import Opened, OpenedRow, Period
from shopcli.store.reads import week_rows_flow, week_rows_hours, week_rows_money, week_rows_rest
from shopcli.store.shop import Shop

# By the first word of a key: a question that gets the shop, the period and the words after it.
Rows = Callable[[Shop, Period, tuple[str, ...]], tuple[str, list[OpenedRow]]]
QUESTIONS: Mapping[str, Rows] = {
    **week_rows_flow.QUESTIONS,
    **week_rows_hours.QUESTIONS,
    **week_rows_money.QUESTIONS,
    **week_rows_rest.QUESTIONS,
}


def rows_of(shop: Shop, period: Period, key: str) -> Opened:
    """Return the rows a figure is made of.

    Parameters
    ----------
    shop : Shop
        The shop.
    period : Period
        The period of the figure; a week named in the key takes its place.
    key : str
        The figure's key, like ``closed``, ``closed:2026-W48`` or ``clocked:person:3``.

    Raises
    ------
    NotFound
        When no figure has such a key.
    """
    first, _, rest = key.partition(":")
    question = QUESTIONS.get(first)
    if question is None:
        raise NotFound(f"no figure of the week is called '{key[:60]}'", hint=", ".join(sorted(QUESTIONS)))
    try:
        title, rows = question(shop, period, tuple(rest.split(":", 1)) if rest else ())
    except (ValueError, IndexError) as error:
        raise NotFound(f"no figure of the week is called '{key[:60]}'") from error
    return Opened(key, title, tuple(rows))
