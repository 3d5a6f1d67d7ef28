"""Many terminals that close cards at once, each a process of its own; now and then one loses its connection half-way.

Started as a program it opens the same records in as many processes as asked, each with cards of its own to close and
credit. A fifth of the times everything is taken back after the document had its number; it is issued at the next try.
"""

import importlib
import os
import random
import sys
from dataclasses import dataclass

from shopcli.errors import StoreTrouble
from shopcli.shop.command import Command
from shopcli.shop.commands import (
    AddCustomer,
    AddOutwork,
    AddVehicle,
    CloseCard,
    CreditInvoice,
    OpenCard,
    OutworkBack,
)
from shopcli.store.shop import Shop, open_shop
from shopcli.worklists.load import load_library

NEEDED = (
    *(
        f"shopcli.shop.{name}"
        for name in ("closing", "credits", "cards", "customers", "outwork", "people", "journal")
    ),
    "shopcli.store.migrations.run",
    "sqlalchemy.dialects.sqlite.pysqlite",
    "sqlalchemy.dialects.postgresql.psycopg",
)
LOST = 0.2
PATIENCE = 40


class LineLostError(Exception):
    """The connection went, after the number was given and before anything was kept."""


@dataclass
class Told:
    """What a process did."""

    issued: int = 0
    lost: int = 0
    waited: int = 0


def patiently(told: Told, act: object) -> None:
    """Do something as somebody does who is told that another terminal is writing: again."""
    for _ in range(PATIENCE):
        try:
            return act()  # type: ignore[operator]
        except StoreTrouble:
            told.waited += 1
    raise AssertionError("nobody would wait that often")


def card_to_close(shop: Shop, name: str) -> int:
    """Open a card with something on its bill, ready to be closed."""
    with shop.many() as run:
        customer = run.do(AddCustomer(f"Customer {name}"), by=1).id
        vehicle = run.do(AddVehicle(customer, name, "Lark"), by=1).id
        card = run.do(OpenCard(vehicle, (), title="Skim the drums", odometer=1), by=1).id
        outwork = run.do(AddOutwork(card, "Skim the drums", "Fell & Co", price_minor=8650), by=1).id
        run.do(OutworkBack(outwork, ""), by=1)
    return card


def once(shop: Shop, command: Command, *, lost: bool) -> None:
    """Carry out an act that gives a number; when the line is lost everything is as before."""
    with shop.many() as run:
        run.do(command, by=1)
        if lost:
            raise LineLostError


def give_number(shop: Shop, command: Command, chance: random.Random, told: Told) -> None:
    """Carry it out, and again as often as the line is lost."""
    while chance.random() < LOST:
        try:
            patiently(told, lambda: once(shop, command, lost=True))
        except LineLostError:
            told.lost += 1
    patiently(told, lambda: once(shop, command, lost=False))


def issue(url: str, which: int, count: int, library: object) -> Told:
    """Close so many cards of this process's own, and credit every other one."""
    chance, told = random.Random(which), Told()
    made: list[Shop] = []
    patiently(told, lambda: made.append(open_shop(url)))
    (shop,) = made
    shop.library = library  # type: ignore[assignment]
    for n in range(count):
        cards: list[int] = []
        patiently(told, lambda n=n, cards=cards: cards.append(card_to_close(shop, f"W{which} {n}")))
        give_number(shop, CloseCard(cards[0]), chance, told)
        if n % 2:
            give_number(shop, CreditInvoice(cards[0], "not skimmed after all"), chance, told)
        told.issued += 1
    shop.close()
    return told


def main(url: str, processes: int, count: int) -> int:
    """Start the processes, wait for them, and print what each did."""
    library = load_library()
    for needed in NEEDED:  # once, not in every process
        importlib.import_module(needed)
    children = []
    for which in range(processes):
        child = os.fork()
        if child == 0:
            told = issue(url, which, count, library)
            print(told.issued, told.lost, told.waited, flush=True)
            os._exit(0)
        children.append(child)
    return max(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3])))
