"""The books of a while, for the accountant: each invoice, credit note and payment in lines whose sums are its own.

A document is split by the account its income goes to and by the rate of its tax. What was taken off the whole
is shared among the accounts of its group in proportion, and the tax of a group is reckoned by account; the cents that
differ from the document's own go to the largest of them. So nothing is booked that is not on the document.

`gross` is what a customer's account is charged: above zero for an invoice, below for a credit note and for money
taken. The sum of it is by how much all customers together owe more than before.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from shopcli.shop.accounts import PAYMENTS, ROUNDING, SALES, Accounts, account_of
from shopcli.shop.amounts import ZERO
from shopcli.shop.discounts import part_of, spread

NOTHING = Decimal("0.00")
INVOICE, CREDIT_NOTE = "invoice", "credit note"
Group = tuple[str, Decimal]


@dataclass(frozen=True, slots=True)
class LedgerLine:
    """A sum booked to one account, at one rate of tax."""

    on: date
    kind: str  # invoice, credit note, deposit, payment, refund, reversal
    document: str
    card: str
    customer_id: int
    customer: str
    account: str
    what: str  # labour, part …, rounding; how it was paid
    rate: str
    category: str
    percent: Decimal | None
    net: Decimal
    tax: Decimal
    gross: Decimal


@dataclass(frozen=True, slots=True)
class Sold:
    """A line of a document, as far as books want it."""

    kind: str
    category: str
    percent: Decimal
    net: Decimal


@dataclass(frozen=True, slots=True)
class Taxed:
    """The tax of one group of a document."""

    rate: str
    category: str
    percent: Decimal
    net: Decimal
    tax: Decimal


@dataclass(frozen=True, slots=True)
class Document:
    """An invoice or credit note as it was issued; amounts are positive on both. `net`, `tax`, `gross` are its row's."""

    on: date
    kind: str
    number: str
    card: str
    customer_id: int
    customer: str
    sold: tuple[Sold, ...]
    groups: tuple[Taxed, ...]
    rounding: Decimal
    net: Decimal
    tax: Decimal
    gross: Decimal

    @property
    def sign(self) -> int:
        """-1 for a credit note."""
        return -1 if self.kind == CREDIT_NOTE else 1


@dataclass(frozen=True, slots=True)
class Paid:
    """Money taken, or, below zero, given back."""

    on: date
    kind: str
    number: str
    card: str
    customer_id: int
    customer: str
    method: str
    amount: Decimal


@dataclass(frozen=True, slots=True)
class RateSum:
    """What was sold at one rate, credit notes taken off."""

    rate: str
    category: str
    percent: Decimal
    net: Decimal
    tax: Decimal


@dataclass(frozen=True, slots=True)
class Ledger:
    """The books from one day to another. `opening` and `closing` are what all customers together owe."""

    first: date
    last: date
    currency: str
    lines: tuple[LedgerLine, ...]
    documents: int
    net: Decimal
    tax: Decimal
    taken: Decimal
    opening: Decimal
    closing: Decimal
    rates: tuple[RateSum, ...]
    wrong: tuple[str, ...]  # what does not agree, empty when all does


def lines_of(document: Document, accounts: Accounts) -> Iterator[LedgerLine]:
    """Yield the lines of an invoice or a credit note."""
    for group in document.groups:
        yield from _group_lines(document, group, accounts)
    if document.rounding:
        amount = document.sign * document.rounding
        yield _line(document, account_of(accounts, ROUNDING, SALES), "rounding", None, (amount, NOTHING))


def _group_lines(document: Document, group: Taxed, accounts: Accounts) -> Iterator[LedgerLine]:
    nets = _shared(document.sold, group)
    taxes = {kind: part_of(net, group.percent) for kind, net in nets.items()}
    largest = max(nets, key=lambda kind: (abs(nets[kind]), kind))
    taxes[largest] += group.tax - sum(taxes.values(), ZERO)
    for kind, net in nets.items():
        if net or taxes[kind]:
            sums = document.sign * net, document.sign * taxes[kind]
            yield _line(document, account_of(accounts, kind, SALES), kind, group, sums)


