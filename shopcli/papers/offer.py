"""An offer as a paper: what it would take, what it would cost, up to when that holds, and a place to sign."""

from decimal import Decimal

from shopcli.papers.adds_up import DoesNotAddUp
from shopcli.papers.bill_lines import allowance_table, group_table, line_table
from shopcli.papers.blocks import (
    Block,
    Col,
    Fields,
    Heading,
    Logo,
    Paper,
    Para,
    Row,
    Section,
    SignHere,
    Sums,
    Table,
)
from shopcli.papers.parties import addressed, sender
from shopcli.papers.telling import sentence
from shopcli.papers.writing import Writing
from shopcli.present import amount
from shopcli.shop.money import Allowance, total
from shopcli.shop.offer_view import UPTO, OfferPaper, OfferReply
from shopcli.shop.taxwords import before_tax

SIGN = ("Name", "Date", "Signature")


def offer_paper(offer: OfferPaper, w: Writing, logo: Logo | None = None) -> Paper:
    """Return the paper of an offer.

    Raises
    ------
    DoesNotAddUp
        If the figures contradict one another.
    """
    check_offer(offer)
    return Paper(
        title="Offer",
        number=offer.number,
        sender=sender(offer.seller, offer.tax_word),
        to=addressed(offer.buyer, offer.tax_word),
        facts=Fields(
            (
                ("Date", w.day_long(offer.made)),
                ("Valid until", w.day_long(offer.valid_until)),
                ("Vehicle", offer.vehicle),
                ("Odometer", offer.odometer),
                ("Card", offer.card),
                ("Ready", offer.ready),
                ("Answer", _reply(offer.reply, offer.tax_word, w) if offer.reply else ""),
            )
        ),
        blocks=tuple(_blocks(offer, w)),
        dated=offer.made,
        language=w.language,
        logo=logo,
    )


def check_offer(offer: OfferPaper) -> None:
    """Refuse an offer whose figures contradict one another.

    Raises
    ------
    DoesNotAddUp
        Naming the sums that do not hold.
    """
    off, on = (
        [Allowance(a.amount, a.percent, a.category) for a in offer.allowances if a.charge == c]
        for c in (False, True)
    )
    whole = total(offer.lines, allowances=off, charges=on)
    pairs = (
        ("sum of the lines", whole.line_net, offer.line_net),
        ("sum without tax", whole.without_vat, offer.without_vat),
        ("sum of tax", whole.vat, offer.tax),
        ("total with tax", whole.with_vat, offer.with_vat),
    )
    wrong = [f"{name} is {amount(ours)}, not {amount(said)}" for name, ours, said in pairs if ours != said]
    if {(g.category, g.percent): g.tax for g in whole.groups} != {
        (g.category, g.percent): g.tax for g in offer.groups
    }:
        wrong.append("the tax groups are not those of the lines")
    if wrong:
        raise DoesNotAddUp(f"offer {offer.number}: " + "; ".join(wrong[:3]), hint="Make it anew.")


def _blocks(offer: OfferPaper, w: Writing) -> list[Block]:
    return [
        *([Heading("What you asked for"), Para(offer.words)] if offer.words else []),
        *_jobs(offer, w),
        *([Heading("What it would cost")] if offer.lines else []),
        *line_table(offer.lines, w, offer.tax_word),
        *allowance_table(offer.allowances, w, offer.tax_word),
        *group_table(offer.groups, w, offer.tax_word),
        Heading("Total"),
        Sums(tuple(_sums(offer, w))),
        *_range(offer, w),
        *_words(offer),
        *_sign(offer, w),
    ]


def _jobs(offer: OfferPaper, w: Writing) -> list[Block]:
    if not offer.jobs:
        return []
    columns = (
        Col("Job", fills=True),
        Col("Hours expected", right=True, least=14),
        Col("4 of 5 within", right=True, least=13),
    )
    rows = [Row((j.title, w.qty(j.hours), w.qty(j.hours_80))) for j in offer.jobs]
    # Jobs seldom all run over at once: the sum's own point is less than the sum of the points.
    if len(rows) > 1:
        rows.append(Row(("Together", w.qty(offer.hours), w.qty(offer.hours_80)), strong=True))
    return [Heading("What it would take"), Table(columns, (Section("", tuple(rows)),))]


def _sums(offer: OfferPaper, w: Writing) -> list[tuple[str, str]]:
    rows: list[tuple[str, Decimal]] = [("Sum of the lines", offer.line_net)]
    if offer.without_vat != offer.line_net:
        rows += [
            ("Taken off and put on", offer.without_vat - offer.line_net),
            (before_tax(offer.tax_word), offer.without_vat),
        ]
    rows += [(offer.tax_word, offer.tax), ("Expected", offer.with_vat)]
    return [(name, w.money(d)) for name, d in rows]


def _range(offer: OfferPaper, w: Writing) -> list[Block]:
    if offer.with_vat_80 is None:
        return []
    return [Para(f"Four times in five it comes to no more than {w.money(offer.with_vat_80)}.", strong=True)]


def _words(offer: OfferPaper) -> list[Block]:
    authority = f"Authorised so far: {offer.authority}" if offer.authority else ""
    said = [text for text in (authority, *offer.notes, offer.terms) if text]
    return [Heading("Notes"), *map(Para, said)] if said else []


def _reply(reply: OfferReply, tax_word: str, w: Writing) -> str:
    upto = f", up to {w.money(reply.upto)} with {tax_word}" if reply.upto is not None else ""
    why = f": {reply.reason.rstrip('.')}" if reply.reason else ""
    return f"{sentence(reply.answer)} by {reply.said_by} on {w.day_long(reply.on)} ({reply.how}){upto}{why}."


def _sign(offer: OfferPaper, w: Writing) -> list[Block]:
    if offer.reply:
        return []
    upto = w.money(offer.with_vat if offer.with_vat_80 is None else offer.with_vat_80)
    allows = tuple(text.replace(UPTO, upto) for text in offer.allows)
    return [Heading("To go ahead"), SignHere(SIGN, allows)]
