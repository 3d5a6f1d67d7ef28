"""How long a bill takes to become each of its papers, once the first has been made."""

import statistics
import time
from collections.abc import Callable, Iterator
from functools import partial

from shopcli.papers.bill import bill_html, bill_pdf, bill_text
from shopcli.papers.einvoice_cii import bill_cii
from shopcli.papers.einvoice_ubl import bill_ubl
from shopcli.papers.facturx_pdf import bill_facturx
from shopcli.shop.bill import Bill
from tests.papers.paper_bill import many, rich
from tests.speed.rows import Row

ROUNDS = 15
GOALS: tuple[tuple[str, Callable[[Bill], object], float | None], ...] = (
    ("text", bill_text, 5.0),
    ("page", bill_html, 10.0),
    ("PDF", bill_pdf, 100.0),
    ("CII", bill_cii, 10.0),
    ("UBL", bill_ubl, 10.0),
    ("Factur-X", bill_facturx, None),
)


def rows() -> Iterator[Row]:
    """Measure; the goal stands beside each as its reference."""
    for what, bill in (("12 lines", rich()), ("90 lines", many(90))):
        for name, make, goal in GOALS:
            ours = _median(partial(make, bill))
            held = goal if what == "12 lines" else None
            against = f", against {held:.0f} ms" if held else ""
            yield Row(
                f"papers: bill of {what} as {name} [ms]{against}", ours, held or ours, 1.0 if held else None
            )


def _median(make: Callable[[], object]) -> float:
    make()
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        make()
        times.append((time.perf_counter() - start) * 1000)
    return statistics.median(times)
