"""A kit counted in the unit of a sheet comes off the shelf in the unit of the shelf."""

from collections.abc import Callable
from decimal import Decimal

import pytest

from shopcli.shop.commands import AddCustomer, AddPart, AddVehicle, OpenCard
from shopcli.shop.kit_units import in_stock_unit
from shopcli.store.reads import bench, people
from shopcli.store.shop import Shop


@pytest.mark.parametrize(
    ("qty", "unit", "kept", "wanted"),
    [
        # 1 imperial gallon = 4.546 09 L exactly (NIST SP 811, Appendix B.8), so 7 pints are 3.978 L.
        ("7", "imp pt", "L", "3.978"),
        ("3.5", "L", "L", "3.5"),
        ("1", "", "L", "1"),
        ("4", "", "pc", "4"),
        ("2", "L", "pc", "2"),
    ],
)
def test_a_quantity_in_the_unit_of_the_shelf(qty: str, unit: str, kept: str, wanted: str) -> None:
    assert in_stock_unit(Decimal(qty), unit, kept) == Decimal(wanted)


def test_pints_of_the_sheet_are_litres_on_the_card(make_shop: Callable[..., Shop]) -> None:
    shop = make_shop()
    dora = people.person(shop, "Dora").id
    with shop.many() as run:
        customer = run.do(AddCustomer("Ada"), by=dora).id
        car = run.do(AddVehicle(customer, "BRN 160", "Brindle", sheet="demo-brindle-1600"), by=dora).id
        run.do(AddPart("O-1", "engine oil", 420, stock_milli=20_000, unit="L"), by=dora)
        card = run.do(OpenCard(car, ("oil-change",)), by=dora).id
        assert run.fetch("SELECT COUNT(*) FROM card WHERE id = ?", (card,)) == [(1,)]
    oil = next(p for p in bench.card(shop, card).parts if p.description == "engine oil")
    assert (oil.qty, oil.unit) == (Decimal("3.978"), "L")
