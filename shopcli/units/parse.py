"""What a person types at the bench, read without guessing.

The text is kept; beside it stand the figure, the unit and the canonical value. Where a unit means two
things (a pint, a pound of torque), the person is asked, and every choice offered can be typed back as it
stands.
"""

import re
import unicodedata
from dataclasses import dataclass, field
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction

from shopcli.errors import Ambiguous, BadInput, BadUnit
from shopcli.units.aliases import ALIASES, IN_QUANTITY, UNCLEAR, fold
from shopcli.units.compound import read_compound
from shopcli.units.figures import figures_meant, split_figure
from shopcli.units.kinds import (
    QUANTITIES,
    UNITS,
    exact_canonical,
    labels_of,
    measures,
    quantity_named,
    refuse_impossible,
    require_unit,
    wrong_kind,
)

LONGEST = 60  # characters
_BAR_CODE = re.compile(
    r"[0-9]{8,14}"
)  # what a scanner types for a maker's code; no tool reads so many figures
_HIDDEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
_TIDIED = str.maketrans({"−": "-", "–": "-", "﹣": "-", "－": "-", "⁄": "/", "∕": "/"})
_BY_ITSELF = {"ratio": "ratio", "count": "count", "density": "sg"}  # quantities said without a unit
_DEAD_CENTRE = re.compile(
    r"(?P<unit>.*?)\b(?:(?P<before>b\.?t\.?d\.?c|before(?: tdc| top dead cent(?:re|er))?)"
    r"|a\.?t\.?d\.?c|after(?: tdc| top dead cent(?:re|er))?)\.?",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Typed:
    """A quantity as typed: the text, the canonical value, the figure and the unit symbol it was given in.

    `decimals` is how many the figure was written with, None for a fraction or a figure in two parts.
    """

    text: str
    value: float
    number: float
    unit: str
    note: str = ""
    decimals: int | None = field(default=None, repr=False, compare=False)

    @property
    def written(self) -> Decimal | float:
        """The figure with the decimals it was written with, where it has any to tell."""
        return self.number if self.decimals is None else Decimal(format(self.number, f".{self.decimals}f"))


def parse(text: str, quantity: str, *, default_unit: str | None = None) -> Typed:
    """Read a typed quantity.

    Parameters
    ----------
    text : str
        As typed.
    quantity : str
        Name of the quantity wanted.
    default_unit : str, optional
        Unit of a bare figure; without it a bare figure is refused, except a ratio, a count or a specific
        gravity.

    Returns
    -------
    Typed
        `value` is in the canonical unit of the quantity.

    Raises
    ------
    Ambiguous
        If the unit or a comma can mean two things; the error carries the choices.
    BadUnit
        If the unit is unknown or measures something else.
    BadInput
        If the text is empty, too long, holds hidden characters, or is no possible figure.

    Examples
    --------
    >>> parse("0,15 mm", "length").value, parse("40 ft-lb", "torque").unit
    (0.00015, 'lbf.ft')
    >>> parse("8 deg btdc", "crank angle")
    Typed(text='8 deg btdc', value=8.0, number=8.0, unit='deg_crank', note='before TDC counts as plus')
    """
    quantity_named(quantity)
    if default_unit is not None:
        require_unit(default_unit, quantity)
    text = text.strip()
    try:
        return _parse(text, quantity, default_unit)
    except Ambiguous:
        raise
    except BadInput as error:
        meant = figures_meant(text)
        if meant and _reads(meant, quantity, default_unit):
            what = f"“{text}” has a letter among its figures; is {meant} meant?"
            raise BadInput(what, hint=f"Then type {meant}.") from error
        raise


def _reads(text: str, quantity: str, default_unit: str | None) -> bool:
    try:
        _parse(text, quantity, default_unit)
    except BadInput:
        return False
    return True


def _parse(text: str, quantity: str, default_unit: str | None) -> Typed:
    if _BAR_CODE.fullmatch(text):
        raise BadInput(f"{text} looks like the number of a bar code", hint="Type the figure with its unit.")
    tidy = _tidy(text, quantity)
    if quantity == "density":
        tidy = tidy.replace(",", ".")  # 1,265 has no thousands: nothing is so heavy
    note, decimals = "", None
    if compound := read_compound(tidy, quantity, default_unit):
        number, unit = compound
        decimals = _ratio_decimals(tidy) if unit == "ratio" else None
    else:
        figure, rest = split_figure(tidy)
        number, decimals = figure.value, figure.decimals
        front = tidy[: len(tidy) - len(rest)].strip() if rest else tidy
        centre = _DEAD_CENTRE.fullmatch(rest) if quantity.endswith("angle") else None
        if centre:
            rest, number, note = _to_dead_centre(centre, number, front)
            default_unit = default_unit or QUANTITIES[quantity].unit
        unit = _unit(rest, quantity, default_unit, front)
    if UNITS[unit].reciprocal and number == 0:
        raise BadInput(f"{text}: it cannot be zero", hint="Zero would mean endless consumption.")
    value = exact_canonical(number, unit)
    refuse_impossible(quantity, value, f"“{text}”")
    return Typed(text, float(value), float(number), unit, note, decimals)


def _ratio_decimals(text: str) -> int:
    found = re.match(r"[0-9]+(?:[.,](?P<part>[0-9]+))?", text)
    return len(found["part"] or "") if found else 0


def _tidy(text: str, quantity: str) -> str:
    if not text:
        raise BadInput("nothing was typed", hint=f"Type a figure and a unit: {labels_of(quantity)}.")
    if len(text) > LONGEST:
        raise BadInput(
            f"that is {len(text)} characters long; a figure and its unit take a few",
            hint="Type one figure and its unit; remarks belong in the note.",
        )
    tidy = ""
    for char in text:
        tidy += _tidy_char(char, tidy[-1:])
    tidy = " ".join(tidy.translate(_TIDIED).split())
    return re.sub(r"^([+-]) ", r"\1", tidy)


def _tidy_char(char: str, before: str) -> str:
    if char.isascii() and char.isprintable():
        return char
    if char == "\t" or unicodedata.category(char) == "Zs":
        return " "
    if unicodedata.category(char) in _HIDDEN:
        raise BadInput("there is a hidden character in that", hint="Type it again by hand.")
    plain = unicodedata.normalize("NFKC", char)
    if "⁄" in plain and len(plain) > 1:
        return " " + plain  # 3½ is 3 1/2
    if any(c.isdigit() for c in plain):
        if char in "²³" and before.isalpha():
            return plain
        raise BadInput(f"“{char}” is not a plain figure", hint="Write figures with 0 to 9.")
    return char


def _to_dead_centre(found: re.Match[str], number: Fraction, front: str) -> tuple[str, Fraction, str]:
    if front[:1] in {"+", "-"}:
        raise BadInput("a sign and a word for before or after are one too many", hint="Leave the sign out.")
    if found["before"]:
        return found["unit"].strip(), number, "before TDC counts as plus"
    return found["unit"].strip(), -number, "after TDC counts as minus"


def _unit(word: str, quantity: str, default_unit: str | None, front: str) -> str:
    if not word:
        return _bare(quantity, default_unit, front)
    key = fold(word)
    if meant := UNCLEAR.get(quantity, {}).get(key):
        raise _which(word, quantity, meant, front)
    if key in {"mohm", "mohms"}:
        return _ohms(word, quantity, front)
    symbol = IN_QUANTITY.get(quantity, {}).get(key) or ALIASES.get(key)
    if symbol is None:
        raise _unknown(word, key, quantity)
    if not measures(symbol, quantity):
        raise wrong_kind(UNITS[symbol], quantity, word)
    return symbol


def _bare(quantity: str, default_unit: str | None, front: str) -> str:
    unit = default_unit or _BY_ITSELF.get(quantity)
    if unit is None:
        raise BadInput(f"“{front}” has no unit", hint=f"Add one of: {labels_of(quantity)}.")
    return unit


def _which(word: str, quantity: str, meant: tuple[str, ...], front: str) -> Ambiguous:
    choices = tuple(f"{front} {UNITS[s].label}" for s in meant)
    label = QUANTITIES[quantity].label
    if len(meant) == 1:
        return Ambiguous(f"“{word}” alone does not say a {label}; is {choices[0]} meant?", choices)
    if meant[0].endswith("_imp"):
        return Ambiguous(f"“{word}”: imperial or US?", choices)
    return Ambiguous(f"“{word}” alone is not clear as a {label}: " + " or ".join(choices) + "?", choices)


def _ohms(word: str, quantity: str, front: str) -> str:
    """Milli or mega: a thousand million apart, and only the size of one letter tells."""
    if not measures("ohm", quantity):
        raise wrong_kind(UNITS["ohm"], quantity, word)
    if word.isupper() and word.isascii():
        raise _which(word, quantity, ("mohm", "Mohm"), front)
    return "Mohm" if word.startswith("M") else "mohm"


def _unknown(word: str, key: str, quantity: str) -> BadUnit:
    for unclear in UNCLEAR.values():
        if key in unclear:
            return wrong_kind(UNITS[unclear[key][0]], quantity, word)
    known = {k: s for k, s in (ALIASES | IN_QUANTITY.get(quantity, {})).items() if measures(s, quantity)}
    near = [UNITS[known[k]].label for k in get_close_matches(key, known, n=2)]
    meant = f"Is {' or '.join(dict.fromkeys(near))} meant? " if near else ""
    return BadUnit(f"“{word}” is no unit known here", hint=f"{meant}Use one of: {labels_of(quantity)}.")
