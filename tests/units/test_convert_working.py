"""Any unit into any other of its kind, against published factors, and a question where a word means two things."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import Ambiguous, BadInput, BadUnit, ShopError
from shopcli.units import UNITS, measures
from shopcli.units.convert_working import CONVERT, convert, said

# NIST SP 811 (2008), Appendix B.8 (seven figures there); temperatures and mpg by definition.
PUBLISHED = [
    ("1 ftlb", "Nm", 1.355818),
    ("1 in lb", "Nm", 0.1129848),
    ("1 kgf m", "Nm", 9.80665),
    ("1 psi", "kPa", 6.894757),
    ("1 inHg", "kPa", 3.386389),
    ("1 thou", "mm", 0.0254),
    ("1 imp pt", "L", 0.5682612),
    ("1 US gal", "L", 3.785412),
    ("1 lb", "kg", 0.4535924),
    ("1 lbf", "N", 4.448222),
    ("1 mph", "km/h", 1.609344),
    ("1 hp", "W", 745.6999),
    ("1 mi", "km", 1.609344),
    ("212 °F", "°C", 100.0),
    ("-40 °C", "°F", -40.0),
    ("30 mpg imp", "L/100km", 9.416),
]


@pytest.mark.parametrize(("value", "to", "figure"), PUBLISHED)
def test_published_factors(value, to, figure):
    assert convert(value=value, to=to)["converted"] == pytest.approx(
        figure, rel=5e-7 if figure != 9.416 else 1e-4
    )


def test_the_answer_is_said_on_the_tool_too():
    worked = convert(value="0.38 mm", to="thou")
    assert worked.verdict == "0.38 mm = 14.96 thou"
    assert worked["on_tool"] == "15 thou"
    assert convert(value="11.1 mm", to="inch")["fraction"] == "7/16 in"
    assert convert(value="1/2 in", to="mm").steps == ("1 in = 25.4 mm", "0.5 in = 12.7 mm")


def test_one_turn_of_the_distributor_is_two_of_the_crank():
    assert convert(value="8 deg dist", to="deg crank")["converted"] == 16
    assert convert(value="8 deg crank", to="dist deg")["converted"] == 4
    assert convert(value="8 deg", to="arcmin")["converted"] == pytest.approx(480)


def test_without_a_unit_wanted_every_unit_answers():
    worked = convert(value="28 psi")
    assert {r.name for r in worked.results} >= {"kPa", "bar", "inHg", "kgf/cm2"}
    assert "psi" not in {r.name for r in worked.results}
    assert worked["bar"] == pytest.approx(1.930532)  # 28 x 6.894757 kPa, as above
    assert convert(value="16 thou").results[-1].text == "1/64 in"


@pytest.mark.parametrize(
    ("value", "to", "kind", "words"),
    [
        ("3 pints", "L", Ambiguous, "3 imp pt"),
        ("3 L", "pints", Ambiguous, "imp pt, US pt"),
        ("40 lb", "Nm", Ambiguous, "40 lbf·ft"),
        ("30 psi", "mm", BadUnit, "30 psi is a pressure"),
        ("30 frogs", "mm", BadUnit, "nobody here knows"),
        ("30 mm", "frogs", BadUnit, "no unit here"),
        ("30 mm", " ", BadUnit, "no unit here"),
        ("40", None, BadInput, "has no unit"),
        ("", "mm", BadInput, "nothing was typed"),
        ("1.265 sg", None, BadInput, "one unit only"),
        ("0 mpg imp", "km/L", BadInput, "cannot be zero"),
    ],
)
def test_refusals_say_the_way_out(value, to, kind, words):
    with pytest.raises(kind) as refused:
        convert(value=value, to=to)
    assert words in f"{refused.value} {refused.value.hint}"


def test_what_a_word_usually_means_goes_before_what_it_may_mean():
    assert convert(value="28 lb", to="kg").verdict == "28 lb = 12.701 kg"
    assert convert(value="28 lb", to="N").verdict == "28 lbf = 124.6 N"
    assert convert(value="5000 m", to="mi")["converted"] == pytest.approx(3.106856)  # 5000 / 1609.344


def test_nothing_is_rounded_away():
    assert said(1e-6, "L") == "0.001 L"
    assert said(0.0, "L") == "0 L"


def test_the_description_fits_the_sum():
    assert {i.name for i in CONVERT.inputs} == {"value", "to"}
    assert CONVERT.run is convert


def test_every_unit_goes_into_every_other_of_its_kind_and_back():
    pairs = 0
    for symbol, unit in UNITS.items():
        for other, fellow in UNITS.items():
            if (
                symbol == other
                or fellow.quantity != unit.quantity
                or not unit.label
                or not measures(other, unit.quantity)
            ):
                continue
            there = convert(value=f"3 {unit.label}", to=fellow.label)
            back = convert(value=f"{there['converted']!r} {fellow.label}", to=unit.label)
            assert back["converted"] == pytest.approx(3.0, rel=1e-12), (symbol, other)
            pairs += 1
    assert pairs > 300


@settings(deadline=None, max_examples=300)
@given(st.text(max_size=70), st.one_of(st.none(), st.text(max_size=40), st.sampled_from(sorted(UNITS))))
def test_no_text_brings_anything_but_a_refusal(value, to):
    try:
        assert convert(value=value, to=to).results
    except ShopError as error:
        assert error.message


@settings(deadline=None, max_examples=300)
@given(
    st.sampled_from(["12", "0,3", "1/2", "-4", "1e9", "0", "1,250"]),
    st.sampled_from(sorted(UNITS)),
    st.sampled_from(sorted(UNITS)),
)
def test_no_pair_of_units_brings_anything_but_a_refusal(figure, first, second):
    try:
        assert convert(value=f"{figure} {first}", to=second).results
    except ShopError as error:
        assert error.message
