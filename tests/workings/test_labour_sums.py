"""Time in whole units, money to the penny."""

from decimal import ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import BadInput, OutOfRange, ShopError
from shopcli.workings import labour, money_sums, time_sums

UNITS, HOURS, MARKUP, VAT, MARGIN = labour.WORKINGS
MONEY = st.decimals(0, 100_000, places=2)
RATES = st.sampled_from([Decimal(r) for r in ("0", "5", "5.5", "7", "19", "20", "25")])


@given(st.integers(0, 100_000), st.integers(1, 240))
def test_begun_units_cover_the_time_and_no_more(minutes: int, unit: int) -> None:
    units = time_sums.billing_units(minutes, unit)
    assert (units - 1) * unit < minutes <= units * unit or minutes == units == 0


@given(st.integers(0, 100_000), st.integers(1, 240))
def test_nearest_unit_by_exact_fractions(minutes: int, unit: int) -> None:
    """Second route: Decimal's half-up rounding of the exact quotient."""
    with localcontext() as context:
        context.prec = 60
        exact = (Decimal(minutes) / Decimal(unit)).quantize(Decimal("1e-30"))
        expected = int(exact.quantize(Decimal(1), rounding=ROUND_HALF_UP))
    assert time_sums.billing_units(minutes, unit, "nearest") == expected


def test_no_creep_of_binary_fractions() -> None:
    """Each whole tenth of an hour stays itself; a float sum makes 42 minutes eight units."""
    assert [time_sums.billing_units(6 * n) for n in range(500)] == list(range(500))


@given(st.integers(0, 1_000_000))
def test_hours_are_read_back(minutes: int) -> None:
    assert time_sums.read_hours(time_sums.hours_minutes(minutes)) == minutes
    assert time_sums.read_hours(str(minutes)) == minutes


@given(st.text(max_size=30))
def test_any_time_or_amount_is_read_or_refused(text: str) -> None:
    for read in (time_sums.read_hours, money_sums.amount):
        try:
            read(text)
        except ShopError as error:
            assert error.message


@pytest.mark.parametrize("text", ["1:5", "1:60", "-5", "1.5", "", "1:05:00", "٣"])
def test_times_that_are_none(text: str) -> None:
    with pytest.raises(BadInput):
        time_sums.read_hours(text)


def test_a_thousands_mark_is_not_guessed() -> None:
    assert money_sums.amount("12,5") == Decimal("12.5")
    for text in ("1,250", "1.250,00", "1e5", "NaN", "Infinity"):
        with pytest.raises(BadInput):
            money_sums.amount(text)


@given(st.decimals(-100_000, 100_000, places=4))
def test_half_up_by_exact_fractions(value: Decimal) -> None:
    """Second route: floor of |x| + 1/2 in whole hundredths, sign put back."""
    hundredths = int(abs(Fraction(value)) * 100 + Fraction(1, 2))
    expected = Decimal(hundredths) / 100
    assert money_sums.half_up(value) == (expected if value >= 0 else -expected)
    assert not str(money_sums.half_up(value)).startswith("-0.00")


@given(st.lists(st.tuples(MONEY, RATES), min_size=1, max_size=12))
def test_groups_hold_every_line_and_round_once(lines: list[tuple[Decimal, Decimal]]) -> None:
    groups = money_sums.vat_by_group(lines)
    assert sum(base for base, _ in groups.values()) == sum(net for net, _ in lines)
    for rate, (base, tax) in groups.items():
        assert abs(base * rate / 100 - tax) <= Decimal("0.005")
    assert groups == money_sums.vat_by_group(list(reversed(lines)))


@given(MONEY, RATES)
def test_a_credit_mirrors_its_invoice(net: Decimal, rate: Decimal) -> None:
    assert money_sums.vat(-net, rate) == -money_sums.vat(net, rate)


def test_a_line_with_fractions_of_a_penny_is_refused() -> None:
    with pytest.raises(BadInput):
        money_sums.vat_by_group([(Decimal("1.005"), Decimal(20))])


BANDS = st.lists(st.integers(1, 500), max_size=4, unique=True).flatmap(
    lambda starts: st.lists(st.integers(0, 200), min_size=len(starts) + 1, max_size=len(starts) + 1).map(
        lambda percents: [
            (Decimal(a), Decimal(p)) for a, p in zip([0, *sorted(starts)], percents, strict=True)
        ]
    )
)


@given(BANDS, MONEY, MONEY)
def test_a_dearer_part_never_sells_below_a_cheaper_one(
    bands: list[tuple[Decimal, Decimal]], one: Decimal, other: Decimal
) -> None:
    cheap, dear = sorted((one, other))
    assert money_sums.marked_up(cheap, bands) <= money_sums.marked_up(dear, bands)
    assert money_sums.marked_up(cheap, bands) >= cheap


def test_markup_in_words() -> None:
    worked = MARKUP.run(cost="10.00", bands="0 60; 10 40")
    assert worked["price"] == "16.00"
    assert "does not sell below" in worked.steps[1]
    assert MARKUP.run(cost="10.00", bands="0 60; 10 40", no_dip=False)["price"] == "14.00"
    for bands in ("10 40", "0 60; 0 40", "0", ""):
        with pytest.raises(BadInput):
            MARKUP.run(cost="10.00", bands=bands)


@given(st.decimals("0.01", 10_000, places=2), st.decimals(0, 90, places=1))
def test_price_for_a_margin_leaves_it(cost: Decimal, margin: Decimal) -> None:
    price = money_sums.price_for_margin(cost, margin)
    exact = cost * 100 / (100 - margin)
    assert abs(price - exact) <= Decimal("0.005")
    if cost > 50:
        assert abs(money_sums.margin_percent(cost, price) - margin) <= Decimal("0.1")


def test_vat_as_told() -> None:
    worked = VAT.run(lines="120.00 20; 45.50 5; 30 0")
    assert (worked["net"], worked["vat"], worked["gross"]) == ("195.50", "26.28", "221.78")
    assert worked["groups"] == ("20 % 120.00 24.00", "5 % 45.50 2.28", "0 % 30.00 0.00")


def test_units_priced_once() -> None:
    worked = UNITS.run(minutes=37, rate="85.00")
    assert (worked["units"], worked["hours"], worked["amount"]) == (7, "0.7", "59.50")
    assert UNITS.run(minutes=37, mode="nearest")["units"] == 6
    assert HOURS.run(time="1:05")["decimal"] == "1.08"


def test_margin_and_markup_are_told_apart() -> None:
    worked = MARGIN.run(cost="60", price="100")
    assert worked["margin_percent"] == "40.0"
    assert "66.7 % (markup)" in worked.steps[1]
    assert MARGIN.run(cost="60", wanted_percent="40")["price"] == "100.00"
    assert "below cost" in MARGIN.run(cost="60", price="50").verdict
    with pytest.raises(BadInput):
        MARGIN.run(cost="60")
    with pytest.raises(OutOfRange):
        MARGIN.run(cost="60", price="0")
