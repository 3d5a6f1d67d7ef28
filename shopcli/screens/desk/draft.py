"""A card before it is opened: what was typed, what is wrong with it, and which act is next.

The customer, the vehicle and the card are three acts. When one is refused, those before it have been done and
are remembered here, so that saving again goes on from there and writes nobody down twice.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from shopcli.errors import BadInput, ShopError
from shopcli.screens.desk.dates import read_date
from shopcli.shop.bench_commands import SettleFinding, SettleOwed
from shopcli.shop.card_commands import OpenCard
from shopcli.shop.command import Command
from shopcli.shop.offer_commands import HOWS
from shopcli.shop.people_commands import AddCustomer, AddVehicle
from shopcli.shop.typed_figures import read_odometer, read_sum, read_year

DISTANCE_UNITS = ("mi", "km")
# Where the cursor goes when the shop refuses: the first field whose word is in the message.
WORDS: tuple[tuple[type[Command], tuple[tuple[str, str], ...]], ...] = (
    (AddCustomer, (("phone", "phone"),)),
    (
        AddVehicle,
        (("make", "make"), ("model", "model"), ("year", "year"), ("counts in", "unit"), ("sheet", "sheet")),
    ),
    (
        OpenCard,
        (
            ("finding:", "vehicle"),
            ("owed:", "vehicle"),
            ("odometer", "odometer"),
            ("promise", "promised"),
            ("authority", "authority"),
            ("words", "words"),
            ("text", "authority_by"),
            ("note", "left_with"),
            ("keys", "car_keys"),
            ("fuel", "fuel"),
            ("damage", "damage"),
        ),
    ),
    (SettleFinding, ()),
    (SettleOwed, ()),
)
OTHERWISE: dict[type[Command], str] = {
    AddCustomer: "customer",
    AddVehicle: "vehicle",
    SettleFinding: "vehicle",
    SettleOwed: "vehicle",
    OpenCard: "jobs",
}


@dataclass(frozen=True, slots=True)
class Decision:
    """What becomes of one thing carried over; a declined one has the customer's words and who spoke them."""

    choice: str
    words: str = ""
    said_by: str = ""


