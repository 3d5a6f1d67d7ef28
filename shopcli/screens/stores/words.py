"""The rows of the stores in columns, and what is said of the chosen one; narrow pages leave out what can wait."""

from shopcli.columns import cut, pad, shown
from shopcli.marks import exchange_state
from shopcli.present import amount, day, on_shelf, qty
from shopcli.screens.widgets.lines import Line, wrapped
from shopcli.shop.stores_views import (
    CUSTOMER_OWES,
    ExchangeView,
    NeedView,
    OrderLineView,
    OutworkView,
    PurchaseView,
    StockView,
)

WIDE = 100
LEAST = 12
SHELF, SHELF_WIDE = 52, 36
NEED, COMES, OUT, OWES = (
    15,
    31,
    34,
    33,
)  # what the columns between the first and the last take, with their gaps
LAST, CARD, DUE, WHO = 26, 15, 16, 17
WIDEST_FIRST = 48


def _room(width: int, taken: int) -> int:
    return max(LEAST, width - taken)


def _ends(width: int, taken: int, last: int = LAST) -> tuple[int, int]:
    """Return the room of the first column and of the last: on a wide page the last takes what the first leaves."""
    first = min(WIDEST_FIRST, _room(width, taken + last))
    return first, max(last, width - taken - first)


def _cell(text: str, width: int, *, right: bool = False) -> str:
    return pad(cut(text, width), width, right=right) + ("  " if right else " ")


# The shelf -------------------------------------------------------------------------------------------------


def shelf_head(width: int) -> str:
    """Return the names of the shelf's columns."""
    wide = width >= WIDE
    room = min(WIDEST_FIRST, _room(width, SHELF + (SHELF_WIDE if wide else 0)))
    head = f"  {pad('part', room)} {pad('number', 11)} {pad('bin', 8)} {'there':>10}  {'wanted':>7}  {'coming':>7}"
    return head + (f"  {'price':>9}  {pad('supplier', 22)}" if wide else "")


def shelf_line(p: StockView, width: int) -> Line:
    """Return a part as a row; one that is short begins with a mark."""
    wide = width >= WIDE
    room = min(WIDEST_FIRST, _room(width, SHELF + (SHELF_WIDE if wide else 0)))
    there = _cell(on_shelf(p.stock, p.unit), 10, right=True)
    style = "bold $text-warning" if p.low else ""
    line: Line = (
        ("! " if p.low else "  ", style),
        (_cell(p.name, room), ""),
        (_cell(p.number, 11) + _cell(p.bin or "-", 8), ""),
        (there, style),
        (_cell(on_shelf(p.wanted, "") if p.wanted else "", 7, right=True), ""),
        (pad(on_shelf(p.coming, "") if p.coming else "", 7, right=True), ""),
    )
    if not wide:
        return line
    return (*line, ("  " + _cell(amount(p.price), 9, right=True) + _cell(p.supplier or "-", 22), ""))


def shelf_details(p: StockView, width: int, without_tax: str = "without VAT") -> list[Line]:
    """Return what more is known of a part."""
    where = ", ".join(
        filter(None, (f"bin {p.bin}" if p.bin else "no bin", p.supplier or "no supplier known"))
    )
    stock = f"{on_shelf(p.stock, p.unit)} there"
    stock += f", {on_shelf(p.wanted, p.unit)} wanted" if p.wanted else ", none wanted"
    stock += f", {on_shelf(p.coming, p.unit)} coming" if p.coming else ""
    again = f"ordered again at {qty(p.reorder)}" if p.reorder else "not ordered again by itself"
    again += f", in packs of {qty(p.pack)}" if p.pack != 1 else ""
    money = f"Costs {amount(p.cost)}, sells at {amount(p.price)} {without_tax} ({p.vat})"
    money += f", exchange surcharge {amount(p.surcharge)}" if p.surcharge else ""
    money += ", wants its serial number" if p.wants_serial else ""
    counted = f"Counted {day(p.counted)}." if p.counted else "Never counted."
    return [
        ((cut(f"{p.number}  {p.name}", width), "bold"), ("", "")),
        *wrapped(f"{stock}; {again}; {where}.", width),
        *wrapped(f"{money}. {counted}", width, "dim"),
    ]


# To order --------------------------------------------------------------------------------------------------


def need_head(width: int) -> str:
    """Return the names of the order list's columns."""
    return f"  {pad('what', _ends(width, NEED)[0])} {'how many':>11}  for"


def need_line(n: NeedView, width: int) -> Line:
    """Return something to order as a row."""
    what = ", ".join(n.cards) or "the shelf"
    style = "bold" if n.cards else ""
    first, last = _ends(width, NEED)
    return (
        ("  ", ""),
        (_cell(n.name, first), ""),
        (_cell(f"{qty(n.qty)} {n.unit}", 11, right=True), "bold"),
        (cut(what, last), style),
    )


def need_details(n: NeedView, width: int) -> list[Line]:
    """Return why something is to be ordered."""
    why = f"{on_shelf(n.stock, n.unit)} there"
    why += f", {qty(n.coming)} coming" if n.coming else ""
    why += f", ordered again at {qty(n.reorder)}" if n.reorder else ""
    cards = f"For {', '.join(n.cards)}." if n.cards else "For the shelf."
    cost = f" It cost {amount(n.cost)} last." if n.cost else ""
    title = f"{n.number}  {n.name}" if n.number else n.name
    first: Line = ((cut(title, width), "bold"),)
    where = "Enter asks from whom; then it is remembered." if not n.supplier else ""
    return [first, *wrapped(f"{why}. {cards}{cost}" if n.number else f"{cards} {where}", width)]


