"""From what somebody typed to a number of a sheet: its kind, its limits and where it comes from."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from sqlmodel import Session

from shopcli.cleantext import clean_line, required_line
from shopcli.errors import BadInput, NotFound
from shopcli.shop.act import Act
from shopcli.shop.common import person_name
from shopcli.shop.sheet_commands import EnterOnSheet, EnterSpec
from shopcli.units import UNITS, measures, parse, quantity_named
from shopcli.units.printed import Printed, limits_of
from shopcli.worklists.library import SpecKind
from shopcli.worklists.model import PROVENANCE_KINDS, Provenance, Spec
from shopcli.worklists.sheets import SpecBook
from shopcli.worklists.toml_read import SPEC_NAME
from shopcli.worklists.words import did_you_mean

SHEET_KINDS = ("handbook", "plate", "measured", "practice")
LABEL_MOST, NOTE_MOST = 60, 400
NO_STATE = "-"


@dataclass(frozen=True, slots=True)
class Layer:
    """Where a number is entered: what the layer is called, the numbers that hold there now, and all kinds known."""

    name: str
    book: SpecBook
    kinds: Mapping[str, SpecKind]
    of_sheet: bool


def unit_symbol(text: str, quantity: str) -> str:
    """Return the symbol of a unit as somebody writes it.

    Examples
    --------
    >>> unit_symbol("ftlb", "torque"), unit_symbol("", "length")
    ('lbf.ft', '')
    """
    text = clean_line(text, name="unit", limit=20)
    if text in UNITS and measures(text, quantity):
        return text
    return parse(f"1 {text}", quantity).unit if text else ""


def entered(session: Session, act: Act, cmd: EnterSpec | EnterOnSheet, layer: Layer) -> Spec:
    """Return the number a command gives.

    Raises
    ------
    NotFound
        When no sheet knows the name and the command does not say what it measures.
    BadInput, BadUnit
        When the figures, the unit or the provenance cannot be right.
    """
    known = layer.book.get(cmd.name)
    kind = _kind(cmd, layer, known)
    if cmd.confirm and known is None:
        raise BadInput(
            f"{kind.label}: there is no number to confirm", hint="Enter the one the handbook prints."
        )
    if cmd.confirm and known:
        limits, note = known.limits, known.note
    else:
        printed = Printed(cmd.low, cmd.nominal, cmd.high, cmd.also)
        limits, note = limits_of(printed, kind.quantity, unit_symbol(cmd.unit, kind.quantity) or None), ""
    return Spec(
        cmd.name,
        kind.label,
        limits,
        _state(cmd.state, known),
        _provenance(session, act, cmd, of_sheet=layer.of_sheet),
        layer.name,
        clean_line(cmd.note, name="note", limit=NOTE_MOST) or note,
    )


def _state(text: str, known: Spec | None) -> str:
    """Return the state a number holds in: as said, none for a dash, else that of the number known so far."""
    said = clean_line(text, name="state", limit=20)
    return "" if said == NO_STATE else said or (known.state if known else "")


def same_entry(one: Spec, other: Spec, *, brought: bool) -> bool:
    """Whether two entries say the same; who and when count only when a file brought them along."""
    if not brought:
        blank = replace(one.provenance, who="", on="")
        one = replace(one, provenance=blank)
        other = replace(other, provenance=replace(other.provenance, who="", on=""))
    return replace(one, label="") == replace(other, label="")


def _kind(cmd: EnterSpec | EnterOnSheet, layer: Layer, known: Spec | None) -> SpecKind:
    kind = layer.kinds.get(cmd.name)
    if known:
        kind = SpecKind(known.name, known.label, known.limits.quantity, known.limits.unit)
    quantity = clean_line(cmd.quantity, name="quantity", limit=40)
    if kind is not None:
        if quantity and quantity != kind.quantity:
            raise BadInput(
                f"{kind.label} is a {kind.quantity}, not a {quantity}", hint="Give a new number another name."
            )
        return kind
    if not quantity:
        raise NotFound(
            f"no sheet knows a number called '{cmd.name[:60]}'",
            hint=f"{did_you_mean(cmd.name, layer.kinds)} A new one needs its quantity.",
        )
    if not SPEC_NAME.fullmatch(cmd.name) or len(cmd.name) > LABEL_MOST:
        raise BadInput(
            f"'{clean_line(cmd.name[:60])}' cannot be the name of a number",
            hint="Use small letters, figures and _: points_gap.",
        )
    quantity_named(quantity)
    label = clean_line(cmd.label, name="label", limit=LABEL_MOST) or cmd.name.replace("_", " ")
    return SpecKind(cmd.name, label, quantity, "")


def _provenance(session: Session, act: Act, cmd: EnterSpec | EnterOnSheet, *, of_sheet: bool) -> Provenance:
    kinds = SHEET_KINDS if of_sheet else tuple(k for k in PROVENANCE_KINDS if k != "practice")
    if cmd.kind not in kinds:
        what = "a number of a sheet" if of_sheet else "a vehicle's number"
        raise BadInput(
            f"'{cmd.kind[:30]}' is not where {what} comes from", hint=f"One of: {', '.join(kinds)}."
        )
    if cmd.confirm and cmd.kind == "practice":
        raise BadInput(
            "common practice confirms nothing",
            hint="Confirm it by a handbook in hand, the plate or a measurement.",
        )
    document = clean_line(cmd.document, name="document", limit=120)
    page = clean_line(cmd.page, name="page", limit=20)
    if cmd.kind == "handbook" and not document:
        raise BadInput(
            "a handbook number needs its document", hint="Write the title, and the page if there is one."
        )
    if cmd.kind == "handbook" and of_sheet and not page:
        raise BadInput(
            "a handbook number of a sheet needs its page",
            hint="Write the page; a leaf without one is page 1.",
        )
    who = required_line(cmd.who, name="who", limit=80) if cmd.who else person_name(session, act.by)
    return Provenance(cmd.kind, document, page, who, _day(cmd.on) if cmd.on else act.today().isoformat())


def _day(text: str) -> str:
    try:
        return date.fromisoformat(text.strip()).isoformat()
    except ValueError:
        raise BadInput(f"'{clean_line(text[:20])}' is no date", hint="Write it like 2026-11-25.") from None
