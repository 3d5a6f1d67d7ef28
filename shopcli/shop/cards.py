"""Cards: opened with an expanded work list, added to, moved from state to state."""

from collections.abc import Iterable, Mapping

from sqlmodel import Session, select

from shopcli.cleantext import clean_line, clean_note
from shopcli.errors import BadInput, Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.card_commands import AddTemplates, ChangeCard, MoveCard, OpenCard
from shopcli.shop.common import get, key_of, open_for_work, reason_given, saved
from shopcli.shop.fetch import fetcher
from shopcli.shop.meanwhile import settle
from shopcli.shop.odometers import see_odometer
from shopcli.shop.parts import iso_date, sane_money
from shopcli.shop.records import Card, CardPart, Counter, Vehicle
from shopcli.shop.states import CARD_MOVES, CardState, move
from shopcli.shop.taking_on import left_for, taken_titles, with_left
from shopcli.shop.work_on_card import put_on, work_list


def next_number(session: Session, name: str) -> int:
    """Return the next number of a counter; a rolled back transaction gives it back."""
    counter = session.get(Counter, name, with_for_update=True) or Counter(name=name, value=0)
    counter.value += 1
    session.add(counter)
    session.flush()
    return counter.value


def open_card(session: Session, act: Act, cmd: OpenCard) -> Change:
    """Open a card for a vehicle.

    Raises
    ------
    BadInput
        On an impossible odometer, date or sum.
    RunsBackwards
        When the odometer showed more before and nobody says why.
    BadTemplate, NotFound, Refused
        When a template is unknown or does not apply to the vehicle, jobs cannot share a card, or what is to be
        taken on is not there to take.
    """
    vehicle = get(session, Vehicle, cmd.vehicle_id, "vehicle")
    left = left_for(session, act, vehicle, cmd.take)
    names = tuple(dict.fromkeys((*cmd.templates, *left.templates)))
    work = with_left(session, act, vehicle, work_list(session, act, vehicle, names), left)
    called = (*_titles(act, names), *taken_titles(left))
    title = clean_line(cmd.title) or ", ".join(called) or "To be looked at"
    authority = None if cmd.authority_minor is None else sane_money(cmd.authority_minor, "authority")
    odometer, backwards = see_odometer(fetcher(session), cmd.vehicle_id, cmd.odometer, cmd.odometer_why)
    card = saved(
        session,
        Card(
            number=clean_line(cmd.number, limit=20) or f"J{next_number(session, 'card'):05d}",
            vehicle_id=cmd.vehicle_id,
            customer_id=vehicle.customer_id,
            state=CardState.BOOKED,
            title=title,
            words=clean_note(cmd.words, name="customer's words"),
            left_with=clean_note(cmd.left_with, limit=400),
            car_keys=clean_line(cmd.car_keys, name="keys"),
            fuel=clean_line(cmd.fuel, name="fuel", limit=60),
            damage=clean_note(cmd.damage, name="damage", limit=400),
            odometer=odometer,
            authority_minor=authority,
            authority_by=clean_line(cmd.authority_by),
            authority_how=clean_line(cmd.authority_how, limit=40),
            authority_at=None if authority is None else act.at,
            promised=iso_date(cmd.promised, "promise date"),
            opened_at=act.at,
            opened_by=act.by,
        ),
    )
    card.expected_minutes, said = put_on(session, act, card, work)
    session.add(card)
    after = {"odometer_why": " ".join(backwards)} if backwards else {}
    return Change(
        "card", key_of(card), card.id, after=after, said=(f"Card {card.number} opened.", *backwards, *said)
    )


def _titles(act: Act, names: Iterable[str]) -> list[str]:
    return [act.library.templates[name].title for name in names if name in act.library.templates]


def add_templates(session: Session, act: Act, cmd: AddTemplates) -> Change:
    """Expand further templates onto an open card: shared steps still open become one, nothing is put on twice."""
    card = open_for_work(session, cmd.card_id)
    vehicle = get(session, Vehicle, card.vehicle_id, "vehicle")
    work = work_list(session, act, vehicle, cmd.templates, card)
    minutes, said = put_on(session, act, card, work)
    card.expected_minutes += minutes
    session.add(card)
    titles = ", ".join(_titles(act, cmd.templates))
    return Change("card", cmd.card_id, cmd.card_id, said=(f"Added: {titles} ({minutes} min).", *said))


