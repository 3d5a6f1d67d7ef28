"""Offers: made once and never changed, answered once; a yes is an authority, and a card may be opened from it."""

import json
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from sqlmodel import Session, select

from shopcli.cleantext import clean_line, clean_note, required_line
from shopcli.errors import BadInput, Refused
from shopcli.present import day
from shopcli.shop.act import Act, Change
from shopcli.shop.amounts import from_minor, to_minor
from shopcli.shop.bill_items import add_to_bill
from shopcli.shop.billing import buyer, groups_of, notes_of
from shopcli.shop.card_commands import AddTemplates, OpenCard
from shopcli.shop.cards import add_templates, next_number, open_card
from shopcli.shop.common import get, key_of, saved
from shopcli.shop.fetch import fetcher
from shopcli.shop.kept_json import from_json, to_json
from shopcli.shop.money_commands import AddToBill
from shopcli.shop.offer_commands import HOWS, AcceptOffer, DeclineOffer, MakeOffer, OpenFromOffer
from shopcli.shop.offer_paper import About, car_words, offer_number, offer_paper
from shopcli.shop.offer_view import OfferPaper
from shopcli.shop.outwork import plan_outwork
from shopcli.shop.parts import sane_money
from shopcli.shop.past_times import estimator
from shopcli.shop.price_ahead import EXTRA_SIGN, Extra, price
from shopcli.shop.records import Card, CardTemplate, Customer, Offer, OfferAnswer, Task, Vehicle
from shopcli.shop.states import CardState, TaskState
from shopcli.shop.taking_on import CARRIED
from shopcli.shop.work_on_card import work_list

ACCEPTED, DECLINED = "accepted", "declined"
EXTRAS = ("outwork", "sundry", "fee")
MOST_DAYS = 366


def make_offer(session: Session, act: Act, cmd: MakeOffer) -> Change:
    """Make an offer at today's prices, with the next number.

    Raises
    ------
    BadInput
        When no job is named, an extra cannot be read, or it is to hold longer than a year.
    Refused
        When its card is closed or void, or is not this vehicle's.
    BadTemplate, NotFound
        When a job is unknown or does not fit.
    """
    vehicle = get(session, Vehicle, cmd.vehicle_id, "vehicle")
    card = _open_card(session, cmd.card_id) if cmd.card_id is not None else None
    if card is not None and card.vehicle_id != cmd.vehicle_id:
        raise Refused(f"card {card.number} is not of {vehicle.registration}")
    if not cmd.templates and not cmd.extras:
        raise BadInput("an offer for nothing", hint="Name a job, or work that is sent out.")
    if not 0 <= cmd.days <= MOST_DAYS:
        raise BadInput(f"an offer that holds {cmd.days} days", hint=f"Between 1 and {MOST_DAYS}.")
    view = price(
        fetcher(session),
        act.settings,
        work_list(session, act, vehicle, cmd.templates),
        estimator(fetcher(session), act.at),
        vehicle_id=cmd.vehicle_id,
        kind=vehicle.sheet,
        titles={name: t.title for name, t in act.library.templates.items()},
        extras=tuple(_extras(cmd.extras)),
    )
    view = replace(view, notes=(*view.notes, *_not_offered(session, cmd.card_id)))
    customer = get(session, Customer, vehicle.customer_id, "customer")
    number = next_number(session, "offer")
    valid = act.today() + timedelta(days=cmd.days or act.settings.offer_days)
    words = clean_note(cmd.words, name="customer's words") or (card.words if card else "")
    paper = offer_paper(
        act.settings,
        view,
        About(
            number,
            act.today(),
            valid,
            buyer(customer, act.settings),
            card.number if card else "",
            car_words(vehicle.registration, vehicle.make, vehicle.model, vehicle.year),
            _odometer(card, vehicle),
            words,
            groups_of(view.usual.groups, act.settings),
            notes_of(view.lines, act.settings.tax_word),
        ),
    )
    row = saved(
        session,
        Offer(
            number=number,
            vehicle_id=cmd.vehicle_id,
            customer_id=vehicle.customer_id,
            card_id=cmd.card_id,
            templates=json.dumps(cmd.templates),
            words=words,
            made_at=act.at,
            made_by=act.by,
            valid_until=valid.isoformat(),
            usual_min=view.usual_min,
            most_min=view.most_min,
            net_minor=to_minor(view.usual.without_vat),
            vat_minor=to_minor(view.usual.vat),
            gross_minor=to_minor(view.usual.with_vat),
            most_minor=to_minor(view.most.with_vat),
            body=to_json(paper),
        ),
    )
    said = (
        f"Offer {paper.number} made: about {view.usual.with_vat}, at most {view.most.with_vat} {act.settings.with_tax}; holds until {day(valid)}.",
        *view.notes,
    )
    return Change("offer", key_of(row), cmd.card_id, said=said)


