"""Reading as typed: a table of what people write, and what is never guessed."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from shopcli.errors import Ambiguous, BadInput, BadUnit, ShopError
from shopcli.units import QUANTITIES, UNITS, measures, parse, units_of
from shopcli.units.aliases import ALIASES, IN_QUANTITY, UNCLEAR
from shopcli.units.figures import Figure, read_figure

LBF_FT = 1.3558179483314004
TYPED = [
    # text, quantity, unit, value [canonical]
    ("6 thou", "length", "thou", 0.0001524),
    ("6thou", "length", "thou", 0.0001524),
    ("6 THOU.", "length", "thou", 0.0001524),
    ('.006"', "length", "in", 0.0001524),
    (".006”", "length", "in", 0.0001524),
    ("0.006''", "length", "in", 0.0001524),
    ("0.006 in", "length", "in", 0.0001524),
    ("0,15 mm", "length", "mm", 0.00015),
    (",15 mm", "length", "mm", 0.00015),
    ("0,150 mm", "length", "mm", 0.00015),
    ('1/4"', "length", "in", 0.00635),
    ("1-1/16 in", "length", "in", 0.0269875),
    ("1 1/16 in", "length", "in", 0.0269875),
    ("2½ in", "length", "in", 0.0635),
    ("½ in", "length", "in", 0.0127),
    ("3⁄8 in", "length", "in", 0.009525),
    ("1e-3 m", "length", "m", 0.001),
    ("25 µm", "length", "um", 0.000025),
    ("25 μm", "length", "um", 0.000025),
    ("+2 mm", "offset", "mm", 0.002),
    ("-3 mm", "offset", "mm", -0.003),
    ("\u22123 mm", "offset", "mm", -0.003),
    ("- 3 mm", "offset", "mm", -0.003),
    ("40 ftlb", "torque", "lbf.ft", 40 * LBF_FT),
    ("40 ft-lb", "torque", "lbf.ft", 40 * LBF_FT),
    ("40 lb ft", "torque", "lbf.ft", 40 * LBF_FT),
    ("40 Ft. Lbs.", "torque", "lbf.ft", 40 * LBF_FT),
    ("40 lbs/ft", "torque", "lbf.ft", 40 * LBF_FT),
    ("40 lbf·ft", "torque", "lbf.ft", 40 * LBF_FT),
    ("40 foot pounds", "torque", "lbf.ft", 40 * LBF_FT),
    ("120 in-lb", "torque", "lbf.in", 10 * LBF_FT),
    ("5.5 kgm", "torque", "kgf.m", 53.936575),
    ("5.5 mkg", "torque", "kgf.m", 53.936575),
    ("550 cmkg", "torque", "kgf.cm", 53.936575),
    ("12 Nm", "torque", "Nm", 12.0),
    ("12 N·m", "torque", "Nm", 12.0),
    ("12 N m", "torque", "Nm", 12.0),
    ("12nm", "torque", "Nm", 12.0),
    ("1.2 mdaN", "torque", "daNm", 12.0),
    ("3 1/2 L", "volume", "L", 0.0035),
    ("3½ litres", "volume", "L", 0.0035),
    ("3.5 l", "volume", "L", 0.0035),
    ("1 600 cc", "volume", "cc", 0.0016),
    ("100 cm³", "volume", "cc", 0.0001),
    ("100 cu in", "volume", "in3", 0.0016387064),
    ("5 imp pints", "volume", "pt_imp", 0.00284130625),
    ("5 pints (imperial)", "volume", "pt_imp", 0.00284130625),
    ("4 U.S. quarts", "volume", "qt_us", 0.003785411784),
    ("1 UK gal", "volume", "gal_imp", 0.00454609),
    ("8°", "angle", "deg", 8.0),
    ("1°30'", "angle", "deg", 1.5),
    ("-0° 30′", "angle", "deg", -0.5),
    ("8 deg", "crank angle", "deg_crank", 8.0),
    ("8°", "distributor angle", "deg_dist", 8.0),
    ("8 deg btdc", "crank angle", "deg_crank", 8.0),
    ("8° B.T.D.C.", "crank angle", "deg_crank", 8.0),
    ("8 before TDC", "crank angle", "deg_crank", 8.0),
    ("5 deg ATDC", "crank angle", "deg_crank", -5.0),
    ("1250 rpm", "rotation", "rpm", 1250.0),
    ("1 250 rpm", "rotation", "rpm", 1250.0),
    ("1'250 rpm", "rotation", "rpm", 1250.0),
    ("1,250.5 rpm", "rotation", "rpm", 1250.5),
    ("1.250,5 rpm", "rotation", "rpm", 1250.5),
    ("1,250,000 rpm", "rotation", "rpm", 1250000.0),
    ("1.250 rpm", "rotation", "rpm", 1.25),
    ("850 1/min", "rotation", "rpm", 850.0),
    ("54 %", "percent", "%", 54.0),
    ("12.6 V", "voltage", "V", 12.6),
    ("12,6 volts", "voltage", "V", 12.6),
    ("-5 A", "current", "A", -5.0),
    ("1.265", "density", "sg", 1.265),
    ("1,265 sg", "density", "sg", 1.265),
    ("8.5:1", "ratio", "ratio", 8.5),
    ("8.5 to 1", "ratio", "ratio", 8.5),
    ("8.5", "ratio", "ratio", 8.5),
    ("4", "count", "count", 4.0),
    ("6\u00a0thou", "length", "thou", 0.0001524),
    ("\u20096\u202fthou", "length", "thou", 0.0001524),
    ("20 psi", "pressure", "psi", 137895.14586336722),
    ("20 lb/sq in", "pressure", "psi", 137895.14586336722),
    ("1.4 bar", "pressure", "bar", 140000.0),
    ("11.0 kg/cm²", "pressure", "kgf/cm2", 1078731.5),
    ("-430 mmHg", "pressure", "mmHg", -57328.62658845),
    ("18 ins Hg", "pressure", "inHg", 60954.995526138),
    ("2h30", "time", "h", 9000.0),
    ("1:30 h", "time", "h", 5400.0),
    ("1:30 min", "time", "min", 90.0),
    ("1:30:30", "time", "h", 5430.0),
    ("1 h 5 min", "time", "h", 3900.0),
    ("2m30", "time", "min", 150.0),
    ("45 min", "time", "min", 2700.0),
    ("20 °C", "temperature", "degC", 20.0),
    ("68 F", "temperature", "degF", 20.0),
    ("-40 °F", "temperature", "degF", -40.0),
    ("4.7 kΩ", "resistance", "kohm", 4700.0),
    ("3 \u2126", "resistance", "ohm", 3.0),
    ("3 mΩ", "resistance", "mohm", 0.003),
    ("3 MΩ", "resistance", "Mohm", 3e6),
    ("0.22 µF", "capacitance", "uF", 2.2e-7),
    ("12,5 kg", "mass", "kg", 12.5),
    ("10 kg", "force", "kgf", 98.0665),
    ("40 lb", "mass", "lb", 18.1436948),
    ("12500 miles", "distance", "mi", 20116800.0),
    ("500 m", "distance", "m", 500.0),
    ("30 mpg imp", "fuel use", "mpg_imp", 9.416031211060739),
    ("9.4 L/100 km", "fuel use", "L/100km", 9.4),
    ("0 mm", "length", "mm", 0.0),
]


@pytest.mark.parametrize(("text", "quantity", "unit", "value"), TYPED)
def test_typed_as_people_type(text, quantity, unit, value):
    typed = parse(text, quantity)
    assert typed.unit == unit
    assert typed.value == pytest.approx(value, rel=1e-13, abs=1e-15)
    assert typed.text == text.strip()


def test_the_same_length_is_the_same_value_to_the_last_bit():
    assert parse("6 thou", "length").value == parse('.006"', "length").value == 0.0001524


AMBIGUOUS = [
    ("5 pints", "volume", ("5 imp pt", "5 US pt")),
    ("5 qt", "volume", ("5 imp qt", "5 US qt")),
    ("4 gallons", "volume", ("4 imp gal", "4 US gal")),
    ("3½ fl. oz", "volume", ("3 1/2 imp fl oz", "3 1/2 US fl oz")),
    ("30 mpg", "fuel use", ("30 mpg imp", "30 mpg US")),
    ("40 lb", "torque", ("40 lbf·ft", "40 lbf·in")),
    ("40 pounds", "torque", ("40 lbf·ft", "40 lbf·in")),
    ("5 kg", "torque", ("5 kgf·m", "5 kgf·cm")),
    ("5 oz", "torque", ("5 ozf·in",)),
    ("5 ft", "torque", ("5 lbf·ft",)),
    ("2 kg", "pressure", ("2 kgf/cm²",)),
    ("20 pounds", "pressure", ("20 psi",)),
    ("18 in", "pressure", ("18 inHg",)),
    ("5 mil", "length", ("5 thou",)),
    ("-5 mils", "offset", ("-5 thou",)),
    ("20 deg", "temperature", ("20 °C", "20 °F")),
    ("5 MOHM", "resistance", ("5 mΩ", "5 MΩ")),
    ("1:30", "time", ("1:30 h", "1:30 min")),
    ("1,250 rpm", "rotation", ("1250 rpm", "1.250 rpm")),
    ("-1,250 V", "voltage", ("-1250 V", "-1.250 V")),
]


@pytest.mark.parametrize(("text", "quantity", "choices"), AMBIGUOUS)
def test_what_means_two_things_is_asked(text, quantity, choices):
    with pytest.raises(Ambiguous) as caught:
        parse(text, quantity)
    assert caught.value.choices == choices
    assert all(choice in caught.value.hint for choice in choices)
    values = [parse(choice, quantity).value for choice in choices]
    assert len(set(values)) == len(choices)


def test_bare_thousands_are_asked_without_a_unit_too():
    with pytest.raises(Ambiguous) as caught:
        parse("1,250", "rotation", default_unit="rpm")
    assert caught.value.choices == ("1250", "1.250")
    assert parse("1250", "rotation", default_unit="rpm").value == 1250.0


@pytest.mark.parametrize(("quantity", "word"), [(q, w) for q, words in UNCLEAR.items() for w in words])
def test_every_choice_offered_can_be_typed_back(quantity, word):
    with pytest.raises(Ambiguous) as caught:
        parse(f"3 {word}", quantity)
    for choice, symbol in zip(caught.value.choices, UNCLEAR[quantity][word], strict=True):
        assert parse(choice, quantity).unit == symbol


REFUSED = [
    ("", "length", BadInput, "nothing was typed"),
    ("   ", "length", BadInput, "nothing was typed"),
    ("thou", "length", BadInput, "does not begin with a figure"),
    ("nan mm", "length", BadInput, "does not begin with a figure"),
    ("inf mm", "length", BadInput, "does not begin with a figure"),
    ("1e400 mm", "length", BadInput, "that large"),
    ("1e999 mm", "length", BadInput, "that large"),
    ("1e9999 mm", "length", BadUnit, "no unit"),
    ("2e9 m", "length", BadInput, "that large"),
    ("-3 mm", "length", BadInput, "less than nothing"),
    ("-3 Nm", "torque", BadInput, "less than nothing"),
    ("-3 L", "volume", BadInput, "less than nothing"),
    ("-3 kg", "mass", BadInput, "less than nothing"),
    ("-3 rpm", "rotation", BadInput, "less than nothing"),
    ("-300 °C", "temperature", BadInput, "colder"),
    ("1265", "density", BadInput, "so heavy"),
    ("-460 °F", "temperature", BadInput, "colder"),
    ("0 mpg imp", "fuel use", BadInput, "cannot be zero"),
    ("1/0 in", "length", BadInput, "divides by zero"),
    ("6-8 thou", "length", BadInput, "more than one figure"),
    ("6 8 thou", "length", BadInput, "more than one figure"),
    ("1.2.3 mm", "length", BadInput, "more than one figure"),
    ("1.250.000 rpm", "rotation", BadInput, "more than one figure"),
    ("1,2,3 mm", "length", BadInput, "more than one figure"),
    ("10² mm", "length", BadInput, "not a plain figure"),
    ("٣ mm", "length", BadInput, "not a plain figure"),
    ("① mm", "length", BadInput, "not a plain figure"),
    ("6 \u202ethou", "length", BadInput, "hidden character"),
    ("6 \u200bthou", "length", BadInput, "hidden character"),
    ("6\x1b[31m thou", "length", BadInput, "hidden character"),
    ("6\nthou", "length", BadInput, "hidden character"),
    ("6 thou" + " " * 60 + "x", "length", BadInput, "characters long"),
    ("[/oops]", "length", BadInput, "does not begin with a figure"),
    ("6 [/oops]", "length", BadUnit, "no unit"),
    ("6 furlongs", "length", BadUnit, "no unit"),
    ("6", "length", BadInput, "has no unit"),
    ("12.6", "voltage", BadInput, "has no unit"),
    ("40 psi", "torque", BadUnit, "psi measures pressure; a torque is wanted"),
    ("5 pints", "torque", BadUnit, "pints measures volume; a torque is wanted"),
    ("5 Ω", "voltage", BadUnit, "measures resistance"),
    ("5 MΩ", "voltage", BadUnit, "measures resistance"),
    ("5 Nm", "length", BadUnit, "measures torque"),
    ("8 crank degrees", "distributor angle", BadUnit, "an angle of the distributor is wanted"),
    ("-8 btdc", "crank angle", BadInput, "one too many"),
    ("1:75 h", "time", BadInput, "60 or more"),
    ("1:20:30 min", "time", BadInput, "three parts"),
]


@pytest.mark.parametrize(("text", "quantity", "error", "words"), REFUSED)
def test_what_cannot_be_read_is_told(text, quantity, error, words):
    with pytest.raises(error, match=words) as caught:
        parse(text, quantity)
    assert not isinstance(caught.value, Ambiguous)
    assert caught.value.hint


def test_a_wrong_unit_lists_the_right_ones_and_the_near_one():
    with pytest.raises(BadUnit) as caught:
        parse("6 thuo", "length")
    assert "Is thou meant?" in caught.value.hint
    assert "mm" in caught.value.hint


def test_dead_centre_says_what_its_sign_is():
    assert parse("8 btdc", "crank angle").note == "before TDC counts as plus"
    assert parse("8 atdc", "crank angle").note == "after TDC counts as minus"
    assert parse("8 deg", "crank angle").note == ""


def test_a_bare_figure_takes_the_unit_of_the_tool_and_a_typed_one_wins():
    assert parse("6", "length", default_unit="thou").value == 0.0001524
    assert parse("0.15 mm", "length", default_unit="thou").value == 0.00015
    assert parse("1:30", "time", default_unit="min").value == 90.0
    assert parse("1:30", "time", default_unit="h").value == 5400.0
    with pytest.raises(BadUnit):
        parse("6", "length", default_unit="psi")
    with pytest.raises(BadInput, match="beauty"):
        parse("6", "beauty")


@pytest.mark.parametrize("symbol", UNITS)
def test_every_symbol_and_label_can_be_typed(symbol):
    quantity = UNITS[symbol].quantity
    if symbol == "mohm":  # the symbol itself is told from the megohm by one letter, as typed
        assert parse("3 mohm", quantity).unit == "mohm"
    assert parse(f"3 {symbol}" if symbol not in {"ratio", "count"} else "3", quantity).unit == symbol
    said = f"3{UNITS[symbol].label}" if symbol == "ratio" else f"3 {UNITS[symbol].label}"
    assert parse(said, quantity).unit == symbol


def test_aliases_lead_to_units_and_no_word_has_two_meanings_in_one_quantity():
    for table in (ALIASES, *IN_QUANTITY.values()):
        assert set(table.values()) <= set(UNITS)
    for quantity, unclear in UNCLEAR.items():
        assert not set(unclear) & set(IN_QUANTITY.get(quantity, {}))
        for meant in unclear.values():
            assert all(measures(symbol, quantity) for symbol in meant)


_PIECES = st.sampled_from(
    [
        *"0123456789",
        *".,:/- +'\"½²°%()",
        "1,250",
        "e9",
        " ",
        "\u00a0",
        "−",
        *sorted(ALIASES),
        *sorted(UNITS),
        "btdc",
    ]
)


@given(st.text(max_size=80) | st.lists(_PIECES, max_size=9).map("".join), st.sampled_from(sorted(QUANTITIES)))
@example("[/oops]", "length")
@example("1e400", "length")
@example("9" * 60, "ratio")
@example("1e-999 mpg imp", "fuel use")
@example("1/" + "9" * 50, "ratio")
@example("⅟ in", "length")
@example("↉ in", "length")
@example("1" + "½" * 50, "length")
def test_nothing_typed_does_worse_than_a_clear_refusal(text, quantity):
    for default in (None, *units_of(quantity)[:1]):
        got = _answer(lambda default=default: parse(text, quantity, default_unit=default))
        if isinstance(got, ShopError):
            assert str(got)
            assert got.hint
        else:
            assert abs(got.value) <= 1e9
            assert measures(got.unit, quantity)
            assert got.value >= 0 or QUANTITIES[quantity].signed


def _answer(ask):
    """What was read, or the refusal; anything else goes through and fails the test."""
    try:
        return ask()
    except ShopError as error:
        return error


@given(st.text(max_size=30))
def test_a_figure_alone_is_read_or_refused(text):
    got = _answer(lambda: read_figure(text))
    assert got.hint if isinstance(got, ShopError) else isinstance(got, Figure)


@pytest.mark.parametrize("text", ["50123456", "5012345678900", " 05012345678900 "])
def test_a_scanned_bar_code_is_no_reading(text: str) -> None:
    with pytest.raises(BadInput, match="bar code"):
        parse(text, "length", default_unit="mm")
    assert parse("1234567", "rotation", default_unit="rpm").number == 1_234_567


@pytest.mark.parametrize(
    ("typed", "quantity", "meant"),
    [
        ("4o", "torque", "40"),
        ("4O Nm", "torque", "40 Nm"),
        ("O.5 mm", "length", "0.5 mm"),
        ("0,l5mm", "length", "0,15mm"),
        ("I5 thou", "length", "15 thou"),
        ("1OOO rpm", "rotation", "1000 rpm"),
        ("4l", "length", "41"),
    ],
)
def test_a_letter_among_the_figures_is_asked_about_and_never_read(
    typed: str, quantity: str, meant: str
) -> None:
    units = {"torque": "Nm", "length": "thou", "rotation": "rpm"}
    with pytest.raises(BadInput) as refused:
        parse(typed, quantity, default_unit=units[quantity])
    assert refused.value.message == f"“{typed}” has a letter among its figures; is {meant} meant?"
    assert refused.value.hint == f"Then type {meant}."
    assert parse(meant, quantity, default_unit=units[quantity])


@pytest.mark.parametrize(("typed", "quantity"), [("4l", "volume"), ("4 oz", "mass"), ("1lb", "mass")])
def test_letters_of_a_unit_are_not_taken_for_figures(typed: str, quantity: str) -> None:
    assert parse(typed, quantity)


@pytest.mark.parametrize("typed", ["o", "lo", "4 o", "oil 4", "4x"])
def test_what_is_no_slip_of_a_letter_keeps_its_own_refusal(typed: str) -> None:
    with pytest.raises(BadInput) as refused:
        parse(typed, "length", default_unit="thou")
    assert "meant?" not in refused.value.message
