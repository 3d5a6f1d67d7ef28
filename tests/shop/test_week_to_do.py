"""The Monday list: each rule, the order, and that it is short. Limits are common practice, no source."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from shopcli.shop.week_cards_to_do import Besides, of_cards
from shopcli.shop.week_quality_views import Awaited, OfCard
from shopcli.shop.week_to_do import (
    AGAIN,
    AT_RISK,
    HAND_OVER,
    KINDS,
    MONEY,
    PASSED,
    PLACES,
    RANKS,
    STUCK,
    Day,
    Overdue,
    back,
    came_back,
    in_order,
    listed,
    loses,
    tools_late,
    unclocked,
    unpaid,
    worst,
)
from shopcli.shop.week_views import (
    DAY_S,
    Actuals,
    CardAge,
    Case,
    Comeback,
    Earning,
    HoursLine,
    Noticed,
    ToDo,
)
from shopcli.workings.listed_times import against

TODAY, MONDAY = date(2026, 11, 27), date(2026, 11, 30)
DAY = Day(8 * 3600, Decimal(480), 0.75)
CARD = CardAge(1, "J1", "A 1", "Ada", "Points", "held", "", "parts", None, TODAY, 9 * DAY_S, 3 * DAY_S, ())
NOTHING = Besides({}, {}, {}, {})


def lines(*cards: CardAge, besides: Besides = NOTHING) -> list[ToDo]:
    return in_order(of_cards(cards, besides, TODAY, MONDAY, DAY))


def one(card: CardAge, besides: Besides = NOTHING) -> tuple[str, int] | None:
    found = lines(card, besides=besides)
    return (found[0].kind, found[0].rank) if found else None


def test_a_ready_car_promised_for_the_next_working_day_is_handed_over_first() -> None:
    ready = replace(CARD, card_id=2, state="checked", waits="", promised=MONDAY)
    broken = replace(CARD, promised=date(2026, 11, 2))
    assert [(x.kind, x.rank) for x in lines(broken, ready)] == [("ready", HAND_OVER), ("parts", PASSED)]
    # Without a day its bill is what lies about; one that is billed already waits to be fetched.
    assert one(replace(ready, promised=None), replace(NOTHING, to_bill={2: Decimal(960)})) == ("ready", MONEY)
    assert one(replace(ready, state="closed", promised=TODAY)) == ("fetching", HAND_OVER)


def test_each_card_wants_the_one_thing_that_mends_it() -> None:
    held = replace(CARD, waits="authority")
    begun = replace(CARD, state="in hand", waits="", last_on=date(2026, 11, 24))
    assert one(held) == ("authority", STUCK)
    assert one(replace(held, stop="wheel: cylinder weeps")) == ("stop", STUCK)
    assert one(CARD, replace(NOTHING, arrived={1: ("belt",)})) == ("arrived", STUCK)
    assert one(begun) == ("hands", STUCK)
    assert one(begun, replace(NOTHING, beyond={1: Decimal(90)})) == ("beyond", MONEY)
    # Authority was waited for until three days ago and nobody was on it since.
    assert one(replace(begun, waited="authority", last_on=date(2026, 11, 20))) == ("given", STUCK)
    assert one(replace(begun, running=True)) is None
    assert one(replace(begun, last_on=TODAY)) is None


def test_a_booked_card_may_stand_a_week() -> None:
    booked = replace(CARD, state="booked", waits="bay")
    assert [one(replace(booked, since_s=d * DAY_S)) for d in (7, 8)] == [None, ("begin", STUCK)]


def test_a_promise_is_at_risk_by_what_the_car_waits_for() -> None:
    friday = replace(CARD, promised=date(2026, 12, 4))
    assert one(friday) == ("parts", AT_RISK)
    assert one(replace(friday, promised=date(2026, 12, 5))) == ("parts", STUCK)
    for due, rank in ((MONDAY, STUCK), (date(2026, 12, 4), AT_RISK), (date(2026, 11, 26), AT_RISK)):
        awaited = {1: Awaited("belt", "Brook", "1", due)}
        assert one(friday, replace(NOTHING, awaited=awaited)) == ("parts", rank)
    assert one(replace(friday, promised=MONDAY, state="in hand", running=True)) == ("finish", AT_RISK)
    assert one(replace(friday, state="in hand", running=True)) is None


def test_the_earliest_promise_stands_first_and_a_ring_before_hands() -> None:
    day = {"promised": MONDAY, "waits": "", "state": "in hand"}
    hands, stop = replace(CARD, **day), replace(CARD, card_id=2, stop="tyre", **day)
    broken = replace(CARD, card_id=3, promised=date(2026, 11, 20))
    later = replace(CARD, card_id=4, promised=date(2026, 12, 1), waits="authority")
    found = lines(later, hands, stop, broken)
    assert [x.card.card_id for x in found if x.card] == [3, 2, 1, 4]
    assert found[0].card
    assert found[0].card.late


def test_money_long_overdue_weighs_as_days_of_labour_and_names_who_owes_most() -> None:
    bills = [Overdue(31, Decimal(960), "7", "Ada", "1"), Overdue(30, Decimal(9_999), "8", "Ben", "2")]
    (line,) = unpaid([*bills, Overdue(90, Decimal(40), "9", "Cy", "")], DAY)
    assert (line.count, line.days, line.amount, line.rank, line.more) == (2, 31, Decimal(960), MONEY, 1)
    assert line.weight == 1_000 / 480
    assert line.card == OfCard(0, "7", "", "", "Ada", "1", None, 0, what="1")
    assert list(unpaid(bills[1:], DAY)) == []


def test_a_job_listed_wrongly_says_its_factor() -> None:
    cases = tuple(Case(n, f"J{n}", "A 1", "2026-W47", "", 60.0, 5_400) for n in range(10))
    job = Actuals("points", "Points", "ignition", 1000, cases)
    held = against([case.ratio for case in cases])
    (line,) = listed([(job, held)], frozenset({"2026-W47"}), DAY)
    # Ten jobs took half an hour more than listed each: five hours of an eight-hour day.
    assert (line.factor, line.count, line.weight, line.name) == (1.5, 10, 0.625, "Points")
    assert list(listed([(job, against([1.0] * 10))], frozenset(), DAY)) == []


def test_what_loses_and_what_comes_back() -> None:
    earning = Earning("points", "Points", "ignition", 4, 0, 0, Decimal(100), Decimal(340), Decimal(-240))
    (line,) = loses([earning, replace(earning, margin=Decimal(1)), replace(earning, margin=None)], DAY)
    assert (line.weight, line.amount) == (0.5, Decimal(-240))
    came = Comeback(2, "J2", "A 1", "brakes", "", TODAY, 1, "J1", "Brakes", 3, None)
    planned = replace(came, planned=True)
    assert [x.count for x in came_back([came, came, replace(came, system="fuel"), planned])] == [3]
    assert list(came_back([came, planned])) == []
    (line,) = back([planned, came])
    assert (line.key, line.name, line.days, line.rank) == ("card:2", "brakes", 3, AGAIN)


def test_tools_and_unclocked_time() -> None:
    tool = Noticed(None, "", "", "wrench 3", "late", "", date(2026, 11, 13))
    assert list(tools_late([tool], TODAY)) == [
        ToDo("tools", "tools", 1, 1.0, days=14, name="wrench 3", rank=AGAIN)
    ]
    assert list(tools_late([], TODAY)) == []
    people = [HoursLine("2", "Tom", 40 * 3600, 14 * 3600, 0), HoursLine("3", "Nell", 40 * 3600, 30 * 3600, 0)]
    (line,) = unclocked([*people, HoursLine("1", "Olive", None, 60, 0)], DAY)
    assert (line.name, line.weight, line.factor) == ("Tom", 2.0, 0.35)


DRAWN = st.tuples(
    st.sampled_from(KINDS),
    st.sampled_from(RANKS),
    st.floats(0, 50),
    st.integers(0, 9),
    st.none() | st.integers(-9, 9),
)


@given(st.lists(DRAWN, max_size=30))
def test_the_list_is_short_in_order_and_counts_what_it_leaves_out(
    drawn: list[tuple[str, int, float, int, int | None]],
) -> None:
    every = [
        ToDo(
            kind,
            f"{kind}:{key}",
            1,
            weight,
            rank=rank,
            due=None if due is None else TODAY + timedelta(days=due),
        )
        for kind, rank, weight, key, due in drawn
    ]
    found = worst(every)
    assert [x.rank for x in found] == sorted(x.rank for x in found)
    assert found == worst(reversed(every))
    again = {x.kind for x in every if x.rank == AGAIN and x.weight >= 1}
    for ranks, places in PLACES:
        group = [x for x in every if x.rank in ranks]
        of = len(again) if AGAIN in ranks else len(group)
        shown = [x for x in found if x.rank in ranks]
        assert len(shown) == min(places, of)
        assert sum(x.more for x in shown) == of - len(shown)
    assert len([x.kind for x in found if x.rank == AGAIN]) == len({x.kind for x in found if x.rank == AGAIN})