# Orders ----------------------------------------------------------------------------------------------------


def order_heading(o: PurchaseView, state: str) -> str:
    """Return an order as the heading above its lines."""
    due = f"due {day(o.due)}" if o.due else ""
    return shown(", ".join(filter(None, (o.number, o.supplier.name, state, due, "! late" if o.late else ""))))


def line_head(width: int) -> str:
    """Return the names of the columns of orders."""
    return f"  {pad('part', _ends(width, COMES, CARD)[0])} {'to come':>16}  {pad('due', 10)} for"


def order_line(x: OrderLineView, width: int) -> Line:
    """Return a line of an order as a row."""
    rest = f"{qty(x.rest)} of {qty(x.qty)} {x.unit}" if x.came else f"{qty(x.qty)} {x.unit}"
    late = "bold $text-warning" if x.late else ""
    first, last = _ends(width, COMES, CARD)
    return (
        ("! " if x.late else "  ", late),
        (_cell(x.name, first), ""),
        (_cell(rest, 16, right=True), "bold"),
        (_cell(day(x.due), 10), late),
        (cut(", ".join(x.cards) or "the shelf", last), ""),
    )


def order_details(o: PurchaseView, x: OrderLineView, width: int) -> list[Line]:
    """Return what more is known of a line and its order."""
    ring = f", {o.supplier.phone}" if o.supplier.phone else ""
    account = f", our account {o.supplier.account}" if o.supplier.account else ""
    cards = f"For {', '.join(x.cards)}." if x.cards else "For the shelf."
    where = f" Bin {x.bin}." if x.bin else ""
    title = f"{x.number}  {x.name}" if x.number else x.name
    first: Line = ((cut(title, width), "bold"),)
    sent = f"sent {day(o.sent.date())}" if o.sent else f"drafted {day(o.made.date())} by {o.made_by}"
    return [
        first,
        *wrapped(f"{cards}{where} Expected at {amount(x.cost)} for one.", width),
        *wrapped(f"{o.supplier.name}{ring}{account}; {sent}; worth {amount(o.worth)}.", width, "dim"),
    ]


# Outwork ---------------------------------------------------------------------------------------------------

PLANNED = "Planned by an accepted offer, not sent yet: Enter sends it out, or does without it."


def outwork_head(width: int) -> str:
    """Return the names of the columns of outwork."""
    return f"  {pad('what', _ends(width, OUT, DUE)[0])} {pad('at', 19)} {pad('for', 10)} due"


def outwork_line(o: OutworkView, width: int) -> Line:
    """Return work that is out as a row."""
    style = "bold $text-warning" if o.days_over else ""
    days = "day" if o.days_over == 1 else "days"
    due = f"{o.days_over} {days} over" if o.days_over else day(o.due) if o.sent else "to be sent"
    first, last = _ends(width, OUT, DUE)
    return (
        ("! " if o.days_over else "  ", style),
        (_cell(o.what, first), ""),
        (_cell(o.who, 19), ""),
        (_cell(o.registration, 10), ""),
        (cut(due, last), style),
    )


def outwork_details(o: OutworkView, width: int) -> list[Line]:
    """Return what more is known of work that is out."""
    ring = o.ring or "no telephone known"
    sent = f"sent {day(o.sent)}" if o.sent else "not dated"
    due = f"due {day(o.due)}" if o.due else "no day agreed"
    first: Line = ((cut(o.what, width), "bold"),)
    return [
        first,
        *wrapped(f"At {o.who}, ring {ring}; {sent}, {due}." if o.sent else PLANNED, width),
        *wrapped(
            f"{o.card} {o.registration}, {o.customer}; costs {amount(o.cost)}, sells at {amount(o.price)}.",
            width,
            "dim",
        ),
    ]


# Exchanges -------------------------------------------------------------------------------------------------


def exchange_head(width: int) -> str:
    """Return the names of the columns of exchanges."""
    return f"  {pad('what', _ends(width, OWES, WHO)[0])} {pad('how it stands', 19)} {'sum':>9}  who"


def exchange_line(x: ExchangeView, width: int, *, plain: bool = False) -> Line:
    """Return an old unit, or a part sent back, as a row."""
    owes = x.stands == CUSTOMER_OWES
    first, last = _ends(width, OWES, WHO)
    return (
        ("  ", ""),
        (_cell(x.what, first), ""),
        (_cell(exchange_state(x.stands, plain=plain), 19), "$text-warning" if owes else ""),
        (_cell(amount(x.credit), 9, right=True), ""),
        (cut((f"{x.registration} {x.customer}" if owes else x.supplier) or "-", last), ""),
    )


def exchange_details(x: ExchangeView, width: int) -> list[Line]:
    """Return who owes what, and what the next step is."""
    first: Line = ((cut(x.what, width), "bold"),)
    card = f"{x.card} {x.registration}, {x.customer}{f', {x.phone}' if x.phone else ''}. " if x.card else ""
    supplier = x.supplier or "no supplier known"
    words = {
        "customer owes": f"The old unit is not here since {day(x.since)}: {amount(x.credit)} stands on the bill."
        " Enter: it came.",
        "here": f"The old unit is here since {day(x.since)}. Enter: it goes to {supplier}.",
        "credit to come": f"Sent to {supplier} on {day(x.since)}: {amount(x.credit)} is to come."
        " Enter: the credit came.",
        "credited": f"{supplier} gave {amount(x.credited or x.credit)} on {day(x.since)}.",
    }
    why = f" ({x.reason})" if x.reason else ""
    return [first, *wrapped(f"{card}{words[x.stands]}{why}", width)]
