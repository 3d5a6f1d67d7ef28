"""Read the pieces that templates and their tasks have in common: facts asked for, kit lines, spoken text."""

import re
from dataclasses import dataclass, field
from decimal import Decimal

from shopcli.cleantext import clean_line
from shopcli.worklists.library import SpecKind
from shopcli.worklists.model import KitLine
from shopcli.worklists.say import placeholders
from shopcli.worklists.toml_read import Table
from shopcli.worklists.words import did_you_mean

Applies = tuple[tuple[str, tuple[str, ...]], ...]

_KIT_EXAMPLE = '{ part = "contact set", qty = 1 }'
_QTY = re.compile(r"(vehicle|spec)\.([a-z][a-z0-9_]*)")


@dataclass(frozen=True, slots=True)
class Known:
    """The names a template may refer to, gathered from the rest of the library before it is read.

    `sums` false spares the look into the catalogue of workings, which costs more than all the files together.
    """

    cautions: tuple[str, ...] = ()
    tags: tuple[str, ...] = ()
    states: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    specs: dict[str, SpecKind] = field(default_factory=dict)
    kits: dict[str, tuple[KitLine, ...]] = field(default_factory=dict)
    sums: bool = True


def read_applies(table: Table, known: Known) -> Applies:
    """Return the facts a template or task asks for, each with the values that will do."""
    inner = table.table("applies", example='{ ignition = "contact breaker" }')
    if inner is None:
        return ()
    kept: list[tuple[str, tuple[str, ...]]] = []
    for key, value in inner.data.items():
        name = key.replace(" ", "_")
        if name not in known.facts:
            inner.bad(f'no fact is called "{key}"', did_you_mean(name, known.facts), key)
            continue
        values = value if isinstance(value, list) else [value]
        if not values or not all(isinstance(v, str | int) and not isinstance(v, bool) for v in values):
            inner.bad(f'"{key}" must be a text or a list of texts', f'Write: {key} = "..."', key)
            continue
        kept.append((name, tuple(clean_line(str(v)) for v in values)))
    return tuple(kept)


def read_kit(table: Table, known: Known) -> tuple[KitLine, ...]:
    """Return the kit lines of a table."""
    return tuple(
        line
        for inner in table.tables("kit", example=_KIT_EXAMPLE)
        if (line := _read_line(inner, known)) is not None
    )


def _read_line(table: Table, known: Known) -> KitLine | None:
    before = len(table.found)
    table.only("part", "qty", "unit", "optional", "number", "exchange")
    line = KitLine(
        table.text("part", needed=True, example="contact set"),
        _qty(table, known),
        table.yes("optional"),
        table.text("number"),
        table.yes("exchange"),
        table.text("unit"),
    )
    return line if len(table.found) == before else None


def _qty(table: Table, known: Known) -> str:
    value = table.data.get("qty", 1)
    if isinstance(value, int | Decimal) and not isinstance(value, bool):
        if 0 < value <= 10_000:  # noqa: PLR2004 - nobody fits ten thousand of anything
            return str(value)
        table.bad(f'"qty" is {value}', "Write a number above zero: qty = 1", "qty")
        return "1"
    match = _QTY.fullmatch(value) if isinstance(value, str) else None
    if match is None:
        table.bad(
            '"qty" must be a number',
            'Write: qty = 1, or qty = "vehicle.cylinders", or qty = "spec.oil_fill"',
            "qty",
        )
        return "1"
    kind, name = match.groups()
    names = known.facts if kind == "vehicle" else tuple(known.specs)
    if name not in names:
        table.bad(f'"qty" counts by "{name}", which is not known', did_you_mean(name, names), "qty")
    return match.group()


def check_words(
    table: Table, key: str, text: str, known: Known, *, each: bool, specs: bool
) -> tuple[str, ...]:
    """Complain about placeholders that cannot be filled; return the names of the numbers spoken of."""
    spoken: list[str] = []
    allowed = ("{{ spec.points_gap }}, " if specs else "") + "{{ vehicle.firing_order }}"
    for kind, name in placeholders(text):
        if kind == "spec" and specs:
            spoken.append(name)
        elif kind == "vehicle" and name not in known.facts:
            table.bad(f'"{key}" asks for vehicle.{name}', did_you_mean(name, known.facts), key)
        elif kind == "each" and not each:
            table.bad(f'"{key}" says {{{{ each }}}}, but nothing repeats', 'Add: for = "cylinder"', key)
        elif kind in {"", "spec"}:
            shown = name if kind == "" else f"spec.{name}"
            table.bad(f'"{key}" cannot fill in "{shown}"', f"Write one of: {allowed}, {{{{ each }}}}.", key)
    return tuple(spoken)


def check_specs(table: Table, names: tuple[str, ...], known: Known, *key: str | int) -> None:
    """Complain about numbers that no sheet knows by name."""
    for name in names:
        if name not in known.specs:
            hint = (
                f"{did_you_mean(name, known.specs)} Or name it in a sheet: [spec.{name}] with label and unit."
            )
            table.bad(f'no sheet has a number called "{name}"', hint, *key)
