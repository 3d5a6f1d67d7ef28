"""The page of what is ahead: when the queue clears, how many cards go out by when, and how often that was right."""

from datetime import date

from shopcli.papers.charts import Bars, Series
from shopcli.papers.week.model import Cell, Head, Line, Page, Sheet
from shopcli.papers.week.pen import Pen
from shopcli.papers.week.seen import Seen
from shopcli.shop.week_ahead import AheadView
from shopcli.workings.weeks_ahead import FEWEST, Held

METHOD = (
    (
        "Played a thousand times from the shop's own last {known} weeks, as they went; as many cards as are open now have to be "
        "closed, in whatever order, from tomorrow on."
    ),
)


def ahead_page(seen: Seen, pen: Pen) -> Page:
    """Return the page."""
    return Page(
        "ahead",
        "Ahead",
        lambda: ((queue_sheet(seen, pen), weeks_sheet(seen.ahead, pen)), ahead_chart(seen.ahead)),
    )


def queue_sheet(seen: Seen, pen: Pen) -> Sheet:
    """Return the day all that is booked in is done."""
    view = seen.ahead
    heads = (Head("all that is booked in", "figure", right=False, fills=True), Head("", "value", right=False))
    lines = [Line((pen.text("cards not closed"), pen.count(view.cards, "queue")))]
    if view.ahead is None:
        return Sheet("queue", "When all that is booked in is done", heads, tuple(lines), (too_few(),))
    lines += [
        Line((pen.text("the last one done by, as likely as not"), dated(view, view.usual, pen))),
        Line((pen.text("the last one done by, 85 in 100"), dated(view, view.sure, pen))),
    ]
    words = [*pace_words(seen, pen), METHOD[0].format(known=view.known)]
    if view.sure is None:
        words.append("A dash: not within two years at this pace.")
    words.append(tried_words("the day named for the queue", view.tried_queue))
    return Sheet("queue", "When all that is booked in is done", heads, tuple(lines), tuple(words))


def pace_words(seen: Seen, pen: Pen) -> tuple[str, ...]:
    """Return why the queue clears so late or soon, and what that means for what was promised."""
    view = seen.ahead
    found = [
        (
            f"{view.pace:.1f} cards a week were closed over the last {view.known} weeks. From that the days are reckoned: they say "
            "whether more can be taken in, and are no promise to anybody."
        )
    ]
    days = sorted(c.promised for c in seen.flow.cards if c.promised and c.state != "closed")
    week = next((one for one in view.weeks if days and view.last_day(one) >= days[-1]), None)
    if days and week is not None:
        word = "is" if len(days) == 1 else "are"
        found.append(
            f"{len(days)} of those not closed {word} promised by {pen.day_of(days[-1])}; at that pace {week.usual or 'none'} will be closed by then"
            + (": ring before they ring, or put more hands on them." if week.usual < len(days) else ".")
        )
    return tuple(found)


def dated(view: AheadView, on: date | None, pen: Pen) -> Cell:
    """Return a day; with its year where that is another."""
    cell = pen.date(on, "queue")
    if on is None or on.year == view.today.year or str(on.year) in cell.said:
        return cell
    return Cell(f"{cell.said} {on.year}", on, cell.key)


def too_few() -> str:
    """Return why there is no forecast."""
    return f"A forecast wants {FEWEST} whole weeks of the shop's own; there are not so many yet."


def tried_words(what: str, held: Held) -> str:
    """Return how often a statement came true over the past year."""
    if not held.tries or held.sure_part is None or held.usual_part is None:
        return f"Not tried yet: {what} has to have passed before it can be held against what came."
    return (
        f"Tried on the past year: {what} was kept {held.sure} of {held.tries} times ({held.sure_part * 100:.0f} %; it should be "
        f"about 85, and more where a single day or card decides), the even one {held.usual} ({held.usual_part * 100:.0f} %; 50 or more)."
    )


def weeks_sheet(view: AheadView, pen: Pen) -> Sheet:
    """Return how many cards go out by the end of each week ahead."""
    heads = (
        Head("by the end of", "until", right=False, fills=True),
        Head("weeks on", "weeks"),
        Head("even chance", "usual"),
        Head("85 in 100", "sure"),
    )
    lines = tuple(
        Line((pen.date(view.last_day(one)), pen.count(one.ahead), pen.count(one.usual), pen.count(one.sure)))
        for one in view.weeks
    )
    words = ()
    if lines:
        words = (
            "So many cards or more will be closed by then.",
            tried_words(f"the number named for {view.tried_weeks} weeks on", view.tried_cards),
        )
    return Sheet(
        "cards-ahead", "How many go out by when", heads, lines, words, ahead_chart(view), empty=too_few()
    )


def ahead_chart(view: AheadView) -> Bars:
    """Return the cards closed by the end of each week ahead."""
    rows = (
        ("even chance", [w.usual for w in view.weeks]),
        ("85 in 100", [w.sure for w in view.weeks]),
    )
    return Bars(
        "Cards closed by the end of the week",
        tuple(f"+{one.ahead - 1}" if one.ahead > 1 else "this" for one in view.weeks),
        tuple(Series(name, tuple(map(float, row)), tuple(map(str, row))) for name, row in rows),
    )
