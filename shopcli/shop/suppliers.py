"""Suppliers: found by their name however it is typed, written down with the first part of theirs, renamed everywhere at once."""

from datetime import date, timedelta

from sqlmodel import Session, func, select

from shopcli.cleantext import clean_line, clean_note, required_line
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.common import get, key_of, saved
from shopcli.shop.meanwhile import settle
from shopcli.shop.records import Part, Supplier
from shopcli.shop.settings import Settings
from shopcli.shop.stock_commands import AddSupplier, ChangeSupplier
from shopcli.shop.workdays import closed_days

MOST_DAYS = 400
LONGEST_WAIT = 3 * MOST_DAYS
NAME_LIMIT = 80


def known_supplier(session: Session, name: str) -> Supplier | None:
    """Return the supplier of that name, any case; None when there is none."""
    return session.exec(select(Supplier).where(func.lower(Supplier.name) == func.lower(name))).first()


def supplier_named(session: Session, name: str) -> Supplier | None:
    """Return the supplier of that name, written down now where nobody was called so; None for no name."""
    text = clean_line(name, limit=NAME_LIMIT)
    if not text:
        return None
    return known_supplier(session, text) or saved(session, Supplier(name=text))


def buy_from(part: Part, supplier: Supplier | None) -> None:
    """Have a part come from a supplier; its name is kept in step."""
    part.supplier_id = None if supplier is None else key_of(supplier)
    part.supplier = "" if supplier is None else supplier.name


def sane_days(days: int) -> int:
    """Return how long a supplier usually takes, 0 for unknown.

    Raises
    ------
    BadInput
        When it is less than nothing or longer than a year.
    """
    if not 0 <= days <= MOST_DAYS:
        raise BadInput(f"{days} days to deliver", hint="0 when it is not known, at most 400.")
    return days


def due_after(settings: Settings, start: date, days: int) -> date:
    """Return the day so many days of the shop's after another; a shop that never opens counts every day.

    Examples
    --------
    >>> due_after(Settings(holidays="none"), date(2026, 11, 26), 2).isoformat()
    '2026-11-30'
    """
    shut, never = closed_days(settings, start), not any(settings.hours)
    day, left = start, days
    while left > 0 and (day - start).days < LONGEST_WAIT:
        day += timedelta(days=1)
        if never or (settings.hours[day.weekday()] is not None and not shut(day)):
            left -= 1
    return day


def add_supplier(session: Session, _act: Act, cmd: AddSupplier) -> Change:
    """Write a supplier down.

    Raises
    ------
    Refused
        When somebody is called so already.
    """
    name = required_line(cmd.name, name="supplier", limit=NAME_LIMIT)
    if known_supplier(session, name):
        raise Refused(f"{name} is already known", hint="Change what is known of them.")
    row = Supplier(
        name=name,
        phone=clean_line(cmd.phone, limit=40),
        email=clean_line(cmd.email, limit=120),
        account=clean_line(cmd.account, limit=40),
        note=clean_note(cmd.note, limit=400),
        usual_days=sane_days(cmd.usual_days),
    )
    return Change("supplier", key_of(saved(session, row)), said=(f"{name} added.",))


def change_supplier(session: Session, act: Act, cmd: ChangeSupplier) -> Change:
    """Change what is known of a supplier; the parts bought there follow another name.

    Raises
    ------
    Refused
        When another supplier is called so.
    Stale
        When another terminal changed it meanwhile.
    """
    row = get(session, Supplier, cmd.supplier_id, "supplier")
    what = row.name
    name = None if cmd.name is None else required_line(cmd.name, name="supplier", limit=NAME_LIMIT)
    other = known_supplier(session, name) if name else None
    if other is not None and other.id != row.id:
        raise Refused(f"{other.name} is another supplier already")
    wanted: dict[str, object] = {
        "name": name,
        "phone": None if cmd.phone is None else clean_line(cmd.phone, limit=40),
        "email": None if cmd.email is None else clean_line(cmd.email, limit=120),
        "account": None if cmd.account is None else clean_line(cmd.account, limit=40),
        "note": None if cmd.note is None else clean_note(cmd.note, limit=400),
        "usual_days": None if cmd.usual_days is None else sane_days(cmd.usual_days),
    }
    changes = {field: value for field, value in wanted.items() if value is not None}
    before = {field: getattr(row, field) for field in changes}
    for field, value in changes.items():
        setattr(row, field, value)
    settle(session, act, cmd, row, before, subject="supplier", what=what)
    changes = {field: getattr(row, field) for field in changes}
    session.add(row)
    if "name" in changes:
        for part in session.exec(select(Part).where(Part.supplier_id == row.id)):
            part.supplier = row.name
            session.add(part)
    return Change("supplier", cmd.supplier_id, before=before, after=changes, said=(f"{row.name} changed.",))
