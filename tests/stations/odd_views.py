"""A card of the bench with one text wherever a person, a template or an older program may have put one."""

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

from shopcli.screens.bench.inhand import InHand
from shopcli.shop.earlier import EarlierView, Memory
from shopcli.shop.known import FindingView, OwedView
from shopcli.shop.lately import LastAct, LatelyView, NextView, WaitView, WhereView
from shopcli.shop.listed import ClockView
from shopcli.shop.time_views import DayView, StandingView, StretchView
from shopcli.shop.views import CardView, PartLineView, ReadingView, TagView, TaskView
from shopcli.store.reads.photos import PhotoView
from shopcli.units import IMPERIAL, Limits
from shopcli.worklists.model import Caution, Provenance, ReadingSlot, Spec, Task, VehicleFacts
from shopcli.worklists.tool_choice import Advice

AT = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)
TODAY = date(2026, 11, 25)
FOUR = ("1", "2", "3", "4")
GAP = Limits.of("length", "thou", low=5, nominal=6, high=7)
FACTS = VehicleFacts(cylinders=FOUR, layout="inline", valves=tuple(f"{n} inlet" for n in FOUR))


def spec(text: str, name: str = "gap") -> Spec:
    return Spec(name, text, GAP, text, Provenance("handbook", text, text, text, text), text, text)


def slots(name: str, label: str, *, many: bool) -> tuple[ReadingSlot, ...]:
    places = FOUR if many else ("",)
    return tuple(
        ReadingSlot(
            f"gap@{n}|{p}", name, f"cylinder {n} {label}".strip() if n else label, p, "gap", "length", "thou"
        )
        for n in places
        for p in ("as found", "as left")
    )


def reading(slot: ReadingSlot, text: str, standing: str = "low") -> ReadingView:
    verdict = f"low by {text}" if standing else text
    return ReadingView(
        *(1, 1, slot.key, slot.name, slot.label, slot.phase, text, 0.0001, "thou", "length", standing),
        *(verdict, text, text, text, text, AT),
    )


def task(text: str, state: str = "open", *, many: bool = False, standing: str = "low") -> TaskView:
    asked = slots(text, text, many=many)
    frozen = Task(
        *("odd:one", "odd", "1", text, "engine", text),
        specs=(spec(text), spec(text, "other")),
        missing=(text,),
        readings=asked,
        minutes=12,
        waits=5,
        place=text,
        needs=(text,),
        lifts=("odd",),
        cautions=(Caution("odd", text), Caution("odd2", text)),
        second=True,
    )
    taken = tuple(reading(s, text, standing) for s in asked[:1])
    done = state != "open"
    return TaskView(
        *(1, 1, state, frozen, taken, 90, (text,), text if done else "", AT if done else None),
        *(text if state == "left out" else "", text if done else "", text, () if done else (text,), 1),
        newer=(spec(text), spec(text, "since")),
    )


def other(number: int, text: str) -> TaskView:
    """Return a task further down the list."""
    return replace(task(text), id=number, position=number, running=(), barred_by=())


def part(text: str, state: str = "wanted") -> PartLineView:
    return PartLineView(
        *(1, 1, 1, text, text, Decimal(1), text, Decimal(2), state, True, True, Decimal(3), text, text, True),
        *(Decimal(4), False, text, text),
    )


def tag(text: str) -> TagView:
    return TagView(1, text, text, (text,), text, AT, text, text)


def owed(text: str) -> OwedView:
    return OwedView(1, text, "hand-over", None, None, "owed", text, text, text, text)


def card(text: str, tasks: tuple[TaskView, ...], state: str = "in hand") -> CardView:
    return CardView(
        *(1, text, state, text, text, text, text, 1, text, text, 1, text, text, "mi", 12_345, Decimal(400)),
        *(text, TODAY, AT, None, 60, 1, (text,), tasks, (part(text), part(text, "fitted")), (tag(text),)),
        (owed(text),),
        (FindingView(1, text, text, "soon", text, "open", text, TODAY, text, text, text, text),),
    )


def hand(
    text: str, *, state: str = "open", many: bool = False, typing: str = "", standing: str = "low"
) -> InHand:
    mine = task(text, state, many=many, standing=standing)
    before = tuple(
        EarlierView(
            text,
            datetime(year, 1, 2, tzinfo=UTC),
            1000,
            "odd:one",
            s.key,
            "gap",
            0.00013,
            "thou",
            "length",
            text,
            "in",
        )
        for year in (2024, 2025)
        for s in mine.task.readings
    )
    return InHand(
        card(text, (mine, other(2, text))),
        mine,
        IMPERIAL,
        tools=(Advice("gap", text, text), Advice("other", text, text, text)),
        typing=typing,
        memory=Memory(FACTS, before),
        at=AT.timestamp(),
        why=text,
    )


def clock(text: str, *, task_id: int = 2, person: int = 2, on_break: bool = False) -> ClockView:
    return ClockView(1, person, text, 1, text, task_id, text, AT, on_break)


def last_act(text: str, *, final: bool = False) -> LastAct:
    cannot = text if final else ""
    return LastAct(1, "NoteOnTask", "note", AT, (text,), (text,), cannot, cannot, 1)


def where(text: str) -> WhereView:
    act = LatelyView(AT, text, "work", text)
    return WhereView(
        *(1, text, text, text, text, "in hand", text, AT, TODAY, "mi"),
        in_hand=(StandingView(1, text, text, text, "on", 1, text, 1, text, AT),),
        mine=act,
        last=(act,),
        meanwhile=(act,),
        tags=(tag(text),),
        stops=(FindingView(1, text, text, "stop", text, "open", text, TODAY, text),),
        owed=(owed(text),),
        waits=(WaitView(text, AT),),
        parts=(part(text), part(text, "on order")),
        outwork=(text,),
        settled=0,
        tasks=2,
        next=NextView(1, text, text, 12, (text,)),
    )


def day(text: str) -> DayView:
    stretches = tuple(
        StretchView(kind, 1, 1, text, 1, text, text, AT, None, 60, text, True) for kind in ("work", "break")
    )
    return DayView(1, text, TODAY, stretches, 60, 60, None, None)


def photo(text: str) -> PhotoView:
    return PhotoView(1, text, "png", 10, text, text, AT, 1, text, 1, text, Path("photo.png"), False)
