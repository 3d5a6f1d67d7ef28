"""Rounding, sums and refusals of the calculator; the published examples have a file of their own."""

import decimal
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import ShopError
from shopcli.shop.money import (
    Allowance,
    BadAmount,
    Line,
    Net,
    from_minor,
    half_up,
    labour_hours,
    labour_quantity,
    labour_units,
    markup,
    to_minor,
    total,
)

D = Decimal
STANDARD = ("standard", D(20), "S")


def line(qty="1", price="1", unit="pc", **more):
    return Line("1", "part", "thing", D(qty), unit, D(price), *STANDARD, **more)


cents = st.integers(-10_000_000, 10_000_000).map(from_minor)
rates = st.sampled_from([(D(20), "S"), (D(5), "S"), (D("5.5"), "S"), (D(0), "Z"), (D(0), "E")])
nets = st.lists(st.builds(lambda n, r: Net(n, r[0], r[1]), cents, rates), max_size=20)
adjustments = st.lists(
    st.builds(lambda n, r: Allowance(n, r[0], r[1]), st.integers(0, 100_000).map(from_minor), rates),
    max_size=4,
)


@pytest.mark.parametrize(
    ("given_", "places", "wanted"),
    [
        ("0.005", 2, "0.01"),
        ("-0.005", 2, "-0.01"),
        ("0.004999999999", 2, "0.00"),
        ("-0.001", 2, "0.00"),
        ("2.5", 0, "3"),
        ("-2.5", 0, "-3"),
        ("1.0005", 3, "1.001"),
        ("7", 2, "7.00"),
    ],
)
def test_ties_go_away_from_zero(given_, places, wanted):
    assert str(half_up(D(given_), places)) == wanted


@pytest.mark.parametrize(
    "bad",
    [
        D("NaN"),
        D("sNaN"),
        D("Infinity"),
        D("-Infinity"),
        1.5,
        True,
        "1.50",
        None,
        D("1e9"),
        D("-1e300"),
        D("1e-13"),
    ],
    ids=str,
)
def test_what_is_no_amount_is_refused(bad):
    for act in (half_up, to_minor, lambda x: line().__class__("1", "part", "x", x, "pc", D(1), *STANDARD)):
        with pytest.raises(BadAmount):
            act(bad)
    with pytest.raises(BadAmount):
        total([], paid=bad)
    with pytest.raises(BadAmount):
        total([Net(bad, D(20), "S")])
    with pytest.raises(BadAmount):
        total([Net(D(1), bad, "S")])


@pytest.mark.parametrize(
    "bad", [10**5000, -(10**12), 1.0, True, "1"], ids=["huge", "large", "binary", "bool", "text"]
)
def test_what_is_no_count_of_minor_units_is_refused(bad):
    with pytest.raises(BadAmount):
        from_minor(bad)


def test_the_callers_decimal_context_changes_nothing():
    with decimal.localcontext() as rough:
        rough.prec = 3
        rough.rounding = decimal.ROUND_DOWN
        rough.traps[decimal.Inexact] = True
        bill = total([line("12345.678", "98.765")], paid=D("1000.01"))
        price = markup(123_456, ((0, D("33.3")),))
    # 12345.678 x 98.765 = 1219320.88767; 20 % of 1219320.89 = 243864.178
    assert (bill.line_net, bill.vat, bill.due) == (D("1219320.89"), D("243864.18"), D("1462185.06"))
    # 1234.56 x 1.333 = 1645.66848
    assert price == 164_567


def test_line_with_allowance_charge_and_return():
    # 3 x 9.995 = 29.985, less 1.50, plus 0.25 = 28.735, up to 28.74
    assert line("3", "9.995", allowance=D("1.50"), charge=D("0.25")).net == D("28.74")
    # 1.5 x 0.03 = 0.045: the return of it is the same figure with the sign turned.
    assert line("1.5", "0.03").net == D("0.05")
    assert line("-1.5", "0.03").net == D("-0.05")


@pytest.mark.parametrize("part", ["price", "allowance", "charge"])
def test_negative_price_or_adjustment_is_refused(part):
    with pytest.raises(BadAmount, match=f"{part} is below zero"):
        line(**{part: "-0.01"} if part == "price" else {part: D("-0.01")})
    with pytest.raises(BadAmount):
        total([], allowances=[Allowance(D(-1), D(20), "S")])


def test_nets_and_payments_must_be_whole_cents():
    with pytest.raises(BadAmount, match="whole cents"):
        total([Net(D("0.125"), D(20), "S")])
    with pytest.raises(BadAmount, match="whole cents"):
        total([line()], paid=D("0.001"))
    with pytest.raises(BadAmount, match="whole cents"):
        to_minor(D("0.125"))


