"""What a vehicle brings along, in words beside the intake form: its last visits, and what they left for this one."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from textual.content import Content

from shopcli.columns import cut, wrap
from shopcli.marks import carried_choice
from shopcli.present import day, odometer, severity
from shopcli.screens.desk.draft import Decision
from shopcli.shop.views import OwedView, VehicleView
from shopcli.store.reads import desk
from shopcli.store.reads.story import VehicleStory, story
from shopcli.store.shop import Shop

REMARKS_MOST, TEXT_MOST = 10, 400
Remark = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Known:
    """A vehicle that was here before, with its story."""

    vehicle: VehicleView
    story: VehicleStory


def known_vehicle(shop: Shop, vehicle_id: int) -> Known:
    """Return a vehicle with its story."""
    return Known(desk.vehicle(shop, vehicle_id), story(shop, vehicle_id))


def brings_along(
    vehicle: VehicleView,
    told: VehicleStory | None,
    width: int,
    decided: Mapping[str, Decision],
    shows: int | None = None,
) -> Content:
    """Return what a vehicle brings along from earlier visits, and what was decided of it.

    `shows` is the odometer as it was typed: what it makes due is said to be.
    """
    lines = list(_open(vehicle, decided, shows))
    left = bool(vehicle.findings or vehicle.owed)
    if not lines:
        lines = [("nothing open from earlier visits", "")]
    if len(lines) > REMARKS_MOST:
        lines = [*lines[:REMARKS_MOST], (f"and {len(lines) - REMARKS_MOST} more: F3", "bold")]
    if left:
        lines.append(("F3 takes on or declines", "dim"))
    if told is not None:
        lines += _story(told, vehicle)
    styled = [(line, style) for text, style in lines for line in wrap(cut(text, TEXT_MOST), width)]
    return Content("\n").join(Content.assemble((text, style) if style else text) for text, style in styled)


def _open(vehicle: VehicleView, decided: Mapping[str, Decision], shows: int | None) -> Iterator[Remark]:
    if vehicle.open_cards:
        yield f"! open card: {', '.join(vehicle.open_cards)}", "$text-warning"
    for finding in vehicle.findings:
        style = "$text-error" if finding.severity == "stop" else ""
        seen = f"({finding.card}, {day(finding.seen)})"
        said = _said(decided.get(f"finding:{finding.id}"))
        yield f"{said}{severity(finding.severity)}: {finding.place}, {finding.what} {seen}", style
    for owed in vehicle.owed:
        now = shows is not None and owed.due_odometer is not None and shows >= owed.due_odometer
        said, due = _said(decided.get(f"owed:{owed.id}")), ", due now" if now else _due(owed, vehicle)
        yield f"{said}! owed: {owed.title}{due} ({owed.card})", "$text-warning" if now else ""


def _story(told: VehicleStory, vehicle: VehicleView) -> Iterator[Remark]:
    for out in told.out:
        name = ", ".join(filter(None, (out.name, out.label)))
        yield f"left out of limits: {name} {out.typed}, {out.verdict} ({out.card})", "$text-warning"
    for visit in told.visits:
        at = f", {odometer(visit.odometer, vehicle.distance_unit)}" if visit.odometer is not None else ""
        yield f"{visit.card}, {day(visit.on)} {visit.on.year}{at}: {visit.title}", "dim"


def _said(decision: Decision | None) -> str:
    return f"{carried_choice(decision.choice)}  " if decision and decision.choice != "left" else ""


def _due(owed: OwedView, vehicle: VehicleView) -> str:
    if owed.due_odometer is not None:
        return f", due at {odometer(owed.due_odometer, vehicle.distance_unit)}"
    return f", due {day(owed.due_date)}" if owed.due_date else ""
