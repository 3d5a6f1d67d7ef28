"""What typed figures are taken for, before anything is kept: in the form that takes twenty numbers from one handbook.

A bare figure counts in the unit last typed for that quantity, since a handbook keeps to one; what that comes to
stands beside it while it is typed. Where it cannot be meant, the unit is asked for instead of guessed.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from shopcli.errors import Ambiguous, BadInput
from shopcli.screens.sheets.wording import other_text, printed_text, short
from shopcli.shop.sheet_views import NumberView
from shopcli.units import Limits, Preferences, unit_named
from shopcli.units.printed import ENDS, Printed, limits_of, read_printed
from shopcli.worklists.model import Provenance, Spec

KINDS = ("handbook", "plate", "measured", "practice")
FAR = 20.0  # a bare figure so many times what is known otherwise is in another unit than meant
_LETTER = re.compile(r"[^\d\s.,/+\-]")


@dataclass(frozen=True, slots=True)
class Taken:
    """What a text was taken for: low, nominal and high as typed, the unit of bare figures, and that in words."""

    printed: Printed
    unit: str
    typed_unit: str
    words: str


def bare_unit(number: NumberView, remembered: Mapping[str, str]) -> str:
    """Return the unit a bare figure counts in: that last typed for the quantity, else the number's own."""
    return remembered.get(number.quantity, number.unit)


def take_figures(text: str, number: NumberView, unit: str, prefs: Preferences) -> Taken:
    """Take figures as typed.

    Parameters
    ----------
    text : str
        As a handbook prints it, with or without a unit.
    number : NumberView
        Which number; what is known of it tells a slip of the unit.
    unit : str
        Symbol of the unit of bare figures, may be empty.
    prefs : Preferences
        Whose units the answer adds.

    Raises
    ------
    BadInput, BadUnit, Ambiguous
        When the figures cannot be meant so; nothing is guessed.
    """
    printed = read_printed(text, number.quantity, unit or None)
    limits = limits_of(printed, number.quantity, unit or None)
    if not _LETTER.search(text) and '"' not in text and "'" not in text:
        _see_unit(text, limits, number)
        typed_unit = ""
    else:
        typed_unit = limits.unit
    spec = Spec(number.name, number.label, limits, "", Provenance(""), "")
    other = other_text(spec, prefs)
    words = f"= {short(printed_text(spec))}" + (f" = {short(other)}" if other else "")
    return Taken(printed, limits.unit if not typed_unit else "", typed_unit, words)


def _see_unit(text: str, limits: Limits, number: NumberView) -> None:
    """Ask for the unit of a bare figure where the remembered one can hardly be meant."""
    value = max(abs(v) for v in limits.values if v is not None)
    label = unit_named(limits.unit).label
    if limits.unit == "thou" and 0 < value < unit_named("thou").factor:
        raise Ambiguous(f"{text} thou or {text} in?", (f"{text} thou", f"{text} in"))
    known = [max(abs(v) for v in one.spec.limits.values if v is not None) for one in number.layers]
    if value and known and known[0] and not 1 / FAR <= value / known[0] <= FAR:
        raise BadInput(
            f"{text} {label} is far from the {number.layers[0].spec.limits.text()} known so far",
            hint="Type the unit with it if it is meant.",
        )


def take_kind(text: str) -> str:
    """Return where a number comes from, by its first letters.

    Raises
    ------
    BadInput
        When none or more than one begins so.

    Examples
    --------
    >>> take_kind("h"), take_kind("pr")
    ('handbook', 'practice')
    """
    wanted = text.strip().casefold()
    found = [kind for kind in KINDS if wanted and kind.startswith(wanted)]
    if len(found) != 1:
        raise BadInput("where does it come from", hint="Type h(andbook), pl(ate), m(easured) or pr(actice).")
    return found[0]


def empty(printed: Printed) -> bool:
    """Whether nothing was typed."""
    return not any(getattr(printed, end) for end in ENDS)
