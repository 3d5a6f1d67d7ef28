"""The invoice-ready summary of a card: from the issued invoice when there is one, else as the card stands."""

import json
from collections.abc import Iterable
from dataclasses import replace

from shopcli.errors import ShopError
from shopcli.present import amount
from shopcli.shop.amounts import from_minor
from shopcli.shop.bill import BillGroup, BillLine
from shopcli.shop.card_bill import card_bill
from shopcli.shop.credited import credited
from shopcli.shop.money import VatGroup
from shopcli.shop.pricing import paid
from shopcli.shop.views import (
    CardView,
    PartyView,
    PaymentView,
    PriceLine,
    ReadingLine,
    ReadingView,
    SummaryView,
    TaskView,
    TotalsView,
    VatGroupView,
    WorkDone,
)
from shopcli.store.reads.bench import card
from shopcli.store.reads.bills import bill_of_card
from shopcli.store.reads.parties import CUSTOMER, customer_party, shop_party
from shopcli.store.shop import Shop
from shopcli.units import AS_PRINTED, Limits, parse, spoken
from shopcli.units.as_exact import as_exact

# What hinders a card as a whole, where it was waived.
OF_THE_CARD = {"odometer": "no odometer reading", "authority": "the bill past the authority"}


def _done(task: TaskView) -> WorkDone:
    reason = task.left_out_for if task.state == "left out" else task.note
    return WorkDone(task.task.title, task.task.system, task.state, reason, task.second_by)


def _limits(reading: ReadingView) -> str:
    return Limits.from_json(json.loads(reading.limits)).text(AS_PRINTED) if reading.limits else ""


def _taken(reading: ReadingView | None) -> str:
    """Say what was read as it was typed, and in the unit of its limits where that is another one."""
    if reading is None:
        return ""
    limits = Limits.from_json(json.loads(reading.limits)) if reading.limits else None
    if limits is None or limits.unit in {"", reading.unit}:
        return reading.typed
    return f"{reading.typed} ({_said_in(limits, reading)})"


def _said_in(limits: Limits, reading: ReadingView) -> str:
    try:
        typed = parse(reading.typed, limits.quantity, default_unit=reading.unit)
    except ShopError:  # written down when more could be read
        return spoken(reading.value, limits.unit)
    return as_exact(replace(typed, value=reading.value), limits.unit)


def _reading_lines(tasks: tuple[TaskView, ...]) -> list[ReadingLine]:
    """Pair as found with as left by the place they were taken at; a job may take them in two of its tasks."""
    places: dict[tuple[str, str, str], dict[str, ReadingView]] = {}
    for task in tasks:
        for reading in task.readings:
            places.setdefault((task.task.template, reading.name, reading.label), {})[reading.phase] = reading
    lines = []
    for (_template, name, label), by_phase in places.items():
        found, left = by_phase.get("as found"), by_phase.get("as left")
        last = left or found
        if last is None:
            continue
        lines.append(
            ReadingLine(
                title=name,
                label=label,
                found=_taken(found),
                left=_taken(left),
                limits=_limits(last),
                verdict=last.verdict,
                provenance=last.provenance,
            )
        )
    return lines


TAKEN = """
SELECT kind, amount_minor, method, at FROM (
SELECT kind, amount_minor, method, at, id, 0 AS last FROM payment WHERE card_id = ?
UNION ALL SELECT 'credit note', gross_minor, '', issued_at, id, 1 FROM credit_note WHERE card_id = ?) AS taken
ORDER BY at, last, id"""


def _price_lines(shop: Shop, key: int, *, issued: bool) -> tuple[tuple[PriceLine, ...], TotalsView]:
    taken = paid(shop.fetch, key) + credited(shop.fetch, key)
    if issued:
        bill = bill_of_card(shop, key)
        due = bill.with_vat + bill.rounding - taken
        sums = TotalsView(
            bill.line_net,
            bill.without_vat,
            bill.tax,
            bill.with_vat,
            taken,
            due,
            _groups(bill.groups),
            bill.rounding,
        )
        return tuple(map(_price_line, bill.lines)), sums
    now = card_bill(shop.fetch, key, shop.settings, shop.at())
    t = now.totals
    groups = _groups(t.groups)
    return tuple(map(_price_line, now.lines)), TotalsView(
        t.line_net, t.without_vat, t.vat, t.with_vat, t.paid, t.due, groups, t.rounding
    )


