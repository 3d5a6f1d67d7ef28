"""Whatever stands on a card: its bill adds up, so does every credit note written for it, and together they never pass it.

`check_bill` reckons everything on a finished bill again with the one calculator; the laws here are exact sums.
"""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shopcli.errors import Refused
from shopcli.papers.bill_adds_up import check_bill
from shopcli.shop.amounts import ZERO, from_minor
from shopcli.shop.bill import Bill, BillGroup, BillPayment
from shopcli.shop.card_bill import line_of, totals_of
from shopcli.shop.credit_lines import Credited, by_amount, by_lines, whole_rest
from shopcli.shop.discounts import Given, off_the_whole
from shopcli.shop.labour_pricing import labour_quantity
from shopcli.shop.money import Line, Totals
from shopcli.shop.settings import VatRate
from tests.papers.paper_bill import rich

D = Decimal
RATES = (
    VatRate("standard", D(20)),
    VatRate("reduced", D("5.5")),
    VatRate("zero", D(0), "Z"),
    VatRate("passed on", D(0), "E"),
)
rates = st.sampled_from(RATES)
prices = st.integers(0, 99_999).map(from_minor)


@st.composite
def labour(draw: st.DrawFn) -> tuple[str, Decimal, str, Decimal]:
    qty, unit = labour_quantity(draw(st.integers(1, 80)), draw(st.sampled_from((1, 6, 10, 15))))
    return "labour", qty, unit, draw(prices)


@st.composite
def part(draw: st.DrawFn) -> tuple[str, Decimal, str, Decimal]:
    """Return a part, or, below zero, one that came back."""
    milli = draw(st.one_of(st.integers(1, 9_999), st.integers(-3_000, -1)))
    return "part", D(milli) / 1000, draw(st.sampled_from(("pc", "l"))), draw(prices)


@st.composite
def discounts(draw: st.DrawFn, keys: Sequence[str]) -> list[Given]:
    """Return at most one on each line, and a few on the whole."""
    made = []
    for n, key in enumerate([*draw(st.sets(st.sampled_from(keys))), *[""] * draw(st.integers(0, 2))], 1):
        percent = draw(st.booleans())
        figure = draw(st.integers(1, 10_000))
        charge = key == "" and draw(st.booleans())
        made.append(
            Given(n, key, charge, None if percent else figure, figure if percent else None, f"reason {n}")
        )
    return made


@st.composite
def bills(draw: st.DrawFn) -> Bill:
    things = draw(st.lists(st.tuples(st.one_of(labour(), part()), rates), min_size=1, max_size=6))
    plain = [
        Line(f"L{n}", kind, "Something", qty, unit, price, r.name, r.percent, r.category)
        for n, ((kind, qty, unit, price), r) in enumerate(things)
    ]
    off = draw(discounts([x.id for x in plain]))
    on_line = {one.line: one for one in off if one.line}
    lines = tuple(line_of(x, on_line.get(x.id)) for x in plain)
    allowances = off_the_whole(off, lines)
    paid = draw(st.integers(0, 50_000).map(from_minor))
    t = totals_of(lines, allowances, paid, draw(st.sampled_from((0, 0, 5, 10, 25))))
    bill = replace(rich(), lines=lines, allowances=allowances, payments=(), **sums(t))
    return replace(bill, payments=tuple(BillPayment("deposit", p, "cash", bill.issued) for p in (paid,) if p))


def sums(t: Totals) -> dict[str, object]:
    return {
        "groups": tuple(BillGroup(g.vat, g.category, g.percent, g.basis, g.tax) for g in t.groups),
        "line_net": t.line_net,
        "allowance_sum": t.allowances,
        "charge_sum": t.charges,
        "without_vat": t.without_vat,
        "tax": t.vat,
        "with_vat": t.with_vat,
        "paid": t.paid,
        "rounding": t.rounding,
        "due": t.due,
    }


def noted(bill: Bill, made: Credited) -> Bill:
    figures = sums(made.totals)
    return replace(
        bill, kind="credit note", lines=made.lines, allowances=made.allowances, payments=(), **figures
    )


@given(bills())
def test_the_bill_of_any_card_adds_up(bill: Bill) -> None:
    check_bill(bill)
    assert sum((x.net for x in bill.lines), ZERO) == bill.line_net
    assert sum((g.basis for g in bill.groups), ZERO) == bill.without_vat
    assert sum((g.tax for g in bill.groups), ZERO) == bill.tax
    assert bill.due == bill.with_vat - bill.paid + bill.rounding
    assert abs(bill.rounding) < D("0.13")  # half the largest coin, upwards