@dataclass(slots=True)
class Draft:
    """What the form holds. `customer_id` and `vehicle_id` are known or were just written down.

    `decided` says what becomes of things carried over; those `written` down as declined are not written twice.
    `op` is the operation under which the card is opened, once, however often it is saved. `odometer_why` is what was
    said of an odometer that runs backwards; it is asked anew for a form that was kept.
    """

    customer_id: int | None = None
    vehicle_id: int | None = None
    new_customer: bool = False
    new_vehicle: bool = False
    sheet: str = ""
    jobs: tuple[str, ...] = ()
    texts: dict[str, str] = field(default_factory=dict)
    decided: Mapping[str, "Decision"] = field(default_factory=dict)
    written: set[str] = field(default_factory=set)
    op: str = ""
    odometer_why: str = ""

    def text(self, key: str) -> str:
        """Return what was typed in a field."""
        return self.texts.get(key, "").strip()

    def faults(self, today: date) -> tuple[tuple[str, str], ...]:
        """Return (field, what is wrong) for everything that can be seen before anything is saved."""
        found: list[tuple[str, str]] = []
        if self.customer_id is None and not (self.new_customer and self.text("customer")):
            words = (
                "Choose a customer, or the line that says new" if self.text("customer") else "Whose is it?"
            )
            found.append(("customer", words))
        if self.vehicle_id is None:
            found += self._vehicle_faults()
        for key, read in (("odometer", read_odometer), ("authority", read_sum)):
            found += _fault(key, lambda r=read, k=key: r(self.text(k)))  # type: ignore[misc]
        found += _fault("promised", lambda: read_date(self.text("promised"), today))
        if self.text("authority") and not self.text("authority_by"):
            found.append(("authority_by", "Who said so?"))
        found += _fault("authority_how", lambda: read_how(self.text("authority_how")))
        return tuple(found)

    def _vehicle_faults(self) -> list[tuple[str, str]]:
        if not (self.new_vehicle and self.text("vehicle")):
            words = (
                "Choose a vehicle, or the line that says new" if self.text("vehicle") else "Which vehicle?"
            )
            return [("vehicle", words)]
        found = [] if self.text("make") else [("make", "Which make is it?")]
        found += _fault("year", lambda: read_year(self.text("year")))
        return found + _fault("unit", lambda: read_unit(self.text("unit")))

    def next_act(self, today: date) -> Command:
        """Return the act that is still to be done first."""
        if self.customer_id is None:
            return AddCustomer(self.text("customer"), self.text("phone"))
        if self.vehicle_id is None:
            return AddVehicle(
                self.customer_id,
                self.text("vehicle"),
                self.text("make"),
                self.text("model"),
                read_year(self.text("year")),
                sheet=self.sheet,
                distance_unit=read_unit(self.text("unit")),
            )
        for key, decision in self.decided.items():
            if decision.choice == "declined" and key not in self.written:
                return decline(key, decision.words, decision.said_by)
        promised = read_date(self.text("promised"), today)
        return OpenCard(
            self.vehicle_id,
            self.jobs,
            words=self.text("words"),
            title=self.text("title"),
            odometer=read_odometer(self.text("odometer")),
            left_with=self.text("left_with"),
            car_keys=self.text("car_keys"),
            fuel=self.text("fuel"),
            damage=self.text("damage"),
            authority_minor=read_sum(self.text("authority"), "authority"),
            authority_by=self.text("authority_by"),
            authority_how=read_how(self.text("authority_how")),
            promised=promised.isoformat() if promised else "",
            take=tuple(key for key, decision in self.decided.items() if decision.choice == "taken"),
            odometer_why=self.odometer_why,
        )

    def done(self, act: Command, key: int) -> bool:
        """Remember what an act wrote down; True when that was the card."""
        if isinstance(act, AddCustomer):
            self.customer_id = key
        elif isinstance(act, AddVehicle):
            self.vehicle_id = key
        elif isinstance(act, SettleFinding):
            self.written.add(f"finding:{act.finding_id}")
        elif isinstance(act, SettleOwed):
            self.written.add(f"owed:{act.owed_id}")
        return isinstance(act, OpenCard)

    def op_of(self, act: Command) -> str:
        """Return the operation of an act: the card's is the form's own, any other is told by what it says."""
        if not self.op or isinstance(act, OpenCard):
            return self.op
        return f"{self.op}-{hashlib.sha256(repr(act).encode()).hexdigest()[:16]}"

    def to_kept(self) -> dict[str, Any]:
        """Return what it holds in plain values, to be kept."""
        return {
            "customer_id": self.customer_id,
            "vehicle_id": self.vehicle_id,
            "new_customer": self.new_customer,
            "new_vehicle": self.new_vehicle,
            "sheet": self.sheet,
            "jobs": list(self.jobs),
            "texts": dict(self.texts),
            "decided": {key: [d.choice, d.words, d.said_by] for key, d in self.decided.items()},
            "written": sorted(self.written),
        }

    @classmethod
    def from_kept(cls, op: str, holds: Mapping[str, Any]) -> "Draft":
        """Return a draft as it was kept.

        Examples
        --------
        >>> Draft.from_kept("a", Draft(customer_id=7, jobs=("oil",), op="b").to_kept())
        Draft(customer_id=7, vehicle_id=None, new_customer=False, new_vehicle=False, sheet='', jobs=('oil',), texts={}, decided={}, written=set(), op='a', odometer_why='')
        """
        return cls(
            customer_id=holds.get("customer_id"),
            vehicle_id=holds.get("vehicle_id"),
            new_customer=bool(holds.get("new_customer")),
            new_vehicle=bool(holds.get("new_vehicle")),
            sheet=str(holds.get("sheet", "")),
            jobs=tuple(holds.get("jobs", ())),
            texts={str(k): str(v) for k, v in holds.get("texts", {}).items()},
            decided={key: Decision(*map(str, one)) for key, one in holds.get("decided", {}).items()},
            written=set(holds.get("written", ())),
            op=op,
        )


def decline(key: str, words: str, said_by: str) -> Command:
    """Return the act that writes down that the customer does not want something carried over.

    Examples
    --------
    >>> decline("owed:5", "I grease it myself", "Ada Lark").reason
    'Ada Lark: I grease it myself'
    """
    kind, _, number = key.partition(":")
    if kind == "finding":
        return SettleFinding(int(number), "declined", words, said_by)
    return SettleOwed(int(number), "waived", f"{said_by}: {words}" if said_by else words)


def _fault(key: str, read: object) -> list[tuple[str, str]]:
    try:
        read()  # type: ignore[operator]
    except ShopError as error:
        return [(key, f"{error.message}. {error.hint}".strip())]
    return []


def read_unit(text: str) -> str:
    """Return what the odometer counts in.

    Raises
    ------
    BadInput
        If it is neither miles nor kilometres.
    """
    unit = text.strip().casefold()
    if unit not in DISTANCE_UNITS:
        raise BadInput(f"the odometer counts in '{unit[:12]}'", hint="Write mi or km.")
    return unit


def read_how(text: str) -> str:
    """Return how an authority came, from its beginning; empty when nothing is said.

    Raises
    ------
    BadInput
        If it is none of the ways.

    Examples
    --------
    >>> read_how("p"), read_how("in"), read_how(" ")
    ('phone', 'in person', '')
    """
    said = " ".join(text.casefold().split())
    found = next((how for how in HOWS if how.startswith(said)), None) if said else ""
    if found is None:
        raise BadInput(f"'{text.strip()[:20]}' is no way it can come", hint=f"Write {', '.join(HOWS)}.")
    return found


def field_of(act: Command, error: Exception) -> str:
    """Return the field a refusal is about."""
    message = str(error).casefold()
    for kind, words in WORDS:
        if isinstance(act, kind):
            return next((key for word, key in words if word in message), OTHERWISE[kind])
    return "customer"
