"""A bill that does not add up must not leave the shop: every sum on it is reckoned again, by the one calculator."""

from collections.abc import Iterator
from decimal import Decimal

from shopcli.papers.adds_up import DoesNotAddUp
from shopcli.present import amount
from shopcli.shop.bill import Bill, BillLine
from shopcli.shop.money import Allowance, BadAmount, Line, total


def check_bill(bill: Bill) -> None:
    """Refuse a bill whose figures contradict one another.

    Raises
    ------
    DoesNotAddUp
        Naming the first sums that do not hold.
    """
    try:
        wrong = tuple(contradictions(bill))
    except BadAmount as error:
        wrong = (error.message,)
    if wrong:
        raise DoesNotAddUp(
            f"{bill.kind} {bill.number}: " + "; ".join(wrong[:3]),
            hint="Do not hand it out. Read it again from the records; if it stays, the record needs mending.",
        )


def contradictions(bill: Bill) -> Iterator[str]:
    """Yield every sum of the bill that does not hold, in words.

    Raises
    ------
    BadAmount
        If a figure cannot be money at all.
    """
    for line in bill.lines:
        net = _net(line)
        if net != line.net:
            yield f"line {line.id}: quantity times price is {amount(net)}, not {amount(line.net)}"
    whole = total(
        bill.lines,
        allowances=_off(bill, charge=False),
        charges=_off(bill, charge=True),
        paid=bill.paid,
        rounding=bill.rounding,
    )
    sums = [
        ("sum of the lines", whole.line_net, bill.line_net),
        ("sum taken off", whole.allowances, bill.allowance_sum),
        ("sum put on", whole.charges, bill.charge_sum),
        ("sum without tax", whole.without_vat, bill.without_vat),
        ("sum of tax", whole.vat, bill.tax),
        ("total with tax", whole.with_vat, bill.with_vat),
        ("amount due", whole.due, bill.due),
    ]
    if bill.payments:
        sums.append(("sum of the payments", sum((p.amount for p in bill.payments), Decimal(0)), bill.paid))
    for name, reckoned, printed in sums:
        if reckoned != printed:
            yield f"{name} is {amount(reckoned)}, not {amount(printed)}"
    ours = {(g.category, g.percent): (g.basis, g.tax) for g in whole.groups}
    if ours != {(g.category, g.percent): (g.basis, g.tax) for g in bill.groups}:
        yield "the tax groups are not those of the lines"


def _net(x: BillLine) -> Decimal:
    rest = (x.qty, x.unit, x.price, x.vat, x.percent, x.category, x.allowance, x.charge)
    return Line(x.id, x.kind, x.description, *rest).net


def _off(bill: Bill, *, charge: bool) -> list[Allowance]:
    return [Allowance(a.amount, a.percent, a.category) for a in bill.allowances if a.charge == charge]
