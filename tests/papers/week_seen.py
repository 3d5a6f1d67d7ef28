"""An invented week with every kind of figure in it, for the report's papers and pictures. Nothing in it was measured."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from random import Random

from shopcli.papers.week.seen import Seen, Trend
from shopcli.shop.week_ahead import ahead_of
from shopcli.shop.week_quality_views import Awaited, OfCard
from shopcli.shop.week_times import held_against
from shopcli.shop.week_views import (
    Actuals,
    AgeBand,
    CardAge,
    Case,
    Comeback,
    Earning,
    FlowView,
    HoursLine,
    HoursView,
    MoneyView,
    MoneyWeek,
    Noticed,
    PastWeeks,
    Period,
    QualityView,
    Spent,
    ToDo,
    Unclocked,
    Waiting,
    WeekFlow,
)

MONDAY, TODAY = date(2026, 11, 23), date(2026, 11, 27)
DAY, HOUR = 86_400, 3_600
D = Decimal
WEEK = Period(MONDAY)
LAST = Period(MONDAY - timedelta(weeks=12), 13)


def flow_weeks() -> tuple[WeekFlow, ...]:
    rows = (
        (6, 5),
        (7, 6),
        (5, 7),
        (8, 6),
        (6, 6),
        (9, 7),
        (4, 6),
        (7, 8),
        (8, 6),
        (6, 5),
        (9, 6),
        (7, 8),
        (8, 6),
    )
    here, found = 14, []
    for monday, name, (opened, closed) in zip(LAST.mondays, LAST.names, rows, strict=True):
        here += opened - closed
        found.append(WeekFlow(name, monday, opened, closed, closed, here))
    return tuple(found)


def cards(count: int = 9) -> tuple[CardAge, ...]:
    words = (
        ("held", "parts", "parts"),
        ("held", "authority", "authority"),
        ("in hand", "", ""),
        ("booked", "bay", ""),
    )
    found = []
    for n in range(count):
        state, waits, why = words[n % 4]
        age = (31 - 3 * n) * DAY if n < 10 else DAY
        spent = (
            Spent("booked", "bay", "", age // 3),
            Spent("held", "parts", "parts", age // 3),
            Spent(state, waits, why, age // 3),
        )
        found.append(
            CardAge(
                n + 1,
                f"J{n + 1:05d}",
                f"LRK {100 + n}",
                f"Customer {n}",
                "Points, oil and a look at the brakes",
                state,
                why,
                waits,
                TODAY - timedelta(days=3 - n),
                TODAY - timedelta(seconds=age),
                age,
                age // 3,
                spent,
            )
        )
    return tuple(found)


def flow(weeks: tuple[WeekFlow, ...] | None = None) -> FlowView:
    weeks = weeks or flow_weeks()[-1:]
    waiting = (
        Waiting("parts", 5, 31 * DAY, 3, 9 * DAY),
        Waiting("authority", 4, 18 * DAY, 3, 9 * DAY),
        Waiting("bay", 6, 12 * DAY, 2, 4 * DAY),
        Waiting("outwork", 1, 6 * DAY, 1, 6 * DAY),
    )
    return FlowView(
        WEEK,
        weeks,
        weeks[-1].opened,
        weeks[-1].closed,
        weeks[-1].left,
        20,
        6,
        11.5,
        24.0,
        13.2,
        19.4,
        6.0,
        cards(),
        waiting,
    )


def hours_line(key: str, name: str, paid: int | None, clocked: int, sold: int) -> HoursLine:
    return HoursLine(key, name, None if paid is None else paid * HOUR, clocked * HOUR, sold * HOUR)


def hours() -> HoursView:
    return HoursView(
        WEEK,
        hours_line("", "all", 114, 82, 71),
        (hours_line("2026-W48", "2026-W48", 114, 82, 71),),
        (
            hours_line("2", "Tom", 38, 29, 24),
            hours_line("3", "Nell", 38, 31, 27),
            hours_line("1", "Olive", 38, 22, 20),
        ),
        (
            hours_line("points", "Contact-breaker points: renew and set", None, 12, 9),
            hours_line("oil-change", "Oil change", None, 9, 10),
        ),
        (hours_line("ignition", "ignition", None, 21, 17), hours_line("brakes", "brakes", None, 30, 22)),
        (
            Unclocked(2, "Tom", 47 * HOUR, 9 * HOUR, 38 * HOUR, 29 * HOUR, 3 * HOUR, 6 * HOUR),
            Unclocked(3, "Nell", 47 * HOUR, 9 * HOUR, 38 * HOUR, 31 * HOUR, 3 * HOUR, 4 * HOUR),
        ),
        2 * HOUR,
    )


def hours_weeks() -> tuple[HoursLine, ...]:
    return tuple(
        hours_line(name, name, 114, 70 + (n * 7) % 22, 60 + (n * 5) % 19) for n, name in enumerate(LAST.names)
    )


def money_weeks() -> tuple[MoneyWeek, ...]:
    return tuple(
        MoneyWeek(
            name,
            monday,
            D(5200 + 300 * (n % 5)),
            D(3700 + 200 * (n % 5)),
            D(1500 + 100 * (n % 5)),
            D(1100),
            D(40),
            D(0),
        )
        for n, (name, monday) in enumerate(zip(LAST.names, LAST.mondays, strict=True))
    )


def money() -> MoneyView:
    earnings = (
        Earning(
            "points",
            "Contact-breaker points: renew and set",
            "ignition",
            4,
            12 * HOUR,
            9 * HOUR,
            D(540),
            D(420),
            D(120),
        ),
        Earning(
            "head-gasket",
            "Cylinder head: renew the gasket",
            "engine",
            1,
            26 * HOUR,
            14 * HOUR,
            D(840),
            D(910),
            D(-70),
        ),
        Earning("oil-change", "Oil change", "engine", 5, 9 * HOUR, 10 * HOUR, D(600), D(315), D(285)),
    )
    unpaid = (
        AgeBand("not due yet", 4, D("2110.40")),
        AgeBand("1 to 30 days", 2, D("801.00")),
        AgeBand("over 90 days", 1, D("154.20")),
    )
    return MoneyView(
        WEEK,
        money_weeks()[-1:],
        D("5800"),
        D("4100"),
        D("1700"),
        D("1100"),
        D("40"),
        D("0"),
        D("3990"),
        earnings,
        20,
        D("7240.50"),
        unpaid,
        D("11230.75"),
        3,
        D("165"),
    )


def actuals(seed: int = 4) -> tuple[Actuals, ...]:
    rng, found = Random(seed), []
    for name, title, ratio, n in (
        ("points", "Contact-breaker points: renew and set", 1.0, 22),
        ("head-gasket", "Cylinder head: renew the gasket", 1.5, 14),
        ("oil-change", "Oil change", 0.8, 30),
        ("valve-gap", "Valve clearances: check and set", 1.1, 5),
    ):
        cases = tuple(
            Case(
                k,
                f"J{k:05d}",
                "LRK 1",
                "2026-W40",
                "lark",
                60.0,
                int(3600 * ratio * rng.lognormvariate(0, 0.2)),
            )
            for k in range(n)
        )
        found.append(Actuals(name, title, "engine", 1000, cases))
    return tuple(found)


def quality() -> QualityView:
    back = Comeback(
        7, "J00007", "LRK 106", "cooling", "Hoses: renew", TODAY, 3, "J00003", "Water pump: renew", 24, 310
    )
    row = Noticed(4, "J00004", "LRK 103", "points gap", "0.52 mm, left above 0.45", "Tom", TODAY)
    tool = Noticed(None, "", "", "Torque wrench 1/2 in", "calibration ran out", "", TODAY)
    return QualityView(WEEK, 6, (back,), (row,), (row,), (), (tool,))


def past() -> PastWeeks:
    rng = Random(8)
    weeks = tuple((*(rng.randint(0, 3) for _ in range(5)), 0, 0) for _ in range(60))
    return PastWeeks(MONDAY, TODAY, weeks, (20,) * 60, 21, (1, 2, 0, 1, 2), 20)


def todo() -> tuple[ToDo, ...]:
    asked = OfCard(
        2, "J00002", "LRK 101", "Lark 1200", "Customer 1", "01632 960001", TODAY, 9, "May both be renewed?"
    )
    belt = Awaited("belt", "Brook & Co", "01632 960002", MONDAY)
    waits = replace(asked, card_id=1, number="J00001", registration="LRK 100", awaited=belt, late=True)
    return (
        ToDo("ready", "card:3", 1, 9.0, days=1, amount=D("210.4"), due=TODAY, card=replace(asked, since=1)),
        ToDo("parts", "card:1", 1, 20.0, days=9, rank=1, due=TODAY, card=waits, more=2),
        ToDo("authority", "card:2", 1, 9.0, days=9, rank=2, due=TODAY, card=asked),
        ToDo("unpaid", "unpaid:overdue", 3, 2.0, days=44, amount=D(154), rank=3, card=asked, more=1),
        ToDo("tools", "tools", 1, 1.0, days=13, name="Torque wrench 1/2 in", rank=5),
    )


def seen(**more: object) -> Seen:
    known = actuals()
    given = {
        "shop": "Test Lane Motors",
        "currency": "GBP",
        "made": datetime(2026, 11, 27, 16, 5, tzinfo=UTC),
        "today": TODAY,
        "period": WEEK,
        "trend": Trend(flow_weeks(), hours_weeks(), money_weeks()),
        "flow": flow(),
        "flow_before": flow(flow_weeks()[-2:-1]),
        "hours": hours(),
        "hours_before": hours(),
        "money": money(),
        "money_before": money(),
        "actuals": known,
        "against": held_against(known),
        "quality": quality(),
        "quality_before": quality(),
        "ahead": ahead_of(past()),
        "todo": todo(),
    }
    return Seen(**(given | more))