def test_a_worked_bill_with_every_part():
    bill = total(
        [line("0.7", "62.35"), line("4", "7.25"), Net(D("12.30"), D(0), "E", "pass-through")],
        allowances=[Allowance(D("5.005"), D(20), "S", reason="regular customer")],
        charges=[Allowance(D("3.00"), D(0), "E", reason="postage as paid")],
        paid=D("50.00"),
        rounding=D("-0.01"),
    )
    # 43.645 up to 43.65; 29.00; 12.30: 84.95. Off 5.01, on 3.00: 82.94. S: 72.65 - 5.01 = 67.64, tax 13.528.
    assert (bill.line_net, bill.allowances, bill.charges, bill.without_vat) == (
        D("84.95"),
        D("5.01"),
        3,
        D("82.94"),
    )
    assert [(g.vat, g.category, g.percent, g.basis, g.tax) for g in bill.groups] == [
        ("standard", "S", 20, D("67.64"), D("13.53")),
        ("pass-through", "E", 0, D("15.30"), 0),
    ]
    assert (bill.vat, bill.with_vat, bill.due) == (D("13.53"), D("96.47"), D("46.46"))


@given(nets, adjustments, adjustments, cents)
def test_parts_sum_to_the_whole(lines, off, on, paid):
    bill = total(lines, allowances=off, charges=on, paid=paid)
    assert sum(g.basis for g in bill.groups) == bill.without_vat
    assert sum(g.tax for g in bill.groups) == bill.vat
    assert bill.without_vat == bill.line_net - bill.allowances + bill.charges
    assert bill.with_vat == bill.without_vat + bill.vat
    assert bill.due == bill.with_vat - bill.paid
    for amount in (
        bill.line_net,
        bill.without_vat,
        bill.vat,
        bill.with_vat,
        bill.due,
        *(g.tax for g in bill.groups),
    ):
        assert type(amount) is Decimal
        assert amount.as_tuple().exponent == -2
        assert from_minor(to_minor(amount)) == amount


@given(nets, st.randoms())
def test_order_of_lines_changes_no_figure(lines, random):
    shuffled = random.sample(lines, len(lines))
    assert total(shuffled) == total(lines)


@given(nets)
def test_the_credit_of_a_bill_is_its_mirror(lines):
    bill, credit = total(lines), total([Net(-n.net, n.percent, n.category) for n in lines])
    assert credit.due == -bill.due
    assert [g.tax for g in credit.groups] == [-g.tax for g in bill.groups]


@given(st.integers(-99_999_999_999, 99_999_999_999), st.integers(2, 12))
def test_half_up_is_the_nearest_and_upwards_on_a_tie(digits, places):
    x = D(digits).scaleb(-places)
    away = Fraction(half_up(x)) - Fraction(x)
    assert abs(away) <= Fraction(1, 200)
    if abs(away) == Fraction(1, 200):
        assert abs(half_up(x)) > abs(x)


@given(st.integers(-99_999_999_999, 99_999_999_999))
def test_minor_units_there_and_back(minor):
    assert to_minor(from_minor(minor)) == minor


@given(st.integers(0, 100_000), st.integers(1, 480))
def test_started_units_cover_the_minutes_and_not_one_more(minutes, unit):
    units = labour_units(minutes * 60, unit)
    assert units * unit >= minutes
    assert (units - 1) * unit < minutes or units == 0
    assert units == labour_units(minutes * 60 + 59, unit)


@given(st.integers(0, 1_000_000), st.integers(1, 480))
def test_nearest_unit_is_never_off_by_more_than_half(seconds, unit):
    off = labour_units(seconds, unit, "nearest") * unit * 60 - seconds
    assert -unit * 60 < 2 * off <= unit * 60


@given(st.integers(0, 2000), st.integers(1, 480), st.integers(0, 50_000))
def test_labour_is_priced_exactly_whatever_the_unit(units, unit, hourly_minor):
    qty, code = labour_quantity(units, unit)
    hourly = from_minor(hourly_minor)
    exact = Fraction(units * unit, 60) * Fraction(hourly_minor, 100)
    net = Line("1", "labour", "x", qty, code, hourly, *STANDARD).net
    assert abs(Fraction(net) - exact) <= Fraction(1, 200)
    if 2 * 100 * exact % 2 == 1:
        assert net > exact
    assert code == ("h" if unit % 3 == 0 else "min")
    if code == "h":
        assert Fraction(labour_hours(units, unit)) == Fraction(units * unit, 60)


@pytest.mark.parametrize(
    ("seconds", "unit", "rounding"),
    [
        (-1, 6, "up"),
        (10**400, 6, "up"),
        (60, 0, "up"),
        (60, 481, "up"),
        (60.0, 6, "up"),
        (60, 6, "down"),
        (True, 6, "up"),
    ],
)
def test_labour_that_cannot_be(seconds, unit, rounding):
    with pytest.raises(ShopError):
        labour_units(seconds, unit, rounding)


def test_hours_read_plainly():
    assert [str(labour_hours(n, 6)) for n in (0, 1, 10, 200)] == ["0", "0.1", "1", "20"]
    assert str(labour_hours(5, 10)) == "0.833333"


@pytest.mark.parametrize(
    ("cost", "price"),
    [(0, 0), (99, 99), (100, 150), (4999, 7499), (5000, 6500), (5001, 6501)],
)
def test_markup_by_bands(cost, price):
    """Bands invented for the test: from 1.00 half on top, from 50.00 three tenths, in any order."""
    assert markup(cost, ((5000, D(30)), (100, D(50)))) == price


def test_markup_refuses_nonsense():
    with pytest.raises(BadAmount):
        markup(-1, ())
    with pytest.raises(BadAmount):
        markup(100, ((0, D(-5)),))
    with pytest.raises(BadAmount):
        markup(100, ((0, D("NaN")),))
