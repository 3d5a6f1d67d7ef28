"""The page of the flow: what came and went, how long it stayed, where it waits, what stands here and why."""

from datetime import date
from decimal import Decimal

from shopcli.papers.charts import Bars, Series
from shopcli.papers.week.against import against_words, before_name, now_name
from shopcli.papers.week.model import Cell, Head, Laid, Line, Page, Sheet
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.seen import Seen
from shopcli.papers.week.todo import BEYOND_WORDS, of_authority
from shopcli.shop.week_views import DAY_S, CardAge, FlowView, WeekFlow
from shopcli.workings.little import Little, little

MONDAYS = (Head("week", "week", right=False), Head("Monday", "monday", right=False, fills=True))
NO_PROMISE = "none named"
WAIT_WORDS = {
    "bay": "a bay or hands",
    "parts": "parts",
    "authority": "authority",
    "outwork": "outwork",
    "other": "something else",
    "fetching": "being fetched",
}


def flow_page(seen: Seen, pen: Pen) -> Page:
    """Return the page."""
    return Page("flow", "Flow", lambda: _laid(seen, pen))


def _laid(seen: Seen, pen: Pen) -> Laid:
    weeks = weeks_sheet(seen.trend.flow, pen)
    return (cards_sheet(seen, pen), waits_sheet(seen, pen), stays_sheet(seen, pen), weeks), weeks.chart


def week_name_short(name: str) -> str:
    """Return the name of a week below a bar.

    Examples
    --------
    >>> week_name_short("2026-W48")
    'W48'
    """
    return name[-3:]


def flow_chart(weeks: tuple[WeekFlow, ...]) -> Bars:
    """Return cards opened and closed by week."""
    rows = (("cards opened", [w.opened for w in weeks]), ("cards closed", [w.closed for w in weeks]))
    return Bars(
        "Cards by week",
        tuple(week_name_short(w.week) for w in weeks),
        tuple(Series(name, tuple(map(float, row)), tuple(map(str, row))) for name, row in rows),
    )


def weeks_sheet(weeks: tuple[WeekFlow, ...], pen: Pen) -> Sheet:
    """Return the weeks one below the other."""
    heads = (
        *MONDAYS,
        Head("opened", "opened"),
        Head("closed", "closed"),
        Head("handed over", "handed_over"),
        Head("in the shop", "in_shop"),
    )
    lines = tuple(
        Line(
            (
                Cell(week_name_short(w.week), w.week),
                pen.monday(w.monday),
                pen.count(w.opened, f"opened:{w.week}"),
                pen.count(w.closed, f"closed:{w.week}"),
                pen.count(w.left, f"left:{w.week}"),
                pen.count(w.in_shop, f"in-shop:{w.week}"),
            )
        )
        for w in weeks
    )
    words = (
        "Closed: its work is finished. Handed over: it left. In the shop: opened and not handed over at the week's end.",
    )
    return Sheet("flow-weeks", "Cards by week", heads, lines, words, flow_chart(weeks))


def law(view: FlowView) -> Little | None:
    """Return Little's law held against the counts, None where nothing was handed over."""
    return None if view.mean_days is None else little(view.counted, view.per_week, view.mean_days)


def stays_sheet(seen: Seen, pen: Pen) -> Sheet:
    """Return how long cards stayed, and the law that binds stay, rate and number."""
    now, before = seen.flow, seen.flow_before
    heads = (
        Head("from intake to hand-over", "figure", right=False, fills=True),
        Head(f"days, {now_name(seen)}", "days", short=now_name(seen)),
        Head(before_name(seen), "days_before"),
    )
    rows = (
        ("half of them went out within", now.median_days, before.median_days),
        ("85 in 100 went out within", now.most_days, before.most_days),
        ("on average", now.mean_days, before.mean_days),
    )
    lines = [Line((pen.text(name), pen.days(a, "stays"), pen.days(b))) for name, a, b in rows]
    counted = f"{now.stays} were handed over in the period, {before.stays} in the one before."
    words = (*against_words(seen), counted, *law_words(now))
    return Sheet("stays", "How long cards stay", heads, tuple(lines), words)


def law_words(view: FlowView) -> tuple[str, ...]:
    """Return Little's law in words, with its figures."""
    said = law(view)
    if said is None or view.mean_days is None or said.off is None:
        return ("Little's law: nothing was handed over, it says nothing yet.",)
    return (
        (
            f"Little's law: {view.per_week:.1f} a week × {view.mean_days:.1f} days / 7 = {said.by_law:.1f} cards; counted were "
            f"{said.counted:.1f} on average ({said.off * 100:+.0f} %): {said.says}."
        ),
    )


