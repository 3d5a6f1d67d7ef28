"""Looks, without the program's rules, whether what terminals were told is what the records hold."""

from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

from shopcli.store.shop import Shop
from shopcli.store.whole.examining import examine


class Told(NamedTuple):
    """What the terminals wrote down: meant, acknowledged, refused with the reason."""

    meant: set[str]
    acknowledged: set[str]
    refused: dict[str, str]


def told(files: Iterable[Path]) -> Told:
    """Return what stands in the files of the terminals; a last line may be torn."""
    meant: set[str] = set()
    acknowledged: set[str] = set()
    refused: dict[str, str] = {}
    for file in files:
        for line in file.read_text(encoding="utf-8").split("\n")[:-1]:
            mark, op, *why = line.split(" ", 2)
            if mark == "?":
                meant.add(op)
            elif mark == "!":
                acknowledged.add(op)
            elif mark == "x":
                refused[op] = why[0] if why else ""
    return Told(meant, acknowledged, refused)


def complaints(shop: Shop, said: Told) -> list[str]:
    """Return everything that is lost, doubled, skipped or does not agree; empty when nothing is."""
    found = []
    journal = Counter(op for (op,) in shop.fetch("SELECT op FROM journal"))
    ours = {op for op in journal if op.count("-") == 2}
    if lost := said.acknowledged - journal.keys():
        found.append(f"{len(lost)} acknowledged acts are lost, like {min(lost)}")
    if doubled := [op for op, count in journal.items() if count > 1]:
        found.append(f"{len(doubled)} acts are doubled, like {doubled[0]}")
    if unasked := ours - said.meant:
        found.append(f"{len(unasked)} acts nobody asked for, like {min(unasked)}")
    if both := said.refused.keys() & journal.keys():
        found.append(f"{len(both)} acts were refused and done, like {min(both)}")
    for table in ("invoice", "credit_note"):
        numbers = [n for (n,) in shop.fetch(f"SELECT number FROM {table} ORDER BY number")]
        if numbers != list(range(1, len(numbers) + 1)):
            found.append(f"{table}: the numbers have a gap or a double")
    written = dict(shop.fetch("SELECT act, COUNT(*) FROM journal GROUP BY act"))
    for table, acts in (
        ("invoice", ("CloseCard",)),
        ("credit_note", ("CreditInvoice",)),
        ("payment", ("TakePayment",)),
    ):
        (count,) = shop.fetch(f"SELECT COUNT(*) FROM {table}")[0]
        if count != sum(written.get(act, 0) for act in acts):
            found.append(
                f"{table}: {count} rows, the journal tells of {sum(written.get(a, 0) for a in acts)}"
            )
    found += [f"{wrong.what}: {wrong.rows}, {wrong.first}" for wrong in examine(shop)]
    return found
