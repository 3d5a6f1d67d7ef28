"""From a finished view to text or HTML.

Templates are data: they run in a sandbox where an unknown name is an error and nothing is in reach but the
view, the page and the filters listed here. Jinja2 is loaded with the first paper, not with the program.
"""

from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING, Any

from shopcli import present
from shopcli.papers import arrange, telling
from shopcli.papers.adds_up import check_sums
from shopcli.papers.bench_list import bench_list_text
from shopcli.papers.layout import WIDTH
from shopcli.papers.open_cards import open_cards_text
from shopcli.papers.page import Page
from shopcli.shop.taxwords import short_tax
from shopcli.shop.views import SummaryView

if TYPE_CHECKING:
    from jinja2.sandbox import SandboxedEnvironment

__all__ = ["bench_list_text", "open_cards_text", "summary_html", "summary_text"]

BUILT_IN = ("first", "join", "length", "list")
FILTERS: dict[str, Callable[..., Any]] = {
    "amount": present.amount,
    "by_kind": arrange.by_kind,
    "by_system": arrange.by_system,
    "card_state": present.card_state,
    "day": present.day,
    "day_long": present.day_long,
    "distance_unit": arrange.distance_unit,
    "due": arrange.due,
    "finding_text": telling.finding_text,
    "money": present.money,
    "outcome": telling.outcome,
    "percent": present.percent,
    "place": arrange.place,
    "price": present.price,
    "qty": present.qty,
    "rate": arrange.rate,
    "rate_long": arrange.rate_long,
    "sentence": telling.sentence,
    "severity": present.severity,
    "severity_long": present.severity_long,
    "shop_lines": telling.shop_lines,
    "short_tax": short_tax,
    "sources": arrange.sources,
    "sums": telling.sums,
    "task_state": present.task_state,
    "worst_first": arrange.worst_first,
}


@cache
def environment(*, html: bool) -> "SandboxedEnvironment":
    """Return the place templates run in, with escaping for HTML and without for text."""
    from jinja2 import PackageLoader, StrictUndefined
    from jinja2.sandbox import ImmutableSandboxedEnvironment

    env = ImmutableSandboxedEnvironment(
        loader=PackageLoader("shopcli.papers", "templates"),
        undefined=StrictUndefined,
        autoescape=html,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        finalize=_printable,
    )
    env.globals.clear()
    env.filters = {name: env.filters[name] for name in BUILT_IN} | FILTERS
    return env


def _printable(value: Any) -> Any:
    # What is already escaped must not be escaped again; everything else is text, whoever wrote it.
    return value if hasattr(value, "__html__") or not isinstance(value, str) else present.shown(value)


def summary_text(view: SummaryView, *, width: int = WIDTH, plain: bool = False) -> str:
    """Return the summary of a card as plain text, no line wider than the page.

    Parameters
    ----------
    view : SummaryView
        The finished figures.
    width : int, optional
        Width of the page, 72 to 200, [columns]
    plain : bool, optional
        Only ASCII signs for states and currencies; names stay as they are.

    Raises
    ------
    DoesNotAddUp
        If the figures contradict one another.
    BadInput
        If the page is too narrow or too wide.
    """
    page = Page(width, plain)
    check_sums(view)
    return environment(html=False).get_template("summary.txt.j2").render(view=view, page=page)


def summary_html(view: SummaryView) -> str:
    """Return the summary of a card as one HTML document that asks for nothing from outside.

    Raises
    ------
    DoesNotAddUp
        If the figures contradict one another.
    """
    check_sums(view)
    return environment(html=True).get_template("summary.html.j2").render(view=view)
