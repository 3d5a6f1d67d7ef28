"""When two numbers of one name disagree, and that the nearest sheet counts whatever lies over one another."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopcli.units import Limits
from shopcli.worklists.agree import agree
from shopcli.worklists.library import Library, Sheet, SpecKind
from shopcli.worklists.model import Provenance, Spec
from shopcli.worklists.sheets import lookup
from shopcli.worklists.with_sheets import with_sheets

FIGURES = st.decimals("0.01", "5", places=2)


def spec(
    unit: str = "mm", state: str = "", kind: str = "handbook", quantity: str = "length", **ends: object
) -> Spec:
    limits = Limits.of(quantity, unit, **ends)  # type: ignore[arg-type]
    return Spec("gap", "gap", limits, state, Provenance(kind, "A", "1"), "s")


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (spec(nominal="0.40"), spec(nominal="0.40"), True),
        (spec(nominal="0.40"), spec(nominal="0.41"), False),  # two prints of two digits
        (spec(nominal="0.4"), spec(nominal="0.41"), True),  # 0.41 rounds to 0.4
        (spec(nominal="0.4"), spec("thou", nominal="16"), True),
        (spec(nominal="0.4"), spec("thou", nominal="20"), False),
        (spec(low="0.35", high="0.45"), spec("thou", low="14", high="18"), True),
        (spec(low="0.35", high="0.45"), spec("thou", low="14", high="20"), False),
        (spec(nominal="0.40"), spec(low="0.35", high="0.45"), True),
        (spec(nominal="0.50"), spec(low="0.35", high="0.45"), False),
        (spec(low="0.35"), spec(high="0.45"), True),  # they speak of different ends
        (spec(nominal="0.15", state="cold"), spec(nominal="0.20", state="hot"), True),
        (spec(nominal="0.15", state="cold"), spec(nominal="0.20"), False),
        (spec(nominal="0.15"), spec(nominal="0.40", kind="practice"), True),
        (spec(nominal="0.15", kind="measured"), spec(nominal="0.40"), False),
        (spec(nominal="1"), spec("bar", quantity="pressure", nominal="1"), False),
    ],
)
def test_agree(one: Spec, other: Spec, *, same: bool) -> None:
    assert agree(one, other) is same
    assert agree(other, one) is same


def test_a_second_print_in_the_same_unit_is_compared_first() -> None:
    both = spec("thou", nominal="16", also=(Limits.of("length", "mm", nominal="0.4"),))
    assert agree(both, spec(nominal="0.4"))
    assert not agree(both, spec(nominal="0.5"))


@given(FIGURES, FIGURES)
def test_what_agrees_has_a_value_that_rounds_to_both(one: object, other: object) -> None:
    assert agree(spec(nominal=one), spec(nominal=other)) is (one == other)


@given(st.permutations(range(6)), st.sets(st.integers(0, 5)))
def test_the_nearest_layer_wins(order: list[int], knowing: set[int]) -> None:
    """Files below, own sheets above, in any chain: the first that knows the number gives it, the others follow."""
    chain = [f"s{n}" for n in order]
    sheets = {}
    for place, name in enumerate(chain):
        under = chain[place + 1] if place + 1 < len(chain) else ""
        gap = Spec(
            "gap", "gap", Limits.of("length", "mm", nominal=f"{place + 1}"), "", Provenance("plate"), name
        )
        specs = (gap,) if place in knowing else ()
        kinds = (SpecKind("gap", "gap", "length", "mm"),)
        sheets[name] = Sheet(name, name, "f", "1", under, specs=specs, kinds=kinds)
    files = Library(sheets={name: sheets[name] for name in chain[3:]})
    library = with_sheets(files, (sheets[name] for name in chain[:3]))
    book = lookup(library, chain[0])
    assert [s.sheet for s in book.layers.get("gap", ())] == [chain[n] for n in sorted(knowing)]
    assert library.problems == ()
    assert set(files.sheets) == set(chain[3:]), "the files stay as they are"
