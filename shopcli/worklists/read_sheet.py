"""Read a spec sheet: named numbers with limits, unit, state and where they come from."""

import hashlib
from collections.abc import Mapping
from decimal import Decimal

from shopcli.errors import BadInput, ShopError
from shopcli.units import Limits
from shopcli.units.kinds import UNITS
from shopcli.worklists.facts import FACT_NAMES, fact_value
from shopcli.worklists.library import GENERAL, Sheet, SpecKind
from shopcli.worklists.model import PROVENANCE_KINDS, Provenance, Spec
from shopcli.worklists.read_units import check_units
from shopcli.worklists.toml_read import SPEC_NAME, Table
from shopcli.worklists.words import nearest

_SHEET_KEYS = ("title", "under", "about", "facts", "spec")
_VALUES = ("low", "nominal", "high")
_SPEC_KEYS = (
    *("label", *_VALUES, "unit", "quantity", "state", "also", "note"),
    *("from", "document", "page", "who", "on"),
)
_SIDES = dict[str, Decimal | None]
_SLIP = 0.85


def version_of(text: str) -> str:
    """Return a short mark of a file's content: the same text is the same version.

    Examples
    --------
    >>> version_of("a") == version_of("a"), version_of("a") == version_of("b")
    (True, False)
    """
    return hashlib.sha256(text.encode()).hexdigest()[:10]


def read_sheet(name: str, table: Table, text: str) -> Sheet | None:
    """Return the sheet a file describes, or None after complaints in ``table.found``."""
    before = len(table.found)
    table.only(*_SHEET_KEYS)
    title = table.text("title", needed=True, example="Lark 1200, engine")
    under = table.text("under") or (GENERAL if name != GENERAL else "")
    facts = table.table("facts", example='{ ignition = "contact breaker" }')
    block = table.table("spec", example="{ ... }, or better a block [spec.points_gap]")
    rows = [] if block is None else [_read_spec(name, key, block) for key in block.data]
    sheet = Sheet(
        name,
        title,
        table.file,
        version_of(text),
        under,
        table.note("about"),
        () if facts is None else _read_facts(facts),
        tuple(spec for row in rows if row is not None and (spec := row[1]) is not None),
        tuple(row[0] for row in rows if row is not None),
    )
    return sheet if len(table.found) == before else None


def _read_facts(table: Table) -> tuple[tuple[str, object], ...]:
    kept: list[tuple[str, object]] = []
    for key, value in table.data.items():
        if key == "other":
            table.bad('"other" is not a fact', "Write each fact on its own line.", key)
            continue
        slip = "" if key in FACT_NAMES else nearest(key, FACT_NAMES, cutoff=_SLIP)
        if slip:  # a fact of the shop's own is welcome, one letter off a known one is a slip of the pen
            table.bad(f'no fact is called "{key}"', f'Write "{slip}" instead.', key)
            continue
        try:
            kept.append((key, fact_value(key, value)))
        except BadInput as error:
            table.bad(error.message, error.hint, key)
    return tuple(kept)


def _read_spec(sheet: str, name: str, block: Table) -> tuple[SpecKind, Spec | None] | None:
    table = block.table(name, example='{ nominal = 0.4, unit = "mm", from = "practice" }')
    if table is None:
        return None
    before = len(table.found)
    table.only(*_SPEC_KEYS)
    if not SPEC_NAME.fullmatch(name):
        table.bad(f'"{name}" cannot be the name of a number', "Use small letters, figures and _: points_gap.")
    label = table.text("label") or name.replace("_", " ")
    unit, quantity = _unit_and_quantity(table)
    sides = {key: table.number(key) for key in _VALUES}
    provenance = _provenance(table, needed=any(v is not None for v in sides.values()))
    if len(table.found) > before:
        return None
    kind = SpecKind(name, label, quantity, unit)
    limits = _limits(table, quantity, unit, sides)
    if limits is None:
        return kind, None
    state, note = table.text("state"), table.note("note")
    return kind, Spec(name, label, limits, state, provenance, sheet, note)


def _unit_and_quantity(table: Table, inherited: str = "") -> tuple[str, str]:
    unit = table.text("unit", needed=True, example="mm")
    quantity = table.text("quantity") or inherited
    if check_units(table, unit, quantity) and unit and not quantity:
        quantity = UNITS[unit].quantity
    return unit, quantity


def _limits(table: Table, quantity: str, unit: str, sides: _SIDES) -> Limits | None:
    """Return the limits, or None when the sheet only names the number or the limits make no sense."""
    also = tuple(
        found
        for inner in table.tables("also", example='{ low = 0.018, high = 0.022, unit = "in" }')
        if (found := _also(inner, quantity)) is not None
    )
    if all(v is None for v in sides.values()):
        if "also" in table.data:
            table.bad(
                '"also" has limits, but the number itself has none', "Write low and high first.", "also"
            )
        return None
    return _made(table, quantity, unit, sides, also)


def _also(table: Table, quantity: str) -> Limits | None:
    table.only(*_VALUES, "unit")
    before = len(table.found)
    unit, _ = _unit_and_quantity(table, quantity)
    sides = {key: table.number(key) for key in _VALUES}
    return None if len(table.found) > before else _made(table, quantity, unit, sides, ())


def _made(table: Table, quantity: str, unit: str, sides: _SIDES, also: tuple[Limits, ...]) -> Limits | None:
    try:
        return Limits.of(quantity, unit, **sides, also=also)
    except ShopError as error:
        first = next((k for k in (*_VALUES, "unit") if k in table.data), "unit")
        table.bad(error.message, error.hint or "Write low, nominal and high from small to large.", first)
        return None


def _provenance(table: Table, *, needed: bool) -> Provenance:
    kind = table.text("from", needed=needed, example="practice")
    if kind and kind not in PROVENANCE_KINDS:
        table.bad(f'"from" is "{kind}"', f"Write one of: {', '.join(PROVENANCE_KINDS)}.", "from")
    wanted: Mapping[str, tuple[str, str]] = {
        "handbook": ("document", "page"),
        "measured": ("who", "on"),
    }
    for key in wanted.get(kind, ()):
        table.text(key, needed=True, example={"page": "4-1", "on": "2024-05-01"}.get(key, "..."))
    return Provenance(kind, table.text("document"), table.text("page"), table.text("who"), table.text("on"))
