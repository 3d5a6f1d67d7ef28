"""What is taken off a bill: on a line, on the whole, spread to the cent."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from shopcli.shop.amounts import ZERO
from shopcli.shop.bill import BillLine
from shopcli.shop.card_bill import line_of, totals_of
from shopcli.shop.discounts import Given, off_the_whole, part_of, spread
from shopcli.shop.money import Line

D = Decimal
RATES = (("standard", D(20), "S"), ("reduced", D(5), "S"), ("zero", D(0), "Z"), ("passed on", D(0), "E"))
cents = st.integers(0, 5_000_00).map(lambda c: D(c) / 100)


def a_line(n: int, price: Decimal, rate: tuple[str, Decimal, str], off: Given | None = None) -> BillLine:
    return line_of(Line(f"L{n}", "labour", "Work", D(1), "h", price, *rate), off)


def percent(hundredths: int, *, line: str = "", charge: bool = False) -> Given:
    return Given(1, line, charge, None, hundredths, "because")


def fixed(minor: int, *, line: str = "", charge: bool = False) -> Given:
    return Given(1, line, charge, minor, None, "because")


lines_of_a_bill = st.lists(st.tuples(cents, st.sampled_from(RATES)), min_size=1, max_size=12).map(
    lambda rows: tuple(a_line(n, price, rate) for n, (price, rate) in enumerate(rows))
)


@given(cents, st.lists(cents, min_size=1, max_size=8).filter(lambda b: sum(b) > 0))
def test_what_is_spread_is_the_whole_and_nobody_is_a_cent_off_his_share(amount: D, bases: list[D]) -> None:
    parts = spread(amount, bases)
    assert sum(parts) == amount
    for part, base in zip(parts, bases, strict=True):
        assert abs(part - amount * base / sum(bases)) < D("0.01")


@given(lines_of_a_bill, st.integers(1, 10_000))
def test_a_per_cent_off_the_whole_is_its_rate_of_each_group(lines: tuple[BillLine, ...], rate: int) -> None:
    for a in off_the_whole([percent(rate)], lines):
        assert a.base is not None
        assert a.rate is not None
        assert a.amount == part_of(a.base, a.rate)
        assert a.base == sum(
            (x.net for x in lines if (x.category, x.percent) == (a.category, a.percent)), ZERO
        )


@given(lines_of_a_bill, st.lists(st.integers(1, 900_000), min_size=1, max_size=3))
def test_the_parts_of_a_bill_sum_to_the_whole_and_nothing_is_taken_beyond_what_is_there(
    lines: tuple[BillLine, ...], sums: list[int]
) -> None:
    there = sum((x.net for x in lines), ZERO)
    allowances = off_the_whole([fixed(minor) for minor in sums], lines)
    wanted = D(sum(sums)) / 100
    assert sum((a.amount for a in allowances), ZERO) == min(wanted, there)
    t = totals_of(lines, allowances, ZERO)
    assert t.line_net - t.allowances == t.without_vat == sum((g.basis for g in t.groups), ZERO)
    assert t.vat == sum((g.tax for g in t.groups), ZERO)
    assert t.with_vat == t.without_vat + t.vat == t.due
    assert all(g.basis >= 0 for g in t.groups)


def test_a_tie_of_the_per_cent_goes_up() -> None:
    # 5 % of 0.50 is 0.025: half-up to 0.03 (rounding as in EN 16931's test suite of BR-CO-17)
    assert part_of(D("0.50"), D(5)) == D("0.03")


def test_a_line_carries_what_is_taken_off_it() -> None:
    line = a_line(1, D("80.00"), RATES[0], percent(1_250, line="L1"))
    assert (line.net, line.allowance, line.allowance_percent) == (D("70.00"), D("10.00"), D("12.5"))
    assert line.allowance_reason == "because"
    # more than the line is not taken off it
    assert a_line(1, D("8.00"), RATES[0], fixed(1_000, line="L1")).net == D("0.00")


def test_a_return_is_not_discounted() -> None:
    back = line_of(Line("P1", "part", "Old pump back", D(-1), "pc", D(40), *RATES[0]), percent(1_000))
    assert (back.net, back.allowance) == (D("-40.00"), D("0.00"))


def test_a_charge_goes_on_and_is_taxed() -> None:
    lines = (a_line(1, D("100.00"), RATES[0]),)
    t = totals_of(lines, off_the_whole([fixed(1_000, charge=True)], lines), ZERO)
    assert (t.charges, t.without_vat, t.vat, t.with_vat) == (D(10), D(110), D(22), D(132))


def test_what_is_due_goes_to_the_nearest_coin_and_says_by_how_much() -> None:
    lines = (a_line(1, D("100.02"), RATES[2]),)
    t = totals_of(lines, (), ZERO, 5)
    assert (t.with_vat, t.rounding, t.due) == (D("100.02"), D("-0.02"), D("100.00"))
    t = totals_of((a_line(1, D("0.025"), RATES[2]),), (), ZERO, 5)  # a tie, 0.025 is a line of 0.03 already
    assert t.due == D("0.05")
