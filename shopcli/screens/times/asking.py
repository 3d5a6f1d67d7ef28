"""Putting times right: one question at a time, the old value filled in, Enter keeps it; Esc at any changes nothing."""

import asyncio
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from shopcli.present import day
from shopcli.screens.dialogs import Choice
from shopcli.screens.times.wording import which
from shopcli.shop.clock_commands import AddClock, CorrectBreak, CorrectClock, SplitClock
from shopcli.shop.seen import over
from shopcli.shop.time_views import StretchView
from shopcli.shop.typed_times import read_end, read_time
from shopcli.store.reads.bench import card
from shopcli.store.reads.desk import open_cards

if TYPE_CHECKING:
    from shopcli.screens.times.station import TimesScreen

ELSEWHERE = "elsewhere"

# How a stretch that is shown calls what a correction changes.
NAMED = {"started_at": "started", "ended_at": "ended"}


async def change(times: "TimesScreen", stretch: StretchView) -> None:
    """Ask for start, end and task of a stretch, and why they are changed."""
    zone, of_day, words = times.zone, stretch.started.date(), which(stretch)
    start_text = await times.ask_text(
        "From when?",
        value=f"{stretch.started:%H:%M}",
        note=words,
        check=lambda text: read_time(text, of_day, zone),
    )
    if start_text is None:
        return
    # An unchanged time keeps its seconds.
    same = start_text == f"{stretch.started:%H:%M}"
    start = int(stretch.started.timestamp()) if same else read_time(start_text, of_day, zone)
    end = await _end(times, stretch, start)
    if end == -1:
        return
    task = stretch.task_id
    if stretch.kind == "work":
        chosen = await _task(times, stretch.card_id, stretch.task_id, "On which task?")
        if chosen is None:
            return
        task = chosen
    why = await times.ask_text("Why is it changed?", note=f"{words}. It stays readable in the journal.")
    if why is None:
        return
    if stretch.kind == "break":
        times.carry_out_of(over(stretch, CorrectBreak(stretch.id, start, end or times.now_s(), why), **NAMED))
    else:
        times.carry_out_of(over(stretch, CorrectClock(stretch.id, start, end, why, task), **NAMED))


async def _end(times: "TimesScreen", stretch: StretchView, start: int) -> int | None:
    """Return the end, None where it still runs, -1 where the question was left."""
    if stretch.ended is None and stretch.kind == "work":
        return None
    old = f"{stretch.ended:%H:%M}" if stretch.ended is not None else ""
    read = partial(read_end, started=start, day=stretch.started.date(), zone=times.zone)
    text = await times.ask_text("Until when?", value=old, note=which(stretch), check=read)
    if text is None:
        return -1
    if stretch.ended is not None and text == old:
        return int(stretch.ended.timestamp())
    return read(text)


async def split(times: "TimesScreen", stretch: StretchView) -> None:
    """Ask where a stretch is split and whose the later part is."""
    if stretch.kind == "break":
        times.tell("A break is not split; Enter changes it.")
        return
    started = int(stretch.started.timestamp())
    read: Callable[[str], int] = partial(
        read_end, started=started, day=stretch.started.date(), zone=times.zone
    )
    text = await times.ask_text("Split at what time?", note=which(stretch), placeholder="10:30", check=read)
    if text is None:
        return
    task = await _task(times, stretch.card_id, stretch.task_id, "The later part was on which task?")
    if task is None:
        return
    why = await times.ask_text("Why is it split?", note=which(stretch))
    if why is not None:
        times.carry_out_of(SplitClock(stretch.id, read(text), why, task))


async def add(times: "TimesScreen") -> None:
    """Ask for the card, the task, the times and why they were forgotten."""
    of_day, zone = times.day, times.zone
    chosen = await _card(times)
    task = None if chosen is None else await _task(times, chosen, None, "On which task?")
    if task is None:
        return
    note = f"on {day(of_day)}"
    start_text = await times.ask_text(
        "From when?", note=note, placeholder="8:00", check=lambda text: read_time(text, of_day, zone)
    )
    if start_text is None:
        return
    start = read_time(start_text, of_day, zone)
    read = partial(read_end, started=start, day=of_day, zone=zone)
    end_text = await times.ask_text("Until when?", note=f"{note}, from {start_text}", check=read)
    why = (
        None
        if end_text is None
        else await times.ask_text("Why was it not clocked?", note="It stays readable.")
    )
    if end_text is not None and why is not None:
        times.carry_out_of(AddClock(task, start, read(end_text), why, times.person_id))


async def _card(times: "TimesScreen") -> int | None:
    rows = await asyncio.to_thread(open_cards, times.desk_app.shop)
    choices = [Choice(str(r.id), f"{r.number}  {r.registration}  {r.customer}", r.title) for r in rows]
    if not choices:
        times.tell("No card is open.")
        return None
    key = await times.ask_pick("On which card?", choices)
    return None if key is None else int(key)


async def _task(times: "TimesScreen", card_id: int, now: int | None, question: str) -> int | None:
    """Return the task meant: the one it is on stands first, so that Enter leaves it there."""
    view = await asyncio.to_thread(card, times.desk_app.shop, card_id)
    tasks = sorted(view.tasks, key=lambda t: t.id != now)
    choices = [Choice(str(t.id), t.task.title, "as it is now" if t.id == now else t.state) for t in tasks]
    choices.append(Choice(ELSEWHERE, "A task of another card", "pick the card first"))
    key = await times.ask_pick(question, choices, note=f"{view.number}  {view.registration}")
    if key != ELSEWHERE:
        return None if key is None else int(key)
    other = await _card(times)
    return None if other is None else await _task(times, other, None, question)


async def whose(times: "TimesScreen") -> None:
    """Ask whose times are shown; only the owner puts right those of others."""
    everybody = times.everybody()
    key = await times.ask_pick("Whose times?", [Choice(str(p.id), p.name, p.role) for p in everybody])
    if key is not None:
        times.show_person(int(key))