def change_card(session: Session, act: Act, cmd: ChangeCard) -> Change:
    """Change what the desk wrote on a card."""
    card = get(session, Card, cmd.card_id, "card")
    if card.state in {CardState.CLOSED, CardState.VOID}:
        raise Refused(f"card {card.number} is {card.state}")
    odometer, backwards = see_odometer(
        fetcher(session), card.vehicle_id, cmd.odometer, cmd.odometer_why, card_id=cmd.card_id
    )
    wanted: Mapping[str, object] = {
        "words": None if cmd.words is None else clean_note(cmd.words),
        "title": None if cmd.title is None else clean_line(cmd.title),
        "odometer": odometer,
        "left_with": None if cmd.left_with is None else clean_note(cmd.left_with, limit=400),
        "authority_minor": None
        if cmd.authority_minor is None
        else sane_money(cmd.authority_minor, "authority"),
        "authority_by": None if cmd.authority_by is None else clean_line(cmd.authority_by),
        "promised": None if cmd.promised is None else iso_date(cmd.promised, "promise date"),
        "authority_how": None if cmd.authority_how is None else clean_line(cmd.authority_how, limit=40),
        "authority_at": None if cmd.authority_minor is None else act.at,
        "car_keys": None if cmd.car_keys is None else clean_line(cmd.car_keys, name="keys"),
        "fuel": None if cmd.fuel is None else clean_line(cmd.fuel, name="fuel", limit=60),
        "damage": None if cmd.damage is None else clean_note(cmd.damage, name="damage", limit=400),
    }
    changes = {name: value for name, value in wanted.items() if value is not None}
    before = {name: getattr(card, name) for name in changes}
    for name, value in changes.items():
        setattr(card, name, value)
    settle(session, act, cmd, card, before, subject="card", what=f"card {card.number}")
    session.add(card)
    changes = {name: getattr(card, name) for name in changes}
    after = {**changes, "odometer_why": " ".join(backwards)} if backwards else changes
    said = (f"Card {card.number} changed.", *backwards)
    return Change("card", cmd.card_id, cmd.card_id, before, after, said)


def move_card(session: Session, act: Act, cmd: MoveCard) -> Change:
    """Move a card to another state; holding and voiding need a reason, checking an empty closing check."""
    card = get(session, Card, cmd.card_id, "card")
    if cmd.state not in set(CardState):
        raise BadInput(f"'{cmd.state}' is no state of a card", hint="One of: " + ", ".join(CardState) + ".")
    before, then = CardState(card.state), CardState(cmd.state)
    if then is CardState.CLOSED:
        raise Refused("a card is closed through the closing check", hint="Use close.")
    move(f"card {card.number}", CARD_MOVES, before, then)
    reason = reason_given(cmd.reason, f"'{then}'") if then in {CardState.HELD, CardState.VOID} else ""
    if then is CardState.VOID:
        _see_nothing_on_it(session, card)
    if then is CardState.CHECKED:
        from shopcli.shop.closing import see_nothing_hinders

        see_nothing_hinders(session, act, card)
        card.checked_at, card.checked_by = act.at, act.by
    card.state, card.held_for = then, reason
    card.waits_for_parts = then is CardState.HELD and cmd.for_parts
    session.add(card)
    said = f"Card {card.number}: {then}{f' ({reason})' if reason else ''}."
    return Change(
        "card",
        cmd.card_id,
        cmd.card_id,
        {"state": str(before)},
        {"state": str(then), "reason": reason},
        (said,),
    )


def _see_nothing_on_it(session: Session, card: Card) -> None:
    from shopcli.shop.records import ClockEntry
    from shopcli.shop.tags import hanging

    worked = session.exec(select(ClockEntry.id).where(ClockEntry.card_id == card.id)).first()
    tags = [t.name for t in hanging(session, card.vehicle_id) if t.card_id == card.id]
    fitted = select(CardPart.id).where(CardPart.card_id == card.id, CardPart.state == "fitted")
    if worked or tags or session.exec(fitted).first():
        raise Refused(
            f"work was done on card {card.number}; it cannot be voided",
            hint="Finish it and close it instead.",
        )
