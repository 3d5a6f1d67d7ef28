"""What must be said beneath a bill: who accounts for the tax, and that a fee was passed on without any."""

from decimal import Decimal

import pytest

from shopcli.shop.billing import PASSED_ON, REVERSE, notes_of
from shopcli.shop.money import Line


def a_line(kind: str, category: str) -> Line:
    rate = Decimal(20 if category == "S" else 0)
    return Line("1", kind, "Something", Decimal(1), "pc", Decimal(5), "rate", rate, category)


@pytest.mark.parametrize(
    ("kinds", "said"),
    [
        ([("labour", "S"), ("part", "Z")], ()),
        ([("labour", "S"), ("fee", "S")], ()),
        ([("labour", "S"), ("fee", "E")], (PASSED_ON,)),
        ([("fee", "O")], (PASSED_ON,)),
        # a shop that charges no tax at all passes nothing on
        ([("labour", "E"), ("part", "E")], ()),
        ([("labour", "AE"), ("fee", "E")], (REVERSE, PASSED_ON)),
    ],
)
def test_notes(kinds: list[tuple[str, str]], said: tuple[str, ...]) -> None:
    lines = [a_line(*kind) for kind in kinds]
    assert notes_of(lines, "sales tax") == tuple(words.format(tax="sales tax") for words in said)
