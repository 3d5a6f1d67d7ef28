"""A vehicle's own numbers: from the handbook in hand, the plate, or measured here, always with who and when."""

from sqlmodel import Session, select

from shopcli.cleantext import clean_line
from shopcli.errors import BadInput, BadUnit, NotFound
from shopcli.shop.act import Act, Change
from shopcli.shop.commands import EnterSpec
from shopcli.shop.common import get, key_of, person_name, saved
from shopcli.shop.readings import own_specs
from shopcli.shop.records import Vehicle, VehicleSpec
from shopcli.units import Limits, parse
from shopcli.worklists.freeze import spec_to_json
from shopcli.worklists.library import SpecKind
from shopcli.worklists.model import PROVENANCE_KINDS, Provenance, Spec
from shopcli.worklists.sheets import lookup


def _limits(cmd: EnterSpec, kind: SpecKind) -> Limits:
    typed = {}
    for end in ("low", "nominal", "high"):
        text = getattr(cmd, end)
        if text:
            typed[end] = parse(text, kind.quantity)
    if not typed:
        raise BadInput("no number was given", hint="Give low and high, or nominal, each with its unit.")
    units = {t.unit for t in typed.values()}
    if len(units) > 1:
        raise BadUnit(
            "low, nominal and high are in different units", hint="Enter them as the document prints them."
        )
    low, nominal, high = (typed[end].number if end in typed else None for end in ("low", "nominal", "high"))
    return Limits.of(kind.quantity, units.pop(), low=low, nominal=nominal, high=high)


def _provenance(session: Session, act: Act, cmd: EnterSpec) -> Provenance:
    if cmd.kind not in PROVENANCE_KINDS or cmd.kind == "practice":
        kinds = ", ".join(k for k in PROVENANCE_KINDS if k != "practice")
        raise BadInput(f"'{cmd.kind}' is not where a vehicle's number comes from", hint=f"One of: {kinds}.")
    document = clean_line(cmd.document, name="document", limit=120)
    if cmd.kind == "handbook" and not document:
        raise BadInput(
            "a handbook number needs its document", hint="Write the title, and the page if there is one."
        )
    who = person_name(session, act.by)
    return Provenance(cmd.kind, document, clean_line(cmd.page, limit=20), who, act.today().isoformat())


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
    known = lookup(act.library, vehicle.sheet, own_specs(session, cmd.vehicle_id)).get(cmd.name)
    kind = act.library.kinds.get(cmd.name)
    if known:
        kind = SpecKind(known.name, known.label, known.limits.quantity, known.limits.unit)
    if kind is None:
        raise NotFound(f"no sheet knows a number called '{cmd.name}'", hint="Add it to a sheet first.")
    if cmd.confirm and known is None:
        raise BadInput(
            f"{kind.label}: there is no number to confirm", hint="Enter the one the handbook prints."
        )
    limits = known.limits if cmd.confirm and known else _limits(cmd, kind)
    spec = Spec(
        cmd.name,
        kind.label,
        limits,
        clean_line(cmd.state, limit=20) or (known.state if known else ""),
        _provenance(session, act, cmd),
        sheet=f"vehicle {vehicle.registration}",
    )
    query = select(VehicleSpec).where(VehicleSpec.vehicle_id == cmd.vehicle_id, VehicleSpec.name == cmd.name)
    for old in session.exec(query):
        if old.replaced_at is None:
            old.replaced_at = act.at
            session.add(old)
    row = saved(
        session,
        VehicleSpec(
            vehicle_id=cmd.vehicle_id,
            name=cmd.name,
            spec=spec_to_json(spec),
            entered_by=act.by,
            entered_at=act.at,
        ),
    )
    return Change("spec", key_of(row), said=(f"{kind.label}: kept for {vehicle.registration}.",))
