"""Who owes what: a customer's account line by line, and every invoice that is not settled."""

from collections.abc import Sequence
from datetime import date, timedelta

from shopcli.errors import BadInput, NotFound
from shopcli.shop.amounts import ZERO, from_minor
from shopcli.shop.bill_numbers import bill_number
from shopcli.shop.hours import midnight
from shopcli.shop.paper_views import AgeBand, StatementLine, StatementView
from shopcli.store.reads.found import find_customers
from shopcli.store.reads.parties import CUSTOMER, customer_party, shop_party
from shopcli.store.reads.unsettled import Unsettled, unsettled
from shopcli.store.shop import Shop

# One row a document or payment, in the order things happened; what is paid before the invoice counts from its own day.
ROWS = """
SELECT at, what, number, amount, card, note FROM (
  SELECT i.issued_at AS at, 'invoice' AS what, i.number AS number, i.gross_minor AS amount, c.number AS card,
         v.registration AS note, 0 AS rank, i.id AS id
  FROM invoice i JOIN card c ON c.id = i.card_id JOIN vehicle v ON v.id = c.vehicle_id WHERE c.customer_id = ?
  UNION ALL
  SELECT n.issued_at, 'credit note', n.number, -n.gross_minor, c.number, n.reason, 1, n.id
  FROM credit_note n JOIN card c ON c.id = n.card_id WHERE c.customer_id = ?
  UNION ALL
  SELECT p.at, p.kind, p.id, -p.amount_minor, c.number, p.method, 2, p.id
  FROM payment p JOIN card c ON c.id = p.card_id WHERE c.customer_id = ?
) AS account WHERE at < ? ORDER BY at, rank, id"""
BANDS = ((30, "0 to 30 days"), (60, "31 to 60 days"), (90, "61 to 90 days"))
USUAL_DAYS = 90
OLDER = "over 90 days"


def ages(open_now: Sequence[Unsettled], today: date) -> tuple[AgeBand, ...]:
    """Return what is owed by the age of its invoice, in the bands of a statement."""
    sums = {words: ZERO for _days, words in BANDS} | {OLDER: ZERO}
    for one in open_now:
        age = (today - one.issued).days
        sums[next((words for days, words in BANDS if age <= days), OLDER)] += one.due
    return tuple(AgeBand(words, amount) for words, amount in sums.items())


def customer_named(shop: Shop, text: str) -> int:
    """Return the customer of that number, or the only one found by these words.

    Raises
    ------
    NotFound
        When there is none, or more than one.
    """
    if text.strip().isdigit() and shop.fetch("SELECT 1 FROM customer WHERE id = ?", (int(text),)):
        return int(text)
    found = find_customers(shop, text)
    same = [c for c in found if c.name.casefold() == text.strip().casefold()] or found
    if len(same) != 1:
        raise NotFound(
            f"{len(same) or 'no'} customers are found by '{text.strip()[:40]}'",
            hint="; ".join(f"{c.name} ({c.id})" for c in same[:5])
            or "Write part of the name, or the telephone.",
        )
    return same[0].id


def statement(shop: Shop, customer_id: int, first: date, last: date) -> StatementView:
    """Return a customer's account from one day to another, both counted.

    Raises
    ------
    NotFound
        When there is no such customer.
    BadInput
        When the last day is before the first.
    """
    if last < first:
        raise BadInput(f"from {first} to {last}", hint="Write the earlier day first.")
    who = shop.fetch(f"SELECT {CUSTOMER} FROM customer k WHERE k.id = ?", (customer_id,))
    if not who:
        raise NotFound(f"there is no customer {customer_id}")
    settings, opening, balance = shop.settings, ZERO, ZERO
    lines = []
    for at, what, number, minor, card, note in shop.fetch(
        ROWS, (customer_id, customer_id, customer_id, midnight(last + timedelta(days=1), settings.tz()))
    ):
        day, amount = shop.local(at).date(), from_minor(minor)
        balance += amount
        if day < first:
            opening = balance
            continue
        lines.append(
            StatementLine(
                on=day,
                document=_document(shop, what, number),
                what=f"card {card}, {note}" if note else f"card {card}",
                charged=max(amount, ZERO),
                credited=max(-amount, ZERO),
                balance=balance,
            )
        )
    today = shop.local(shop.at()).date()
    return StatementView(
        seller=shop_party(shop),
        buyer=customer_party(*who[0]),
        currency=settings.currency,
        made=today,
        first=first,
        last=last,
        opening=opening,
        lines=tuple(lines),
        closing=balance,
        ages=ages([one for one in unsettled(shop) if one.customer_id == customer_id], today),
        iban=settings.iban,
        bic=settings.bic,
        account_name=settings.account_name,
        terms=settings.terms,
    )


def _document(shop: Shop, what: str, number: int) -> str:
    if what == "invoice":
        return bill_number(shop.settings.invoice_prefix, number)
    if what == "credit note":
        return bill_number(shop.settings.credit_prefix, number)
    return f"{what} R{number:05d}"
