"""The beginning of a job template of the shop's own: usable as it stands, with every further key explained beside it.

An empty page is where good intentions end; a file that works at once and says what else it could say is not.
"""

import json
import re
from collections.abc import Sequence

from shopcli.cleantext import required_line
from shopcli.errors import BadInput
from shopcli.worklists.words import ACTS, STATES

MINUTES = 10  # until the shop's own times are known: common practice, no source
MOST = 60
_NOT_IN_NAMES = re.compile(r"[^a-z0-9]+")


def name_from(text: str) -> str:
    """Return a name a file or a step may have, made of a title.

    Examples
    --------
    >>> name_from("Points: fit & gap (Mk 2)")
    'points-fit-gap-mk-2'
    """
    return _NOT_IN_NAMES.sub("-", text.casefold()).strip("-")[:40].strip("-")


def template_text(name: str, title: str, system: str, tasks: Sequence[str]) -> str:
    """Return a job template as text: its head, one step for each task, each after the one before.

    Parameters
    ----------
    name : str
        Of the file, without its ending.
    title, system : str
        As the card and the list of jobs show them.
    tasks : sequence of str
        Titles of the steps, in order; without any there is one to begin with.

    Raises
    ------
    BadInput
        If a title is empty or too long, there are too many tasks, or none of its letters can make a name.
    """
    titles = [required_line(task, name="title of a task") for task in tasks] or ["Look at it"]
    if len(titles) > MOST:
        raise BadInput(f"{len(titles)} tasks", hint=f"At most {MOST} to begin with; add others in the file.")
    head = [
        f"# A job of our own. Lines that begin with # are for people. Check it: shopcli template-check {name}",
        f"# See it on a car: shopcli preview {name} --vehicle REGISTRATION",
        f"title  = {_quoted(required_line(title, name='title'))}",
        f"system = {_quoted(required_line(system, name='system'))}",
        '# about   = "What has to be known before it is begun."',
        '# applies = { ignition = "contact breaker" }    # offered only to cars of which this is true',
        '# kit     = [{ part = "contact set", qty = 1 }, { part = "tape", optional = true }]',
        '# include = ["oil-change"]                       # a big job is made of small ones',
    ]
    blocks = []
    ids: list[str] = []
    for one in titles:
        blocks += ["", *_step(_own_id(one, ids), one, ids[-1] if ids else "", first=not ids)]
        ids.append(_own_id(one, ids))
    return "\n".join([*head, *blocks]) + "\n"


def _own_id(title: str, taken: Sequence[str]) -> str:
    wanted = name_from(title) or "step"
    found, number = wanted, 2
    while found in taken:
        found, number = f"{wanted}-{number}", number + 1
    return found


def _step(own: str, title: str, before: str, *, first: bool) -> list[str]:
    lines = ["[[task]]", f"id      = {_quoted(own)}", f"title   = {_quoted(title)}"]
    lines += (
        ['# say   = "What to do and what to look at: {{ spec.points_gap }} shows the number of the car."']
        if first
        else []
    )
    lines += [f"minutes = {MINUTES}{'    # hands-on' if first else ''}"]
    lines += [f"after   = [{_quoted(before)}]"] if before else []
    return [*lines, *(_EXPLAINED if first else [])]


_EXPLAINED = [
    "# waits    = 30                    # hands-off after it: draining, soaking, curing",
    '# place    = "engine bay"          # where one stands; the order of work saves the walking',
    f"# needs    = [{', '.join(json.dumps(s) for s in STATES[:3])}]    # how the car must be",
    f"# acts     = [{', '.join(json.dumps(a) for a in ACTS[:2])}]          # what it does that a tag may bar",
    '# hangs    = ["sump dry"]          # tags it hangs on the car, and lifts = [...] those it takes off',
    '# cautions = ["high tension"]      # shown before the step',
    '# fits     = ["contact set"]        # parts of the kit it waits for; a step no part is missing for can begin',
    '# readings = [{ name = "points gap", spec = "points_gap", when = ["as found", "as left"] }]',
    '# owes     = [{ check = "look-again", title = "Look again", before = "distance", miles = 500 }]',
    "# second   = true                  # a second person looks before the car moves",
    "# first    = true                  # everything else on the list comes after this step",
]


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007F")


def own_copy(name: str, text: str) -> str:
    """Return a shipped job template as one of the shop's own, with a line on top that says what it does."""
    return (
        f"# Our own {name}: it stands in for the one that came with the program, which stays untouched.\n"
        f"# Take this file away and the other is back. Check it: shopcli template-check {name}\n{text}"
    )
