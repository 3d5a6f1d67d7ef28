"""One terminal that acts at random, and writes down what it meant to do and what was acknowledged.

``python -m tests.trials.worker PLACE ROLE SEED FILE SECONDS``. A line ``? op`` stands in the file before an act is asked
for, ``! op`` after it was acknowledged, ``x op kind`` where it was refused, ``~ op`` where nobody answered; every line is on the disk before the
next step. A fifth of the acknowledged acts is asked for again under the same operation id, as after a lost answer.
"""

import os
import random
import sys
import time
from collections.abc import Callable
from typing import TypeVar

from shopcli.errors import ShopError, StoreTrouble
from shopcli.shop.act import Done
from shopcli.shop.command import Command
from shopcli.shop.commands import (
    AddCustomer,
    AddPart,
    AddToBill,
    ClockOff,
    ClockOn,
    CloseCard,
    CountStock,
    CreditInvoice,
    FinishTask,
    LeaveOut,
    MovePart,
    NoteOnTask,
    OpenCard,
    PartToTask,
    TakePayment,
    TakeReading,
)
from shopcli.store.shop import Shop, open_shop

Choice = Callable[[Shop, random.Random], Command | None]
Made = TypeVar("Made")
MOST_OPEN = 8
LATE_CARDS = 12  # only the newest cards are worked on, so that the terminals meet


def one(shop: Shop, chance: random.Random, sql: str) -> tuple[object, ...] | None:
    rows = shop.fetch(sql)
    return chance.choice(rows) if rows else None


OPEN_TASKS = f"""
SELECT t.id, t.key FROM task t JOIN card c ON c.id = t.card_id
WHERE t.state = 'open' AND c.state IN ('open', 'in hand', 'booked') ORDER BY t.card_id DESC LIMIT {LATE_CARDS * 10}"""
CARDS = f"SELECT id FROM card WHERE state NOT IN ('closed', 'void') ORDER BY id DESC LIMIT {LATE_CARDS}"


def with_task(make: Callable[[int], Command]) -> Choice:
    def choice(shop: Shop, chance: random.Random) -> Command | None:
        row = one(shop, chance, OPEN_TASKS)
        return make(int(str(row[0]))) if row else None

    return choice


def with_card(make: Callable[[int], Command], sql: str = CARDS) -> Choice:
    def choice(shop: Shop, chance: random.Random) -> Command | None:
        row = one(shop, chance, sql)
        return make(int(str(row[0]))) if row else None

    return choice


def wanted_part(shop: Shop, chance: random.Random) -> Command | None:
    row = one(shop, chance, "SELECT id FROM card_part WHERE state = 'wanted' ORDER BY id DESC LIMIT 40")
    return MovePart(int(str(row[0])), chance.choice(("fitted", "not used"))) if row else None


def a_reading(shop: Shop, chance: random.Random) -> Command | None:
    rows = [row for row in shop.fetch(OPEN_TASKS) if str(row[1]).endswith("set-gap")]
    return TakeReading(int(chance.choice(rows)[0]), "points gap|as left", "16 thou") if rows else None


def a_card(shop: Shop, chance: random.Random) -> Command | None:
    if len(shop.fetch(CARDS)) >= MOST_OPEN:
        return None  # they are to be closed as well
    return OpenCard(1, chance.choice(((), ("points",))), odometer=50_000, title="to and fro")


MECHANIC: tuple[Choice, ...] = (
    with_task(ClockOn),
    lambda _shop, _chance: ClockOff(),
    with_task(FinishTask),
    with_task(lambda key: LeaveOut(key, "not on this visit")),
    with_task(lambda key: LeaveOut(key, "the customer says no")),
    with_task(lambda key: NoteOnTask(key, "looked at")),
    a_reading,
    wanted_part,
    wanted_part,
    with_card(lambda key: PartToTask(key, "T-002", None)),
)
DESK: tuple[Choice, ...] = (
    a_card,
    with_card(CloseCard),
    with_card(CloseCard),
    with_card(lambda key: AddToBill(key, "sundry", "Cleaning materials", 1_250)),
    with_card(lambda key: TakePayment(key, 500, "deposit", "cash")),
    with_card(
        lambda key: CreditInvoice(key, "kindness", amount_minor=100, vat="standard"),
        f"SELECT card_id FROM invoice ORDER BY id DESC LIMIT {LATE_CARDS}",
    ),
    lambda _shop, chance: AddCustomer(f"Customer {chance.random():.6f}", "01632 960000"),
)
OWNER: tuple[Choice, ...] = (
    lambda _shop, chance: AddPart(f"N-{chance.random():.9f}", "a new part", 450, stock_milli=5_000),
    lambda _shop, chance: CountStock(((chance.randint(1, 3), chance.randint(1, 90) * 1_000),)),
    *DESK[:3],
)
ROLES = {"mechanic": MECHANIC, "desk": DESK, "owner": OWNER}


class Terminal:
    """Somebody at their keys."""

    def __init__(self, shop: Shop, role: str, seed: int, file: str) -> None:
        self.shop = shop
        self.chance = random.Random(seed)
        self.choices = ROLES[role]
        rows = self.shop.fetch("SELECT id FROM person WHERE role = ? ORDER BY id", (role,))
        self.who = int(rows[seed % len(rows)][0])
        self._said = os.open(file, os.O_WRONLY | os.O_APPEND | os.O_CREAT)
        self._count = 0

    def say(self, text: str) -> None:
        os.write(self._said, f"{text}\n".encode())
        os.fsync(self._said)

    def act(self) -> None:
        command = self.chance.choice(self.choices)(self.shop, self.chance)
        if command is None:
            return
        self._count += 1
        op = f"{os.getpid()}-{time.monotonic_ns()}-{self._count}"
        self.say(f"? {op}")
        try:
            done = self._ask(command, op)
        except StoreTrouble as error:  # out of reach: done or not, nobody was told
            self.say(f"~ {op} {error.message[:80]}")
            return
        except ShopError as error:
            self.say(f"x {op} {type(error).__name__} {error.message[:80]}")
            return
        self.say(f"! {op}")
        if self.chance.random() < 0.2:
            again = self._ask(command, op)
            assert again == done, (again, done)

    def _ask(self, command: Command, op: str) -> Done:
        """Ask, and ask again where the records were out of reach for a moment: the same act, done once."""
        for _ in range(40):
            try:
                return self.shop.do(command, by=self.who, op=op)
            except StoreTrouble:
                time.sleep(0.1)
        return self.shop.do(command, by=self.who, op=op)


def patiently(do: Callable[[], Made]) -> Made:
    """Do what a server that is just starting cannot answer yet, again and again."""
    for _ in range(100):
        try:
            return do()
        except StoreTrouble:
            time.sleep(0.1)
    return do()


def work(place: str, role: str, seed: int, file: str, seconds: float) -> None:
    """Act until the time is over."""
    terminal = patiently(lambda: Terminal(open_shop(place), role, seed, file))
    patiently(terminal.shop.warm)
    print("ready", flush=True)
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        try:
            terminal.act()
        except StoreTrouble:  # what was only looked at
            time.sleep(0.1)


if __name__ == "__main__":
    work(sys.argv[1], sys.argv[2], int(sys.argv[3]), sys.argv[4], float(sys.argv[5]))
