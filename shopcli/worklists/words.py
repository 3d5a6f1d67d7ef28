"""The words a template may use for states, acts and places on a car.

One list, so that a slip of the pen ("engne cold") is an error with the right word beside it instead of a
rule that quietly never holds.
"""

from collections.abc import Iterable
from difflib import get_close_matches

STATES = (
    "engine cold",
    "engine warm",
    "ignition off",
    "battery disconnected",
    "car raised",
    "car on its wheels",
    "handbrake off",
)
# Bringing about one of a pair ends the other; the order of work reckons with it.
OPPOSITES = {
    "engine cold": "engine warm",
    "engine warm": "engine cold",
    "car raised": "car on its wheels",
    "car on its wheels": "car raised",
}
ACTS = ("crank", "start", "drive", "move", "road test", "hand over")
HAND_OVER = "hand over"

# What `for` may repeat over. The word before the noun narrows it: "front wheel" is a wheel.
EACH = (
    "cylinder",
    "valve",
    "inlet valve",
    "exhaust valve",
    "wheel",
    "front wheel",
    "rear wheel",
    "plug",
    "lead",
    "carburettor",
    "cell",
    "bolt",
    "head bolt",
    "nut",
    "nipple",
    "bearing",
    "belt",
)


def nearest(word: str, known: Iterable[str], *, cutoff: float = 0.5) -> str:
    """Return the known word most like `word`, or nothing when none is like it.

    Examples
    --------
    >>> nearest("engne cold", STATES)
    'engine cold'
    >>> nearest("zzz", STATES)
    ''
    """
    return next(iter(get_close_matches(word, list(known), n=1, cutoff=cutoff)), "")


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return what to write instead of `word`: the nearest known word, or the list of them.

    Examples
    --------
    >>> did_you_mean("minuts", ("minutes", "waits"))
    'Write "minutes" instead.'
    >>> did_you_mean("qqq", ("minutes", "waits"))
    'Known are: minutes, waits.'
    """
    names = sorted(set(known))
    best = nearest(word, names)
    if best:
        return f'Write "{best}" instead.'
    shown = ", ".join(names[:20]) + (", ..." if len(names) > 20 else "")  # noqa: PLR2004 - a line or two
    return f"Known are: {shown}." if names else "There are none yet."