def _not_offered(session: Session, card_id: int | None) -> Iterable[str]:
    """Say what was taken on the card from earlier visits: it is of no job, so no offer for jobs has it."""
    if card_id is None:
        return
    of_none = Task.card_id == card_id, Task.template == CARRIED, Task.state == TaskState.OPEN
    titles = session.exec(select(Task.title).where(*of_none).order_by(Task.id)).all()  # type: ignore[arg-type]
    if titles:
        yield f"Not in this price, though on the card: {'; '.join(titles)}."


def _open_card(session: Session, card_id: int) -> Card:
    card = get(session, Card, card_id, "card")
    if card.state in {CardState.CLOSED, CardState.VOID}:
        raise Refused(f"card {card.number} is {card.state}", hint="Make the offer for the vehicle.")
    return card


def _extras(rows: Iterable[tuple[str, int, str]]) -> Iterable[Extra]:
    for what, minor, kind in rows:
        if kind not in EXTRAS:
            raise BadInput(f"'{kind}' is no kind of extra", hint="One of: " + ", ".join(EXTRAS) + ".")
        yield Extra(required_line(what, name="what it is for", limit=120), sane_money(minor, "price"), kind)


def _odometer(card: Card | None, vehicle: Vehicle) -> str:
    return "" if card is None or card.odometer is None else f"{card.odometer:,} {vehicle.distance_unit}"


# Answers ----------------------------------------------------------------------------------------------


def _unanswered(session: Session, offer_id: int) -> Offer:
    offer = get(session, Offer, offer_id, "offer")
    answer = _answer(session, offer_id)
    if answer is not None:
        raise Refused(
            f"offer {offer_number(offer.number)} was {answer.answer} already", hint="Make a new one."
        )
    return offer


def _answer(session: Session, offer_id: int) -> OfferAnswer | None:
    return session.exec(select(OfferAnswer).where(OfferAnswer.offer_id == offer_id)).first()


def _how(text: str) -> str:
    if text not in HOWS:
        raise BadInput(f"an answer by '{clean_line(text)[:20]}'", hint="One of: " + ", ".join(HOWS) + ".")
    return text


def accept_offer(session: Session, act: Act, cmd: AcceptOffer) -> Change:
    """Note that the customer said yes, which is an authority; of more work on a card, put it there.

    Raises
    ------
    Refused
        When it was answered already, holds no longer, or its card is closed.
    BadInput
        When nobody is named, or the sum or the way it came cannot be.
    """
    offer = _unanswered(session, cmd.offer_id)
    if act.today() > date.fromisoformat(offer.valid_until):
        raise Refused(
            f"offer {offer_number(offer.number)} held until {offer.valid_until}",
            hint="Make a new one: prices may have changed.",
        )
    amount = offer.most_minor if cmd.amount_minor is None else sane_money(cmd.amount_minor, "authority")
    answer = OfferAnswer(
        offer_id=cmd.offer_id,
        answer=ACCEPTED,
        said_by=required_line(cmd.said_by, name="name of who said yes", limit=80),
        how=_how(cmd.how),
        amount_minor=amount,
        at=act.at,
        taken_by=act.by,
    )
    saved(session, answer)
    said = [f"Offer {offer_number(offer.number)} accepted by {answer.said_by}: up to {from_minor(amount)}."]
    if offer.card_id is not None:
        said += _more_work(session, act, offer, answer)
    return Change("offer", cmd.offer_id, offer.card_id, said=tuple(said))


