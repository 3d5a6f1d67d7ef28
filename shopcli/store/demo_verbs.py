"""What the people of the story do, a verb each: from ``works`` and ``signs`` to ``closes`` and ``takes``."""

from shopcli.errors import BadInput, NotFound
from shopcli.shop.bench_commands import AddFinding, LeaveOut, SecondCheck, SettleFinding, SettleOwed
from shopcli.shop.card_commands import AddTemplates, CloseCard, MoveCard, Waive
from shopcli.shop.clock_commands import ClockOn
from shopcli.shop.counter_commands import HandOver
from shopcli.shop.hindrances import hindrances
from shopcli.shop.money_commands import TakePayment
from shopcli.shop.part_commands import AddOutwork, MovePart, OutworkBack, PutPart
from shopcli.shop.sheet_commands import EnterSpec
from shopcli.store.demo_player import OnCard, Player, Verb
from shopcli.store.demo_story import Line, milli, minor

TO_SIGN = """
SELECT t.id FROM task t WHERE t.card_id = ? AND t.second AND t.state = 'done' AND t.second_by IS NULL
AND t.done_by <> ? AND NOT EXISTS (SELECT 1 FROM clock_entry e WHERE e.task_id = t.id AND e.person_id = ?)
ORDER BY t.position"""
OWED = "SELECT id FROM owed WHERE vehicle_id = ? AND state = 'owed' AND title LIKE ? ORDER BY id"
FOUND = "SELECT id FROM finding WHERE vehicle_id = ? AND state = 'open' AND what LIKE ? ORDER BY id"
HERE = "SELECT 1 FROM card WHERE id = ? AND handed_at IS NULL"
DUE = "SELECT due_minor FROM invoice WHERE card_id = ?"


def _first(player: Player, sql: str, card: OnCard, beginning: str, what: str) -> int:
    rows = player.run.fetch(sql, (player.cast.cars[card.told.car], f"{beginning}%"))
    if not rows:
        raise NotFound(f"the car has no {what} that begins '{beginning}'")
    return int(rows[0][0])


def works(player: Player, card: OnCard, line: Line) -> None:
    """Work at the bench: ``works``, ``works until points:set-gap``, ``works 120`` (minutes at most)."""
    until = line.rest.removeprefix("until ") if line.rest.startswith("until ") else ""
    minutes = int(line.rest) if line.rest.isdigit() else None
    steps = player.planner.stretch(card.bench, line.at, until=until, minutes=minutes)
    if not steps or (until and steps[-1].task.key != until):
        where = f"after {steps[-1].task.key}" if steps else "before it begins"
        raise BadInput(f"the work stops {where}", hint="Begin earlier, or go on another day.")
    player.work(card, line.who, steps)


def clocks(player: Player, card: OnCard, line: Line) -> None:
    """Clock on a task, and leave the clock running."""
    player.do(ClockOn(card.bench.id_of(line.rest)), line.who, line.at)


def signs(player: Player, card: OnCard, line: Line) -> None:
    """Sign every task that wants a second pair of eyes and was done by somebody else."""
    me = player.person(line.who).id
    rows = player.run.fetch(TO_SIGN, (card.id, me, me))
    if not rows:
        raise NotFound("there is nothing to sign")
    for (task_id,) in rows:
        player.do(SecondCheck(task_id), line.who, line.at)


def leaves(player: Player, card: OnCard, line: Line) -> None:
    """Leave a task out: ``leaves KEY | reason``."""
    key = line.part(0)
    card.bench.claimed.add(key)
    player.do(LeaveOut(card.bench.id_of(key), line.part(1)), line.who, line.at)


def adds(player: Player, card: OnCard, line: Line) -> None:
    """Put further jobs on the card: ``adds drive-belt``."""
    player.do(AddTemplates(card.id, tuple(line.rest.split())), line.who, line.at)
    player.look_again(card)


def finds(player: Player, card: OnCard, line: Line) -> None:
    """Write down a finding: ``finds soon | place | what | what it takes``."""
    severity, place, what = (line.part(i) for i in range(3))
    player.do(AddFinding(card.id, place, what, severity, line.part(3)), line.who, line.at)


def mends(player: Player, card: OnCard, line: Line) -> None:
    """Say a finding was done, by how it begins."""
    player.do(SettleFinding(_first(player, FOUND, card, line.rest, "finding"), "done"), line.who, line.at)


def declines(player: Player, card: OnCard, line: Line) -> None:
    """Say the customer declined a finding: ``declines hose | their words``."""
    key = _first(player, FOUND, card, line.part(0), "finding")
    player.do(SettleFinding(key, "declined", line.part(1)), line.who, line.at)


