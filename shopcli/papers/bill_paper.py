"""An invoice or a credit note as a paper: the same words and figures for a terminal, a browser and a printer."""

from shopcli.papers.bill_adds_up import check_bill
from shopcli.papers.bill_lines import allowance_table, group_table, line_table
from shopcli.papers.blocks import Block, Fields, Heading, Logo, Paper, Para, Sums
from shopcli.papers.parties import addressed, iban_grouped, sender
from shopcli.papers.telling import sentence
from shopcli.papers.writing import Writing
from shopcli.shop.bill import Bill, BillPayment
from shopcli.shop.taxwords import before_tax

CREDIT_NOTE = "credit note"


def bill_paper(bill: Bill, w: Writing, logo: Logo | None = None) -> Paper:
    """Return the paper of a bill.

    Raises
    ------
    DoesNotAddUp
        If the figures contradict one another.
    """
    check_bill(bill)
    return Paper(
        title="Credit note" if bill.kind == CREDIT_NOTE else "Invoice",
        number=bill.number,
        sender=sender(bill.seller, bill.tax_word),
        to=addressed(bill.buyer, bill.tax_word),
        facts=_facts(bill, w),
        blocks=tuple(_blocks(bill, w)),
        dated=bill.issued,
        language=w.language,
        logo=logo,
    )


def _facts(bill: Bill, w: Writing) -> Fields:
    return Fields(
        (
            ("Date", w.day_long(bill.issued)),
            ("Due by", w.day_long(bill.due_by) if bill.due > 0 else ""),
            ("Work finished", w.day_long(bill.supplied)),
            ("Answers", _answers(bill, w)),
            ("Vehicle", bill.vehicle),
            ("Odometer", bill.odometer),
            ("Card", bill.card),
            ("Your order", bill.order),
        )
    )


def _answers(bill: Bill, w: Writing) -> str:
    day = w.day_long(bill.corrects_issued)
    return f"invoice {bill.corrects}{f' of {day}' if day else ''}" if bill.corrects else ""


def _blocks(bill: Bill, w: Writing) -> list[Block]:
    return [
        *_credit_words(bill, w),
        *line_table(bill.lines, w, bill.tax_word),
        *allowance_table(bill.allowances, w, bill.tax_word),
        *group_table(bill.groups, w, bill.tax_word),
        Heading("Total"),
        Sums(tuple(sums(bill, w))),
        *_paying(bill, w),
        *_notes(bill),
    ]


def _credit_words(bill: Bill, w: Writing) -> list[Block]:
    if bill.kind != CREDIT_NOTE:
        return []
    words = f"This credit note answers {_answers(bill, w)}." if bill.corrects else ""
    why = f"Why: {bill.why}" if bill.why else ""
    return [Para(text) for text in (words, why) if text]


def payment(p: BillPayment, w: Writing) -> str:
    """Return what a payment was."""
    return ", ".join(filter(None, (sentence(p.kind), p.method, w.day(p.on))))


def sums(bill: Bill, w: Writing) -> list[tuple[str, str]]:
    """Return the foot of a bill, name and amount, down to what is due."""
    rows = [("Sum of the lines", bill.line_net)]
    rows += [("Taken off the whole", -bill.allowance_sum)] if bill.allowance_sum else []
    rows += [("Put on the whole", bill.charge_sum)] if bill.charge_sum else []
    rows += [(before_tax(bill.tax_word), bill.without_vat)] if len(rows) > 1 else []
    rows += [(bill.tax_word, bill.tax), (f"Total with {bill.tax_word}", bill.with_vat)]
    rows += [(payment(p, w), -p.amount) for p in bill.payments]
    rows += [("Paid", -bill.paid)] if bill.paid and not bill.payments else []
    rows += [("Rounding", bill.rounding)] if bill.rounding else []
    return [*((name, w.money(d)) for name, d in rows), _last(bill, w)]


def _last(bill: Bill, w: Writing) -> tuple[str, str]:
    if bill.kind == CREDIT_NOTE:
        return ("Credited to you", w.money(bill.due))
    return ("To be given back", w.money(-bill.due)) if bill.due < 0 else ("Due", w.money(bill.due))


def _paying(bill: Bill, w: Writing) -> list[Block]:
    """Return how it is paid, while there is something to pay."""
    if bill.kind == CREDIT_NOTE:
        return [Para(bill.terms)] if bill.terms else []
    if bill.due <= 0:
        return []
    bank = (
        ("Account", bill.account_name or bill.seller.name),
        ("IBAN", iban_grouped(bill.iban)),
        ("BIC", bill.bic),
        ("Please quote", bill.number),
    )
    said = [
        Para(text)
        for text in (bill.terms, f"Please pay by {w.day_long(bill.due_by)}." if bill.due_by else "")
    ]
    blocks = [*(p for p in said if p.text), *((Fields(bank),) if bill.iban else ())]
    return [Heading("How to pay"), *blocks] if blocks else []


def _notes(bill: Bill) -> list[Block]:
    why = () if bill.kind == CREDIT_NOTE else (bill.why,)
    notes = [Para(text) for text in (*why, *bill.notes) if text]
    small = [Para(bill.rounding_rule, small=True)] if bill.rounding_rule else []
    return [Heading("Notes"), *notes, *small] if notes else small
