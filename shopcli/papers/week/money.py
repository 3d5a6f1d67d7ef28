"""The page of the money: what was invoiced, what it left, which jobs earn and which do not, what is still to come in."""

from decimal import Decimal

from shopcli.papers.charts import Bars, Series
from shopcli.papers.week.against import against_words, before_name, now_name
from shopcli.papers.week.flow import MONDAYS, week_name_short
from shopcli.papers.week.model import Cell, Head, Laid, Line, Page, Sheet
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.seen import Seen
from shopcli.shop.week_views import Earning, MoneyView, MoneyWeek

NO_COST = "Labour margin needs hour_cost_minor in the settings: what an hour costs the shop."


def money_page(seen: Seen, view: MoneyView, before: MoneyView | None, pen: Pen) -> Page:
    """Return the page."""
    return Page("money", "Money", lambda: _laid(seen, view, before, pen))


def _laid(seen: Seen, view: MoneyView, before: MoneyView | None, pen: Pen) -> Laid:
    sheets = (
        sums_sheet(seen, view, before, pen),
        earns_sheet(view, pen),
        stands_sheet(view, pen),
        weeks_sheet(seen.trend.money, pen),
    )
    return sheets, money_chart(seen.trend.money, pen)


def money_chart(weeks: tuple[MoneyWeek, ...], pen: Pen) -> Bars:
    """Return labour and parts invoiced by week."""
    rows = (("labour", [w.labour for w in weeks]), ("parts", [w.parts for w in weeks]))
    return Bars(
        f"Invoiced by week, {pen.without_tax}",
        tuple(week_name_short(w.week) for w in weeks),
        tuple(Series(name, tuple(map(float, row)), tuple(f"{d:,.0f}" for d in row)) for name, row in rows),
    )


def sums_sheet(seen: Seen, view: MoneyView, before: MoneyView | None, pen: Pen) -> Sheet:
    """Return the sums of the period beside those of the one before."""
    heads = (
        Head(f"of the period, {pen.without_tax}", "figure", right=False, fills=True),
        Head(now_name(seen), "sum"),
        Head(before_name(seen), "sum_before"),
    )
    names = (
        ("invoiced", "net", "invoiced"),
        ("  labour", "labour", "invoiced"),
        ("  parts", "parts", "invoiced"),
        ("  cost of these parts", "parts_cost", "invoiced"),
        ("margin of parts", "parts_margin", "invoiced"),
        ("cost of the hours paid", "labour_cost", "paid"),
        ("margin of labour", "labour_margin", "invoiced"),
        ("discounts given", "discount", "discount"),
        ("credited", "credited", "credited"),
    )
    lines = tuple(
        Line(
            (
                pen.text(name),
                pen.money(getattr(view, field), key),
                pen.money(getattr(before, field) if before else None),
            )
        )
        for name, field, key in names
    )
    words = (*against_words(seen), *((NO_COST,) if view.labour_cost is None else ()))
    return Sheet("money", "What came of it", heads, lines, words)


def _worst(one: Earning) -> tuple[Decimal, str]:
    return (one.margin if one.margin is not None else one.labour, one.title)


def earns_sheet(view: MoneyView, pen: Pen) -> Sheet:
    """Return what each job earned, what loses money first."""
    heads = (
        Head("job", "job", right=False, fills=True, least=16),
        Head("cards", "cards"),
        Head("clocked", "clocked_s"),
        Head("sold", "sold_s"),
        Head("labour", "labour", spare=True),
        Head("cost", "cost", spare=True),
        Head("margin", "margin"),
        Head("", "word", right=False, least=5),
    )
    lines = []
    for one in sorted(view.earnings, key=_worst):
        key = f"earned:template:{one.template}"
        word = "" if one.margin is None else "! loses" if one.margin < 0 else "earns"
        cells = (
            pen.text(one.title, key),
            pen.count(one.cards, key),
            pen.hours(one.clocked_s, key),
            pen.hours(one.sold_s, key),
            pen.money(one.labour, key),
            pen.money(one.cost, key),
            pen.money(one.margin, key),
            pen.text(word),
        )
        lines.append(Line(cells))
    words = (
        (NO_COST,)
        if view.labour_cost is None
        else ("Labour sold less the time it took at what an hour costs.",)
    )
    return Sheet(
        "earns",
        "What earns, and what does not",
        heads,
        tuple(lines),
        words,
        on_paper=15,
        empty="No labour was invoiced in the period.",
    )


def stands_sheet(view: MoneyView, pen: Pen) -> Sheet:
    """Return what is still to come in, and what lies in the stores."""
    heads = (
        Head("as it stands now", "figure", right=False, fills=True),
        Head("how many", "count"),
        Head("sum", "sum"),
    )
    lines = [
        Line(
            (
                pen.text("work done and not billed"),
                pen.count(view.unbilled_cards, "unbilled"),
                pen.money(view.unbilled, "unbilled"),
            )
        )
    ]
    for band in view.unpaid:
        key = f"unpaid:{band.name}"
        lines.append(
            Line(
                (
                    pen.text(f"unpaid, {band.name}{' days' if band.name[-1:].isdigit() else ''}"),
                    pen.count(band.count, key),
                    pen.money(band.amount, key),
                )
            )
        )
    lines += [
        Line((pen.text("stock"), pen.text(""), pen.money(view.stock, "stock"))),
        Line(
            (
                pen.text("exchange surcharges to come back"),
                pen.count(view.surcharge_count, "surcharges"),
                pen.money(view.surcharges, "surcharges"),
            )
        ),
    ]
    words = (f"Unpaid sums are {pen.with_tax}, by days past their due day; the others {pen.without_tax}.",)
    return Sheet("stands", "Still to come in", heads, tuple(lines), words)


def weeks_sheet(weeks: tuple[MoneyWeek, ...], pen: Pen) -> Sheet:
    """Return the money of the weeks."""
    heads = (
        *MONDAYS,
        Head("invoiced", "net"),
        Head("labour", "labour"),
        Head("parts", "parts"),
        Head("margin", "parts_margin"),
        Head("discount", "discount", spare=True),
        Head("credited", "credited", spare=True),
    )
    lines = tuple(
        Line(
            (
                Cell(week_name_short(w.week), w.week),
                pen.monday(w.monday),
                pen.money(w.net, f"invoiced:{w.week}"),
                pen.money(w.labour, f"invoiced:{w.week}"),
                pen.money(w.parts, f"invoiced:{w.week}"),
                pen.money(w.parts - w.parts_cost, f"invoiced:{w.week}"),
                pen.money(w.discount, f"discount:{w.week}"),
                pen.money(w.credited, f"credited:{w.week}"),
            )
        )
        for w in weeks
    )
    return Sheet("money-weeks", "By week", heads, lines, chart=money_chart(weeks, pen))