def _shared(sold: Iterable[Sold], group: Taxed) -> Mapping[str, Decimal]:
    """Return the net of a group by kind, with what was taken off or put on the whole shared among the kinds."""
    nets: dict[str, Decimal] = {}
    for one in sold:
        if (one.category, one.percent) == (group.category, group.percent):
            nets[one.kind] = nets.get(one.kind, NOTHING) + one.net
    at_foot = group.net - sum(nets.values(), ZERO)
    above = [kind for kind, net in nets.items() if net > 0]
    if not above:  # nothing is there to share by
        kind = next(iter(nets), SALES)
        return {**nets, kind: nets.get(kind, NOTHING) + at_foot}
    sign = -1 if at_foot < 0 else 1
    for kind, part in zip(above, spread(abs(at_foot), [nets[kind] for kind in above]), strict=True):
        nets[kind] += sign * part
    return nets


def _line(
    document: Document, account: str, what: str, group: Taxed | None, sums: tuple[Decimal, Decimal]
) -> LedgerLine:
    net, tax = sums
    return LedgerLine(
        document.on,
        document.kind,
        document.number,
        document.card,
        document.customer_id,
        document.customer,
        account,
        what,
        group.rate if group else "",
        group.category if group else "",
        group.percent if group else None,
        net,
        tax,
        net + tax,
    )


def line_of_payment(paid: Paid, accounts: Accounts) -> LedgerLine:
    """Return the line of a payment: what is taken is off the customer's account."""
    return LedgerLine(
        paid.on,
        paid.kind,
        paid.number,
        paid.card,
        paid.customer_id,
        paid.customer,
        account_of(accounts, paid.method, PAYMENTS),
        paid.method,
        "",
        "",
        None,
        NOTHING,
        NOTHING,
        -paid.amount,
    )


def rates_of(lines: Iterable[LedgerLine]) -> tuple[RateSum, ...]:
    """Return what was sold by rate, the highest first."""
    sums: dict[Group, RateSum] = {}
    for line in lines:
        if line.percent is None:
            continue
        key = (line.category, line.percent)
        so_far = sums.get(key) or RateSum(line.rate, line.category, line.percent, NOTHING, NOTHING)
        sums[key] = replace(so_far, net=so_far.net + line.net, tax=so_far.tax + line.tax)
    return tuple(sums[key] for key in sorted(sums, key=lambda k: (-k[1], k[0])))


def wrong_with(
    lines: Sequence[LedgerLine],
    documents: Iterable[Document],
    payments: Iterable[Paid],
    opening: Decimal,
    closing: Decimal,
) -> Iterator[str]:
    """Yield what does not agree with the documents, in words."""
    booked: dict[str, list[Decimal]] = {}
    for line in lines:
        sums = booked.setdefault(line.document, [NOTHING, NOTHING, NOTHING])
        sold = NOTHING if line.what == "rounding" and line.percent is None else line.net
        for n, amount in enumerate((sold, line.tax, line.gross)):
            sums[n] += amount
    for doc in documents:
        own = [doc.sign * d for d in (doc.net, doc.tax, doc.gross)]
        for name, ours, theirs in zip(
            ("net", "tax", "sum"), booked.pop(doc.number, [NOTHING] * 3), own, strict=True
        ):
            if ours != theirs:
                yield f"{doc.kind} {doc.number}: the {name} booked is {ours}, on the document it is {theirs}"
    for paid in payments:
        *_sold, ours = booked.pop(paid.number, [NOTHING] * 3)
        if ours != -paid.amount:
            yield f"{paid.kind} {paid.number}: booked {-ours}, taken {paid.amount}"
    for number in booked:
        yield f"{number} is booked and is no document"
    moved = sum((line.gross for line in lines), NOTHING)
    if opening + moved != closing:
        yield f"customers owed {opening} and {moved} was booked, but they owe {closing}"
