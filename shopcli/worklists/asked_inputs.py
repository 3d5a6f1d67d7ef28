"""What an input of a working asks for: found by what a person calls it, and said in the words of the shop."""

from shopcli.errors import BadInput
from shopcli.units.kinds import QUANTITIES, UNITS
from shopcli.workings.frame import Input, Working
from shopcli.workings.say import trimmed
from shopcli.worklists.words import did_you_mean


def input_named(working: Working, said: str) -> Input:
    """Find the input meant by its name, or by words of its name or label that only it has.

    Raises
    ------
    BadInput
        If there is none, or more than one.

    Examples
    --------
    >>> from shopcli.workings.catalogue import get
    >>> input_named(get("lead-order"), "order").name, input_named(get("feeler-stack"), "gap").name
    ('firing_order', 'gap_mm')
    """
    key = "_".join(said.strip().lower().replace("-", " ").replace("_", " ").split())
    words = set(key.split("_"))
    for asked in working.inputs:
        if asked.name == key:
            return asked
    found = [i for i in working.inputs if i.name.rpartition("_")[0] == key]
    found = found or [i for i in working.inputs if words <= set(i.name.split("_"))]
    found = found or [i for i in working.inputs if words <= set(i.label.lower().split())]
    if len(found) == 1:
        return found[0]
    if found:
        names = " or ".join(i.name for i in found)
        raise BadInput(f"{working.name}: {said[:40]!r} may be more than one input", hint=f"Write {names}.")
    hint = did_you_mean(key[:60], [i.name for i in working.inputs])
    raise BadInput(f"{working.name} has no input {said[:40]!r}", hint=hint)


def allowed(asked: Input) -> str:
    """Say what an input takes.

    Examples
    --------
    >>> allowed(Input("gap_mm", "Gap", quantity="length", unit="mm", low=0.01, high=10.0))
    '0.01 to 10 mm'
    >>> allowed(Input("r", "Rotor", "choice", choices=("cw", "ccw")))
    'cw or ccw'
    """
    if asked.kind == "choice":
        return ", ".join(asked.choices[:-1]) + " or " + asked.choices[-1] if asked.choices else ""
    if asked.kind == "yesno":
        return "yes or no"
    if asked.kind == "text":
        example = asked.help[:1].isdigit() or asked.help[:1] == "M"
        return f"like {asked.help}" if example else asked.help
    limits = _limits(asked, unit_label(unit_of(asked)))
    several = "several, blanks or ; between, each " if asked.kind == "numbers" else ""
    return f"{several}{'whole, ' if asked.kind == 'whole' else ''}{limits}"


def _limits(asked: Input, label: str) -> str:
    if asked.low is not None and asked.high is not None:
        return f"{trimmed(asked.low)} to {trimmed(asked.high)} {label}".strip()
    if asked.low is not None:
        return f"{trimmed(asked.low)} {label}".strip() + " or more"
    if asked.high is not None:
        return f"up to {trimmed(asked.high)} {label}".strip()
    return f"a figure in {label}" if label else "a figure"


def unit_label(unit: str) -> str:
    """Return a unit as it stands behind a range; a ratio and a count need none.

    Examples
    --------
    >>> unit_label("lbf.ft"), unit_label("ratio")
    ('lbf·ft', '')
    """
    return UNITS[unit].label.strip() if unit and unit != "ratio" else ""


def unit_of(asked: Input) -> str:
    """Return the unit an input is handed over in; empty for a plain figure."""
    if asked.unit:
        return asked.unit
    return QUANTITIES[asked.quantity].unit if asked.quantity else ""


def unit_chooser(working: Working) -> Input | None:
    """Return the choice of units that says in which of them a bare figure beside it is meant, if there is one.

    Examples
    --------
    >>> from shopcli.workings.catalogue import get
    >>> unit_chooser(get("wrench-with-extension")).name, unit_chooser(get("compression-spread"))
    ('unit', None)
    """
    if not any(said_with_unit(asked) for asked in working.inputs):
        return None
    units = [i for i in working.inputs if i.choices and all(choice in UNITS for choice in i.choices)]
    return units[0] if len(units) == 1 else None


def said_with_unit(asked: Input) -> bool:
    """Tell whether a number has no unit of its own, so that a choice of units may say it."""
    return asked.kind == "number" and not asked.quantity and not asked.unit
