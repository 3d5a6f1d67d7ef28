"""A chain of shops on one distributed engine, played on paper: what each node would have to carry.

``python -m tests.trials chain [SHOPS [ACTS]]``, acts of a mechanic's day where others are wanted than measured. What an act and a look cost is measured on a real file of the invented shop;
how many mechanics a shop has, when they act and on which node a shop lies is drawn by lot. A shop's rows lie together, kept on
three nodes of which one answers; every terminal of a shop looks again after each act there.
"""

import random
import statistics
import sys
import tempfile
from bisect import bisect
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from pathlib import Path

from shopcli.shop.commands import TakeReading
from shopcli.store.demo import demo_shop
from shopcli.store.reads import bench
from shopcli.store.reads.open_cards import open_cards
from shopcli.store.shop import Shop
from tests.speed.work import GAP, full_card

SHOPS, COPIES, SEED = 1_000, 3, 20261126
NODES = (3, 5, 9, 15)
ACTS, DAYS = 200, 230  # acts measured; working days a year (common practice, no source)
MINUTES = 600  # ten hours of a working day
DESKS = 2  # terminals beside the mechanics': the desk's and the owner's
# How busy each hour is against the mean: clocks on at eight, off at five (common practice, no source).
HOURS = (2.2, 1.2, 1.0, 0.9, 0.5, 0.8, 0.9, 0.9, 1.1, 0.5)
MECHANICS = ((1, 30), (2, 30), (3, 18), (4, 10), (6, 8), (10, 4))  # how many, of a hundred shops
ZONES = (0, 60, 120)  # minutes by which the day begins earlier in the east


@dataclass(frozen=True, slots=True)
class Costs:
    """What was measured on one shop."""

    acts_a_day: float  # of one mechanic
    bytes_an_act: float
    statements_an_act: float
    statements_a_look: float


def measured() -> Costs:
    """Measure on a real file."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "demo.db"
        shop = demo_shop(str(file))
        a_day = statistics.mean(
            count
            for (count,) in shop.fetch(
                "SELECT COUNT(*) FROM journal j JOIN person p ON p.id = j.person_id WHERE p.role = 'mechanic' "
                "GROUP BY j.person_id, j.at / 86400"
            )
        )
        card = full_card(shop)
        task = next(t.id for t in bench.card(shop, card).tasks if t.task.key.endswith(GAP[0]))
        who = shop.fetch("SELECT id FROM person WHERE role = 'mechanic' ORDER BY id")[0][0]
        said = _counted(shop)
        before = _size(shop)
        for _ in range(ACTS):
            shop.do(TakeReading(task, *GAP[1:]), by=who)
        found = Costs(a_day, (_size(shop) - before) / ACTS, said["act"] / ACTS, _looked(shop, card))
        shop.close()
    return found


def _size(shop: Shop) -> int:
    pages, size = shop.fetch("SELECT page_count, page_size FROM pragma_page_count, pragma_page_size")[0]
    return int(pages) * int(size)


def _counted(shop: Shop) -> Counter[str]:
    from sqlalchemy import event

    said: Counter[str] = Counter()
    event.listen(shop.engine, "before_cursor_execute", lambda *_told: said.update(["act"]))
    return said


def _looked(shop: Shop, card: int) -> float:
    """Return the statements of a look at a card and at the list, the mean of both."""
    said: list[str] = []
    shop.reader.fetch("SELECT 1")
    connection = shop.reader._local.held[0]
    connection.set_trace_callback(said.append)
    bench.card(shop, card)
    open_cards(shop)
    connection.set_trace_callback(None)
    return len(said) / 2


@dataclass(frozen=True, slots=True)
class Load:
    """What the busiest node carries in the busiest minute, a second; what each keeps of a year."""

    nodes: int
    acts: float
    statements: float
    mean: float
    written: float
    one_lost: float
    kept_gb: float


def played(costs: Costs, shops: int, nodes: int, seed: int = SEED) -> Load:
    """Play one day of a chain and return what its nodes carry."""
    lot = random.Random(seed)
    hands = [_drawn(lot) for _ in range(shops)]
    places = [lot.sample(range(nodes), COPIES) for _ in range(shops)]
    asked, forced, spare = ([[0.0] * (MINUTES + max(ZONES)) for _ in range(nodes)] for _ in range(3))
    lost, total = 0, 0
    for mechanics, place in zip(hands, places, strict=True):
        late = lot.choice(ZONES)
        looks = costs.statements_a_look * (mechanics + DESKS)
        acts = _poisson(lot, costs.acts_a_day * mechanics)
        total += acts
        stands_in = place[1] if place[0] == lost else place[0]
        for _ in range(acts):
            minute = late + _minute(lot)
            asked[place[0]][minute] += costs.statements_an_act + looks
            spare[stands_in][minute] += costs.statements_an_act + looks
            for node in place:
                forced[node][minute] += 1
    year = total * DAYS * costs.bytes_an_act * COPIES / nodes / 1e9
    return Load(
        nodes, total, _busiest(asked), _mean(asked), _busiest(forced), _busiest(spare[1:] or spare), year
    )


def _drawn(lot: random.Random) -> int:
    ends = list(accumulate(share for _n, share in MECHANICS))
    return MECHANICS[bisect(ends, lot.random() * ends[-1] - 1e-9)][0]


def _poisson(lot: random.Random, mean: float) -> int:
    return max(0, round(lot.gauss(mean, mean**0.5)))


def _minute(lot: random.Random) -> int:
    hour = lot.choices(range(len(HOURS)), HOURS)[0]
    return hour * 60 + lot.randrange(60)


def _busiest(nodes: Sequence[Sequence[float]]) -> float:
    return max(max(minutes) for minutes in nodes) / 60


def _mean(nodes: Sequence[Sequence[float]]) -> float:
    return sum(sum(minutes) for minutes in nodes) / len(nodes) / MINUTES / 60


def main(argv: list[str]) -> int:
    """Print what was measured and what every number of nodes comes to."""
    shops, costs = int(argv[0]) if argv else SHOPS, measured()
    if argv[1:]:
        costs = replace(costs, acts_a_day=float(argv[1]))
    print(
        f"measured, or wanted: {costs.acts_a_day:.0f} acts a mechanic's day, {costs.bytes_an_act:.0f} bytes and "
        f"{costs.statements_an_act:.1f} statements an act, {costs.statements_a_look:.1f} statements a look"
    )
    print(f"{shops} shops; the busiest node in its busiest minute, a second:")
    print(
        f"{'nodes':>5}{'statements':>12}{'of it mean':>12}{'log writes':>12}{'one node lost':>15}{'GB a year':>11}"
    )
    for nodes in NODES:
        load = played(costs, shops, nodes)
        print(
            f"{nodes:>5}{load.statements:>12.0f}{load.mean:>12.0f}{load.written:>12.1f}{load.one_lost:>15.0f}"
            f"{load.kept_gb:>11.1f}"
        )
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
