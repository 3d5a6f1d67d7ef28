"""Small sentences the papers share: how a task ended, what was seen, what is owed and what is paid."""

from decimal import Decimal

from shopcli.present import day, day_long
from shopcli.shop.taxwords import before_tax, number_of
from shopcli.shop.views import FindingView, PaymentView, SummaryView, WorkDone


def sentence(text: str) -> str:
    """Return text with its first letter large and the rest as it was.

    Examples
    --------
    >>> sentence("cooling"), sentence("SU carburettor")
    ('Cooling', 'SU carburettor')
    """
    return text[:1].upper() + text[1:]


def outcome(work: WorkDone) -> str:
    """Return what follows the title of a task: left out and why, a note, who checked it.

    Examples
    --------
    >>> outcome(WorkDone("Renew the leads", "ignition", "left out", "declined"))
    ': left out, declined'
    >>> outcome(WorkDone("Tighten the wheel nuts", "wheels", "done", "", "J. Ash"))
    ' (checked by J. Ash)'
    """
    parts = [work.outcome] if work.outcome != "done" else []
    parts += [work.reason] if work.reason else []
    text = f": {', '.join(parts)}" if parts else ""
    return text + (f" (checked by {work.second_by})" if work.second_by else "")


def finding_text(finding: FindingView) -> str:
    """Return a finding as the customer reads it."""
    text = sentence(": ".join(filter(None, (finding.place, finding.what))).rstrip(".")) + "."
    if finding.takes:
        text += f" It takes: {finding.takes.rstrip('.')}."
    text += f" Seen by {finding.seen_by} on {day_long(finding.seen)}."
    if finding.state == "declined":
        text += " Declined by the customer."
    return text


def shop_lines(view: SummaryView) -> list[str]:
    """Return how the shop is reached and its VAT number, a line each."""
    shop = view.shop
    number = number_of(view.tax_word, shop.vat_number)
    vat = f"{view.tax_word} no. {number}" if number else ""
    return [line for line in (shop.phone, shop.email, vat) if line]


def payment(p: PaymentView) -> str:
    """Return what a payment was.

    Examples
    --------
    >>> from datetime import date
    >>> payment(PaymentView("deposit", Decimal(50), "card", date(2026, 11, 27)))
    'Deposit, card, Fri 27 Nov'
    """
    return ", ".join(filter(None, (sentence(p.kind), p.method, day(p.on))))


def sums(view: SummaryView) -> list[tuple[str, Decimal]]:
    """Return the foot of the bill, name and amount, down to what is due."""
    t = view.totals
    rows = [("Sum of the lines", t.line_net)]
    if t.without_vat != t.line_net:
        rows += [
            ("Allowances and charges", t.without_vat - t.line_net),
            (before_tax(view.tax_word), t.without_vat),
        ]
    rows += [(view.tax_word, t.vat), (f"Total with {view.tax_word}", t.with_vat)]
    rows += [(payment(p), -p.amount) for p in view.payments]
    if t.paid and not view.payments:
        rows.append(("Paid", -t.paid))
    return [*rows, ("To be given back", -t.due) if t.due < 0 else ("Due", t.due)]
