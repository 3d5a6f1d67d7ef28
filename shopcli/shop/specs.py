"""Numbers of a vehicle or of an own sheet: from the handbook in hand, the plate, or measured here, with who and when.

Nothing is overwritten. A newer number puts the older one aside, which stays in the history with who, when and why.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlmodel import Session, select

from shopcli.cleantext import clean_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, reason_given, saved
from shopcli.shop.readings import own_specs
from shopcli.shop.records import Sheet, SheetSpec, Vehicle, VehicleSpec
from shopcli.shop.sheet_commands import EnterOnSheet, EnterSpec, WithdrawNumber
from shopcli.shop.sheets import touched
from shopcli.shop.spec_entry import Layer, entered, same_entry
from shopcli.units import unit_named
from shopcli.units.printed import Printed, with_unit
from shopcli.units.printed_text import printed_json, printed_of
from shopcli.worklists.agree import agree
from shopcli.worklists.freeze import spec_from_json, spec_to_json
from shopcli.worklists.model import Spec
from shopcli.worklists.sheets import SpecBook, lookup

NumberRow = VehicleSpec | SheetSpec
ROWS: Mapping[str, type[NumberRow]] = {"vehicle": VehicleSpec, "sheet": SheetSpec}


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a number is to stand: the kind of row, whose it is, and how that is said."""

    row: type[Any]
    owner: dict[str, int]
    said: str


def enter_spec(session: Session, act: Act, cmd: EnterSpec) -> Change:
    """Give the vehicle a number of its own, or confirm the one its sheets have.

    Raises
    ------
    NotFound
        When nothing is known by that name, so that its kind cannot be told.
    BadInput
        When no number, mixed units or no document is given.
    """
    vehicle = get(session, Vehicle, cmd.vehicle_id, "vehicle")
    book = lookup(act.library, vehicle.sheet, own_specs(session, cmd.vehicle_id))
    layer = Layer(f"vehicle {vehicle.registration}", book, act.library.kinds, of_sheet=False)
    place = _Place(VehicleSpec, {"vehicle_id": cmd.vehicle_id}, f"kept for {vehicle.registration}")
    return _enter(session, act, cmd, layer, place)


def enter_on_sheet(session: Session, act: Act, cmd: EnterOnSheet) -> Change:
    """Give an own sheet a number, or confirm the one it has.

    Raises
    ------
    NotFound, BadInput
        As for a vehicle; a handbook number of a sheet needs its page too, for it speaks for many cars.
    """
    sheet = get(session, Sheet, cmd.sheet_id, "sheet")
    layer = Layer(sheet.name, lookup(act.library, sheet.name), act.library.kinds, of_sheet=True)
    place = _Place(SheetSpec, {"sheet_id": cmd.sheet_id}, f"kept on the sheet {sheet.name}")
    change = _enter(session, act, cmd, layer, place)
    touched(session)
    return change


def _enter(session: Session, act: Act, cmd: EnterSpec | EnterOnSheet, layer: Layer, place: _Place) -> Change:
    spec = entered(session, act, cmd, layer)
    subject = "spec" if place.row is VehicleSpec else "sheet number"
    mine = [getattr(place.row, column) == key for column, key in place.owner.items()]
    query = select(place.row).where(*mine, place.row.name == spec.name, place.row.replaced_at == None)  # noqa: E711
    standing = list(session.exec(query))
    if standing and same_entry(spec_from_json(standing[-1].spec), spec, brought=bool(cmd.who or cmd.on)):
        return Change(subject, key_of(standing[-1]), said=(f"{spec.label}: it stands there already.",))
    for old in standing:
        old.replaced_at, old.replaced_by = act.at, act.by
        session.add(old)
    session.flush()
    row = place.row(
        **place.owner,
        name=spec.name,
        spec=spec_to_json(spec),
        printed=printed_json(_typed(cmd, spec)),
        why=clean_line(cmd.why, name="reason", limit=400),
        entered_by=act.by,
        entered_at=act.at,
    )
    before = {"spec": standing[-1].spec} if standing else {}
    said = (f"{spec.label}: {place.said}.", *_disagreeing(layer.book, spec, standing))
    return Change(subject, key_of(saved(session, row)), before=before, said=said)


def _typed(cmd: EnterSpec | EnterOnSheet, spec: Spec) -> Printed:
    """Return the texts to keep: as typed, a unit beside a bare figure; those of the limits when they were confirmed."""
    if cmd.confirm:
        return printed_of(spec.limits)
    label = unit_named(spec.limits.unit).label
    low, nominal, high = (with_unit(clean_line(t), label) for t in (cmd.low, cmd.nominal, cmd.high))
    return Printed(low, nominal, high, clean_line(cmd.also))


def _disagreeing(book: SpecBook, spec: Spec, standing: list[Any]) -> tuple[str, ...]:
    """Say at once which other numbers of that name do not agree with the one just entered."""
    put_aside = {row.spec for row in standing}
    others = [s for s in book.layers.get(spec.name, ()) if spec_to_json(s) not in put_aside]
    return tuple(
        f"! {other.sheet} says {other.limits.text()}, {other.provenance.words()}: look which is right."
        for other in others
        if not agree(spec, other)
    )


def withdraw_number(session: Session, act: Act, cmd: WithdrawNumber) -> Change:
    """Withdraw a number with the reason; what it hid counts again.

    Raises
    ------
    BadInput
        When no reason is given, or it is neither a vehicle's nor a sheet's.
    Refused
        When it was withdrawn already.
    """
    if cmd.where not in ROWS:
        raise BadInput(f"'{clean_line(cmd.where[:20])}' has no numbers", hint="Write vehicle or sheet.")
    row = get(session, ROWS[cmd.where], cmd.number_id, "number")
    spec = spec_from_json(row.spec)
    reason = reason_given(cmd.reason, f"withdrawing the {spec.label}")
    if row.replaced_for:
        raise Refused(f"the {spec.label} was withdrawn already: {row.replaced_for}")
    if row.replaced_at is None:
        row.replaced_at, row.replaced_by = act.at, act.by
    row.replaced_for = reason
    session.add(row)
    subject = "spec"
    if cmd.where == "sheet":
        touched(session)
        subject = "sheet number"
    return Change(subject, cmd.number_id, before={"spec": row.spec}, said=(f"{spec.label}: withdrawn.",))