def _more_work(session: Session, act: Act, offer: Offer, answer: OfferAnswer) -> Iterable[str]:
    """Put the jobs on the card. Jobs that stand there already were asked about as they are: their sum is the authority."""
    card = _open_card(session, offer.card_id or 0)
    names = tuple(json.loads(offer.templates))
    there = set(session.exec(select(CardTemplate.template).where(CardTemplate.card_id == offer.card_id)))
    new = tuple(name for name in names if name not in there)
    allowed, before = answer.amount_minor or 0, card.authority_minor
    yield from _extras_on(session, act, offer, key_of(card))
    if new:
        yield from add_templates(session, act, AddTemplates(key_of(card), new)).said
    if not new or before is not None:
        card.authority_minor = allowed + (before or 0 if new else 0)
        card.authority_by, card.authority_how, card.authority_at = answer.said_by, answer.how, act.at
        session.add(card)
        yield f"Card {card.number} is authorised up to {from_minor(card.authority_minor)} now."


def _extras_on(session: Session, act: Act, offer: Offer, card_id: int) -> Iterable[str]:
    """Put on a card what the offer has beside its jobs, at the price of the offer: work sent out, sundries, fees."""
    paper = from_json(OfferPaper, offer.body)
    for line in paper.lines:
        if not line.id.startswith(EXTRA_SIGN) or line.kind not in EXTRAS:
            continue
        price = to_minor(line.net)
        vat = "standard" if line.category == "AE" else line.vat  # the card's bill reverses it anew
        if line.kind == "outwork":
            yield plan_outwork(session, act, card_id, line.description, price, vat)
        else:
            command = AddToBill(card_id, line.kind, line.description, price, vat=vat)
            yield from add_to_bill(session, act, command).said


def decline_offer(session: Session, act: Act, cmd: DeclineOffer) -> Change:
    """Note that the customer said no."""
    offer = _unanswered(session, cmd.offer_id)
    answer = OfferAnswer(
        offer_id=cmd.offer_id,
        answer=DECLINED,
        said_by=required_line(cmd.said_by, name="name of who said no", limit=80),
        how=_how(cmd.how),
        reason=clean_line(cmd.reason, limit=400),
        at=act.at,
        taken_by=act.by,
    )
    saved(session, answer)
    said = f"Offer {offer_number(offer.number)} declined by {answer.said_by}."
    return Change("offer", cmd.offer_id, offer.card_id, said=(said,))


def open_from_offer(session: Session, act: Act, cmd: OpenFromOffer) -> Change:
    """Open the card of an accepted offer; its authority is what was accepted.

    Raises
    ------
    Refused
        When it is not accepted, is for a card that is open already, or a card was opened from it.
    """
    offer = get(session, Offer, cmd.offer_id, "offer")
    name, answer = offer_number(offer.number), _answer(session, cmd.offer_id)
    if answer is None or answer.answer != ACCEPTED:
        said = "not answered yet" if answer is None else "declined"
        raise Refused(f"offer {name} is {said}", hint="Note who said yes first.")
    if offer.card_id is not None:
        raise Refused(f"offer {name} is for a card that is open", hint="Its work was put there.")
    before = session.exec(select(Card.number).where(Card.offer_id == cmd.offer_id)).first()
    if before is not None:
        raise Refused(f"card {before} was opened from offer {name}", hint="Go on there.")
    change = open_card(
        session,
        act,
        OpenCard(
            offer.vehicle_id,
            tuple(json.loads(offer.templates)),
            words=cmd.words or offer.words,
            odometer=cmd.odometer,
            left_with=cmd.left_with,
            authority_minor=answer.amount_minor,
            authority_by=answer.said_by,
            promised=cmd.promised,
            take=cmd.take,
            authority_how=answer.how,
            odometer_why=cmd.odometer_why,
        ),
    )
    card = get(session, Card, change.id, "card")
    card.offer_id, card.authority_at = cmd.offer_id, answer.at
    session.add(card)
    session.flush()
    change.said = (*change.said, *_extras_on(session, act, offer, change.id))
    return change
