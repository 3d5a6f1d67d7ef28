"""Where a card stands, in words: for the screen and the command line alike."""

from dataclasses import dataclass
from datetime import datetime

from shopcli.car_words import owed_words, stop_told, tag_words
from shopcli.columns import shown
from shopcli.part_words import part_words, short_words
from shopcli.present import day, h_mm, promise
from shopcli.shop.known import OwedView
from shopcli.shop.lately import LatelyView, WhereView
from shopcli.shop.views import PartLineView

# How a line is meant: `next` is what to do, `bad` bars or hurts, `open` is not settled, `quiet` says that there is nothing.
Line = tuple[str, str]
MOST_SINCE = 12


@dataclass(frozen=True, slots=True)
class Block:
    """A heading and what stands below it; `side` blocks may stand in a second column."""

    title: str
    lines: tuple[Line, ...]
    side: bool = False


def when(at: datetime, now: datetime) -> str:
    """Return a moment as one speaks of it: the time today, else with its day.

    Examples
    --------
    >>> when(datetime(2026, 11, 20, 16, 5), datetime(2026, 11, 25, 9, 0))
    'Fri 20 Nov 16:05'
    """
    same = at.date() == now.date()
    return f"{at:%H:%M}" if same else f"{day(at.date())} {at:%H:%M}"


def _act(act: LatelyView, now: datetime, *, named: bool = True) -> str:
    who = f"{act.person}: " if named and act.person else ""
    return shown(f"{when(act.at, now)}, {who}{act.words}")


def _next(seen: WhereView) -> tuple[Line, ...]:
    if seen.state in {"closed", "void"}:
        return ((f"Nothing: the card is {seen.state}.", "quiet"),)
    if seen.state == "held":
        return ((shown(f"The card is held: {seen.held_for}"), "bad"),)
    step = seen.next
    if step is None:
        return (("Every task is settled: the closing check.", "next"),)
    about = ", ".join(filter(None, (step.place, f"{step.minutes} min" if step.minutes else "")))
    lines: list[Line] = [(shown(f"▸ {step.task}" + (f" ({about})" if about else "")), "next")]
    if step.barred_by:
        lines.append((shown(f"⊠ barred by {', '.join(step.barred_by)}"), "bad"))
    return tuple(lines)


def _in_hand(seen: WhereView) -> tuple[Line, ...]:
    lines = []
    for s in seen.in_hand:
        if s.since is None:
            continue
        sign, word = ("●", "on") if s.state == "on" else ("◌", "on a break from")
        lasted = h_mm(int((seen.now - s.since).total_seconds()))
        lines.append(
            (shown(f"{sign} {s.person} {word} '{s.task}' since {when(s.since, seen.now)} ({lasted})"), "")
        )
    return tuple(lines) or (("Nobody is on it now.", "quiet"),)


def _holds(seen: WhereView) -> tuple[Line, ...]:
    """Say what forbids driving, and every tag: who saw or hung it, when, and what it means."""
    lines: list[Line] = [(f"⊠ {stop_told(finding)}", "bad") for finding in seen.stops]
    lines += [(shown(f"⊠ {tag_words(tag)}. {tag.says}"), "bad") for tag in seen.tags]
    return tuple(lines) or (("No tag, and nothing that forbids driving.", "quiet"),)


def _owed(owed: OwedView, unit: str) -> Line:
    kind = "quiet" if owed.for_later else "bad" if owed.overdue else "open"
    return owed_words(owed, unit), kind


def _promised(seen: WhereView) -> tuple[Line, ...]:
    late = seen.promised is not None and seen.promised < seen.now.date()
    date = promise(seen.promised, seen.now.date()) if seen.promised else "no date promised"
    kind = "bad" if late else "" if seen.promised else "quiet"
    lines: list[Line] = [(date, kind)]
    lines += [_owed(o, seen.distance_unit) for o in seen.owed]
    return tuple(lines)


def _part(part: PartLineView) -> Line:
    told = f"{part_words(part)}, {short_words(part)}" if part.short else part_words(part)
    return told, "" if part.here else "open"


def _parts(seen: WhereView) -> tuple[Line, ...]:
    lines: list[Line] = [_part(part) for part in sorted(seen.parts, key=lambda p: not p.here)]
    lines += [(shown(f"⋯ out: {name}"), "open") for name in seen.outwork]
    return tuple(lines) or (("No part is waited for.", "quiet"),)


def _since(seen: WhereView) -> tuple[Line, ...]:
    acts = seen.meanwhile[:MOST_SINCE]
    lines = [(_act(act, seen.now), "") for act in acts]
    rest = len(seen.meanwhile) - len(acts)
    if rest > 0:
        lines.append((f"and {rest} more before", "quiet"))
    return tuple(lines) or (("Nothing.", "quiet"),)


def blocks(seen: WhereView) -> tuple[Block, ...]:
    """Return what there is to say, the most wanted first."""
    found = [Block("Next", _next(seen)), Block("In hand", _in_hand(seen))]
    if seen.mine is not None:
        found += [
            Block("You were last here", ((_act(seen.mine, seen.now, named=False), ""),)),
            Block("Since then", _since(seen)),
        ]
    else:
        last = tuple((_act(act, seen.now), "") for act in seen.last) or (("Nothing was done yet.", "quiet"),)
        found += [Block("You have not been here before. Done last", last)]
    waits = tuple((shown(f"⋯ after '{w.task}' until {when(w.until, seen.now)}"), "") for w in seen.waits)
    found += [
        Block("Holds the car", _holds(seen), side=True),
        Block("Promised", _promised(seen), side=True),
        Block("Parts", _parts(seen), side=True),
        Block("Goes on by itself", waits or (("Nothing.", "quiet"),), side=True),
    ]
    return tuple(found)


def heading(seen: WhereView) -> str:
    """Return which card this is and how far it is."""
    return shown(
        f"{seen.card}  {seen.registration}  {seen.vehicle}  {seen.settled} of {seen.tasks} tasks settled"
    )


def offer(mine_at: datetime, now: datetime, since: int) -> str:
    """Say to somebody who comes back after days that there is something to read."""
    came = f"; {since} {'thing' if since == 1 else 'things'} happened since" if since else ""
    return f"You were last at this card {when(mine_at, now)}{came}. l tells where you were."


def as_text(seen: WhereView) -> str:
    """Return the whole as plain text."""
    lines = [heading(seen), shown(seen.title)]
    for block in blocks(seen):
        lines += ["", block.title, *(f"  {text}" for text, _kind in block.lines)]
    return "\n".join(lines) + "\n"
