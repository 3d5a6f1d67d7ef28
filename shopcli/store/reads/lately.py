"""The journal looked at from the bench: one's last acts of today, and where a card stands for somebody coming back."""

import json
from datetime import timedelta
from typing import Any

from shopcli.shop.hours import midnight
from shopcli.shop.inverses import FINAL, INVERSES, short
from shopcli.shop.lately import LastAct, LatelyView, NextView, WaitView, WhereView
from shopcli.shop.ordered import Order
from shopcli.shop.touched import from_text
from shopcli.shop.undo_words import CARD_WORDS, effects
from shopcli.shop.views import CardView
from shopcli.store.reads.bench import card
from shopcli.store.reads.orders import in_order, next_for, order
from shopcli.store.reads.times import standing
from shopcli.store.shop import Shop

STANDS = "NOT EXISTS (SELECT 1 FROM journal u WHERE u.undid = j.id)"
MINE = f"""
SELECT j.id, j.act, j.at, j.card_id, j.after, j.answer, j.touched, j.subject, j.subject_id
FROM journal j
WHERE j.person_id = ? AND j.at >= ? AND (j.card_id = ? OR j.act = 'EnterSpec') AND j.undid IS NULL AND {STANDS}
ORDER BY j.id DESC LIMIT ?"""
ON_CARD = f"""
SELECT j.id, j.act, j.at, j.person_id, COALESCE(p.name, ''), j.card_id, j.before, j.after, j.answer
FROM journal j LEFT JOIN person p ON p.id = j.person_id
WHERE (j.card_id = ? OR j.act = 'EnterSpec') AND j.undid IS NULL AND {STANDS} ORDER BY j.id DESC LIMIT ?"""
OUT = "SELECT what, who, due FROM outwork WHERE card_id = ? AND back = '' ORDER BY due, id"
NEWEST = "SELECT MAX(id) FROM journal"
LEFT_OFF = "SELECT MAX(at) FROM journal WHERE person_id = ? AND card_id = ?"
PARTS = frozenset({"PutPart", "MovePart", "PricePart", "AddOutwork", "OutworkBack", "PartArrived", "GoodsIn"})
CARD = frozenset(
    {
        "OpenCard",
        "ChangeCard",
        "MoveCard",
        "AddTemplates",
        "Waive",
        "TakePayment",
        "CloseCard",
        "HandOver",
        "NoteCall",
    }
)
# Who is on what stands in the list of what is in hand; every start and stop beside it would only be noise.
CLOCK = frozenset({"ClockOn", "ClockOff", "GoOnBreak", "EndBreak", "WorkedUntil"})
MOST_ACTS, LAST_SHOWN = 400, 4
# Who goes further back than this does better to look at the task itself.
MOST_BACK = 20


def newest_act(shop: Shop) -> int:
    """Return the number of the last act: where it is the same as before, nothing was done since."""
    return shop.fetch(NEWEST)[0][0] or 0


def _of_vehicle(act: str, after: str, vehicle_id: int) -> bool:
    return act == "EnterSpec" and json.loads(after or "{}").get("vehicle_id") == vehicle_id


def _vehicle_of(shop: Shop, card_id: int) -> int:
    rows = shop.fetch("SELECT vehicle_id FROM card WHERE id = ?", (card_id,))
    return int(rows[0][0]) if rows else 0


def last_acts(shop: Shop, person_id: int, card_id: int) -> tuple[LastAct, ...]:
    """Return what somebody did on a card today and still stands, the last first."""
    today = midnight(shop.local(shop.at()).date(), shop.settings.tz())
    vehicle_id = _vehicle_of(shop, card_id)
    found = []
    for key, act, at, of_card, after, answer, touched, subject, about in shop.fetch(
        MINE, (person_id, today, card_id, MOST_BACK)
    ):
        if of_card != card_id and not _of_vehicle(act, after, vehicle_id):
            continue
        final = FINAL.get(act)
        if final is None and (act not in INVERSES or not touched):
            continue
        found.append(
            LastAct(
                key,
                act,
                short(act),
                shop.local(at),
                tuple(json.loads(answer)),
                effects(shop.fetch, from_text(touched), shop.settings.tz(), shop.at()),
                final.why if final else "",
                final.instead if final else "",
                about if subject == "task" else None,
            )
        )
    return tuple(found)


