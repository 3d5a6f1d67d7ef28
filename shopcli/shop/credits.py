"""Credit notes: the one correction of an invoice. A number of their own, figures fixed for good, never more than is left."""

from sqlmodel import Session, col, select

from shopcli.errors import BadInput, Refused
from shopcli.present import money
from shopcli.shop.act import Act, Change
from shopcli.shop.amounts import from_minor, to_minor
from shopcli.shop.bill import Bill
from shopcli.shop.bill_numbers import bill_number
from shopcli.shop.billing import groups_of, notes_of
from shopcli.shop.cards import next_number
from shopcli.shop.common import get, key_of, reason_given, saved
from shopcli.shop.credit_lines import Credited, by_amount, by_lines, whole_rest
from shopcli.shop.invoices import net_of
from shopcli.shop.kept_json import from_json, to_json
from shopcli.shop.money_commands import CreditInvoice
from shopcli.shop.records import Card, CreditNote, Invoice
from shopcli.shop.settings import VatRate


def credit_invoice(session: Session, act: Act, cmd: CreditInvoice) -> Change:
    """Issue a credit note for all that is left of an invoice, some of its lines, or a sum.

    Raises
    ------
    BadInput
        Without a reason, with lines and a sum at once, or with a line or quantity that cannot be.
    Refused
        Without an invoice, for more than is left of it, or when a mechanic asks.
    """
    card = get(session, Card, cmd.card_id, "card")
    invoice = session.exec(select(Invoice).where(Invoice.card_id == cmd.card_id)).first()
    if invoice is None:
        raise Refused(
            f"card {card.number} has no invoice yet", hint="Change the card itself while it is open."
        )
    reason = reason_given(cmd.reason, "a credit note")
    original = _whole(invoice)
    earlier = tuple(
        from_json(Bill, note.body)
        for note in session.exec(
            select(CreditNote).where(CreditNote.invoice_id == invoice.id).order_by(col(CreditNote.id))
        )
    )
    if cmd.lines and cmd.amount_minor:
        raise BadInput("lines and a sum at once", hint="Write two credit notes.")
    if cmd.lines:
        made = by_lines(original, earlier, cmd.lines)
    elif cmd.amount_minor:
        rate = _rate(act, original, cmd.vat)
        made = by_amount(original, earlier, from_minor(cmd.amount_minor), rate, reason)
    else:
        made = whole_rest(original, earlier)
    number = next_number(session, "credit note")
    note = _note(act, original, made, bill_number(act.settings.credit_prefix, number), reason)
    year, week, _day = act.today().isocalendar()
    row = saved(
        session,
        CreditNote(
            number=number,
            invoice_id=key_of(invoice),
            card_id=cmd.card_id,
            issued_at=act.at,
            issued_by=act.by,
            reason=reason,
            net_minor=to_minor(note.without_vat),
            vat_minor=to_minor(note.tax),
            gross_minor=to_minor(note.due),
            labour_minor=net_of(note.lines, "labour"),
            parts_minor=net_of(note.lines, "part"),
            week=f"{year}-W{week:02d}",
            body=to_json(note),
        ),
    )
    due = money(note.due, note.currency, plain=act.settings.ascii_only)
    said = f"Credit note {note.number} over {due} for invoice {original.number}."
    return Change("credit_note", key_of(row), cmd.card_id, after={"credit note": number}, said=(said,))


def _whole(invoice: Invoice) -> Bill:
    try:
        return from_json(Bill, invoice.body)
    except (TypeError, ValueError, KeyError) as error:
        raise Refused(
            f"invoice {invoice.number} was issued before bills were kept whole",
            hint="Settle it by a refund, and note it in your books.",
        ) from error


def _rate(act: Act, original: Bill, name: str) -> VatRate:
    """Return the rate of a sum: the one named, or that of labour; on a bill whose tax was reversed, that."""
    reverse = next((g for g in original.groups if g.category == "AE"), None)
    if reverse is not None and not name:
        return VatRate(reverse.vat, reverse.percent, reverse.category, reverse.reason)
    return act.settings.vat(name or act.settings.labour_vat)


def _note(act: Act, original: Bill, made: Credited, number: str, reason: str) -> Bill:
    t = made.totals
    return Bill(
        kind="credit note",
        number=number,
        issued=act.today(),
        due_by=None,
        supplied=original.supplied,
        currency=original.currency,
        seller=original.seller,
        buyer=original.buyer,
        card=original.card,
        vehicle=original.vehicle,
        odometer=original.odometer,
        order=original.order,
        lines=made.lines,
        allowances=made.allowances,
        groups=groups_of(t.groups, act.settings),
        payments=(),
        line_net=t.line_net,
        allowance_sum=t.allowances,
        charge_sum=t.charges,
        without_vat=t.without_vat,
        tax=t.vat,
        with_vat=t.with_vat,
        paid=t.paid,
        rounding=t.rounding,
        due=t.due,
        corrects=original.number,
        corrects_issued=original.issued,
        why=reason,
        notes=notes_of(made.lines, original.tax_word),
        terms="Set against the invoice; what was paid on it is given back.",
        tax_word=original.tax_word,
        rounding_rule=original.rounding_rule,
    )