def settles(player: Player, card: OnCard, line: Line) -> None:
    """Settle a check promised at an earlier visit: ``settles Wheel nuts | how``."""
    key = _first(player, OWED, card, line.part(0), "promised check")
    player.do(SettleOwed(key, "done", line.part(1)), line.who, line.at)


def waives(player: Player, card: OnCard, line: Line) -> None:
    """Set a hindrance aside by the beginning of its key: ``waives reading | reason``."""
    settings, at = player.settings, int(line.at.timestamp())
    for hindrance in hindrances(player.run.fetch, card.id, settings, at):
        if hindrance.key.startswith(line.part(0)):
            player.do(Waive(card.id, hindrance.key, line.part(1)), line.who, line.at)
            return
    raise NotFound(f"nothing called '{line.part(0)}' hinders the card")


def confirms(player: Player, card: OnCard, line: Line) -> None:
    """Confirm a number of common practice for the car: ``confirms oil_fill | document | page``."""
    name, document, page = (line.part(i) for i in range(3))
    car = player.cast.cars[card.told.car]
    player.do(EnterSpec(car, name, document=document, page=page, confirm=True), line.who, line.at)


def fits(player: Player, card: OnCard, line: Line) -> None:
    """Fit a part beside the kit: ``fits TL-2008 | 1``, or ``fits what | 1 | cost | price`` bought in."""
    number, qty = line.part(0), milli(line.part(1) or "1")
    if number in player.cast.parts:
        command = PutPart(card.id, player.cast.parts[number], qty_milli=qty)
    elif line.part(2) == "own":
        command = PutPart(card.id, description=number, qty_milli=qty, customers_own=True)
    else:
        cost, price = minor(line.part(2)), line.part(3)
        command = PutPart(
            card.id,
            description=number,
            qty_milli=qty,
            cost_minor=cost,
            price_minor=minor(price) if price else None,
        )
    key = player.do(command, line.who, line.at).id
    player.do(MovePart(key, "fitted"), line.who, line.at)


def orders(player: Player, card: OnCard, line: Line) -> None:
    """Order a part of the kit by its name."""
    if line.rest not in card.lines:
        raise NotFound(f"the card wants no '{line.rest}'", hint=", ".join(card.lines))
    player.do(MovePart(card.lines[line.rest][0], "on order"), line.who, line.at)


def sends(player: Player, card: OnCard, line: Line) -> None:
    """Send work out: ``sends what | firm | cost | price | working days until it is due``."""
    what, firm, cost, price = (line.part(i) for i in range(4))
    due = player.days.day(int(line.part(4))).isoformat()
    command = AddOutwork(card.id, what, firm, minor(cost), minor(price), due=due)
    card.outwork.append(player.do(command, line.who, line.at).id)


def fetches(player: Player, card: OnCard, line: Line) -> None:
    """Fetch the oldest outwork back, perhaps at another price: ``fetches cost | price``."""
    cost, price = (minor(line.part(i)) if line.part(i) else None for i in range(2))
    player.do(OutworkBack(card.outwork.pop(0), "", cost, price), line.who, line.at)


def _moves(state: str) -> Verb:
    def move(player: Player, card: OnCard, line: Line) -> None:
        player.do(MoveCard(card.id, state, line.rest), line.who, line.at)

    return move


def closes(player: Player, card: OnCard, line: Line) -> None:
    """Close the card; the invoice is issued with it."""
    player.do(CloseCard(card.id), line.who, line.at)


def takes(player: Player, card: OnCard, line: Line) -> None:
    """Take money: ``takes 100 | card`` is a deposit while the card is open; ``takes all | cash`` what is due.

    Who pays an invoice has come to fetch the car.
    """
    invoice = player.run.fetch(DUE, (card.id,))
    amount = int(invoice[0][0]) if line.part(0) == "all" else minor(line.part(0))
    kind = "payment" if invoice else "deposit"
    player.do(TakePayment(card.id, amount, kind, line.part(1) or "cash"), line.who, line.at)
    if invoice and player.run.fetch(HERE, (card.id,)):
        player.do(HandOver(card.id), line.who, line.at)


VERBS: dict[str, Verb] = {
    "works": works,
    "clocks": clocks,
    "signs": signs,
    "leaves": leaves,
    "adds": adds,
    "finds": finds,
    "mends": mends,
    "declines": declines,
    "settles": settles,
    "waives": waives,
    "confirms": confirms,
    "fits": fits,
    "orders": orders,
    "sends": sends,
    "fetches": fetches,
    "holds": _moves("held"),
    "resumes": _moves("in hand"),
    "checks": _moves("checked"),
    "voids": _moves("void"),
    "closes": closes,
    "takes": takes,
}
