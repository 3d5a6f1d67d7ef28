"""The edge between what a person types for a working and the bare numbers the sum wants.

Figures keep the unit they were typed in until here, so nobody converts in the head. What cannot be read is
refused with the name of the input and what is allowed; nothing else ever comes out of a text.
"""

from collections.abc import Mapping
from contextlib import suppress
from difflib import get_close_matches

from shopcli.cleantext import clean_note
from shopcli.errors import Ambiguous, BadInput, BadUnit, OutOfRange, ShopError
from shopcli.units.display import figure_in
from shopcli.units.kinds import QUANTITIES, UNITS
from shopcli.units.parse import Typed, parse
from shopcli.workings.catalogue import LONGEST_TEXT
from shopcli.workings.frame import Input, Value, Working
from shopcli.worklists.asked_inputs import (
    allowed,
    input_named,
    said_with_unit,
    unit_chooser,
    unit_label,
    unit_of,
)
from shopcli.worklists.facts import fact_value
from shopcli.worklists.figure_lists import split_list

YES = ("yes", "y", "true", "on", "1")
NO = ("no", "n", "false", "off", "0")
_MINUS = "-−–"
_BEYOND_TOOLS = 1e9  # canonical units; what no tool reads is refused as a measure, but steel is that stiff


def read_inputs(working: Working, typed: Mapping[str, str]) -> dict[str, Value]:
    """Read everything typed for a working.

    Parameters
    ----------
    working : Working
        The description.
    typed : mapping of str to str
        Text by the name of an input, or a part of its name that no other input has; an empty text counts as
        not given.

    Returns
    -------
    dict
        Bare values by input name, numbers in the units of the description.

    Raises
    ------
    ShopError
        The first text that cannot be read: which input, why, and what is allowed.

    Examples
    --------
    >>> from shopcli.workings.catalogue import get
    >>> read_inputs(get("gap-and-dwell"), {"gap_before": "16 thou", "gap_after": "0,35"})
    {'gap_before_mm': 0.4064, 'gap_after_mm': 0.35}
    """
    named: dict[str, str] = {}
    for word, text in typed.items():
        asked = input_named(working, word)
        if asked.name in named:
            raise BadInput(f"{asked.label} ({asked.name}) is given twice", hint="Give it once.")
        named[asked.name] = text
    values, refused = read_each(working, named)
    for asked in working.inputs:
        if asked.name in refused:
            raise _with_name(asked, refused[asked.name])
    return values


def read_each(working: Working, typed: Mapping[str, str]) -> tuple[dict[str, Value], dict[str, ShopError]]:
    """Read every text on its own, so that a form can show each trouble beside its field.

    Parameters
    ----------
    working : Working
        The description.
    typed : mapping of str to str
        Text by the full name of an input; others are passed over.

    Returns
    -------
    tuple of dict and dict
        What could be read, and what not and why.
    """
    values: dict[str, Value] = {}
    refused: dict[str, ShopError] = {}
    chooser = unit_chooser(working)
    for asked in sorted(working.inputs, key=lambda each: each is not chooser):  # the unit before its figures
        text = typed.get(asked.name, "")
        if not text.strip():
            continue
        try:
            if chooser is not None and said_with_unit(asked):
                if chooser.name in refused:
                    continue
                chosen, value = _figure_with_unit(asked, text, chooser, values)
                values[chooser.name], values[asked.name] = chosen, value
            else:
                values[asked.name] = read_input(asked, text)
        except ShopError as error:
            refused[asked.name] = error
    return values, refused


def read_input(asked: Input, text: str) -> Value:
    """Read one text for one input; an empty one is None.

    Raises
    ------
    BadInput
        If it cannot be read; a wrong unit and a unit with two meanings are kinds of that.
    OutOfRange
        If a number is beyond what the input allows.

    Examples
    --------
    >>> gap = Input("gap_mm", "Gap", quantity="length", unit="mm", low=0.0, high=2.0)
    >>> read_input(gap, '.015"'), read_input(Input("r", "R", "choice", choices=("forwards", "backwards")), "b")
    (0.381, 'backwards')
    """
    if not text.strip():
        return None
    if len(text) > LONGEST_TEXT:
        raise BadInput(f"that is {len(text)} characters long", hint=f"At most {LONGEST_TEXT}.")
    if asked.kind == "choice":
        return _choice(asked, text.strip())
    if asked.kind == "yesno":
        return _yes_or_no(text.strip())
    if asked.kind == "text":
        return " ".join(clean_note(text, name="text", limit=LONGEST_TEXT).split()) or None
    if asked.kind == "numbers":
        return tuple(_number(asked, one) for one in split_list(text))
    return _number(asked, text)


