"""A bare figure that another unit would bring into its limits is asked about; one with its unit never is."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import Ambiguous
from shopcli.units import Limits, from_canonical, parse, see_what_is_meant, unit_named
from shopcli.units.meant import other_units

# 1 in = 25.4 mm, 1 psi = 0.0689476 bar: NIST SP 811 (2008), appendix B.8; the limits are invented.
GAP = Limits.of("length", "mm", low="0.13", high="0.18")
TYRE = Limits.of("pressure", "psi", low=24, high=28)


@pytest.mark.parametrize(
    ("limits", "typed", "unit", "meant"),
    [
        (GAP, "6", "mm", ("thou",)),
        (GAP, "0,15", "thou", ("mm",)),
        (TYRE, "26", "bar", ("psi",)),
        (TYRE, "1.8", "psi", ("bar",)),
        (Limits.of("pressure", "bar", low=9), "130", "bar", ("psi",)),
        (Limits.of("torque", "Nm", low=40, high=45), "4", "Nm", ("kgf.m",)),
        (GAP, "0.3", "mm", ()),  # out, and no other unit brings it near: it may be a worn part
        (GAP, "6 mm", "mm", ()),
        (GAP, "6mm", "thou", ()),
        (Limits.of("torque", "Nm", low=40, high=45), "30", "Nm", ()),  # lbf.ft is too near to tell
        (Limits.of("length", "mm", high="0.05"), "0.001", "mm", ()),  # below an upper limit nothing is far
        (Limits.of("temperature", "degC", low=80, high=90), "20", "degC", ()),
        (Limits.of("offset", "mm", low="-1", high="2"), "40", "mm", ()),
    ],
)
def test_asked_only_where_another_unit_explains_it(
    limits: Limits, typed: str, unit: str, meant: tuple[str, ...]
) -> None:
    assert other_units(parse(typed, limits.quantity, default_unit=unit), limits) == meant


def test_both_are_offered_and_each_can_be_typed_back() -> None:
    with pytest.raises(Ambiguous, match=r"6 mm is far from 0.13 to 0.18 mm; 6 thou would be near") as caught:
        see_what_is_meant(parse("6", "length", default_unit="mm"), GAP)
    assert caught.value.choices == ("6 thou", "6 mm")
    for choice in caught.value.choices:
        see_what_is_meant(parse(choice, "length", default_unit="mm"), GAP)


@settings(max_examples=40, deadline=None)
@given(st.decimals("0.05", "90", places=2), st.sampled_from(["mm", "thou", "in"]))
def test_in_limits_is_never_asked_about(figure: object, unit: str) -> None:
    read = parse(str(figure), "length", default_unit=unit)
    low, high = from_canonical(read.value * 0.9, "mm"), from_canonical(read.value * 1.1, "mm")
    limits = Limits("length", "mm", low / 1000, None, high / 1000)
    assert limits.judge(read.value).standing == "in"
    assert other_units(read, limits) == ()
    assert unit_named(unit).quantity == "length"