def _groups(groups: Iterable[BillGroup | VatGroup]) -> tuple[VatGroupView, ...]:
    return tuple(VatGroupView(g.vat, g.category, g.percent, g.basis, g.tax) for g in groups)


def _price_line(b: BillLine) -> PriceLine:
    off = f" (less {b.allowance}: {b.allowance_reason})" if b.allowance else ""
    return PriceLine(
        b.id,
        b.kind,
        b.description + off,
        b.qty,
        b.unit,
        b.price,
        b.net,
        b.vat,
        b.percent,
        b.category,
        b.allowance,
    )


def _shop_party(shop: Shop) -> PartyView:
    s = shop_party(shop)
    return PartyView(s.name, s.where, s.phone, s.email, s.vat_number)


def _customer_party(shop: Shop, customer_id: int) -> PartyView:
    k = customer_party(*shop.fetch(f"SELECT {CUSTOMER} FROM customer k WHERE k.id = ?", (customer_id,))[0])
    return PartyView(k.name, k.where, k.phone, k.email)


def _waivers(shop: Shop, key: int) -> tuple[str, ...]:
    rows = shop.fetch(
        "SELECT w.hindrance, w.reason, p.name, w.at FROM waiver w JOIN person p ON p.id = w.waived_by WHERE w.card_id = ? ORDER BY w.id",
        (key,),
    )
    return tuple(
        f"{_what_waived(shop, h)}: {reason} ({name}, {shop.local(at).day} {shop.local(at):%b %Y})"
        for h, reason, name, at in rows
    )


def _what_waived(shop: Shop, hindrance: str) -> str:
    kind, _, key = hindrance.partition(":")
    sql = {
        "owed": "SELECT title FROM owed WHERE id = ?",
        "reading": "SELECT label || ' ' || typed FROM reading WHERE id = ?",
        "finding": "SELECT place || ': ' || what FROM finding WHERE id = ?",
        "price": "SELECT description || ' without a price' FROM card_part WHERE id = ?",
    }.get(kind)
    rows = shop.fetch(sql, (int(key),)) if sql and key.isdigit() else []
    return str(rows[0][0]) if rows else OF_THE_CARD.get(hindrance, hindrance)


def _authority(view: CardView, currency: str) -> str:
    if view.authority is None:
        return ""
    by = f", {view.authority_by}" if view.authority_by else ""
    return f"up to {amount(view.authority)} {currency}{by}"


def payments(shop: Shop, key: int) -> tuple[PaymentView, ...]:
    """Return the money taken on a card and given back, oldest first."""
    rows = shop.fetch(TAKEN, (key, key))
    return tuple(PaymentView(k, from_minor(a), m, shop.local(at).date()) for k, a, m, at in rows)


def summary(shop: Shop, key: int) -> SummaryView:
    """Return everything the summary of a card shows.

    Raises
    ------
    NotFound
        When there is no such card.
    """
    view = card(shop, key)
    issued = shop.fetch("SELECT number FROM invoice WHERE card_id = ?", (key,))
    lines, totals = _price_lines(shop, key, issued=bool(issued))
    odometer = "" if view.odometer is None else f"{view.odometer:,} {view.distance_unit}"
    return SummaryView(
        shop=_shop_party(shop),
        customer=_customer_party(shop, view.customer_id),
        card=view.number,
        state=view.state,
        invoice_number=bill_of_card(shop, key).number if issued else "",
        registration=view.registration,
        vehicle=view.vehicle,
        odometer=odometer,
        opened=view.opened.date(),
        closed=view.closed.date() if view.closed else None,
        title=view.title,
        words=view.words,
        authority=_authority(view, shop.settings.currency),
        currency=shop.settings.currency,
        done=tuple(_done(t) for t in view.tasks if t.state != "open"),
        readings=tuple(_reading_lines(view.tasks)),
        labour_unit_minutes=shop.settings.labour_unit_minutes,
        lines=lines,
        totals=totals,
        payments=payments(shop, key),
        findings=tuple(f for f in view.findings if f.state == "open"),
        owed=tuple(o for o in view.owed if o.state == "owed"),
        waived=_waivers(shop, key),
        tax_word=shop.settings.tax_word,
    )
