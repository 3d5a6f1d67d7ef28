"""The parts the shop keeps: written down, and changed in what is known of them; prices and counts leave their trace."""

from sqlmodel import Session, select

from shopcli.cleantext import clean_line, required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, same_version, saved
from shopcli.shop.meanwhile import settle
from shopcli.shop.money import markup
from shopcli.shop.part_commands import AddPart, ChangePart
from shopcli.shop.parts import sane_money
from shopcli.shop.records import Part
from shopcli.shop.states import MoveWhy
from shopcli.shop.stock import counted, note_move, note_price, sane_count
from shopcli.shop.suppliers import NAME_LIMIT, buy_from, supplier_named

MOST_PACK_MILLI = 1_000_000


def sane_pack(milli: int) -> int:
    """Return how many come in a pack, in thousandths.

    Raises
    ------
    BadInput
        When it is nothing, or more than any pack holds.
    """
    if not 0 < milli <= MOST_PACK_MILLI:
        raise BadInput(f"a pack of {milli / 1000:g}", hint="Above 0, at most 1000; 1 where they come singly.")
    return milli


def add_part(session: Session, act: Act, cmd: AddPart) -> Change:
    """Write down a part; without a price it gets the shop's markup on its cost.

    Raises
    ------
    Refused
        When its number is known already.
    """
    number = required_line(cmd.number, name="part number", limit=40)
    if session.exec(select(Part).where(Part.number == number)).first():
        raise Refused(f"part {number} is already known")
    act.settings.vat(cmd.vat)
    cost = sane_money(cmd.cost_minor, "cost")
    price = markup(cost, act.settings.markup) if cmd.price_minor is None else cmd.price_minor
    part = Part(
        number=number,
        name=required_line(cmd.name, name="part name", limit=80),
        bin=clean_line(cmd.bin, limit=20),
        stock_milli=sane_count(cmd.stock_milli),
        reorder_milli=sane_count(cmd.reorder_milli),
        cost_minor=cost,
        price_minor=sane_money(price, "price"),
        surcharge_minor=sane_money(cmd.surcharge_minor, "exchange surcharge"),
        vat=cmd.vat,
        unit=clean_line(cmd.unit, limit=8) or "pc",
        wants_serial=cmd.wants_serial,
        pack_milli=sane_pack(cmd.pack_milli),
    )
    buy_from(part, supplier_named(session, cmd.supplier))
    saved(session, part)
    note_price(session, act, part, "first written down")
    if cmd.stock_milli:
        note_move(session, act, part, cmd.stock_milli, MoveWhy.COUNTED)
    return Change("part", key_of(part), said=(f"{part.name} added.",))


def _wanted(cmd: ChangePart) -> dict[str, object]:
    wanted: dict[str, object] = {
        "name": None if cmd.name is None else required_line(cmd.name, name="part name", limit=80),
        "bin": None if cmd.bin is None else clean_line(cmd.bin, limit=20),
        "reorder_milli": None if cmd.reorder_milli is None else sane_count(cmd.reorder_milli),
        "pack_milli": None if cmd.pack_milli is None else sane_pack(cmd.pack_milli),
        "wants_serial": cmd.wants_serial,
    }
    for name in ("cost_minor", "price_minor", "surcharge_minor"):
        amount = getattr(cmd, name)
        wanted[name] = None if amount is None else sane_money(amount, name.removesuffix("_minor"))
    return {name: value for name, value in wanted.items() if value is not None}


def change_part(session: Session, act: Act, cmd: ChangePart) -> Change:
    """Change what is known of a stocked part; lines already on cards keep what they were put on with.

    Raises
    ------
    BadInput
        When a sum, a count or a pack cannot be.
    Stale
        When another terminal changed it meanwhile.
    """
    part = get(session, Part, cmd.part_id, "part")
    if cmd.stock_milli is not None and dict(cmd.seen).get("stock_milli") != part.stock_milli:
        same_version(part, cmd.version, part.name)
    what, changes = part.name, _wanted(cmd)
    if cmd.supplier is not None:
        changes["supplier"] = clean_line(cmd.supplier, limit=NAME_LIMIT)
    before = {name: getattr(part, name) for name in changes}
    for name, value in changes.items():
        setattr(part, name, value)
    settle(session, act, cmd, part, before, subject="part", what=what)
    changes = {name: getattr(part, name) for name in changes}
    if cmd.supplier is not None:
        buy_from(part, supplier_named(session, part.supplier))
    session.add(part)
    if any(before.get(name) != changes.get(name) for name in ("cost_minor", "price_minor")):
        note_price(session, act, part, "changed by hand")
    said: tuple[str, ...] = (f"{part.name} changed.",)
    if cmd.stock_milli is not None:
        before["stock_milli"], changes["stock_milli"] = part.stock_milli, cmd.stock_milli
        said = (*said, counted(session, act, part, cmd.stock_milli))
    return Change("part", cmd.part_id, before=before, after=changes, said=said)
