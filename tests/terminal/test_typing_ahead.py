"""At a real terminal: a whole card typed in one burst, as fast as the line carries it, lands field by field."""

from pathlib import Path

import pytest

from shopcli.store.reads import bench, desk
from shopcli.store.reads.found import find_customers
from tests.terminal.driver import KEYS
from tests.terminal.test_main_job import Station


@pytest.mark.long
@pytest.mark.parametrize("go_on", ["tab", "enter"])
def test_a_new_customer_car_and_card_in_one_burst(tmp_path: Path, go_on: str) -> None:
    station = Station(tmp_path)
    p = station.person
    try:
        p.see("F2 New card")
        p.press("f2")
        p.see("Telephone|Customer")
        fields = (
            *("Zoe Quick", "01234 1", "ZOE 1", "Lark", "1200", "1965", "demo-lark", "km", "48213"),
            *("Runs rough", "one", "a rug", "half", "none", "400", "Zoe", "phone", "+3", "Rough running"),
        )
        p.process.send("".join(f"{text}{KEYS[go_on]}" for text in fields))
        p.see("Rough running")
        p.press("f2")
        p.see("Card J00001 opened")
        p.leave()
    finally:
        if p.process.isalive():
            p.kill()
    shop = station.shop()
    customer = find_customers(shop, "Quick")[0]
    car = desk.find_vehicles(shop, "ZOE 1", customer.id)[0]
    card = bench.card(shop, 1)
    assert (customer.name, customer.phone) == ("Zoe Quick", "01234 1")
    assert (car.make, car.model, car.year, car.distance_unit) == ("Lark", "1200", 1965, "km")
    assert car.sheet == ("demo-lark-1200" if go_on == "enter" else "")
    assert (card.odometer, card.words, card.car_keys, card.left_with) == (
        48_213,
        "Runs rough",
        "one",
        "a rug",
    )
    assert (card.authority, card.authority_how, card.title) == (400, "phone", "Rough running")
    assert (card.fuel, card.damage, card.authority_by) == ("half", "none", "Zoe")
    assert str(card.promised) == "2026-11-28"
    shop.close()


@pytest.mark.long
def test_a_form_half_filled_outlives_a_killed_program(tmp_path: Path) -> None:
    station = Station(tmp_path)
    p = station.person
    p.see("F2 New card")
    p.press("f2")
    p.see("Customer")
    p.process.send(f"Zoe Quick{KEYS['tab']}01234 1{KEYS['tab']}ZOE 1{KEYS['tab']}Lark")
    p.see("Make +Lark")
    p.kill()
    again = station.sit_down()
    try:
        again.see("F2 New card")
        again.press("f2")
        again.see("Kept: Zoe Quick, ZOE 1, .*F9 takes it up")
        again.press("f9")
        again.see("Make +Lark")
        again.press("f2")
        again.see("! empty: no")  # the odometer is asked about once
        again.press("f2")
        again.see("Card J00001 opened")
        again.leave()
    finally:
        if again.process.isalive():
            again.kill()
    assert find_customers(station.shop(), "quick")[0].vehicles == ("ZOE 1",)
