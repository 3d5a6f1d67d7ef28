"""What the printed bench sheet is made of: plain texts in lists, finished words only.

The page that sets them gets texts as values, so whatever a person wrote is set in type and never obeyed.
"""

import re
from typing import Any

from shopcli.codes import card_code
from shopcli.papers.arrange import due
from shopcli.papers.bench_list import (
    about_card,
    about_task,
    after_said,
    part_said,
    reading_places,
    spec_parts,
    tag_said,
    taken_said,
)
from shopcli.papers.square import square_svg
from shopcli.present import card_state, severity, shown, task_state
from shopcli.shop.views import CardView, TaskView
from shopcli.units import Preferences
from shopcli.worklists.model import PHASES
from shopcli.worklists.say import say_text

CARD_FIELDS_APART = ("Asked", "Hands-on")  # set in places of their own
LONGEST = 4000  # characters of one text on paper
PIECE = 8
ENDLESS = 20  # characters of a word that may not fit a line


def sheet_data(
    card: CardView, prefs: Preferences, *, shop_name: str = "", printed: str = ""
) -> dict[str, Any]:
    """Return everything the page shows, as JSON would keep it."""
    about = dict(about_card(card))
    return _clean(
        {
            "shop": shop_name,
            "printed": printed,
            "number": card.number,
            "code": card_code(card.number),
            "square": square_svg(card_code(card.number)).decode(),
            "state": card_state(card.state),
            "registration": card.registration,
            "words": card.words,
            "hours": about["Hands-on"],
            "about": [
                [name, text] for name, text in about.items() if text.strip() and name not in CARD_FIELDS_APART
            ],
            "tags": [tag_said(tag) for tag in card.tags],
            "steps": [_step(view, prefs) for view in card.tasks],
            "parts": [part_said(part) for part in card.parts],
            "seen": [
                f"{severity(f.severity)}  {': '.join(filter(None, (f.place, f.what)))} ({f.state})"
                for f in card.findings
            ],
            "owed": [f"{o.title}: {due(o, card.distance_unit)}" for o in card.owed if o.state == "owed"],
        }
    )


def _step(view: TaskView, prefs: Preferences) -> dict[str, Any]:
    task = view.task
    places = list(reading_places(view))
    phases = [p for p in PHASES if any(p in taken for _, taken in places)]
    return {
        "number": str(view.position),
        "title": task.title,
        "about": about_task(task),
        "settled": view.state != "open",
        "state": task_state(
            view.state,
            running=bool(view.running),
            barred=bool(view.barred_by),
            out_of_limits=bool(view.left_out_of_limits),
        ),
        "barred": ", ".join(view.barred_by),
        "cautions": [caution.text for caution in task.cautions],
        "car": [
            f"{name}: {', '.join(texts)}"
            for name, texts in (("Needs", task.needs), ("Hangs", task.hangs), ("Lifts", task.lifts))
            if texts
        ],
        "say": say_text(task, prefs) if task.say else "",
        "numbers": [list(spec_parts(spec, prefs)) for spec in task.specs],
        "missing": [name.replace("_", " ") for name in task.missing],
        "phases": phases,
        "readings": [
            {"place": what, "taken": [_blank(taken, phase) for phase in phases]} for what, taken in places
        ],
        "after": list(after_said(view)),
    }


def _blank(taken: dict[str, Any], phase: str) -> str | None:
    """Return what was read; empty where there is room to write it, None where this is not asked."""
    if phase not in taken:
        return None
    return taken_said(taken[phase]) if taken[phase] is not None else ""


def _clean(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: text if key == "square" else _clean(text) for key, text in value.items()}
    if isinstance(value, list):
        return [_clean(v) for v in value]
    return breakable(shown(value)[:LONGEST]) if isinstance(value, str) else value


def breakable(text: str, endless: int = ENDLESS) -> str:
    """Let a word that is too long for any line break inside; a typesetter would run it off the page."""
    return re.sub(
        rf"\S{{{endless},}}", lambda word: "\u200b".join(re.findall(f".{{1,{PIECE}}}", word[0])), text
    )
