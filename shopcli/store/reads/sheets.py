"""What the sheets show: a sheet or a vehicle with all its layers, the history of a number, what there is to choose."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import fields

from shopcli.errors import NotFound, ShopError
from shopcli.shop.sheet_views import (
    FILE,
    SHEET,
    VEHICLE,
    EntryView,
    LayerView,
    NumberView,
    SheetChoice,
    SheetView,
    Standing,
)
from shopcli.store.reads.desk import vehicle_name
from shopcli.store.shop import Shop
from shopcli.units.printed_text import printed_from, printed_of
from shopcli.worklists.agree import agree
from shopcli.worklists.facts import facts_as_text
from shopcli.worklists.freeze import spec_from_json
from shopcli.worklists.library import Library, SpecKind
from shopcli.worklists.model import Spec
from shopcli.worklists.sheets import chain, facts
from shopcli.worklists.words import did_you_mean

ROWS = {
    VEHICLE: "SELECT id, spec, printed, replaced_at, replaced_for FROM vehicle_spec WHERE vehicle_id = ? ORDER BY id DESC",
    SHEET: "SELECT id, spec, printed, replaced_at, replaced_for FROM sheet_spec WHERE sheet_id = ? ORDER BY id DESC",
}
HISTORY = """
SELECT n.id, n.spec, n.printed, p.name, n.entered_at, n.why, COALESCE(r.name, ''), n.replaced_at, n.replaced_for
FROM {table} n JOIN person p ON p.id = n.entered_by LEFT JOIN person r ON r.id = n.replaced_by
WHERE n.{owner} = ? AND n.name = ? ORDER BY n.id DESC"""
TABLES = {VEHICLE: ("vehicle_spec", "vehicle_id"), SHEET: ("sheet_spec", "sheet_id")}


def choices(shop: Shop) -> tuple[SheetChoice, ...]:
    """Return everything that has numbers: own sheets, vehicles, shipped sheets, in that order."""
    own = shop.fetch(
        "SELECT s.id, s.name, s.title, s.under, (SELECT COUNT(*) FROM sheet_spec n"
        " WHERE n.sheet_id = s.id AND n.replaced_at IS NULL) FROM sheet s ORDER BY s.title, s.name"
    )
    cars = shop.fetch(
        "SELECT v.id, v.registration, v.make, v.model, v.year, v.sheet, (SELECT COUNT(*) FROM vehicle_spec n"
        " WHERE n.vehicle_id = v.id AND n.replaced_at IS NULL) FROM vehicle v ORDER BY v.registration"
    )
    mine = {row[1] for row in own}
    files = (s for name, s in sorted(shop.library.sheets.items()) if name not in mine)
    return (
        *(SheetChoice(SHEET, r[0], r[1], r[2], r[4], r[3]) for r in own),
        *(SheetChoice(VEHICLE, r[0], r[1], vehicle_name(*r[2:5]), r[6], r[5]) for r in cars),
        *(SheetChoice(FILE, 0, s.name, s.title, len(s.specs), s.under) for s in files),
    )


def choose(shop: Shop, wanted: str) -> SheetChoice:
    """Return the vehicle of that registration or the sheet of that name, any case.

    Raises
    ------
    NotFound
        When there is neither.
    """
    text = " ".join(wanted.split()).casefold()
    every = choices(shop)
    found = next((c for c in every if c.name.casefold() == text), None)
    if found is None:
        raise NotFound(
            f"there is no sheet and no vehicle '{wanted.strip()[:40]}'",
            hint=did_you_mean(text, [c.name.casefold() for c in every]),
        )
    return found


def sheet(shop: Shop, where: str, key: int, name: str = "") -> SheetView:
    """Return a vehicle, an own sheet (by `key`) or a shipped one (by `name`) with every number known for it.

    Raises
    ------
    NotFound
        When it is not there.
    """
    if where == VEHICLE:
        return _vehicle(shop, key)
    if where == SHEET:
        return _own(shop, key)
    library = shop.library
    found = library.sheet(name)
    layers = _layers(shop, library, name)
    wider = _facts(library, layers[1:])
    own = facts_as_text(dict(found.facts))
    numbers = _numbers(shop, library, layers)
    return SheetView(FILE, 0, name, found.title, 0, found.about, layers, own, wider, numbers)


def _vehicle(shop: Shop, key: int) -> SheetView:
    rows = shop.fetch(
        "SELECT registration, make, model, year, sheet, facts, version FROM vehicle WHERE id = ?", (key,)
    )
    if not rows:
        raise NotFound(f"there is no vehicle number {key}", hint="Choose it again.")
    registration, make, model, year, under, entered, version = rows[0]
    me = LayerView(VEHICLE, key, registration, vehicle_name(make, model, year))
    return _over(shop, me, under, entered, version)


def _own(shop: Shop, key: int) -> SheetView:
    rows = shop.fetch("SELECT name, title, under, about, facts, version FROM sheet WHERE id = ?", (key,))
    if not rows:
        raise NotFound(f"there is no sheet number {key}", hint="Choose it again.")
    name, title, under, about, entered, version = rows[0]
    return _over(shop, LayerView(SHEET, key, name, title), under, entered, version, about)


def _over(shop: Shop, me: LayerView, under: str, entered: str, version: int, about: str = "") -> SheetView:
    """Return a layer over those it lies under; where that sheet is gone, over the general one, and say so."""
    library, trouble = shop.library, ""
    try:
        layers = (me, *_layers(shop, library, under))
    except ShopError as error:
        layers, trouble = (me, *_layers(shop, library, "")), f"{error.message}. {error.hint}"
    own = facts_as_text(json.loads(entered))
    numbers = _numbers(shop, library, layers)
    wider = _facts(library, layers[1:])
    return SheetView(
        me.where, me.key, me.name, me.title, version, about, layers, own, wider, numbers, trouble
    )


def _layers(shop: Shop, library: Library, name: str) -> tuple[LayerView, ...]:
    own = {row[0]: int(row[1]) for row in shop.fetch("SELECT name, id FROM sheet")}
    return tuple(
        LayerView(SHEET if n in own else FILE, own.get(n, 0), n, library.sheet(n).title)
        for n in chain(library, name)
    )


def _facts(library: Library, layers: tuple[LayerView, ...]) -> Mapping[str, str]:
    """Return what holds for a vehicle by these layers, what follows from them and the usual included, as texts."""
    try:
        known = facts(library, layers[0].name if layers else "")
    except ShopError:
        return {}
    said = {f.name: getattr(known, f.name) for f in fields(known) if f.name != "other"} | dict(known.other)
    return {name: text for name, text in facts_as_text(said).items() if text}


def _numbers(shop: Shop, library: Library, layers: tuple[LayerView, ...]) -> tuple[NumberView, ...]:
    standing: dict[str, list[Standing]] = {}
    past: dict[str, list[Standing]] = {}
    entries: dict[str, int] = {}
    for layer in layers:
        for one in _in_layer(shop, library, layer):
            (past if one.past else standing).setdefault(one.spec.name, []).append(one)
            if one.row:
                entries[one.spec.name] = entries.get(one.spec.name, 0) + 1
    return tuple(
        _number(kind, tuple(standing.get(kind.name, ())), past.get(kind.name, ()), entries.get(kind.name, 0))
        for kind in _kinds(library, layers, standing)
    )


def _in_layer(shop: Shop, library: Library, layer: LayerView) -> Iterable[Standing]:
    """Yield the numbers of a layer; of those put aside, what was withdrawn speaks no longer."""
    if layer.where == FILE:
        for spec in library.sheet(layer.name).specs:
            yield Standing(layer, 0, spec, printed_of(spec.limits))
        return
    for row, text, printed, put_aside, withdrawn in shop.fetch(ROWS[layer.where], (layer.key,)):
        if not withdrawn:
            spec = spec_from_json(text)
            yield Standing(layer, row, spec, printed_from(printed, spec.limits), past=put_aside is not None)


def _kinds(
    library: Library, layers: tuple[LayerView, ...], standing: Mapping[str, list[Standing]]
) -> tuple[SpecKind, ...]:
    """Return what can stand on the sheet: the names its layers know, from the widest, which names them by subject."""
    kinds: dict[str, SpecKind] = {}
    for layer in reversed(layers):
        if layer.name in library.sheets and layer.where != VEHICLE:
            for kind in library.sheet(layer.name).kinds:
                kinds.setdefault(kind.name, kind)
    for name, numbers in standing.items():
        spec = numbers[0].spec
        kinds.setdefault(name, SpecKind(name, spec.label, spec.limits.quantity, spec.limits.unit))
    return tuple(kinds.values())


def _number(
    kind: SpecKind, layers: tuple[Standing, ...], past: Iterable[Standing], entries: int
) -> NumberView:
    if not layers:
        return NumberView(kind.name, kind.label, kind.quantity, kind.unit, entries=entries)
    shown = layers[0]
    said = [*layers[1:], *_other_documents(shown.spec, past)]
    against = tuple(one for one in said if not agree(shown.spec, one.spec))
    label = shown.spec.label
    return NumberView(
        kind.name, label, shown.spec.limits.quantity, shown.spec.limits.unit, layers, against, entries
    )


def _other_documents(shown: Spec, past: Iterable[Standing]) -> Iterable[Standing]:
    """Yield what other sources than the shown one said last, the newest first."""
    seen = {_source(shown)}
    for one in past:
        if _source(one.spec) not in seen:
            seen.add(_source(one.spec))
            yield one


def _source(spec: Spec) -> tuple[str, str]:
    return spec.provenance.kind, " ".join(spec.provenance.document.casefold().split())


def vehicle_of_card(shop: Shop, card_id: int) -> int | None:
    """Return which vehicle a card is for, None when there is no such card."""
    rows = shop.fetch("SELECT vehicle_id FROM card WHERE id = ?", (card_id,))
    return int(rows[0][0]) if rows else None


def history(shop: Shop, where: str, key: int, name: str) -> tuple[EntryView, ...]:
    """Return every entry of a number in one layer, the newest first; a shipped sheet has none."""
    if where not in TABLES:
        return ()
    table, owner = TABLES[where]
    rows = shop.fetch(HISTORY.format(table=table, owner=owner), (key, name))
    found = []
    for row, text, printed, by, at, why, aside_by, aside_at, withdrawn in rows:
        spec = spec_from_json(text)
        aside = None if aside_at is None else shop.local(aside_at)
        texts = printed_from(printed, spec.limits)
        found.append(EntryView(row, spec, texts, by, shop.local(at), why, aside_by, aside, withdrawn))
    return tuple(found)
