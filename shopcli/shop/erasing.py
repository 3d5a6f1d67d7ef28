"""Erasing a customer: who they were leaves the records, what was done to their cars and what the law has kept stays.

Invoices, credit notes and payments stay whole: they have to be kept for years, with the name and address that is on them.
The vehicles stay with their technical history under a name that says nothing. The journal and offers lose the words and
keep everything else: who did what when, sums and numbers; which rows lost words is written down (`ErasedRow`), the words
themselves and their digests are not, since a short text is found from its digest by trying.
"""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import String, Table, or_, select, update
from sqlmodel import AutoString, Session, SQLModel

from shopcli.errors import Refused
from shopcli.shop.act import Act, Change
from shopcli.shop.balance import balance
from shopcli.shop.common import get, key_of, reason_given, saved
from shopcli.shop.erasing_commands import EraseCustomer
from shopcli.shop.erasing_known import JOURNAL_THEIRS, PERSONAL, formerly, lines, said_words, theirs_now, who
from shopcli.shop.erasing_words import ERASED, Taking, telling, tokens
from shopcli.shop.fetch import fetcher
from shopcli.shop.records import Customer, ErasedRow, Erasure
from shopcli.shop.states import CardState

# Left whole: kept by law, or nobody's words but the shop's own. The journal and offers have ways of their own.
BY_LAW = frozenset({"invoice", "credit_note", "payment"})
OURS = frozenset({"stock_move", "price_change", "counter", "pin", "person", "erasure", "erased_row"})
LEFT = BY_LAW | OURS | {"journal", "offer"}
JOURNAL_WORDS = ("before", "after", "answer", "touched", "asked")
# Under these names an act of a card, a call or an offer keeps what a person said or is called.
SAID = frozenset(name for table, names in PERSONAL.items() if table != "customer" for name in names) - {
    "reason",
    "note",
}
SAID_TOO = SAID | {"to", "phone", "email", "address"}


def erase_customer(session: Session, act: Act, cmd: EraseCustomer) -> Change:
    """Erase who a customer is, for good.

    Raises
    ------
    BadInput
        When no reason is given.
    Refused
        When they are erased already, a card of theirs is open, or money is owed either way.
    """
    customer = get(session, Customer, cmd.customer_id, "customer")
    if customer.name == ERASED:
        raise Refused("this customer is erased already")
    reason = reason_given(cmd.reason, "erasing a customer")
    cards = fetcher(session)(
        "SELECT id, number, state FROM card WHERE customer_id = ? ORDER BY id", (cmd.customer_id,)
    )
    _see_settled(session, cards)
    theirs, shop_s = theirs_now(session, cmd.customer_id), {act.settings.shop_name, *act.settings.address}
    names, words = formerly(session, cmd.customer_id)
    everywhere = telling([*who(theirs), *names], but=shop_s)
    here = telling([*everywhere, *lines(theirs), *said_words(theirs), *words], but=shop_s)
    erasure = saved(
        session,
        Erasure(customer_id=cmd.customer_id, at=act.at, erased_by=act.by, reason=Taking(here).plain(reason)),
    )
    counted = _in_journal(session, key_of(erasure), cmd.customer_id, Taking(here), everywhere)
    counted += _in_offers(session, key_of(erasure), cmd.customer_id, Taking(here), everywhere)
    _in_their_rows(session, theirs)
    _elsewhere(session, everywhere)
    session.expire_all()
    said = (
        "Erased: name, address, how to reach them, plates and what they said; for good.",
        f"{len(cards)} cards stay with their work; {counted} rows of journal and offers lost the words.",
        *_kept(session, cards),
    )
    return Change("customer", cmd.customer_id, after={"reason": erasure.reason}, said=said)


def _see_settled(session: Session, cards: Iterable[tuple[Any, ...]]) -> None:
    for key, number, state in cards:
        if state not in {CardState.CLOSED, CardState.VOID}:
            raise Refused(f"card {number} is {state}", hint="Close it or void it first.")
        due = balance(fetcher(session), key).due
        if due:
            owes = f"{due} is still to be paid" if due > 0 else f"{-due} is still the customer's"
            raise Refused(f"on card {number} {owes}", hint="Settle it first.")


def _table(name: str) -> Table:
    return SQLModel.metadata.tables[name]


def _in_their_rows(session: Session, theirs: Mapping[str, list[dict[str, Any]]]) -> None:
    for name, rows in theirs.items():
        table = _table(name)
        for row in rows:
            left = _left_of(name, row)
            if "version" in table.c:  # a form that is open elsewhere is refused, and writes nothing back
                left["version"] = table.c.version + 1
            session.execute(update(table).where(table.c.id == row["id"]).values(left))


def _left_of(table: str, row: Mapping[str, Any]) -> dict[str, Any]:
    """Return what stands in a row's columns of words afterwards."""
    if table == "customer":
        return {**dict.fromkeys(PERSONAL[table], ""), "name": ERASED, "reverse_charge": False}
    if table == "vehicle":
        return {**dict.fromkeys(PERSONAL[table], ""), "registration": f"{ERASED.upper()} {row['id']}"}
    return {column: ERASED if row[column] else "" for column in PERSONAL[table]}


