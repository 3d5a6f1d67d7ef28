"""A paper that does not add up must not leave the shop: every sum on it is reckoned again before it is set.

The figures arrive finished. They come from one calculator, but they travel through the records and through
whoever builds the view, and a customer adds them up with a pencil.
"""

from collections.abc import Iterator
from decimal import Decimal

from shopcli.errors import Refused
from shopcli.present import amount
from shopcli.shop.money import BadAmount, Line, Net, total
from shopcli.shop.views import PriceLine, SummaryView


class DoesNotAddUp(Refused):
    """The figures of a paper contradict one another."""

    title = "The paper does not add up"


def contradictions(view: SummaryView) -> tuple[str, ...]:
    """Return every sum of the paper that does not hold, in words; empty when all do.

    Raises
    ------
    BadAmount
        If a figure cannot be money at all.
    """
    return (*_lines(view), *_totals(view))


def check_sums(view: SummaryView) -> None:
    """Refuse a paper whose figures contradict one another.

    Raises
    ------
    DoesNotAddUp
        Naming the first sums that do not hold.
    """
    try:
        wrong = contradictions(view)
    except BadAmount as error:
        wrong = (error.message,)
    if wrong:
        raise DoesNotAddUp(
            f"card {view.card}: " + "; ".join(wrong[:3]),
            hint="Do not hand it out. Open the card again; if it stays, the record needs mending.",
        )


def _lines(view: SummaryView) -> Iterator[str]:
    for line in view.lines:
        net = _net(line)
        if net != line.net:
            yield f"line {line.id}: quantity times price is {amount(net)}, not {amount(line.net)}"


def _net(p: PriceLine) -> Decimal:
    return Line(
        p.id, p.kind, p.description, p.qty, p.unit, p.price, p.vat, p.percent, p.category, p.allowance
    ).net


def _totals(view: SummaryView) -> Iterator[str]:
    t = view.totals
    sums = [
        ("sum of the lines", total(view.lines).line_net, t.line_net),
        ("sum without VAT", sum((g.basis for g in t.groups), Decimal(0)), t.without_vat),
        ("sum of VAT", sum((g.tax for g in t.groups), Decimal(0)), t.vat),
        ("total with VAT", t.without_vat + t.vat, t.with_vat),
        ("amount due", t.with_vat - t.paid + t.rounding, t.due),
    ]
    if view.payments:
        sums.append(("sum of the payments", sum((p.amount for p in view.payments), Decimal(0)), t.paid))
    for group in t.groups:
        again = total([Net(group.basis, group.percent, group.category)]).vat
        sums.append((f"VAT at {group.percent} %", again, group.tax))
    if t.line_net == t.without_vat:  # nothing taken off or put on at the foot: each group is its lines
        ours = {(g.category, g.percent): g.basis for g in total(view.lines).groups}
        theirs = {(g.category, g.percent): g.basis for g in t.groups}
        if ours != theirs:
            yield "the VAT groups are not those of the lines"
    for name, reckoned, printed in sums:
        if reckoned != printed:
            yield f"{name} is {amount(reckoned)}, not {amount(printed)}"