def _figure_with_unit(
    asked: Input, text: str, chooser: Input, values: Mapping[str, Value]
) -> tuple[str, float]:
    """Read a figure whose unit is another input; the unit may stand behind the figure instead."""
    chosen = values.get(chooser.name)
    unit = chosen or chooser.default
    read = parse(text, UNITS[chooser.choices[0]].quantity, default_unit=str(unit) if unit else None)
    if chosen is None:
        chosen = read.unit if read.unit in chooser.choices else unit or chooser.choices[0]
    return str(chosen), _in_range(asked, _figure(read, str(chosen)), str(chosen))


def _number(asked: Input, text: str) -> float | int:
    unit = unit_of(asked)
    value = _plain_figure(asked, text) if not unit else _measured(asked, text.strip(), unit)
    if asked.kind == "whole" and value != int(value):
        raise BadInput(f"“{text.strip()[:30]}” is not a whole number", hint=f"Allowed: {allowed(asked)}.")
    checked = _in_range(asked, value, unit)
    return int(checked) if asked.kind == "whole" else checked


def _measured(asked: Input, text: str, unit: str) -> float:
    quantity = asked.quantity or UNITS[unit].quantity
    if asked.high is not None and asked.high * UNITS[unit].factor > _BEYOND_TOOLS:
        return _plain_figure(asked, text.removesuffix(unit).strip())
    # A hollow below the face, a mine below the sea: the quantity knows no minus, the input does.
    below = not QUANTITIES[quantity].signed and asked.low is not None and asked.low < 0
    if below and text[:1] in _MINUS:
        return -_figure(parse(text[1:], quantity, default_unit=unit), unit)
    return _figure(parse(text, quantity, default_unit=unit), unit)


def _figure(read: Typed, unit: str) -> float:
    return read.number if read.unit == unit else float(figure_in(read.value, unit))


def _plain_figure(asked: Input, text: str) -> float:
    try:
        return parse(text, "ratio", default_unit="ratio").number
    except BadUnit:
        raise BadUnit(
            f"“{text.strip()[:30]}” has a unit; a plain figure is wanted", hint=f"Allowed: {allowed(asked)}."
        ) from None


def _in_range(asked: Input, value: float, unit: str) -> float:
    if (asked.low is not None and value < asked.low) or (asked.high is not None and value > asked.high):
        raise OutOfRange(asked.label, value, _range(asked, unit), hint=asked.help)
    return value


def _range(asked: Input, unit: str) -> str:
    """Ends of the range; a figure that borrows its unit shows it there."""
    may = allowed(asked).rpartition("each ")[2].removeprefix("whole, ")
    label = unit_label(unit)
    return may if not label or may.endswith((label, "or more")) else f"{may} {label}"


def _choice(asked: Input, text: str) -> str:
    key = " ".join(text.casefold().split())
    if asked.name == "rotor" and "cw" in asked.choices:  # the words of the vehicle's facts serve here too
        with suppress(BadInput):
            key = str(fact_value("rotor", key))
    for choice in asked.choices:
        if choice.casefold() == key:
            return choice
    begun = [choice for choice in asked.choices if choice.casefold().startswith(key)]
    if len(begun) == 1:
        return begun[0]
    near = get_close_matches(key[:60], asked.choices, n=1, cutoff=0.6)
    hint = f"Did you mean {near[0]}? " if near else ""
    raise BadInput(f"“{text[:30]}” is none of the choices", hint=f"{hint}Allowed: {allowed(asked)}.")


def _yes_or_no(text: str) -> bool:
    if text.casefold() in YES:
        return True
    if text.casefold() in NO:
        return False
    raise BadInput(f"“{text[:30]}” is neither yes nor no", hint="Write yes or no.")


def _with_name(asked: Input, error: ShopError) -> ShopError:
    """Return the error with the name of its input before it and what is allowed behind it."""
    name = f"{asked.label} ({asked.name})"
    may = allowed(asked)
    hint = error.hint if not may or may in error.hint else f"{error.hint} Allowed: {may}.".strip()
    if isinstance(error, OutOfRange):
        return OutOfRange(name, error.value, error.allowed, hint=error.hint)
    if isinstance(error, Ambiguous):
        return Ambiguous(f"{name}: {error.message}", error.choices, hint=error.hint)
    kind = type(error) if isinstance(error, BadInput) else BadInput
    return kind(f"{name}: {error.message}", hint=hint)
