"""What every working looks like from outside.

A working is described once (`Working`); the bench panel, the command line, the docs page and a task's
``working`` hook are all made from that description. Its answer (`Worked`) carries the steps as a person
would write them on the back of a box, so that nobody has to trust a bare number.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

Value = float | int | str | bool | tuple[float, ...] | tuple[str, ...] | tuple[int, ...] | None


@dataclass(frozen=True, slots=True)
class Input:
    """One thing a working asks for.

    `unit` is the unit of the bare number handed to the function (``mm``, ``Nm``, ``deg``: symbols of the
    units package), empty for a pure number. `quantity` names the kind, so that ``6 thou`` can be typed.
    """

    name: str
    label: str
    kind: Literal["number", "whole", "choice", "text", "numbers", "yesno"] = "number"
    quantity: str = ""
    unit: str = ""
    low: float | None = None
    high: float | None = None
    default: Value = None
    required: bool = True
    choices: tuple[str, ...] = ()
    help: str = ""


@dataclass(frozen=True, slots=True)
class Result:
    """One thing a working answers; `text` is the value as a person says it, unit included."""

    name: str
    label: str
    value: Value
    unit: str = ""
    text: str = ""


@dataclass(frozen=True, slots=True)
class Worked:
    """The answer of a working: results, the way there, and how far to trust it."""

    results: tuple[Result, ...]
    steps: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    verdict: str = ""
    picture: str = ""

    def __getitem__(self, name: str) -> Value:
        """Value of the result called `name`."""
        for result in self.results:
            if result.name == name:
                return result.value
        raise KeyError(name)


@dataclass(frozen=True, slots=True)
class Working:
    """Description of a working. `run` takes the inputs by name, as bare numbers in their units."""

    name: str
    title: str
    subject: str
    inputs: tuple[Input, ...]
    run: Callable[..., Worked]
    source: str
    good_for: str
    cautions: tuple[str, ...] = field(default=())
