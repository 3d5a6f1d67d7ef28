"""Commands of the clock: on and off, breaks, a day's own times and their corrections."""

from argparse import Namespace
from datetime import date, datetime

from shopcli.cli.common import act, card_of, clean, print_json, shop_of, table, task_of, who
from shopcli.errors import BadInput, NotFound
from shopcli.present import day as day_words
from shopcli.present import h_mm
from shopcli.shop.clock_commands import (
    AddClock,
    ClockOff,
    ClockOn,
    CorrectBreak,
    CorrectClock,
    EndBreak,
    GoOnBreak,
    SplitClock,
    WorkedUntil,
)
from shopcli.shop.time_views import AskedView, StretchView
from shopcli.shop.typed_times import read_end, read_time
from shopcli.store.reads import people, times
from shopcli.store.shop import Shop


def show(args: Namespace) -> int:
    """Show everybody's clocks and breaks, and the clocks to be asked about."""
    shop = shop_of(args)
    everybody = times.standing(shop)
    if args.json:
        print_json(everybody)
        return 0
    for s in everybody:
        if s.since is not None:
            word = "  on a break from" if s.state == "break" else ""
            time = h_mm(shop.at() - int(s.since.timestamp()))
            print(clean(f"{s.person}  {time}{word}  {s.card}  {s.task}"))
        for one in times.asked(shop, s.person_id):
            print(clean(asked_words(s.person, one)))
    return 0


def asked_words(person: str, one: AskedView) -> str:
    """Say which clock wants an answer, and how it is given."""
    ended = f"until {one.ended:%H:%M}, {day_words(one.ended.date())}" if one.ended else "and still runs"
    return (
        f"! {person} was on '{one.task}' ({one.card}) from {one.started:%H:%M}, {day_words(one.started.date())},"
        f" {ended}; {one.why}. Until when? shopcli clock until TIME, or --through"
    )


def on(args: Namespace) -> int:
    """Clock on."""
    shop = shop_of(args)
    if not (args.card and args.task):
        raise BadInput("clock on wants a card and a task", hint="Like: shopcli clock on J00012 3")
    act(args, ClockOn(task_of(card_of(shop, args), args.task).id), shop)
    return 0


def off(args: Namespace) -> int:
    """Clock off."""
    act(args, ClockOff())
    return 0


def take_break(args: Namespace) -> int:
    """Go on a break, or on again."""
    shop = shop_of(args)
    mine = next(s for s in times.standing(shop) if s.person_id == who(shop, args).id)
    act(args, EndBreak() if mine.state == "break" else GoOnBreak(), shop)
    return 0


def _day(shop: Shop, text: str) -> date:
    if not text:
        return shop.local(shop.at()).date()
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise BadInput(f"'{clean(text)[:20]}' is not a date", hint="Write it like 2026-11-25.") from error


def _until(stretch: StretchView) -> str:
    if stretch.ended is None:
        return "now"
    days = (stretch.ended.date() - stretch.started.date()).days
    return f"{stretch.ended:%H:%M}" + (f" +{days} d" if days else "")


def day(args: Namespace) -> int:
    """Show the times of a day."""
    shop = shop_of(args)
    person = people.person(shop, args.of) if args.of else who(shop, args)
    seen = times.day_of(shop, person.id, _day(shop, args.day))
    if args.json:
        print_json(seen)
        return 0
    print(clean(f"{seen.person}, {day_words(seen.day)} {seen.day.year}"))
    rows = [
        (
            f"b{s.id}" if s.kind == "break" else s.id,
            f"{s.started:%H:%M}",
            _until(s),
            h_mm(s.seconds),
            s.card,
            "break" if s.kind == "break" else s.task,
            s.corrected,
        )
        for s in seen.stretches
    ]
    if rows:
        print(table(("entry", "from", "until", "time", "card", "task", "corrected"), rows, right=(0, 3)))
    rest = f", breaks {h_mm(seen.break_seconds)}" if seen.break_seconds else ""
    print(f"worked {h_mm(seen.worked_seconds)}{rest}")
    return 0


ENTRY = "SELECT started_at, ended_at FROM {} WHERE id = ?"


def _entry(shop: Shop, text: str) -> tuple[str, int, datetime, int | None]:
    """Return table, id, start and end of the entry meant."""
    wanted = text.strip().lower()
    name = "work_break" if wanted.startswith("b") else "clock_entry"
    number = wanted.removeprefix("b")
    rows = shop.fetch(ENTRY.format(name), (int(number),)) if number.isdecimal() and len(number) < 12 else []  # noqa: PLR2004
    if not rows:
        raise NotFound(f"there is no entry '{clean(text)[:20]}'", hint="See: shopcli clock day")
    return name, int(number), shop.local(rows[0][0]), rows[0][1]


def _other_task(args: Namespace, shop: Shop, card_id: int | None) -> int | None:
    if not args.task:
        return None
    from shopcli.store.reads.bench import card

    view = card_of(shop, args) if args.card else card(shop, card_id or 0)
    return task_of(view, args.task).id


def _card_of_entry(shop: Shop, entry_id: int) -> int:
    return int(shop.fetch("SELECT card_id FROM clock_entry WHERE id = ?", (entry_id,))[0][0])


def correct(args: Namespace) -> int:
    """Correct an entry or a break."""
    shop = shop_of(args)
    name, key, started, ended = _entry(shop, args.entry)
    zone, of_day = shop.settings.tz(), started.date()
    start = read_time(args.start, of_day, zone) if args.start else int(started.timestamp())
    end = read_end(args.end, start, of_day, zone) if args.end else ended
    seen = (("started_at", int(started.timestamp())), ("ended_at", ended or ""))
    if name == "clock_entry":
        task = _other_task(args, shop, _card_of_entry(shop, key))
        act(args, CorrectClock(key, start, end, args.why, task, seen), shop)
    elif end is None:
        raise BadInput("the break still runs", hint="End it first, or give its end.")
    else:
        act(args, CorrectBreak(key, start, end, args.why, seen), shop)
    return 0


def split(args: Namespace) -> int:
    """Split an entry."""
    shop = shop_of(args)
    name, key, started, _ended = _entry(shop, args.entry)
    if name != "clock_entry":
        raise BadInput("a break is not split", hint="Correct it instead.")
    at = read_end(args.at, int(started.timestamp()), started.date(), shop.settings.tz())
    act(args, SplitClock(key, at, args.why, _other_task(args, shop, _card_of_entry(shop, key))), shop)
    return 0


def add(args: Namespace) -> int:
    """Add time that was forgotten."""
    shop = shop_of(args)
    task, of_day, zone = task_of(card_of(shop, args), args.task), _day(shop, args.day), shop.settings.tz()
    start = read_time(args.start, of_day, zone)
    person = people.person(shop, args.of).id if args.of else None
    act(args, AddClock(task.id, start, read_end(args.end, start, of_day, zone), args.why, person), shop)
    return 0


def until(args: Namespace) -> int:
    """Answer until when a forgotten clock was really work."""
    shop = shop_of(args)
    waiting = times.asked(shop, who(shop, args).id)
    if not waiting:
        raise NotFound("no clock of yours wants an answer")
    one = waiting[0]
    if args.through:
        act(args, WorkedUntil(one.entry_id), shop)
        return 0
    started = int(one.started.timestamp())
    end = (
        read_end(args.time, started, one.started.date(), shop.settings.tz())
        if args.time
        else int(one.until.timestamp())
    )
    act(args, WorkedUntil(one.entry_id, end), shop)
    return 0
