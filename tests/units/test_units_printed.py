"""A number as a handbook prints it: every way of writing it reads back as the same limits."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.errors import Ambiguous, BadInput, BadUnit, ShopError
from shopcli.units import QUANTITIES, Limits, units_of
from shopcli.units.printed import Printed, limits_of, read_printed
from shopcli.units.printed_text import one_line, printed_from, printed_json, printed_of

EVERY = [(q, u) for q in QUANTITIES for u in units_of(q)]


@pytest.mark.parametrize(
    ("typed", "low", "nominal", "high"),
    [
        ("0.35-0.45", "0.35", "", "0.45"),
        ("0.35 to 0.45 mm", "0.35 mm", "", "0.45 mm"),
        ('.014" to .018"', '.014"', "", '.018"'),
        ("14-16-18 thou", "14 thou", "16 thou", "18 thou"),
        ("14 to 18 thou, aim for 16 thou", "14 thou", "16 thou", "18 thou"),
        ("14–18 thou, aim 16", "14 thou", "16 thou", "18 thou"),
        ("0.40", "", "0.40", ""),
        ("1-1/16 in", "", "1-1/16 in", ""),
        ("0.4+", "0.4", "", ""),
        ("0.4- mm", "", "", "0.4 mm"),
        ("at least 9 mm", "9 mm", "", ""),
        ("max. 0,3 mm", "", "", "0,3 mm"),
        ("0.45 mm or so", None, None, None),
        ("", None, None, None),
        ("to", None, None, None),
        ("-1 mm", None, None, None),
    ],
)
def test_ways_of_printing(typed: str, low: str | None, nominal: str, high: str) -> None:
    if low is None:
        with pytest.raises(BadInput) as caught:
            read_printed(typed, "length", "mm")
        assert caught.value.hint
    else:
        assert read_printed(typed, "length", "mm") == Printed(low, nominal, high)


def test_a_second_print_is_kept_and_compared() -> None:
    for typed in ("0.45-0.55 mm (0.018-0.022 in)", "0.45-0.55 mm = 0.018-0.022 in"):
        limits = limits_of(read_printed(typed, "length"), "length")
        assert limits.text_in("in") == "0.018 to 0.022 in"
    with pytest.raises(BadInput, match="cannot be the same"):
        read_printed("0.45-0.55 mm (0.18-0.22 in)", "length")
    with pytest.raises(BadUnit):
        read_printed("0.45-0.55 mm (8 bar)", "length")


def test_unclear_units_are_asked_for() -> None:
    with pytest.raises(Ambiguous):
        read_printed("20-25 lb", "torque")
    with pytest.raises(BadInput, match="characters long"):
        read_printed("1" * 400, "length", "mm")


@pytest.mark.parametrize(("quantity", "unit"), EVERY)
def test_limits_in_every_unit_read_back_as_they_were(quantity: str, unit: str) -> None:
    ends = {"low": "1.0", "nominal": "1.5", "high": "2.0"}
    for given_ends in (
        ends,
        {"low": "1.0"},
        {"high": "2.0"},
        {"nominal": "1.50"},
        {"low": "1.0", "high": "2.0"},
    ):
        limits = Limits.of(quantity, unit, **given_ends)
        printed = printed_of(limits)
        assert limits_of(printed, quantity) == limits
        assert limits_of(read_printed(one_line(printed), quantity), quantity) == limits
        assert printed_from(printed_json(printed), limits) == printed


@given(st.text(max_size=60), st.sampled_from(EVERY))
def test_any_text_is_limits_or_a_refusal_in_words(text: str, where: tuple[str, str]) -> None:
    quantity, unit = where
    try:
        assert limits_of(read_printed(text, quantity, unit), quantity, unit).quantity == quantity
    except ShopError as error:
        assert error.message