def left_off(shop: Shop, person_id: int, card_id: int) -> int | None:
    """Return when somebody last did something on a card, in seconds UTC; None when they never did."""
    at = shop.fetch(LEFT_OFF, (person_id, card_id))[0][0]
    return None if at is None else int(at)


def _words(act: str, before: str, after: str, answer: str) -> str:
    if act == "ChangeCard":
        changed = [CARD_WORDS[name] for name in json.loads(before or "{}") if name in CARD_WORDS]
        return f"Changed on the card: {', '.join(changed) or 'nothing'}"
    if act == "NoteOnTask":
        return f"Note: {json.loads(after or '{}').get('note', '')}"
    return " ".join(json.loads(answer)[:2]).rstrip(".") or short(act)


def _lately(shop: Shop, row: tuple[Any, ...]) -> LatelyView:
    _id, act, at, _person_id, person, _card, before, after, answer = row
    kind = "parts" if act in PARTS else "card" if act in CARD else "number" if act == "EnterSpec" else "work"
    return LatelyView(shop.local(at), person, kind, _words(act, before, after, answer))


def _waits(view: CardView, shop: Shop) -> tuple[WaitView, ...]:
    now = shop.local(shop.at())
    found = []
    for task in view.tasks:
        if task.state == "done" and task.done_at is not None and task.task.waits:
            until = task.done_at + timedelta(minutes=task.task.waits)
            if until > now:
                found.append(WaitView(task.task.title, until))
    return tuple(sorted(found, key=lambda w: w.until))


def _next(view: CardView, made: Order, who: str) -> NextView | None:
    task = next_for(view, made, who)
    if task is None:
        return None
    step = task.task
    return NextView(task.id, step.title, step.place, step.minutes, task.barred_by)


def where_was_i(shop: Shop, card_id: int, person_id: int) -> WhereView:
    """Return where a card stands for somebody who comes back to it.

    Raises
    ------
    NotFound
        When there is no such card.
    """
    made = order(shop, card_id)
    view = in_order(card(shop, card_id), made)
    who = next((str(row[0]) for row in shop.fetch("SELECT name FROM person WHERE id = ?", (person_id,))), "")
    rows = [
        row
        for row in shop.fetch(ON_CARD, (card_id, MOST_ACTS))
        if row[5] == card_id or _of_vehicle(row[1], row[7], view.vehicle_id)
    ]
    mine = next((row for row in rows if row[3] == person_id and row[1] not in CLOCK), None)
    since = next((row[0] for row in rows if row[3] == person_id), 0)
    told = [row for row in rows if row[1] not in CLOCK]
    return WhereView(
        card_id=view.id,
        card=view.number,
        registration=view.registration,
        vehicle=view.vehicle,
        title=view.title,
        state=view.state,
        held_for=view.held_for,
        now=shop.local(shop.at()),
        promised=view.promised,
        distance_unit=view.distance_unit,
        in_hand=tuple(s for s in standing(shop) if s.card_id == card_id),
        mine=_lately(shop, mine) if mine else None,
        last=tuple(_lately(shop, row) for row in told[:LAST_SHOWN]),
        meanwhile=tuple(_lately(shop, row) for row in told if row[0] > since and row[3] != person_id),
        tags=view.tags,
        stops=view.stops,
        owed=tuple(o for o in view.owed if o.state == "owed"),
        waits=_waits(view, shop),
        parts=tuple(p for p in view.parts if p.state in {"wanted", "on order"} and not p.optional),
        outwork=tuple(
            (f"{what}, at {who}" if who else f"{what}, to be sent") + (f", back {due}" if due else "")
            for what, who, due in shop.fetch(OUT, (card_id,))
        ),
        settled=sum(t.state != "open" for t in view.tasks),
        tasks=len(view.tasks),
        next=_next(view, made, who),
    )
