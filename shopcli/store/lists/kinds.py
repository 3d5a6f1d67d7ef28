"""What can be taken in: how a line is known to be there already, and by which act it is written down otherwise."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from shopcli.errors import BadInput
from shopcli.shop.command import Command
from shopcli.shop.customers import plate
from shopcli.shop.part_commands import AddPart
from shopcli.shop.people_commands import AddCustomer, AddVehicle
from shopcli.store.shop import Run

YES = frozenset({"yes", "y", "true", "1", "x"})
Cells = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of list: the columns it can have, those it must have, and how a line of it is known and written down."""

    name: str
    columns: tuple[str, ...]
    needs: tuple[str, ...]
    known: Callable[[Run, Cells], str]
    command: Callable[[Run, Cells], Command]


def _text(cells: Cells, *names: str) -> dict[str, str]:
    return {name: cells[name] for name in names if cells.get(name)}


def _figures(phone: str) -> str:
    return "".join(c for c in phone if c.isdigit())


def _customers_named(run: Run, name: str) -> list[tuple[int, str, str]]:
    wanted = " ".join(name.split()).casefold()
    rows = run.fetch("SELECT id, name, phone FROM customer WHERE lower(name) = ? OR name = ?", (wanted, name))
    return [(key, said, phone) for key, said, phone in rows if said.casefold() == wanted]


def _known_customer(run: Run, cells: Cells) -> str:
    phone = _figures(cells.get("phone", ""))
    for _key, name, there in _customers_named(run, cells["name"]):
        if not phone or phone == _figures(there):
            return f"{name} is known already"
    return ""


def _customer(_run: Run, cells: Cells) -> Command:
    return AddCustomer(
        cells["name"],
        **_text(cells, "phone", "email", "address", "city", "post_code", "country", "vat_number"),
    )


def _known_vehicle(run: Run, cells: Cells) -> str:
    wanted = plate(cells["registration"])
    rows = run.fetch("SELECT make, model FROM vehicle WHERE registration = ?", (wanted,)) if wanted else []
    return f"{wanted} is known already: {rows[0][0]} {rows[0][1]}".rstrip() if rows else ""


def _vehicle(run: Run, cells: Cells) -> Command:
    year = cells.get("year", "")
    if year and not (year.isascii() and year.isdigit()):
        raise BadInput(f"the year '{year[:20]}' is none", hint="Write it like 1964.")
    more = _text(cells, "model", "sheet", "distance_unit", "chassis_number", "engine_number")
    owner = _owner(run, cells["customer"], cells.get("phone", ""))
    return AddVehicle(owner, cells["registration"], cells["make"], year=int(year) if year else None, **more)


def _owner(run: Run, name: str, phone: str) -> int:
    found = _customers_named(run, name)
    if _figures(phone):
        found = [row for row in found if _figures(row[2]) == _figures(phone)]
    if len(found) == 1:
        return found[0][0]
    if found:
        raise BadInput(
            f"{len(found)} customers are called {name[:60]}", hint="Say which by a column for phone."
        )
    raise BadInput(f"there is no customer {name[:60]!r}", hint="Take the customers in first.")


def _known_part(run: Run, cells: Cells) -> str:
    rows = run.fetch("SELECT name FROM part WHERE number = ?", (" ".join(cells["number"].split()),))
    return f"{rows[0][0]} is known already; its stock is counted, not taken in" if rows else ""


def _part(_run: Run, cells: Cells) -> Command:
    scaled = {"price": ("price_minor", 100), "surcharge": ("surcharge_minor", 100)}
    scaled |= {
        "stock": ("stock_milli", 1000),
        "reorder": ("reorder_milli", 1000),
        "pack": ("pack_milli", 1000),
    }
    figures = {name: _scaled(cells[c], by, c) for c, (name, by) in scaled.items() if cells.get(c)}
    return AddPart(
        cells["number"],
        cells["name"],
        _scaled(cells["cost"], 100, "cost"),
        wants_serial=cells.get("wants_serial", "").casefold() in YES,
        **figures,  # type: ignore[arg-type]
        **_text(cells, "bin", "supplier", "vat", "unit"),  # type: ignore[arg-type]
    )


def _scaled(text: str, by: int, name: str) -> int:
    """Return a figure with a point or a comma for its decimals in whole hundredths or thousandths.

    A figure with both is not guessed at.

    Examples
    --------
    >>> _scaled("12.50", 100, "cost"), _scaled("12,5", 100, "cost"), _scaled("3", 1000, "stock")
    (1250, 1250, 3000)
    """
    plain = text.replace(" ", "")
    try:
        figure = Decimal(plain.replace(",", ".") if "." not in plain else plain) * by
    except InvalidOperation:
        figure = Decimal("NaN")
    if not figure.is_finite() or figure != figure.to_integral_value() or not 0 <= figure < 10**11:
        raise BadInput(f"the {name} '{text[:30]}' is not a figure", hint="Write it like 12.50 or 12,50.")
    return int(figure)


def _kinds() -> Iterable[Kind]:
    yield Kind(
        "customers",
        ("name", "phone", "email", "address", "city", "post_code", "country", "vat_number"),
        ("name",),
        _known_customer,
        _customer,
    )
    yield Kind(
        "vehicles",
        ("registration", "make", "customer", "phone", "model", "year", "sheet", "distance_unit", "chassis_number", "engine_number"),
        ("registration", "make", "customer"),
        _known_vehicle,
        _vehicle,
    )  # fmt: skip
    yield Kind(
        "parts",
        ("number", "name", "cost", "price", "stock", "reorder", "surcharge", "pack", "bin", "supplier", "vat", "unit", "wants_serial"),
        ("number", "name", "cost"),
        _known_part,
        _part,
    )  # fmt: skip


KINDS = {kind.name: kind for kind in _kinds()}