def waits_sheet(seen: Seen, pen: Pen) -> Sheet:
    """Return where cards wait, worst first."""
    heads = (
        Head("cards wait for", "waits_for", right=False, fills=True),
        Head("wait now", "now"),
        Head("longest now, days", "longest_days", short="longest"),
        Head("waited in the period", "cards", short="period"),
        Head("days of it in the period", "days", short="of it, days"),
    )
    rows = sorted(seen.flow.waiting, key=lambda w: (-w.seconds, w.why))
    lines = tuple(
        Line(
            (
                pen.text(WAIT_WORDS.get(w.why, w.why)),
                pen.count(w.now, f"waiting:{w.why}"),
                pen.since(w.longest_s, f"waiting:{w.why}") if w.now else pen.text("-"),
                pen.count(w.cards, f"waits:{w.why}"),
                pen.since(w.seconds, f"waits:{w.why}"),
            )
        )
        for w in rows
    )
    chart = Bars(
        "Days cards waited in the period",
        tuple(WAIT_WORDS.get(w.why, w.why).split()[-1] for w in rows),
        (
            Series(
                "days", tuple(w.seconds / DAY_S for w in rows), tuple(pen.since(w.seconds).said for w in rows)
            ),
        ),
    )
    return Sheet("waits", "Where cards wait", heads, lines, chart=chart, empty="No card waits.")


def state_words(card: CardAge, pen: Pen, spent: Decimal | None = None) -> str:
    """Return how a card stands: its state, what it waits for and until when, what is to be asked, what it came to past its authority.

    Whether the customer was asked about a fault is nowhere written down; that no answer is, is.
    """
    if card.state in {"checked", "closed"}:
        return "ready, not billed" if card.state == "checked" else "billed, not fetched"
    waits = WAIT_WORDS.get(card.waits, card.waits)
    found = [card.state]
    if waits and card.state == "held":
        found = [f"held: {card.held_for or waits}"]
    elif waits:
        found = [f"{card.state}, waits for {waits}"]
    if card.due is not None:
        found.append(f"due {pen.day_of(card.due)}")
    if card.stop:
        found.append(f"customer to answer: {card.stop}")
    if card.beyond:
        found.append(
            ": ".join(filter(None, (BEYOND_WORDS, spent and of_authority(spent, card.authority, pen))))
        )
    return "; ".join(found)


def spent_words(card: CardAge, pen: Pen) -> str:
    """Return the time a card spent in each state, longest first."""
    sums: dict[str, int] = {}
    for one in card.spent:
        name = f"waited for {WAIT_WORDS.get(one.waits, one.waits)}" if one.waits else one.state
        sums[name] = sums.get(name, 0) + one.seconds
    longest = sorted(sums.items(), key=lambda item: (-item[1], item[0]))
    return ", ".join(f"{name} {pen.lasting(seconds)}" for name, seconds in longest if seconds)


def cards_sheet(seen: Seen, pen: Pen) -> Sheet:
    """Return every card that stands here, the earliest promise first, with how it stands."""
    heads = (
        Head("card", "card", right=False, least=6),
        Head("car", "registration", right=False, least=7),
        Head("promised", "promised", right=False, least=6),
        Head("how it stands", "stands", right=False, fills=True, least=14, wraps=True),
        Head("so for, days", "days_so", short="so for"),
        Head("days here", "days_here", short="here"),
        Head("job", "job", right=False, least=14, spare=True, below=True),
    )
    rows = sorted(seen.flow.cards, key=lambda c: (c.promised or date.max, -c.age_s, c.number))
    lines = []
    for card in rows:
        key = f"card:{card.card_id}"
        late = "! " if card.promised and card.promised < seen.today else ""
        promised = pen.date(card.promised).said if card.promised else NO_PROMISE
        cells = (
            pen.text(card.number, key),
            pen.text(card.registration, key),
            pen.text(late + promised, key),
            pen.text(state_words(card, pen, seen.beyond.get(card.card_id)), key),
            pen.since(card.since_s, key),
            pen.since(card.age_s, key),
            pen.text(card.title, key),
        )
        lines.append(Line(cells, note=spent_words(card, pen)))
    return Sheet(
        "cards",
        "What stands here, by promise",
        heads,
        tuple(lines),
        ("Below each: the days it spent in each state. ! is past its promise.",),
        on_paper=60,
        empty="Nothing stands here.",
    )