wishes = st.lists(
    st.one_of(
        st.tuples(st.just("line"), st.integers(0, 5), st.integers(0, 3_000)),
        st.tuples(st.just("sum"), st.integers(0, 3), st.integers(1, 20_000)),
    ),
    max_size=5,
)


def credited(bill: Bill, earlier: Sequence[Bill], wish: tuple[str, int, int]) -> Credited:
    kind, which, figure = wish
    if kind == "sum":
        return by_amount(bill, earlier, from_minor(figure), RATES[which], "goodwill")
    line = bill.lines[which % len(bill.lines)]
    return by_lines(bill, earlier, ((line.id, figure if line.qty > 0 else -figure),))


@given(bills(), wishes)
def test_credit_notes_of_any_kind_add_up_and_never_pass_the_invoice(
    bill: Bill, asked: list[tuple[str, int, int]]
) -> None:
    assume(bill.with_vat + bill.rounding > 0)
    notes: list[Bill] = []
    for wish in asked:
        try:
            notes.append(noted(bill, credited(bill, notes, wish)))
        except Refused:
            continue
        check_bill(notes[-1])
        assert notes[-1].due > 0
        assert sum((n.due for n in notes), ZERO) <= bill.with_vat + bill.rounding
    left = bill.with_vat + bill.rounding - sum((n.due for n in notes), ZERO)
    if left > 0:
        notes.append(noted(bill, whole_rest(bill, notes)))
        check_bill(notes[-1])
    assert sum((n.due for n in notes), ZERO) == bill.with_vat + bill.rounding


def of_lines(*lines: Line, off: Sequence[Given] = ()) -> Bill:
    by_line = {one.line: one for one in off}
    made = tuple(line_of(x, by_line.get(x.id)) for x in lines)
    return replace(rich(), lines=made, allowances=(), payments=(), **sums(totals_of(made, (), ZERO)))


def sold(key: str, qty: str, price: str, rate: VatRate = RATES[0]) -> Line:
    return Line(key, "part", "Something", D(qty), "pc", D(price), rate.name, rate.percent, rate.category)


def test_of_a_line_wholly_given_away_nothing_is_left() -> None:
    # 5.75 x 53.22 = 306.015, up to 306.02; taken off after rounding that is nothing, before it is half a cent too much
    bill = of_lines(sold("L1", "5.75", "53.22"), off=[Given(1, "L1", False, None, 10_000, "our mistake")])
    check_bill(bill)
    assert (bill.lines[0].net, bill.lines[0].allowance) == (ZERO, D("306.02"))


def test_not_a_cent_is_credited_at_a_rate_the_invoice_does_not_have() -> None:
    bill = of_lines(sold("L1", "1", "100"))
    with pytest.raises(Refused, match=r"0\.01 at 0 % is more than the 0"):
        by_amount(bill, (), D("0.01"), RATES[2], "goodwill")


def test_the_rest_of_an_invoice_with_a_return_at_another_rate_is_credited_too() -> None:
    bill = of_lines(sold("L1", "1", "0.11"), sold("L2", "-0.288", "0.36", RATES[1]))
    assert bill.with_vat == D("0.02")  # 0.11 and 0.02 tax, less 0.10 and 0.01 tax
    first = noted(bill, by_amount(bill, (), D("0.01"), RATES[0], "goodwill"))
    rest = noted(bill, whole_rest(bill, (first,)))
    check_bill(rest)
    assert [(x.qty, x.net) for x in rest.lines] == [(D(1), D("0.10")), (D(-1), D("-0.10"))]
    assert first.due + rest.due == bill.with_vat


def test_parts_of_a_line_never_sum_to_more_than_the_line() -> None:
    # three thirds of 0.5 each at 0.01: each 0.005, up to 0.01; the line is 1.5 x 0.01 = 0.015, up to 0.02
    bill = of_lines(sold("L1", "1.5", "0.01"), sold("L2", "1", "50"))
    notes: list[Bill] = []
    for _ in range(2):
        notes.append(noted(bill, by_lines(bill, notes, (("L1", 500),))))
    notes.append(noted(bill, by_lines(bill, notes, (("L1", 0), ("L2", 0)))))
    assert [n.lines[0].net for n in notes] == [D("0.01"), D("0.01"), ZERO]
    assert sum((n.due for n in notes), ZERO) == bill.with_vat
