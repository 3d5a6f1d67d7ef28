"""The hours of a card are one figure: on the form, at its foot, in the list of the desk, whatever past jobs took."""

from shopcli.screens.desk import intake
from shopcli.screens.desk.intake_ahead import Question, price_and_promise
from shopcli.screens.desk.wording import card_lines, plan
from shopcli.shop.commands import CloseCard, OpenCard
from shopcli.store.reads.open_cards import open_cards
from shopcli.store.reads.prices import price_for
from shopcli.store.shop import Shop
from tests.stations.build import story

JOBS = ("oil", "points")


def test_form_foot_and_list_have_the_hours_of_one_source(shop: Shop) -> None:
    told = story(shop)
    told.do(CloseCard(told.cards["hallam"]), "Dora")
    car = told.vehicles["LRK 120"]
    price = price_for(shop, JOBS, car)
    assert price.usual_min > price.expected_min, "an oil change took longer here"
    form = intake.chosen_jobs(intake.jobs(shop, "", car, JOBS), JOBS)
    foot = price_and_promise(shop, Question(JOBS, car, "", "")).lines[0][0]
    opened = told.do(OpenCard(car, JOBS), "Dora")
    row = next(r for r in open_cards(shop) if r.id == opened.id)
    shown = card_lines(row, plan(120, (row,)), row.opened.date()).plain
    hours, minutes = divmod(price.expected_min, 60)
    assert form == f"2 jobs, {hours} h {minutes:02} expected"
    assert foot.startswith(f"work {hours} h {minutes:02} expected, likely ")
    assert ": about £" in foot
    assert f"0:00 of {hours}:{minutes:02}" in shown
    assert row.expected_minutes == price.expected_min
