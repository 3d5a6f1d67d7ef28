"""The day at a glance: a row for each person, a row for each thing that drains or charges meanwhile, and the time."""

from collections.abc import Iterable, Mapping, Sequence

from shopcli.columns import cut, display_width, pad
from shopcli.errors import BadInput
from shopcli.worklists.planner.result import Plan, Step, Wait

NARROWEST = 40
_LABEL_SHARE = 3  # a third of the width at most
_STEPS = (5, 10, 15, 30, 60, 120, 240, 480, 1440)  # between figures of the time axis, [min]
_FIGURE = 7  # columns a figure of the axis wants
_MOST_WAITS = 12  # the longest, when there are more
_SHORT = 6  # columns of a place's name that can be told apart


def picture(
    plan: Plan,
    *,
    width: int = 80,
    ascii_only: bool = False,
    names: Sequence[str] = (),
    waits: int = _MOST_WAITS,
) -> str:
    """Return the plan as rows of text.

    Work of one person at one place in one go is one block; the place is written into it where there is room.

    Parameters
    ----------
    plan : Plan
        As made.
    width : int, optional
        Widest line, 40 or more, [columns]
    ascii_only : bool, optional
        Leave out everything a plain terminal may not show.
    names : sequence of str, optional
        Of the people, from the first on; whoever has none is "person 2".
    waits : int, optional
        How many rows at most for what runs without hands, the longest kept.

    Raises
    ------
    BadInput
        If `width` is below 40.
    """
    if width < NARROWEST:
        raise BadInput(f"a picture {width} columns wide", hint=f"Give it {NARROWEST} or more.")
    if not plan.steps:
        return "Nothing to do."
    titles = {step.key: step.title for step in plan.steps}
    longest = sorted(plan.waits, key=lambda w: w.start_min - w.end_min)[:waits]
    meanwhile = [(_name(w, titles), w) for w in plan.waits if w in longest]
    people = [names[k] if k < len(names) else f"person {k + 1}" for k in range(plan.hands)]
    label = min(width // _LABEL_SHARE, max(map(display_width, [*people, *(n for n, _ in meanwhile)])))
    scale = _Scale(plan, width - label - 2)
    rows = [
        (name, scale.work([s for s in plan.steps if s.person == k + 1], ascii_only))
        for k, name in enumerate(people)
    ]
    rows += [(name, scale.wait(wait, ascii_only)) for name, wait in meanwhile]
    rows.append(("", scale.axis()))
    return "\n".join(
        f"{pad(cut(name, label, plain=ascii_only), label)}  {row}".rstrip() for name, row in rows
    )


def _name(wait: Wait, titles: Mapping[str, str]) -> str:
    title = titles.get(wait.key, "")
    return f"{wait.says}: {title}" if title else wait.says


class _Scale:
    """Minutes to columns."""

    def __init__(self, plan: Plan, columns: int) -> None:
        self.start, self.columns = plan.start_min, columns
        self.length = max(1, plan.elapsed_min, *(w.end_min - plan.start_min for w in plan.waits), 1)

    def at(self, minute: int) -> int:
        """Return the column of a minute."""
        return round((minute - self.start) * self.columns / self.length)

    def work(self, steps: Sequence[Step], plain: bool) -> str:
        """Return the row of one person; neighbours differ in tone, so that a change of place shows."""
        row, column, tones = "", 0, "#=" if plain else "█▓"
        for number, (place, start, end) in enumerate(_blocks(steps)):
            first, tone = max(column, self.at(start)), tones[number % 2]
            room = min(max(self.at(end) - first, 1), self.columns - first)
            if room < 1:
                break
            text = cut(place, room - 2, plain=plain) if place and room - 2 >= min(len(place), _SHORT) else ""
            row += " " * (first - column) + tone + text + tone * (room - 1 - display_width(text))
            column = first + room
        return row

    def wait(self, wait: Wait, plain: bool) -> str:
        """Return the row of what needs no hands."""
        first = min(self.at(wait.start_min), self.columns - 1)
        last = max(self.at(wait.end_min), first + 1)
        return " " * first + ("." if plain else "░") * (last - first)

    def axis(self) -> str:
        """Return the time axis: hours and minutes, at the minute their first figure stands under."""
        wanted = self.length * _FIGURE / self.columns
        step = next((s for s in _STEPS if s >= wanted), _STEPS[-1])
        row = ""
        for minute in range(-(-self.start // step) * step, self.start + self.length + 1, step):
            figure, at = f"{minute // 60}:{minute % 60:02d}", self.at(minute)
            if at + len(figure) <= self.columns and at >= len(row):
                row = row.ljust(at) + figure
        return row


def _blocks(steps: Iterable[Step]) -> list[tuple[str, int, int]]:
    """Join what one person does at one place without a pause: place, start, end."""
    blocks: list[tuple[str, int, int]] = []
    for step in steps:
        if step.end_min == step.start_min:
            continue
        if blocks and blocks[-1][0] == step.place and blocks[-1][2] == step.start_min:
            blocks[-1] = (step.place, blocks[-1][1], step.end_min)
        else:
            blocks.append((step.place, step.start_min, step.end_min))
    return blocks
