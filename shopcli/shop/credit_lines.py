"""Which lines a credit note has, reckoned from the invoice and the notes before it; nothing here touches a record.

Nets are exact: the last of a line credits just what is left of its net, a cent of rounding going into the line's
own allowance or charge. What was taken off the whole is shared out upwards and what was put on downwards, so that no
group of tax is ever credited beyond what is left of it. Tax is reckoned anew on each note, as the rule of rounding wants
it; where that makes cents more than are left of the invoice, or the last note cents less, the note's own rounding
(BT-114) takes them up.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from shopcli.errors import BadInput, Refused
from shopcli.shop.amounts import ZERO, rounded
from shopcli.shop.bill import Bill, BillAllowance, BillLine
from shopcli.shop.card_bill import totals_of
from shopcli.shop.money import Line, Totals
from shopcli.shop.settings import VatRate

Group = tuple[str, Decimal]
CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Credited:
    """What a credit note says in figures."""

    lines: tuple[BillLine, ...]
    allowances: tuple[BillAllowance, ...]
    totals: Totals


def whole_rest(bill: Bill, earlier: Sequence[Bill]) -> Credited:
    """Credit all that is left of an invoice.

    Raises
    ------
    Refused
        When nothing is left.
    """
    if not earlier:
        return _within(bill, earlier, bill.lines, bill.allowances)
    if any(line.id.startswith("C") for note in earlier for line in note.lines):
        return _rest_by_group(bill, earlier)
    return by_lines(bill, earlier, tuple((line.id, 0) for line in bill.lines if _left(line, earlier)))


def _rest_by_group(bill: Bill, earlier: Sequence[Bill]) -> Credited:
    """Credit what is left group by group, where a sum was credited before and lines do not tell what is left."""
    names = {(g.category, g.percent): g.vat for g in bill.groups}
    lines = [
        _sum_line(f"C{n}", f"Rest of invoice {bill.number}", net, VatRate(names[key], key[1], key[0]))
        for n, (key, net) in enumerate(_nets_left(bill, earlier).items(), 1)
        if net
    ]
    return _within(bill, earlier, tuple(lines), ())


def by_lines(bill: Bill, earlier: Sequence[Bill], wanted: Iterable[tuple[str, int]]) -> Credited:
    """Credit lines, each (id, quantity in thousandths, 0 for what is left), with their share of what was taken off the whole.

    Raises
    ------
    BadInput
        On a line the invoice does not have or has named twice, or a quantity that cannot be.
    Refused
        When more than is left would be credited.
    """
    known = {line.id: line for line in bill.lines}
    made: dict[str, BillLine] = {}
    for key, milli in wanted:
        if key not in known or key in made:
            what = "named twice" if key in made else "not on it"
            raise BadInput(
                f"line '{key[:20]}' of invoice {bill.number} is {what}",
                hint="It has: " + ", ".join(known) + ".",
            )
        made[key] = _part_of_line(known[key], earlier, Decimal(milli) / 1000)
    if not made:
        raise Refused(f"nothing is left of invoice {bill.number}")
    lines = tuple(made.values())
    return _within(bill, earlier, lines, tuple(_share_of_foot(bill, earlier, lines)))


def by_amount(bill: Bill, earlier: Sequence[Bill], net: Decimal, rate: VatRate, reason: str) -> Credited:
    """Credit a sum before tax at one rate, as goodwill.

    Raises
    ------
    BadInput
        When the sum is not above zero.
    Refused
        When it is more than is left at that rate.
    """
    if net <= 0:
        raise BadInput("the sum must be above zero")
    n = 1 + sum(len(note.lines) for note in earlier)
    return _within(bill, earlier, (_sum_line(f"C{n}", reason, net, rate),), ())


def _sum_line(key: str, text: str, net: Decimal, rate: VatRate) -> BillLine:
    """Return a line over a sum; of a group in which more came back than was sold it is a return."""
    qty, price = Decimal(-1 if net < 0 else 1), abs(net)
    return BillLine(key, "credit", text, qty, "pc", price, 1, net, rate.name, rate.percent, rate.category)


def _left(line: BillLine, earlier: Sequence[Bill]) -> Decimal:
    """Return the quantity of a line that is left; of a returned one (below zero) what is left of the return."""
    return line.qty - sum((x.qty for note in earlier for x in note.lines if x.id == line.id), ZERO)


def _part_of_line(line: BillLine, earlier: Sequence[Bill], wanted: Decimal) -> BillLine:
    left = _left(line, earlier)
    qty = wanted or left
    if not left or qty * left <= 0 or abs(qty) > abs(left):
        raise Refused(
            f"{qty.normalize():f} of line {line.id} ({line.description}) is more than the {left.normalize():f} left"
        )
    before = sum((x.net for note in earlier for x in note.lines if x.id == line.id), ZERO)
    share = rounded(line.allowance * qty / line.qty)
    part = replace(line, qty=qty, allowance=share, charge=rounded(line.charge * qty / line.qty))
    net, most = _net(part), line.net - before
    target = most if qty == left else sorted((ZERO, net, most))[1]
    if net != target:
        apart = target - net
        if apart < 0:
            part = replace(part, allowance=part.allowance - apart, allowance_percent=None)
        else:
            part = replace(part, charge=part.charge + apart, charge_reason=part.charge_reason or "Rounding")
        if part.allowance and not part.allowance_reason:
            part = replace(part, allowance_reason="Rounding")
    return replace(part, net=target)


def _net(x: BillLine) -> Decimal:
    rest = (x.qty, x.unit, x.price, x.vat, x.percent, x.category, x.allowance, x.charge)
    return Line(x.id, x.kind, x.description, *rest).net


def _group_nets(lines: Iterable[BillLine]) -> dict[Group, Decimal]:
    nets: dict[Group, Decimal] = {}
    for line in lines:
        nets[line.category, line.percent] = nets.get((line.category, line.percent), ZERO) + line.net
    return nets


def _share_of_foot(bill: Bill, earlier: Sequence[Bill], lines: Sequence[BillLine]) -> Iterable[BillAllowance]:
    """Yield the share of each allowance at the foot; the last lines of a group take what is left of it."""
    whole, now = _group_nets(bill.lines), _group_nets(lines)
    done = _group_nets(line for note in earlier for line in note.lines)
    for at_foot in bill.allowances:
        key = (at_foot.category, at_foot.percent)
        if key not in now or not whole[key]:
            continue
        before = sum((a.amount for note in earlier for a in note.allowances if _same(a, at_foot)), ZERO)
        rest = at_foot.amount - before
        last = done.get(key, ZERO) + now[key] == whole[key]
        share = (at_foot.amount * now[key] / whole[key]).quantize(
            CENT, ROUND_FLOOR if at_foot.charge else ROUND_CEILING
        )
        amount = rest if last else min(share, rest)
        yield replace(at_foot, amount=max(amount, ZERO), base=None, rate=None)


def _same(a: BillAllowance, b: BillAllowance) -> bool:
    return (a.charge, a.category, a.percent, a.reason) == (b.charge, b.category, b.percent, b.reason)


def _nets_left(bill: Bill, earlier: Sequence[Bill]) -> Mapping[Group, Decimal]:
    left = {(g.category, g.percent): g.basis for g in bill.groups}
    for note in earlier:
        for g in note.groups:
            left[g.category, g.percent] = left.get((g.category, g.percent), ZERO) - g.basis
    return left


def _within(
    bill: Bill, earlier: Sequence[Bill], lines: tuple[BillLine, ...], allowances: tuple[BillAllowance, ...]
) -> Credited:
    """See that a note stays within what is left, group by group and altogether.

    Raises
    ------
    Refused
        When it does not.
    """
    sums = totals_of(lines, allowances, Decimal("0.00"))
    left, wanted = _nets_left(bill, earlier), {(g.category, g.percent): g.basis for g in sums.groups}
    for key, basis in wanted.items():
        rest = max(left.get(key, ZERO), ZERO)
        if basis > rest:
            raise Refused(
                f"{basis} at {key[1].normalize():f} % is more than the {rest} left of invoice {bill.number}"
            )
    gross_left = bill.with_vat + bill.rounding - sum((note.due for note in earlier), ZERO)
    closes = {k: d for k, d in wanted.items() if d} == {k: d for k, d in left.items() if d}
    if gross_left <= 0 or (sums.with_vat <= 0 and not closes):
        raise Refused(f"nothing is left of invoice {bill.number}")
    apart = gross_left - sums.with_vat
    if apart < 0 or (closes and apart):
        # Each note and the invoice round the tax of each group by half a cent at most.
        most = CENT * (len(earlier) + 1) * max(len(left), 1) + abs(bill.rounding)
        if abs(apart) > most:
            raise Refused(f"{sums.with_vat} is more than the {gross_left} left of invoice {bill.number}")
        sums = replace(sums, rounding=apart, due=sums.with_vat + apart)
    return Credited(lines, allowances, sums)
