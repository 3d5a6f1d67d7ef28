"""The stock: every coming and going is a movement, and what stands on the part is kept in step in the same transaction."""

from sqlmodel import Session, col, select

from shopcli.cleantext import clean_line
from shopcli.errors import BadInput
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, reason_given
from shopcli.shop.fetching import Fetch
from shopcli.shop.records import Part, PriceChange, StockMove
from shopcli.shop.states import MoveWhy
from shopcli.shop.stock_commands import CorrectStock, CountStock

MOST_STOCK_MILLI = 1_000_000_000
TAKEN_BACK = "taken back"
OUT_OF_STEP = """
SELECT p.id, p.number, p.name, p.stock_milli, COALESCE(SUM(m.qty_milli), 0)
FROM part p LEFT JOIN stock_move m ON m.part_id = p.id
GROUP BY p.id, p.number, p.name, p.stock_milli HAVING p.stock_milli <> COALESCE(SUM(m.qty_milli), 0) ORDER BY p.number"""
NO_SUPPLIER = """
SELECT p.id, p.number, p.name, p.supplier, COALESCE(s.name, '') FROM part p LEFT JOIN supplier s ON s.id = p.supplier_id
WHERE p.supplier <> COALESCE(s.name, '') ORDER BY p.number"""


def move_stock(
    session: Session,
    act: Act,
    part: Part,
    qty_milli: int,
    why: MoveWhy,
    *,
    card_id: int | None = None,
    order_line_id: int | None = None,
    note: str = "",
) -> None:
    """Move a part to the shelf (above zero) or off it, and write down why; a count that agrees is written down too."""
    if not qty_milli and why is not MoveWhy.COUNTED:
        return
    part.stock_milli += qty_milli
    session.add(part)
    note_move(session, act, part, qty_milli, why, card_id=card_id, order_line_id=order_line_id, note=note)


def note_move(
    session: Session,
    act: Act,
    part: Part,
    qty_milli: int,
    why: MoveWhy,
    *,
    card_id: int | None = None,
    order_line_id: int | None = None,
    note: str = "",
) -> None:
    """Write a movement down whose quantity the part has in its stock already."""
    session.add(
        StockMove(
            part_id=key_of(part),
            qty_milli=qty_milli,
            why=why,
            card_id=card_id,
            order_line_id=order_line_id,
            note=note,
            moved_by=act.by or None,
            at=act.at,
        )
    )


def note_price(session: Session, act: Act, part: Part, why: str, order_line_id: int | None = None) -> None:
    """Write down what a part costs and is sold for from now on."""
    session.add(
        PriceChange(
            part_id=key_of(part),
            cost_minor=part.cost_minor,
            price_minor=part.price_minor,
            why=why,
            order_line_id=order_line_id,
            changed_by=act.by or None,
            at=act.at,
        )
    )


def contrary_move(_session: Session, act: Act, moved: StockMove) -> StockMove:
    """Return the movement that takes another back."""
    return StockMove(
        part_id=moved.part_id,
        qty_milli=-moved.qty_milli,
        why=moved.why,
        card_id=moved.card_id,
        order_line_id=moved.order_line_id,
        note=TAKEN_BACK,
        moved_by=act.by or None,
        at=act.at,
    )


def price_before(session: Session, act: Act, changed: PriceChange) -> PriceChange | None:
    """Return the price that held before another, as it holds again; None where there was none."""
    earlier = PriceChange.part_id == changed.part_id, col(PriceChange.id) < key_of(changed)
    was = session.exec(select(PriceChange).where(*earlier).order_by(col(PriceChange.id).desc())).first()
    if was is None:
        return None
    return PriceChange(
        part_id=was.part_id,
        cost_minor=was.cost_minor,
        price_minor=was.price_minor,
        why=TAKEN_BACK,
        order_line_id=changed.order_line_id,
        changed_by=act.by or None,
        at=act.at,
    )


def sane_count(milli: int) -> int:
    """Return how many are there, in thousandths.

    Raises
    ------
    BadInput
        When it is less than nothing, or more than any shop keeps.
    """
    if not 0 <= milli <= MOST_STOCK_MILLI:
        raise BadInput(f"a stock of {milli / 1000:g}", hint="0 or more.")
    return milli


def counted(session: Session, act: Act, part: Part, milli: int, note: str = "") -> str:
    """Have the stock be what was counted; return what came of it in words."""
    off = sane_count(milli) - part.stock_milli
    move_stock(session, act, part, off, MoveWhy.COUNTED, note=note)
    if not off:
        return f"{part.name}: {milli / 1000:g}, as it should be."
    word = "more" if off > 0 else "fewer"
    return f"{part.name}: {milli / 1000:g} counted, {abs(off) / 1000:g} {word} than written."


def count_stock(session: Session, act: Act, cmd: CountStock) -> Change:
    """Write down what was counted on the shelf.

    Raises
    ------
    BadInput
        When nothing was counted, a part was counted twice, or a count cannot be.
    """
    if not cmd.counted:
        raise BadInput("nothing was counted")
    keys = [key for key, _milli in cmd.counted]
    twice = next((key for key in keys if keys.count(key) > 1), None)
    if twice is not None:
        part = get(session, Part, twice, "part")
        raise BadInput(f"{part.name} was counted twice", hint="Write its whole count once.")
    note = clean_line(cmd.note, limit=200)
    said = tuple(
        counted(session, act, get(session, Part, key, "part"), milli, note) for key, milli in cmd.counted
    )
    return Change("part", keys[0], said=said)


def correct_stock(session: Session, act: Act, cmd: CorrectStock) -> Change:
    """Put more or fewer on the shelf for a reason: broken, lost, found.

    Raises
    ------
    BadInput
        Without a reason, with nothing to correct, or when less than nothing would be left.
    """
    part = get(session, Part, cmd.part_id, "part")
    reason = reason_given(cmd.reason, "a correction")
    if not cmd.qty_milli:
        raise BadInput("nothing is corrected by 0")
    sane_count(max(part.stock_milli, 0) + cmd.qty_milli)
    move_stock(session, act, part, cmd.qty_milli, MoveWhy.CORRECTED, note=reason)
    return Change("part", cmd.part_id, said=(f"{part.name}: {part.stock_milli / 1000:g} now ({reason}).",))


def out_of_step(fetch: Fetch) -> tuple[tuple[int, str, str, int, int], ...]:
    """Return every part whose stock is not the sum of its movements: id, number, name, stock, sum, in thousandths."""
    return tuple((r[0], r[1], r[2], r[3], int(r[4])) for r in fetch(OUT_OF_STEP))


def wrong_suppliers(fetch: Fetch) -> tuple[tuple[int, str, str, str, str], ...]:
    """Return every part that names another supplier than it points at: id, number, name, named, pointed at."""
    return tuple((r[0], r[1], r[2], r[3], r[4]) for r in fetch(NO_SUPPLIER))
