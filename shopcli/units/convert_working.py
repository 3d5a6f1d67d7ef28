"""The sum for any workshop unit into any other of its kind, with the factor shown as it is defined.

It belongs to the units and not to the catalogue of workings, which knows none. A word that means two things
is asked back, never guessed: a pint is imperial or American, a pound of torque has a foot or an inch.
"""

from decimal import Decimal
from fractions import Fraction

from shopcli.errors import Ambiguous, BadInput, BadUnit, ShopError
from shopcli.units.aliases import ALIASES, fold
from shopcli.units.display import figure_in, fraction_inch, on_tool, plain, rounded, with_label
from shopcli.units.kinds import QUANTITIES, UNITS, from_canonical, labels_of, units_of
from shopcli.units.parse import Typed, parse
from shopcli.units.table import Unit
from shopcli.workings.frame import Input, Result, Worked, Working

_FINE = Decimal("0.0005")  # a figure moved by less than this share says the same thing
_DIGITS = 4
_LENGTHS = {"length", "offset"}
_TURNS = {
    ("crank angle", "distributor angle"): Fraction(1, 2),
    ("distributor angle", "crank angle"): Fraction(2),
}
_FIGURE_SIGNS = "+-−–0123456789.,/ ½¼¾⅛⅜⅝⅞"
_SUCH_AS = "40 ftlb, 16 thou, 28 psi, 3 imp pt"


def said(value: float, unit: str) -> str:
    """Say a canonical value in `unit`, never rounded so far that it says something else.

    Examples
    --------
    >>> said(0.0001524, "mm"), said(1e-6, "L"), said(0.0, "L")
    ('0.1524 mm', '0.001 L', '0 L')
    """
    figure = figure_in(value, unit)
    usual = rounded(figure, UNITS[unit].decimals)
    if abs(usual - figure) > abs(figure) * _FINE:
        places = max(0, _DIGITS - 1 - figure.adjusted())
        usual = rounded(figure, places)
    return with_label(plain(usual), UNITS[unit])


def _general_first(word: str) -> tuple[str, ...]:
    """Quantities in the order they are thought of: what the word means anywhere, then what it may mean."""
    symbol = ALIASES.get(fold(word), "")
    own = UNITS[symbol].quantity if symbol else ""
    return tuple(sorted(QUANTITIES, key=lambda name: (name != own, bool(QUANTITIES[name].like))))


def _reads(text: str, quantity: str) -> Typed | ShopError:
    try:
        return parse(text, quantity)
    except ShopError as error:
        return error


def _tried(text: str) -> dict[str, Typed | ShopError]:
    """What the text is as each quantity, or why it is none; its usual meaning first.

    Raises
    ------
    BadInput
        If there is a figure and no unit behind it.
    """
    word = text.strip().lstrip(_FIGURE_SIGNS)
    if text.strip() and not word:
        raise BadInput(f"“{text.strip()[:30]}” has no unit", hint=f"Write it behind the figure: {_SUCH_AS}.")
    return {name: _reads(text, name) for name in _general_first(word)}


def _read(tried: dict[str, Typed | ShopError]) -> dict[str, Typed]:
    return {name: typed for name, typed in tried.items() if isinstance(typed, Typed)}


def _why_not(tried: dict[str, Typed | ShopError], text: str) -> ShopError:
    """Choose, of all the reasons why a text is nothing, the one that helps."""
    errors = [error for error in tried.values() if isinstance(error, ShopError)]
    asks = next((e for e in errors if isinstance(e, Ambiguous)), None)
    plain_reason = next((e for e in errors if not isinstance(e, BadUnit)), None)
    unknown = BadUnit(
        f"“{text.strip()[:30]}” has a unit nobody here knows", hint=f"Write it like {_SUCH_AS}."
    )
    return asks or plain_reason or unknown


def _wanted(word: str) -> dict[str, str]:
    """Units a word may mean, by quantity, its usual meaning first.

    Raises
    ------
    Ambiguous, BadUnit
        If it means none, or one of two.
    """
    word = word.strip()
    tried = {name: _reads(f"1 {word}", name) for name in _general_first(word)}
    found = {name: typed.unit for name, typed in _read(tried).items()}
    if word in UNITS:
        found.setdefault(UNITS[word].quantity, word)
    if found and word:
        return found
    unclear = next((e for e in tried.values() if isinstance(e, Ambiguous)), None)
    if unclear is not None:
        choices = tuple(choice.removeprefix("1 ") for choice in unclear.choices)
        raise Ambiguous(f"into “{word[:30]}”: which one?", choices)
    raise BadUnit(
        f"“{word[:30]}” is no unit here", hint="Write one like mm, thou, Nm, ftlb, bar, psi, imp pt."
    )


def _pair(found: dict[str, Typed], wanted: dict[str, str]) -> tuple[Typed, str, Fraction] | None:
    """Return what was typed, the unit to say it in and the turns between them, or None where they differ."""
    for name, typed in found.items():
        if name in wanted:
            return typed, wanted[name], Fraction(1)
    for name, typed in found.items():
        for other, unit in wanted.items():
            if QUANTITIES[name].unit == QUANTITIES[other].unit:  # a road in metres is also a length
                return typed, unit, Fraction(1)
            # One turn of the distributor is two of the crank; a plain degree says of neither.
            if (name, other) in _TURNS and UNITS[typed.unit].quantity == name:
                return typed, unit, _TURNS[name, other]
    return None


