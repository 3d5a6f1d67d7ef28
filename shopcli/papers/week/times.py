"""The page of the times: what was clocked against what is listed, job by job, and what to list instead."""

from shopcli.papers.charts import Range, Ranges
from shopcli.papers.week.model import Head, Laid, Line, Page, Sheet
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.seen import Seen
from shopcli.shop.week_times import new_factor
from shopcli.shop.week_views import Actuals
from shopcli.workings.listed_times import ENOUGH, Against

WHOLE = 1000
SHOWN = 12
WORDS = (
    (
        "Clocked over listed time of a job on a closed card; half of the cases lie from low to high. The shop's middle surely "
        "lies in the last range (95 of 100)."
    ),
    (
        f"To change are those with {ENOUGH} cases or more whose range leaves out 1.00, by a tenth or more. On the screen t takes a new time "
        "over: cards opened from then on are listed and priced by it."
    ),
)


def times_page(seen: Seen, pen: Pen) -> Page:
    """Return the page."""
    return Page("times", "Times", lambda: _laid(seen, pen))


def _laid(seen: Seen, pen: Pen) -> Laid:
    sheet = times_sheet(seen, pen)
    return (sheet,), sheet.chart


def _order(pair: tuple[Actuals, Against]) -> tuple[bool, float, str]:
    one, said = pair
    weight = abs((said.to or 1.0) - 1.0) * sum(case.listed_min for case in one.cases)
    return (said.to is None, -weight, one.title)


def known(seen: Seen) -> list[tuple[Actuals, Against]]:
    """Return the jobs with cases; those to change first, by the minutes it is about, then by name."""
    pairs = [(one, seen.against[one.template]) for one in seen.actuals if one.template in seen.against]
    return sorted(pairs, key=_order)


def times_chart(seen: Seen) -> Ranges:
    """Return the ranges of the jobs with enough cases."""
    rows = [
        Range(one.title, said.low, said.middle, said.high, f"{said.middle:.2f}, n {said.cases}")
        for one, said in known(seen)
        if said.cases >= ENOUGH
    ]
    return Ranges("Clocked over listed time", tuple(rows[:SHOWN]), 1.0, "as listed")


def times_sheet(seen: Seen, pen: Pen) -> Sheet:
    """Return the jobs with their ratios, what is to be changed first."""
    heads = (
        Head("job", "job", right=False, fills=True, least=16),
        Head("cases", "cases"),
        Head("listed ×", "factor_now", short="now ×"),
        Head("middle", "middle"),
        Head("low", "low", spare=True),
        Head("high", "high", spare=True),
        Head("surely", "surely", right=False),
        Head("to do", "to_do", right=False, least=16),
    )
    lines = []
    for one, said in known(seen):
        key = f"actuals:template:{one.template}"
        surely = (
            f"{said.surely_from:.2f} to {said.surely_to:.2f}"
            if said.surely_from is not None and said.surely_to is not None
            else "too few"
        )
        cells = (
            pen.text(one.title, key),
            pen.count(said.cases, key),
            pen.times(one.per_mille / WHOLE),
            pen.times(said.middle, key),
            pen.times(said.low, key),
            pen.times(said.high, key),
            pen.text(surely),
            pen.text(to_do(one, said)),
        )
        lines.append(Line(cells, take=one.template if said.to is not None else ""))
    empty = "No card with clocked work is closed yet."
    return Sheet(
        "times", "Clocked against listed", heads, tuple(lines), WORDS, times_chart(seen), empty=empty
    )


def to_do(one: Actuals, said: Against) -> str:
    """Return what is to be done about a listed time."""
    if said.to is None:
        return "leave it" if said.cases >= ENOUGH else f"wait: {said.cases} of {ENOUGH}"
    way = "longer" if said.to > 1 else "shorter"
    return f"! {way}, × {new_factor(one.per_mille, said.to) / WHOLE:.2f}"
