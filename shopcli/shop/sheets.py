"""The shop's own spec sheets, and the facts of vehicles: made and changed by whoever has the handbook in hand."""

import json
from collections.abc import Mapping

from sqlmodel import Session, select

from shopcli.cleantext import clean_line, clean_note, required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.cards import next_number
from shopcli.shop.common import get, key_of, saved
from shopcli.shop.meanwhile import settle
from shopcli.shop.own_sheets import COUNTER
from shopcli.shop.records import Sheet, Vehicle
from shopcli.shop.sheet_commands import ChangeSheet, ChangeVehicleFacts, Facts, MakeSheet
from shopcli.worklists.facts import FACT_NAMES
from shopcli.worklists.library import GENERAL
from shopcli.worklists.sheets import chain, facts
from shopcli.worklists.toml_read import NAME
from shopcli.worklists.words import nearest

NAME_MOST, TITLE_MOST, FACT_MOST, FACTS_MOST = 40, 80, 120, 80
_SLIP = 0.85


def touched(session: Session) -> None:
    """Say that own sheets changed, so that every terminal reads them again."""
    next_number(session, COUNTER)


def clean_facts(pairs: Facts) -> dict[str, str]:
    """Return facts by name, cleaned; one without a text is left to the wider sheet.

    Raises
    ------
    BadInput
        On a name that is one letter off a known one, or too many.
    """
    kept: dict[str, str] = {}
    for name, text in pairs:
        key = required_line(name, name="fact's name", limit=NAME_MOST).casefold().replace(" ", "_")
        value = clean_line(text, name=key, limit=FACT_MOST)
        slip = "" if key in FACT_NAMES else nearest(key, FACT_NAMES, cutoff=_SLIP)
        if slip or key == "other":
            raise BadInput(f'no fact is called "{key}"', hint=f'Write "{slip or "its own name"}" instead.')
        if value:
            kept[key] = value
    if len(kept) > FACTS_MOST:
        raise BadInput(f"{len(kept)} facts", hint=f"At most {FACTS_MOST} are kept.")
    return kept


def _as_text(values: Mapping[str, str]) -> str:
    return json.dumps(values, ensure_ascii=False, sort_keys=True)


def make_sheet(session: Session, act: Act, cmd: MakeSheet) -> Change:
    """Make a sheet.

    Raises
    ------
    BadInput
        When the name cannot be one, or a fact is of the wrong sort.
    Refused
        When a sheet of that name is there already, own or shipped.
    NotFound
        When the wider sheet does not exist.
    """
    name = required_line(cmd.name, name="sheet's name", limit=NAME_MOST).casefold()
    if not NAME.fullmatch(name):
        raise BadInput(
            f'"{name}" cannot be the name of a sheet', hint="Small letters, figures and hyphens: lark-1200."
        )
    if name in act.library.sheets or session.exec(select(Sheet).where(Sheet.name == name)).first():
        raise Refused(
            f'a sheet called "{name}" is there already', hint="Take another name, or change that one."
        )
    under = clean_line(cmd.under, name="wider sheet", limit=NAME_MOST) or GENERAL
    own = clean_facts(cmd.facts)
    facts(act.library, under, own)
    sheet = Sheet(
        name=name,
        title=required_line(cmd.title, name="title", limit=TITLE_MOST),
        under=under,
        about=clean_note(cmd.about, name="remark", limit=1000),
        facts=_as_text(own),
        made_by=act.by,
        made_at=act.at,
    )
    touched(session)
    return Change("sheet", key_of(saved(session, sheet)), said=(f"Sheet {name} made: {sheet.title}.",))


def change_sheet(session: Session, act: Act, cmd: ChangeSheet) -> Change:
    """Change title, wider sheet, remark or facts of an own sheet. Cards already expanded stay as they are.

    Raises
    ------
    Stale
        When another terminal changed it.
    BadInput
        When the sheets would lie in a circle, or a fact is of the wrong sort.
    """
    library = act.library  # as it is before the change: one that lies in a circle would not be in it
    sheet = get(session, Sheet, cmd.sheet_id, "sheet")
    before = {"title": sheet.title, "under": sheet.under, "about": sheet.about, "facts": sheet.facts}
    if cmd.title is not None:
        sheet.title = required_line(cmd.title, name="title", limit=TITLE_MOST)
    if cmd.about is not None:
        sheet.about = clean_note(cmd.about, name="remark", limit=1000)
    if cmd.under is not None:
        sheet.under = clean_line(cmd.under, name="wider sheet", limit=NAME_MOST) or GENERAL
    if cmd.facts is not None:
        sheet.facts = _as_text(clean_facts(cmd.facts))
    settle(session, act, cmd, sheet, before, subject="sheet", what=f"the sheet {sheet.name}")
    wider = chain(library, sheet.under)
    if sheet.name in wider:
        raise BadInput(
            f'the sheet "{sheet.under}" lies under "{sheet.name}" itself', hint="Choose a wider one."
        )
    facts(library, sheet.under, json.loads(sheet.facts))
    session.add(sheet)
    touched(session)
    return Change("sheet", cmd.sheet_id, before=before, said=(f"Sheet {sheet.name} changed.",))


def change_vehicle_facts(session: Session, act: Act, cmd: ChangeVehicleFacts) -> Change:
    """Change which sheet a vehicle lies under and its own facts. Cards already expanded stay as they are.

    Raises
    ------
    Stale
        When another terminal changed the vehicle.
    NotFound, BadInput
        When the sheet is not known, or a fact is of the wrong sort.
    """
    vehicle = get(session, Vehicle, cmd.vehicle_id, "vehicle")
    before = {"sheet": vehicle.sheet, "facts": vehicle.facts}
    if cmd.sheet is not None:
        vehicle.sheet = clean_line(cmd.sheet, name="sheet", limit=NAME_MOST)
    if cmd.facts is not None:
        vehicle.facts = _as_text(clean_facts(cmd.facts))
    settle(session, act, cmd, vehicle, before, subject="vehicle", what=f"the entry of {vehicle.registration}")
    facts(act.library, vehicle.sheet, json.loads(vehicle.facts))
    session.add(vehicle)
    return Change("vehicle", cmd.vehicle_id, before=before, said=(f"Facts of {vehicle.registration} kept.",))