def _texts(table: Table) -> list[Any]:
    return [column for column in table.c if isinstance(column.type, (String, AutoString))]


def _holding(columns: Iterable[Any], words: Iterable[str]) -> Any:
    """Return SQL for rows that may hold one of the words: a part of it somewhere, whatever its capitals."""
    listed = list(words)
    return or_(*(c.icontains(t, autoescape=True) for c in columns for word in listed for t in tokens(word)))


def _elsewhere(session: Session, words: tuple[str, ...]) -> None:
    """Take the words out of every other text: a customer may be named in a note on anybody's card."""
    taking = Taking(words)
    for name, table in SQLModel.metadata.tables.items():
        columns = _texts(table)
        if not words or name in LEFT or not columns or "id" not in table.c:
            continue
        for row in session.execute(select(table.c.id, *columns).where(_holding(columns, words))).all():
            had = dict(zip((c.name for c in columns), row[1:], strict=True))
            has = {key: taking.text(text) for key, text in had.items() if text}
            changed: dict[str, Any] = {key: text for key, text in has.items() if text != had[key]}
            if not changed:
                continue
            if "version" in table.c:
                changed["version"] = table.c.version + 1
            session.execute(update(table).where(table.c.id == row[0]).values(changed))


def _in_journal(
    session: Session, erasure: int, customer_id: int, here: Taking, everywhere: tuple[str, ...]
) -> int:
    table, anywhere = _table("journal"), Taking(everywhere)
    columns = [table.c[name] for name in JOURNAL_WORDS]
    theirs = {row[0] for row in fetcher(session)(JOURNAL_THEIRS, (customer_id,) * 5)}
    found = {row[0] for row in session.execute(select(table.c.id).where(_holding(columns, everywhere)))}
    counted = 0
    for key in sorted(theirs | found):
        row = session.execute(select(table.c.subject, *columns).where(table.c.id == key)).one()
        had = dict(zip(JOURNAL_WORDS, row[1:], strict=True))
        names = (
            () if key not in theirs else SAID_TOO | set(PERSONAL["customer"] if row[0] == "customer" else ())
        )
        taking = here if key in theirs else anywhere
        has = {name: taking.text(text, names) for name, text in had.items() if name != "touched"}
        has["touched"] = taking.touched(had["touched"], PERSONAL if key in theirs else {})
        counted += _change_fixed(session, erasure, "journal", key, had, has)
    return counted


def _in_offers(
    session: Session, erasure: int, customer_id: int, here: Taking, everywhere: tuple[str, ...]
) -> int:
    table = _table("offer")
    columns = (table.c.words, table.c.body)
    counted = 0
    for key, whose, words, body in session.execute(
        select(table.c.id, table.c.customer_id, *columns).where(
            or_(table.c.customer_id == customer_id, _holding(columns, everywhere))
        )
    ).all():
        had = {"words": words, "body": body}
        if whose != customer_id:
            has = {name: Taking(everywhere).text(text) for name, text in had.items()}
        else:
            read = json.loads(body)
            buyer = read.get("buyer", {})
            blank = {
                n: "" if isinstance(v, str) else [] if isinstance(v, list) else v for n, v in buyer.items()
            }
            read["buyer"] = {**blank, "name": ERASED, "country": buyer.get("country", "")}
            text = here.text(json.dumps(read, ensure_ascii=False, sort_keys=True), {"words"})
            has = {"words": ERASED if words else "", "body": text}
        counted += _change_fixed(session, erasure, "offer", key, had, has)
    return counted


def _change_fixed(
    session: Session,
    erasure: int,
    name: str,
    key: int,
    had: Mapping[str, str],
    has: Mapping[str, str],
) -> int:
    """Write down what is to stand in a row of a fixed table, and have it stand there; 0 where nothing changes."""
    if has == had:
        return 0
    told = json.dumps(has, ensure_ascii=True, sort_keys=True)
    saved(session, ErasedRow(erasure_id=erasure, in_table=name, row_id=key, told=told))
    table = _table(name)
    session.execute(update(table).where(table.c.id == key).values(dict(has)))
    return 1


def _kept(session: Session, cards: Iterable[tuple[Any, ...]]) -> Iterable[str]:
    """Say what still holds the name because it has to be kept, and what else to look at."""
    listed = [str(key) for key, _number, _state in cards]
    for table, words in (("invoice", "Invoices"), ("credit_note", "Credit notes")):
        rows = (
            fetcher(session)(
                f"SELECT number FROM {table} WHERE card_id IN ({', '.join(listed)}) ORDER BY number"
            )
            if listed
            else []
        )
        if rows:
            numbers = ", ".join(str(number) for (number,) in rows)
            yield f"{words} {numbers} stay whole: they have to be kept, with the name that is on them."
    photos = fetcher(session)(f"SELECT COUNT(*) FROM photo WHERE card_id IN ({', '.join(listed) or 'NULL'})")[
        0
    ][0]
    if photos:
        yield f"{photos} photos stay in the shop's folder: look whether a plate or a face is on one."
