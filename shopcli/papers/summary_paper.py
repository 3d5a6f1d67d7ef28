"""The summary of a card as a paper for the printer; the same sentences as its text and its page."""

from shopcli.papers.adds_up import check_sums
from shopcli.papers.arrange import (
    by_kind,
    by_system,
    distance_unit,
    due,
    place,
    rate_long,
    sources,
    worst_first,
)
from shopcli.papers.blocks import Block, Col, Fields, Heading, Logo, Paper, Para, Row, Section, Sums, Table
from shopcli.papers.seen import finding
from shopcli.papers.telling import outcome, sentence, shop_lines, sums
from shopcli.papers.writing import Writing
from shopcli.present import card_state, task_state
from shopcli.shop.taxwords import short_tax
from shopcli.shop.views import ReadingLine, SummaryView


def summary_paper(view: SummaryView, w: Writing, logo: Logo | None = None) -> Paper:
    """Return the paper of a card's summary.

    Raises
    ------
    DoesNotAddUp
        If the figures contradict one another.
    """
    check_sums(view)
    return Paper(
        title="Summary of work",
        number=f"Card {view.card}",
        sender=(view.shop.name, *view.shop.address, *shop_lines(view)),
        to=Fields(
            (
                ("For", "\n".join((view.customer.name, *view.customer.address))),
                ("Telephone", view.customer.phone),
                ("E-mail", view.customer.email),
            )
        ),
        facts=_facts(view, w),
        blocks=tuple(_blocks(view, w)),
        dated=view.closed or view.opened,
        language=w.language,
        logo=logo,
    )


def _facts(view: SummaryView, w: Writing) -> Fields:
    state = (
        ("Ready", w.day_long(view.closed))
        if view.closed
        else ("State", card_state(view.state, plain=w.plain))
    )
    return Fields(
        (
            ("Vehicle", view.vehicle),
            ("Reg.", view.registration),
            ("Odometer", view.odometer),
            ("Came in", w.day_long(view.opened)),
            state,
            ("Job", view.title),
            ("Authorised", view.authority),
            ("Invoice", view.invoice_number or "not invoiced"),
        )
    )


def _blocks(view: SummaryView, w: Writing) -> list[Block]:
    return [
        *([Heading("What you asked for"), Para(view.words)] if view.words else []),
        *_done(view, w),
        *_readings(view.readings),
        *_money(view, w),
        *_after(view, w),
    ]


def _done(view: SummaryView, w: Writing) -> list[Block]:
    blocks: list[Block] = []
    for group in by_system(view.done):
        blocks.append(Para(sentence(group.system or "general"), strong=True))
        blocks += [
            Para(x.title + outcome(x), mark=task_state(x.outcome, plain=w.plain)[:1]) for x in group.done
        ]
    return [Heading("Work done"), *blocks] if blocks else []


def _readings(readings: tuple[ReadingLine, ...]) -> list[Block]:
    if not readings:
        return []
    numbers = {text: f"[{n}]" for n, text in enumerate(sources(readings), 1)}
    heads = ("Reading", "As found", "As left", "Limits", "Judged", "")
    columns = tuple(Col(head, fills=head == "Reading", most=18) for head in heads)
    rows = tuple(
        Row(
            (
                place(r),
                r.found or "-",
                r.left or "-",
                r.limits or "-",
                r.verdict or "not judged",
                numbers.get(r.provenance, ""),
            )
        )
        for r in readings
    )
    notes = [Para(f"limits: {text}", mark=number, small=True) for text, number in numbers.items()]
    return [Heading("Readings"), Table(columns, (Section("", rows),)), *notes]


def _money(view: SummaryView, w: Writing) -> list[Block]:
    sections = []
    for group in by_kind(view.lines, view.labour_unit_minutes):
        rows = [
            Row(
                (
                    x.description,
                    w.qty(x.qty),
                    x.unit,
                    w.price(x.price) + ("/h" if x.unit == "min" else ""),
                    w.rate(x),
                    w.amount(x.net),
                )
            )
            for x in group.lines
        ]
        if len(rows) > 1:
            hours = w.qty(group.hours) if group.kind == "labour" and group.hours is not None else ""
            rows.append(
                Row(("Together", hours, "h" if hours else "", "", "", w.amount(group.net)), strong=True)
            )
        sections.append(Section(group.title, tuple(rows)))
    heads = ("", "Qty", "", "Price", short_tax(view.tax_word), "Net")
    columns = tuple(Col(h, right=n not in {0, 2}, fills=n == 0) for n, h in enumerate(heads))
    taxes = tuple(Row((rate_long(g), w.amount(g.basis), w.amount(g.tax))) for g in view.totals.groups)
    tax_columns = (Col("Rate", fills=True), Col("On", right=True), Col(view.tax_word, right=True))
    return [
        *([Table(columns, tuple(sections))] if sections else []),
        *([Heading(view.tax_word), Table(tax_columns, (Section("", taxes),), keep=True)] if taxes else []),
        Heading("Total"),
        Sums(tuple((name, w.money(d)) for name, d in sums(view))),
        *([] if view.invoice_number else [Para("This summary is not an invoice.")]),
    ]


def _after(view: SummaryView, w: Writing) -> list[Block]:
    unit = distance_unit(view)
    found = [finding(f, w) for f in worst_first(view.findings)]
    owed = [Para(f"{o.title}: {due(o, unit)}", mark="!") for o in view.owed]
    aside = [Para(text, mark="-") for text in view.waived]
    titled = (("Seen and not done", found), ("Still to be checked", owed), ("Set aside by name", aside))
    return [block for title, paras in titled if paras for block in (Heading(title), *paras)]
