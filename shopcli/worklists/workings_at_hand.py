"""Every working there is, whichever layer it belongs to, and one door through which all of them are run.

The catalogue knows no units, so a sum about units themselves cannot stand in it. Command line, bench panel
and docs page come here instead and need not know where a sum lives.
"""

from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from types import MappingProxyType

from shopcli.errors import BadInput, NotFound
from shopcli.units.convert_working import CONVERT
from shopcli.workings import catalogue
from shopcli.workings.frame import Value, Worked, Working
from shopcli.workings.say import plain_picture

ASCII_ONLY = "ascii_only"  # the input by which a sum is told to draw with plain characters


@cache
def every_working() -> Mapping[str, Working]:
    """Describe all workings, that of the units first.

    Returns
    -------
    Mapping
        Working by name, subject after subject.

    Examples
    --------
    >>> "convert" in every_working(), "dwell-percent" in every_working()
    (True, True)
    """
    return MappingProxyType({CONVERT.name: CONVERT, **catalogue.all_workings()})


def working_named(name: str) -> Working:
    """Find a working.

    Raises
    ------
    NotFound
        If there is none; the hint tells the nearest names.

    Examples
    --------
    >>> working_named("Spark Interval").name
    'spark-interval'
    """
    workings = every_working()
    tidy = "-".join(name.strip().lower().replace("_", " ").split())
    if tidy in workings:
        return workings[tidy]
    near = get_close_matches(tidy[:60], workings, n=3, cutoff=0.5)
    hint = f"Did you mean {' or '.join(near)}?" if near else "List the workings to see their names."
    raise NotFound(f"there is no working {name[:60]!r}", hint=hint)


def work(working: Working, inputs: Mapping[str, Value]) -> Worked:
    """Check the inputs against the description and work it.

    Parameters
    ----------
    working : Working
        One of `every_working`.
    inputs : mapping
        Bare values by input name, numbers in the units of the description.

    Returns
    -------
    Worked
        The answer, the cautions of the description among its own, each once.

    Raises
    ------
    BadInput
        If an input is missing or of the wrong kind.
    OutOfRange
        If a number is outside the range of the description or of the sum.

    Examples
    --------
    >>> work(working_named("dwell-percent"), {"dwell_deg": 52.0, "lobes": 4})["dwell_pct"]
    57.77777777777778
    """
    if working.name in catalogue.all_workings():
        worked = catalogue.run(working.name, **inputs)
    else:
        for each in working.inputs:
            if each.required and inputs.get(each.name) is None:
                raise BadInput(f"{each.label} ({each.name}) is missing", hint=each.help)
        worked = working.run(**{name: value for name, value in inputs.items() if value is not None})
    cautions = tuple(dict.fromkeys((*working.cautions, *worked.cautions)))
    return Worked(worked.results, worked.steps, cautions, worked.verdict, worked.picture)


def draws_plainly(working: Working) -> bool:
    """Tell whether the sum itself can be told to draw with plain characters."""
    return any(each.name == ASCII_ONLY for each in working.inputs)


def pictured(worked: Worked, *, plain: bool) -> str:
    """Return the picture, in plain characters where that is asked for.

    Examples
    --------
    >>> pictured(Worked((), picture="╭─╮"), plain=True)
    '+-+'
    """
    return plain_picture(worked.picture) if plain else worked.picture