def _factor_step(typed: Typed, unit: Unit) -> str:
    """Say by what the figure was multiplied, as the definitions have it."""
    first = UNITS[typed.unit]
    if first.offset or unit.offset or first.reciprocal or unit.reciprocal:
        return ""
    factor = first.exact / unit.exact
    exact = Fraction(f"{float(factor):.12g}") == factor
    shown = f"{float(factor):.12g}" if exact else f"{float(factor):.8g}"
    return f"1 {first.label} = {shown} {unit.label}" + ("" if exact else ", rounded")


def _into(typed: Typed, unit: str, turns: Fraction) -> Worked:
    value = float(typed.value * turns)
    figure = from_canonical(value, unit)
    results = [Result("converted", f"in {UNITS[unit].label.strip()}", figure, unit, said(value, unit))]
    marked = on_tool(value, unit)
    if marked != results[0].text:
        results.append(Result("on_tool", "nearest mark of the usual tool", marked, "", marked))
    if unit == "in":
        results.append(_as_fraction(value))
    first = with_label(plain(Decimal(f"{typed.number:.12g}")), UNITS[typed.unit])
    if turns != 1:
        step = "one turn of the distributor is two of the crank (four-stroke)"
    else:
        step = _factor_step(typed, UNITS[unit])
    steps = tuple(filter(None, (step, f"{first} = {said(value, unit)}", typed.note)))
    return Worked(tuple(results), steps, (), f"{first} = {said(value, unit)}")


def _as_fraction(value: float) -> Result:
    words = fraction_inch(value)
    return Result("fraction", "nearest 1/64 in", words, "", words)


def _everywhere(typed: Typed, quantity: str) -> Worked:
    """The same in every unit of its kind that can say it."""
    results = []
    for symbol in units_of(quantity):
        unit = UNITS[symbol]
        if symbol == typed.unit or (unit.reciprocal and typed.value == 0):
            continue
        figure = from_canonical(typed.value, symbol)
        results.append(Result(symbol, unit.label.strip(), figure, symbol, said(typed.value, symbol)))
    if quantity in _LENGTHS:
        results.append(_as_fraction(typed.value))
    if not results:
        raise BadInput(f"{QUANTITIES[quantity].label} is said in one unit only", hint=labels_of(quantity))
    first = with_label(plain(Decimal(f"{typed.number:.12g}")), UNITS[typed.unit])
    return Worked(tuple(results), tuple(filter(None, (f"{first} is {_a(quantity)}", typed.note))))


def _a(quantity: str) -> str:
    label = QUANTITIES[quantity].label
    return f"{'an' if label[0] in 'aeiou' else 'a'} {label}"


def convert(*, value: str, to: str | None = None) -> Worked:
    """Convert a typed quantity.

    Parameters
    ----------
    value : str
        Figure and unit as typed.
    to : str, optional
        The unit wanted, as people write it; without it every unit of the kind is answered.

    Returns
    -------
    Worked
        ``converted`` in the unit wanted, or one result for each unit.

    Raises
    ------
    Ambiguous
        If either unit can mean two things.
    BadUnit
        If a unit is unknown or the two are of different kinds.
    BadInput
        If no figure can be read.

    Examples
    --------
    >>> convert(value="40 ftlb", to="Nm").verdict
    '40 lbf·ft = 54.23 N·m'
    >>> convert(value="8 deg dist", to="deg crank").verdict
    '8° distributor = 16° crank'

    References
    ----------
    Definitions of the table of units: NIST SP 811 (2008), Appendix B.8.
    """
    tried = _tried(value)
    found = _read(tried)
    wanted = None if to is None else _wanted(to)
    if wanted is not None:
        pair = _pair(found, wanted)
        if pair is not None:
            return _into(*pair)
        # The unit wanted tells the kind, so the question of that kind is the one to ask.
        for name in wanted:
            if isinstance(error := tried[name], Ambiguous):
                raise error
    if not found:
        raise _why_not(tried, value)
    kind, typed = next(
        ((n, t) for n, t in found.items() if UNITS[t.unit].quantity == n), next(iter(found.items()))
    )
    if to is None:
        return _everywhere(typed, kind)
    raise BadUnit(
        f"{value.strip()[:30]} is {_a(kind)}; {to.strip()[:30]} measures something else",
        hint=f"Use one of: {labels_of(kind)}.",
    )


CONVERT = Working(
    name="convert",
    title="Any workshop unit into another",
    subject="conversions",
    inputs=(
        Input("value", "What to convert", "text", help="figure and unit: 40 ftlb, 16 thou, 28 psi, 3 imp pt"),
        Input(
            "to",
            "Into",
            "text",
            required=False,
            help="Nm, mm, bar, L; left out: every unit of its kind",
        ),
    ),
    run=convert,
    source="NIST SP 811 (2008), Appendix B.8; inch, pound and gallons as defined there",
    good_for="length, torque, pressure, volume, temperature, weight, force, speed, fuel use and more",
    cautions=("A converted handbook number is as exact as the handbook's own: set to the printed one.",),
)
