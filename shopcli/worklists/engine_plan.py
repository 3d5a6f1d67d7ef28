"""Where the places of a reading lie on the vehicle, so that figures stand where the hand finds them.

Cylinders stand in their banks, valves by inlet and exhaust at their cylinder, wheels as on a car seen from
above, fasteners in rows or round. Nothing is guessed: where the facts do not tell, the places stand in a row.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shopcli.worklists.model import VehicleFacts
from shopcli.worklists.places import Place

FACING = frozenset({"flat", "boxer", "opposed"})
VEE = frozenset({"vee", "v"})
IN_A_ROW = frozenset({"inline", "straight", "parallel", "upright"})
PER_CYLINDER = frozenset({"cylinder", "plug", "lead"})
FASTENERS = frozenset({"bolt", "stud", "nut", "screw"})
AXLES, SIDES = ("front", "middle", "rear"), ("left", "", "right")
KINDS = ("inlet", "exhaust")
A_PAIR = 2
LEAST_RING = 3


@dataclass(frozen=True, slots=True)
class Block:
    """Places in rows and columns; None where nothing stands. `heads` name the columns, `sides` the rows."""

    cells: tuple[tuple[str | None, ...], ...]
    heads: tuple[str, ...] = ()
    sides: tuple[str, ...] = ()
    title: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """How places lie: ``row``, ``inline``, ``banks`` (one above the other), ``facing`` (side by side), ``car``, ``rows`` or ``ring``."""

    shape: str
    blocks: tuple[Block, ...]

    @property
    def order(self) -> tuple[str, ...]:
        """Every place once, as one reads a page."""
        at = self.where()
        return tuple(sorted(at, key=lambda name: at[name]))

    def where(self) -> dict[str, tuple[int, int]]:
        """Return row and column of every place over all blocks."""
        found: dict[str, tuple[int, int]] = {}
        down = across = 0
        for block in self.blocks:
            for row, cells in enumerate(block.cells):
                found.update(
                    (name, (down + row, across + column))
                    for column, name in enumerate(cells)
                    if name is not None
                )
            if self.shape == "facing":
                across += max((len(cells) for cells in block.cells), default=0)
            else:
                down += len(block.cells)
        return found

    def beside(self, name: str, across: int, down: int) -> str:
        """Return the place to the right or left, below or above; at the end of a row it goes on in the next.

        Examples
        --------
        >>> plan = Plan("rows", (Block((("1", "2"), ("3", "4"))),))
        >>> plan.beside("1", 1, 0), plan.beside("2", 1, 0), plan.beside("2", 0, 1), plan.beside("4", 1, 0)
        ('2', '3', '4', '4')
        """
        at = self.where()
        if name not in at:
            return name
        if across:
            order = self.order
            return order[max(0, min(len(order) - 1, order.index(name) + across))]
        row, column = at[name]
        rows = sorted({r for r, _ in at.values() if (r - row) * down > 0}, key=lambda r: abs(r - row))
        if not rows:
            return name
        there = [n for n, (r, _) in at.items() if r == rows[0]]
        return min(there, key=lambda n: (abs(at[n][1] - column), at[n][1]))


def plan(places: Sequence[Place], facts: VehicleFacts | None = None) -> Plan:
    """Lay out the places of one reading.

    Parameters
    ----------
    places : sequence of Place
        In the order they are read, each named once.
    facts : VehicleFacts, optional
        Of the vehicle; without them nothing is known of its layout.

    Examples
    --------
    >>> facts = VehicleFacts(cylinders=("1", "2", "3", "4"), layout="flat four", other=(("banks", "1-2/3-4"),))
    >>> laid = plan([Place(n, f"cylinder {n}") for n in facts.cylinders], facts)
    >>> laid.shape, [block.cells for block in laid.blocks]
    ('facing', [(('1',), ('2',)), (('3',), ('4',))])
    """
    names = tuple(p.name for p in places)
    nouns = {_noun(p) for p in places}
    known = facts or VehicleFacts()
    laid = None
    if nouns == {"valve"}:
        laid = _valves(names, known)
    elif nouns == {"wheel"}:
        laid = _car(names)
    elif nouns <= PER_CYLINDER:
        laid = _cylinders(names, known)
    elif len(nouns) == 1 and (noun := nouns.pop()).split()[-1:] and noun.split()[-1] in FASTENERS:
        laid = _fasteners(names, noun, known)
    return laid or _row(names)


def _noun(place: Place) -> str:
    if place.label == f"valve {place.name}":
        return "valve"
    if place.label == f"{place.name} wheel":
        return "wheel"
    return place.label.removesuffix(place.name).strip()


def _row(names: tuple[str, ...]) -> Plan:
    return Plan("row", (Block((names,), names),))


def banks(facts: VehicleFacts) -> tuple[tuple[str, ...], ...] | None:
    """Return the cylinders bank by bank, or None where the facts do not tell.

    Notes
    -----
    Which cylinders stand in which bank differs from maker to maker; the fact ``banks`` says it
    ("1-3-5-7/2-4-6-8"). Two cylinders of a flat or vee engine can only face each other.

    Examples
    --------
    >>> banks(VehicleFacts(cylinders=("1", "2"), layout="flat twin"))
    (('1',), ('2',))
    >>> banks(VehicleFacts(cylinders=("1", "2", "3", "4"), layout="flat four")) is None
    True
    """
    words = _words(facts)
    told = dict(facts.other).get("banks", "")
    if told:
        read = tuple(tuple(c.strip() for c in bank.split("-") if c.strip()) for bank in told.split("/"))
        if sorted(c for bank in read for c in bank) == sorted(facts.cylinders) and all(read):
            return read
    if words & IN_A_ROW and facts.cylinders:
        return (facts.cylinders,)
    if words & (FACING | VEE) and len(facts.cylinders) == A_PAIR:
        return tuple((c,) for c in facts.cylinders)
    return None


def _words(facts: VehicleFacts) -> set[str]:
    return set(facts.layout.casefold().replace("in-line", "inline").replace("-", " ").split())


def _shape(facts: VehicleFacts, rows: int) -> str:
    if rows == 1:
        return "inline"
    return "facing" if _words(facts) & FACING and rows == A_PAIR else "banks"


def _cylinders(names: tuple[str, ...], facts: VehicleFacts) -> Plan | None:
    told = banks(facts)
    if told is None or set(names) != {c for bank in told for c in bank}:
        return None
    shape = _shape(facts, len(told))
    if shape == "facing":
        return Plan(shape, tuple(Block(tuple((c,) for c in bank), sides=bank) for bank in told))
    return Plan(shape, tuple(Block((bank,), bank) for bank in told))


def _valves(names: tuple[str, ...], facts: VehicleFacts) -> Plan | None:
    """Inlet and exhaust of each cylinder, the cylinders in their banks where those are known."""
    parted = {name: (name.partition(" ")[0], name.partition(" ")[2]) for name in names}
    if len(set(parted.values())) < len(names) or not all(kind for _, kind in parted.values()):
        return None
    by_place = {pair: name for name, pair in parted.items()}
    kinds = sorted(dict.fromkeys(kind for _, kind in parted.values()), key=_kind_order)
    there = tuple(dict.fromkeys(c for c, _ in parted.values()))
    told = banks(facts)
    if told is None or set(there) != {c for bank in told for c in bank}:
        told = (there,)
    shape = _shape(facts, len(told))
    if shape == "facing":
        blocks = (
            Block(tuple(tuple(by_place.get((c, k)) for k in kinds) for c in bank), tuple(kinds), bank)
            for bank in told
        )
        return Plan(shape, tuple(blocks))
    return Plan(
        shape,
        tuple(
            Block(tuple(tuple(by_place.get((c, k)) for c in bank) for k in kinds), bank, tuple(kinds))
            for bank in told
        ),
    )


def _kind_order(kind: str) -> tuple[int, str]:
    first = kind.partition(" ")[0]
    return (KINDS.index(first) if first in KINDS else len(KINDS)), kind


def _car(names: tuple[str, ...]) -> Plan | None:
    """A car seen from above, its front at the top; a wheel that is none of its corners stands below."""
    at: dict[tuple[str, str], str] = {}
    more: list[str] = []
    for name in names:
        words = name.split()
        axle = next((a for a in AXLES if a in words), "")
        side = next((s for s in SIDES if s and s in words), "")
        if axle and set(words) <= {axle, side}:
            at[axle, side] = name
        else:
            more.append(name)
    if not at:
        return None
    sides = tuple(s for s in SIDES if any(s == side for _, side in at))
    axles = tuple(a for a in AXLES if any(a == axle for axle, _ in at))
    corners = Block(tuple(tuple(at.get((a, s)) for s in sides) for a in axles), sides, axles)
    rest = (Block((tuple(more),), tuple(more)),) if more else ()
    return Plan("car", (corners, *rest))


def _fasteners(names: tuple[str, ...], noun: str, facts: VehicleFacts) -> Plan | None:
    """Rows where the facts tell how many ("head_bolt_rows"), wheel nuts round."""
    rows = dict(facts.other).get(f"{noun.replace(' ', '_')}_rows", "")
    if rows.isdecimal() and int(rows) and len(names) % int(rows) == 0:
        wide = len(names) // int(rows)
        cells = tuple(tuple(names[start : start + wide]) for start in range(0, len(names), wide))
        return Plan("rows", (Block(cells),))
    if noun == "wheel nut" and len(names) >= LEAST_RING:
        return Plan("ring", (Block(_ring(names)),))
    return None


def _ring(names: tuple[str, ...]) -> tuple[tuple[str | None, ...], ...]:
    """Place 1 at the top, then clockwise."""
    first, rest = names[0], names[1:]
    half = len(rest) // 2
    right, left = rest[:half], rest[len(rest) - half :][::-1]
    bottom = rest[half : len(rest) - half]
    pairs = tuple((a, None, b) for a, b in zip(left, right, strict=True))
    return ((None, first, None), *pairs, *((None, one, None) for one in bottom))
