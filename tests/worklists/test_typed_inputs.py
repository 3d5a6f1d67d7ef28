"""What a person types for a working becomes bare numbers in the sum's units, or a refusal that says the way out."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopcli.errors import Ambiguous, BadInput, BadUnit, OutOfRange, ShopError
from shopcli.workings.frame import Input
from shopcli.worklists.asked_inputs import allowed, input_named, unit_chooser
from shopcli.worklists.figure_lists import split_list
from shopcli.worklists.known_inputs import write_input
from shopcli.worklists.typed_inputs import read_each, read_input, read_inputs
from shopcli.worklists.workings_at_hand import every_working, work, working_named
from shopcli.worklists.workings_examples import EXAMPLES, example_inputs, split_words

EVERY = tuple(every_working().values())
GAP = Input("gap_mm", "Gap", quantity="length", unit="mm", low=0.01, high=10.0)
LIST = Input("readings_psi", "Readings", "numbers", quantity="pressure", unit="psi", low=0.0, high=1000.0)
PSI_OF_A_BAR = 14.503773773  # NIST SP 811 (2008), Appendix B.8: 1 psi = 6.894757 kPa


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("16 thou", 0.4064),  # 1 in = 25.4 mm exactly: NIST SP 811, Appendix B.8
        ('.015"', 0.381),
        ("0,38 mm", 0.38),
        ("0.38", 0.38),
        ("1/64 in", 0.396875),
        ("  3½ mm ", 3.5),
        ("10", 10.0),
        ("0.01", 0.01),
        ("", None),
        ("   ", None),
    ],
)
def test_a_length_as_typed(text, value):
    assert read_input(GAP, text) == value


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("16 psi", BadUnit, "psi measures pressure"),
        ("0.001 mm", OutOfRange, "0.01 to 10 mm"),
        ("1 ft", OutOfRange, "0.01 to 10 mm"),
        ("6 mil", Ambiguous, "6 thou"),
        ("1,250 mm", Ambiguous, "1.250 mm"),
        ("a lot", BadInput, "does not begin with a figure"),
        ("-1 mm", BadInput, "less than nothing"),
    ],
)
def test_a_length_refused(text, kind, words):
    with pytest.raises(kind) as refused:
        read_input(GAP, text)
    assert words in f"{refused.value} {refused.value.hint}"


def test_the_refusal_names_the_input_and_what_is_allowed():
    with pytest.raises(BadUnit) as refused:
        read_inputs(working_named("gap-and-dwell"), {"gap_before": "40 psi"})
    assert refused.value.message.startswith("Gap before (gap_before_mm): psi measures pressure")
    assert "Allowed: 0 to 2 mm." in refused.value.hint
    with pytest.raises(OutOfRange) as refused:
        read_inputs(working_named("gap-and-dwell"), {"gap_before": "200 thou"})
    assert str(refused.value) == "Gap before (gap_before_mm) is 5.08; allowed: 0 to 2 mm"


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("120 118 95", ("120", "118", "95")),
        ("120, 118, 95", ("120", "118", "95")),
        ("120; 118; 95;", ("120", "118", "95")),
        ("8.3 8.1 8.4 bar", ("8.3 bar", "8.1 bar", "8.4 bar")),
        ("8,3 bar 8,1 8,4", ("8,3 bar", "8,1 bar", "8,4 bar")),
        ("6 thou 0.2 mm", ("6 thou", "0.2 mm")),
        ("6thou\t7thou\n8thou", ("6thou", "7thou", "8thou")),
        ("3 1/2 in; 4 in", ("3 1/2 in", "4 in")),
        ("12 500; 13 000", ("12 500", "13 000")),
        ("1/2 3/4 in", ("1/2 in", "3/4 in")),
        ("", ()),
    ],
)
def test_lists_are_parted(text, parts):
    assert split_list(text) == parts


@pytest.mark.parametrize("text", ["3 1/2 in 4 in", "6 thou 0.2 mm 7", "120;;118", ";"])
def test_unclear_lists_are_refused(text):
    with pytest.raises(BadInput) as refused:
        split_list(text)
    assert refused.value.hint


def test_a_unit_said_once_holds_for_the_whole_list():
    """The slip this guards against: three figures taken in psi and the last in bar."""
    assert read_input(LIST, "8.3 8.1 8.4 bar") == pytest.approx(
        tuple(PSI_OF_A_BAR * bar for bar in (8.3, 8.1, 8.4)), rel=1e-6
    )
    assert read_input(LIST, "120 118") == (120.0, 118.0)
    with pytest.raises(OutOfRange):
        read_input(LIST, "120 1180")


def test_whole_choice_yes_and_text():
    whole = Input("lobes", "Lobes", "whole", quantity="count", low=1, high=12)
    assert read_input(whole, "4") == 4
    assert isinstance(read_input(whole, "4"), int)
    for text in ("4.5", "0", "13", "4 mm", "four"):
        with pytest.raises(ShopError):
            read_input(whole, text)
    choice = Input("rule", "Rule", "choice", choices=("lowest of highest", "below average", "difference"))
    assert read_input(choice, "LOWEST") == "lowest of highest"
    with pytest.raises(BadInput, match="none of the choices") as refused:
        read_input(choice, "diffrence")
    assert refused.value.hint.startswith("Did you mean difference?")
    assert [read_input(Input("x", "X", "yesno"), t) for t in ("y", "No", "TRUE")] == [True, False, True]
    with pytest.raises(BadInput):
        read_input(Input("x", "X", "yesno"), "perhaps")
    assert read_input(Input("x", "X", "text"), " a\x1b \u202e b ") == "a b"


def test_the_rotor_turns_in_words_too():
    lead = working_named("lead-order")
    for text, short in (("clockwise", "cw"), ("Anti-clockwise", "ccw"), ("ccw", "ccw")):
        assert read_inputs(lead, {"rotor": text}) == {"rotor": short}
    with pytest.raises(BadInput, match="none of the choices"):
        read_inputs(lead, {"rotor": "left"})


def test_a_minus_where_the_input_knows_one():
    """Heights below the sea and domes in the piston, though a length and a volume know no minus."""
    assert read_inputs(working_named("compression-altitude"), {"altitude": "-100 m"}) == {
        "altitude_m": -100.0
    }
    assert read_inputs(working_named("compression-ratio"), {"dish": "−3 ml"}) == {"dish_cc": -3.0}
    assert read_inputs(working_named("toe"), {"total_mm": "-1/16 in"}) == {"total_mm": -1.5875}


def test_a_figure_no_tool_reads():
    stretch = working_named("bolt-stretch")
    for text in ("205000", "205000 MPa", "205000MPa"):
        assert read_inputs(stretch, {"modulus": text}) == {"modulus_mpa": 205000.0}
    with pytest.raises(OutOfRange):
        read_inputs(stretch, {"modulus": "300000"})
    with pytest.raises(BadUnit):
        read_inputs(stretch, {"modulus": "205000 mm"})


def test_a_figure_may_bring_the_unit_another_input_asks_for():
    wrench = working_named("wrench-with-extension")
    assert unit_chooser(wrench).name == "unit"
    assert read_inputs(wrench, {"torque": "40 ftlb"}) == {"unit": "lbf.ft", "torque": 40.0}
    assert read_inputs(wrench, {"torque": "40"}) == {"unit": "Nm", "torque": 40.0}
    both = read_inputs(wrench, {"torque": "40 ftlb", "unit": "Nm"})
    # 1 lbf.ft = 1.355 818 N.m: NIST SP 811, Appendix B.8
    assert both == {"unit": "Nm", "torque": pytest.approx(40 * 1.355818, rel=1e-6)}
    assert read_inputs(wrench, {"torque": "40 ftlb", "graduation": "1"})["graduation"] == 1.0
    assert read_inputs(working_named("fuel-use"), {"fuel": "30 mpg us"})["spoken_in"] == "mpg_us"
    with pytest.raises(BadInput, match="no unit"):
        read_inputs(working_named("fuel-use"), {"fuel": "30"})
    with pytest.raises(BadInput, match="none of the choices"):
        read_inputs(wrench, {"torque": "40 ftlb", "unit": "stone"})


def test_inputs_are_found_by_what_only_they_are_called():
    names = {("feeler-stack", "gap"): "gap_mm", ("lead-order", "order"): "firing_order"}
    names |= {
        ("compression-ratio", "bore"): "bore_mm",
        ("wrench-with-extension", "extension"): "extension_mm",
    }
    names |= {("gap-and-dwell", "Gap before"): "gap_before_mm", ("drum", "machine-mm"): "machine_mm"}
    for (working, said), name in names.items():
        assert input_named(working_named(working), said).name == name
    with pytest.raises(BadInput, match="more than one"):
        input_named(working_named("gap-and-dwell"), "gap")
    with pytest.raises(BadInput) as refused:
        input_named(working_named("lead-order"), "firing_ordr")
    assert "firing_order" in refused.value.hint
    with pytest.raises(BadInput, match="twice"):
        read_inputs(working_named("drum"), {"nominal": "200", "nominal_mm": "200"})


def test_a_form_hears_of_every_field_on_its_own():
    wrong = {
        "gap_before_mm": "40 psi",
        "gap_after_mm": "14 thou",
        "dwell_before_deg": "400",
        "symmetric_lobe": "",
    }
    values, refused = read_each(working_named("gap-and-dwell"), wrong)
    assert values == {"gap_after_mm": 0.3556}
    assert refused.keys() == {"gap_before_mm", "dwell_before_deg"}


def test_words_without_a_name_go_to_the_next_input():
    assert split_words(working_named("convert"), ["40 ftlb", "Nm"]) == {"value": "40 ftlb", "to": "Nm"}
    with pytest.raises(BadInput, match="too many"):
        split_words(working_named("convert"), ["40 ftlb", "Nm", "please"])
    with pytest.raises(BadInput, match="twice"):
        split_words(working_named("convert"), ["value=1 in", "value=2 in"])


@pytest.mark.parametrize("working", EVERY, ids=lambda w: w.name)
def test_every_example_is_read_and_worked(working):
    worked = work(working, read_inputs(working, example_inputs(working)))
    assert worked.results
    assert all(r.text or r.value is not None for r in worked.results)


def test_every_working_has_one_example_and_no_other_stands_there():
    assert set(EXAMPLES) == {w.name for w in EVERY}
    assert len(EVERY) >= 60


@pytest.mark.parametrize("working", EVERY, ids=lambda w: w.name)
def test_defaults_read_back_as_they_are_written(working):
    for asked in working.inputs:
        assert allowed(asked) or asked.kind == "text"
        if asked.default not in (None, ()) and not (asked.kind == "number" and unit_chooser(working)):
            assert read_input(asked, write_input(asked, asked.default)) == asked.default, asked.name


TEXTS = st.one_of(
    st.text(max_size=80),
    st.text("0123456789.,;/+-−– eE½'\"", max_size=40),
    st.lists(
        st.sampled_from(["12", "0,3", "1/2", "psi", "mm", "ftlb", ";", "-", "°", "yes", "cw", "\x1b", "١٢"])
    ).map(" ".join),
)


@given(st.data())
@pytest.mark.parametrize("working", EVERY, ids=lambda w: w.name)
def test_no_text_brings_anything_but_a_refusal(working, data):
    typed = {asked.name: data.draw(TEXTS, label=asked.name) for asked in working.inputs}
    values, refused = read_each(working, typed)
    assert values.keys() <= typed.keys()
    for error in refused.values():
        assert isinstance(error, ShopError)
        assert error.message
    try:
        work(working, read_inputs(working, typed))
    except ShopError as error:
        assert str(error)


@given(st.text(max_size=60), st.text(max_size=60))
def test_no_name_of_an_input_brings_anything_but_a_refusal(name, text):
    for working in (working_named("drum"), working_named("convert")):
        try:
            read_inputs(working, {name: text})
        except ShopError as error:
            assert error.message


@settings(deadline=None)
@given(st.floats(0.01, 10.0))
def test_a_written_length_reads_back(value):
    assert read_input(GAP, write_input(GAP, value)) == pytest.approx(value, rel=1e-5)
