"""A shop's own choice of keys: checked before it is taken, because the framework takes unknown names in silence.

In the settings, ``[keys]`` gives an act (``bench.clock``) its keys (``"c,f3"``).
"""

import unicodedata
from collections.abc import Mapping
from difflib import get_close_matches

from shopcli.screens.acts import ACTS

# Many terminals cannot tell these from Tab, Enter and Backspace, or are held by a terminal multiplexer.
TAKEN = {
    "ctrl+i": "Tab",
    "ctrl+m": "Enter",
    "ctrl+h": "Backspace",
    "ctrl+j": "Enter",
    "ctrl+b": "a terminal multiplexer",
    "ctrl+a": "a terminal multiplexer",
    "ctrl+c": "copying",
}
# A browser keeps these for its windows and tabs: no page ever hears of them.
BROWSERS = frozenset({"ctrl+n", "ctrl+t", "ctrl+w"})
IN_BROWSER = {"app.stores": "ctrl+o", "desk.ring": "ctrl+g"}
KNOWN = {act.id: act for act in ACTS}


def keys_in_force(keymap: Mapping[str, str]) -> dict[str, str]:
    """Return the keys of every act with the shop's own choices put in."""
    return {act.id: keymap.get(act.id, act.keys) for act in ACTS}


def sound(keymap: Mapping[str, str]) -> tuple[dict[str, str], list[str]]:
    """Return the choices that can be taken, and a sentence for each that cannot.

    Examples
    --------
    >>> sound({"bench.clok": "x"})
    ({}, ["keys: no act is called 'bench.clok'; did you mean 'bench.clock'?"])
    >>> sound({"bench.clock": "z"})
    ({'bench.clock': 'z'}, [])
    """
    taken: dict[str, str] = {}
    complaints = []
    for act_id, typed in keymap.items():
        keys = ",".join(key.strip() for key in typed.split(",") if key.strip())
        wrong = _wrong(act_id, keys) or _clash(act_id, keys, {**keys_in_force(keymap), act_id: keys})
        if wrong:
            complaints.append(wrong)
        else:
            taken[act_id] = keys
    return taken, complaints


def _wrong(act_id: str, keys: str) -> str:
    if act_id not in KNOWN:
        near = get_close_matches(act_id, KNOWN, n=1)
        return f"keys: no act is called '{act_id}'" + (f"; did you mean '{near[0]}'?" if near else "")
    if not keys:
        return f"keys: {act_id} has no key"
    for key in keys.split(","):
        if key in TAKEN:
            return f"keys: {act_id} wants {key}, which stands for {TAKEN[key]}"
        if not _can_be_pressed(key):
            return f"keys: {act_id} wants '{key}', which is no key"
        if key.isdigit() and act_id.startswith(("bench.", "app.")):
            return f"keys: {act_id} wants {key}; figures are readings"
    return ""


def _can_be_pressed(key: str) -> bool:
    from textual.keys import Keys

    *modifiers, last = key.split("+")
    if not {*modifiers} <= {"ctrl", "shift", "alt"}:
        return False
    return len(last) == 1 or last in {k.value for k in Keys} or _names_a_sign(last)


def _names_a_sign(name: str) -> bool:
    """Whether it is the name of one character, as the framework calls signs: question_mark."""
    try:
        return bool(unicodedata.lookup(name.replace("_", " ")))
    except KeyError:
        return False


def _clash(act_id: str, keys: str, in_force: Mapping[str, str]) -> str:
    """Tell which act of the same station, or of every station, has one of these keys already."""
    station = act_id.split(".", maxsplit=1)[0]
    for other, theirs in in_force.items():
        there = other.split(".")[0]
        if other == act_id or not (there in {station, "app"} or station == "app"):
            continue
        both = set(keys.split(",")) & set(theirs.split(","))
        if both and not _meant_to_share(act_id, other):
            return f"keys: {act_id} and {other} both want {', '.join(sorted(both))}"
    return ""


def _meant_to_share(one: str, other: str) -> bool:
    """Whether the two share a key as we ship them: a screen may use an everywhere key for itself."""
    return bool(set(KNOWN[one].keys.split(",")) & set(KNOWN[other].keys.split(",")))
