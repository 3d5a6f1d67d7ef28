"""The story of a vehicle: every visit, what was read over the years, what was fitted and what is still to be done."""

from shopcli.papers.arrange import place, worst_first
from shopcli.papers.blocks import Block, Col, Fields, Heading, Logo, Paper, Para, Row, Section, Table
from shopcli.papers.parties import sender
from shopcli.papers.seen import finding
from shopcli.papers.writing import Writing
from shopcli.present import card_state
from shopcli.shop.paper_views import HistoryReading, HistoryView, HistoryVisit


def history_paper(view: HistoryView, w: Writing, logo: Logo | None = None) -> Paper:
    """Return the paper of a vehicle's story."""
    return Paper(
        title="Vehicle history",
        number=view.registration,
        sender=sender(view.seller),
        to=Fields((("Vehicle", view.vehicle), ("Reg.", view.registration))),
        facts=Fields((*view.about, ("Printed", w.day_long(view.made)))),
        blocks=(*_open(view, w), *_readings(view, w), *(b for v in view.visits for b in _visit(v, w))),
        dated=view.made,
        language=w.language,
        logo=logo,
    )


def _open(view: HistoryView, w: Writing) -> list[Block]:
    found = [f for f in worst_first(view.findings) if f.state == "open"]
    paras = [finding(f, w) for f in found]
    return [Heading("Seen and not done"), *paras] if paras else []


def _readings(view: HistoryView, w: Writing) -> list[Block]:
    """Set each thing that was read with its values below one another, oldest first: how it moves is the point."""
    if not view.readings:
        return []
    columns = (
        Col("Date", least=11),
        Col("Card", most=10),
        Col("As found", most=14),
        Col("As left", most=14),
        Col("Limits", fills=True),
    )
    by_place: dict[str, list[HistoryReading]] = {}
    for reading in sorted(view.readings, key=lambda r: r.on):
        by_place.setdefault(place(reading.line), []).append(reading)
    sections = tuple(Section(name, tuple(_row(r, w) for r in taken)) for name, taken in by_place.items())
    return [Heading("Readings"), Table(columns, sections)]


def _row(r: HistoryReading, w: Writing) -> Row:
    return Row((w.day(r.on), r.card, r.line.found or "-", r.line.left or "-", r.line.limits or "-"))


def _visit(v: HistoryVisit, w: Writing) -> list[Block]:
    ended = w.day_long(v.closed) if v.closed else card_state(v.state, plain=w.plain)
    facts = (
        ("Ready" if v.closed else "State", ended),
        ("Odometer", v.odometer),
        ("Job", v.title),
        ("Asked for", v.words),
        ("Invoice", v.invoice),
    )
    return [
        Heading(f"{w.day_long(v.opened)}, card {v.card}"),
        Fields(facts),
        *(Para(text, mark="-") for text in v.work),
        *([Para("Fitted: " + "; ".join(v.parts))] if v.parts else []),
    ]
