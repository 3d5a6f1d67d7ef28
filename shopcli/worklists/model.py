"""The few types a work list is made of: what a file says, and what it becomes for one vehicle.

Everything here is frozen. A template is what the shop knows how to do; a task is that knowledge with one
vehicle's own numbers in it, as it is kept on the card for good.
"""

from dataclasses import dataclass, field

from shopcli.units import Limits

PROVENANCE_KINDS = ("handbook", "plate", "measured", "practice", "demo")
PHASES = ("as found", "as left")
DUE_KINDS = ("hand-over", "date", "distance")


@dataclass(frozen=True, slots=True)
class Provenance:
    """Where a number comes from. A handbook needs document and page; a measurement needs who and when."""

    kind: str
    document: str = ""
    page: str = ""
    who: str = ""
    on: str = ""

    @property
    def to_confirm(self) -> bool:
        """Whether the number must be confirmed for the vehicle before a reading may be judged by it."""
        return self.kind == "practice"

    def words(self) -> str:
        """Return where the number comes from, in one line that begins with the kind.

        Examples
        --------
        >>> Provenance("handbook", "Lark 1200 owner's handbook", "14").words()
        "handbook: Lark 1200 owner's handbook, page 14"
        >>> Provenance("measured", who="J. Ash", on="2026-11-27").words()
        'measured, by J. Ash, 2026-11-27'
        """
        document = f"{self.document}, page {self.page}" if self.document and self.page else self.document
        parts = [f"{self.kind}: {document}" if document else self.kind]
        parts += [f"by {self.who}"] if self.who else []
        return ", ".join([*parts, self.on] if self.on else parts)


@dataclass(frozen=True, slots=True)
class Spec:
    """A named number of a sheet."""

    name: str
    label: str
    limits: Limits
    state: str
    provenance: Provenance
    sheet: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution of the library: shown before the step, never after."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class TagKind:
    """A kind of open condition: what it says and which acts it bars until it is lifted."""

    name: str
    says: str
    bars: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class KitLine:
    """A part a template reckons with."""

    part: str
    qty: str = "1"
    optional: bool = False
    number: str = ""
    exchange: bool = False
    unit: str = ""


@dataclass(frozen=True, slots=True)
class ReadingAsked:
    """A reading as a template asks for it; `each` repeats it over the vehicle's own parts."""

    name: str
    spec: str = ""
    when: tuple[str, ...] = ("as left",)
    each: str = ""
    quantity: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True)
class OwedAsked:
    """A later check a task promises. `check` is a task (``id`` or ``template:id``) or a plain name."""

    check: str
    title: str = ""
    before: str = "hand-over"
    miles: int = 0
    days: int = 0


@dataclass(frozen=True, slots=True)
class WorkingCall:
    """A workshop sum attached to a task: which, and what to feed it.

    That is ``vehicle.x``, ``spec.x``, ``reading.x`` or a value; in an expanded task facts are values already.
    """

    name: str
    given: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class TaskTemplate:
    """One step as a file describes it; `fits` names the parts of the job's kit that go on with it."""

    id: str
    title: str
    line: int
    say: str = ""
    specs: tuple[str, ...] = ()
    readings: tuple[ReadingAsked, ...] = ()
    minutes: int = 0
    waits: int = 0
    place: str = ""
    after: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    makes: tuple[str, ...] = ()
    acts: tuple[str, ...] = ()
    hangs: tuple[str, ...] = ()
    lifts: tuple[str, ...] = ()
    barred: tuple[str, ...] = ()
    owes: tuple[OwedAsked, ...] = ()
    cautions: tuple[str, ...] = ()
    working: WorkingCall | None = None
    second: bool = False
    first: bool = False
    each: str = ""
    once: str = ""
    applies: tuple[tuple[str, tuple[str, ...]], ...] = ()
    kit: tuple[KitLine, ...] = ()
    fits: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Template:
    """One job as a file describes it. A `service` is done because it is due, and not because something is wrong."""

    name: str
    title: str
    system: str
    file: str
    version: str
    applies: tuple[tuple[str, tuple[str, ...]], ...] = ()
    kit: tuple[KitLine, ...] = ()
    include: tuple[str, ...] = ()
    tasks: tuple[TaskTemplate, ...] = ()
    about: str = ""
    service: bool = False


@dataclass(frozen=True, slots=True)
class VehicleFacts:
    """What expansion needs to know of a vehicle, and nothing of its owner.

    `cylinders` are named as this engine names them, `valves` likewise ("1 inlet"); `other` holds any
    further fact a template may ask for.
    """

    cylinders: tuple[str, ...] = ()
    layout: str = ""
    firing_order: tuple[str, ...] = ()
    rotor: str = ""
    valve_gear: str = ""
    valves: tuple[str, ...] = ()
    wheels: tuple[str, ...] = ("front left", "front right", "rear left", "rear right")
    cooling: str = ""
    ignition: str = ""
    fuel: str = ""
    carburettors: int = 1
    volts: int = 12
    earth: str = "negative"
    charging: str = ""
    front_brakes: str = ""
    rear_brakes: str = ""
    drive_belt: str = ""
    other: tuple[tuple[str, str], ...] = ()

    def fact(self, name: str) -> str | None:
        """Return the fact called `name` as text, or None when the vehicle does not say."""
        name = name.replace(" ", "_")
        if name in self.__dataclass_fields__ and name != "other":
            value = getattr(self, name)
            if name in {"cylinders", "valves", "wheels"}:
                return str(len(value))
            if name == "firing_order":
                return "-".join(value) or None
            return str(value) or None
        return dict(self.other).get(name)


@dataclass(frozen=True, slots=True)
class ReadingSlot:
    """A reading to take on one vehicle: key within the task, label as the engine names the place."""

    key: str
    name: str
    label: str
    phase: str
    spec: str = ""
    quantity: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True)
class OwedSlot:
    """A promised check, resolved: `key` of the task that redeems it when it is on the card, else empty."""

    check: str
    title: str
    key: str = ""
    before: str = "hand-over"
    miles: int = 0
    days: int = 0


@dataclass(frozen=True, slots=True)
class Task:
    """One step for one vehicle, numbers and all, as it is frozen into the card."""

    key: str
    template: str
    version: str
    title: str
    system: str
    say: str = ""
    specs: tuple[Spec, ...] = ()
    missing: tuple[str, ...] = ()
    readings: tuple[ReadingSlot, ...] = ()
    minutes: int = 0
    waits: int = 0
    place: str = ""
    after: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    makes: tuple[str, ...] = ()
    acts: tuple[str, ...] = ()
    hangs: tuple[str, ...] = ()
    lifts: tuple[str, ...] = ()
    barred: tuple[str, ...] = ()
    owes: tuple[OwedSlot, ...] = ()
    cautions: tuple[Caution, ...] = ()
    working: WorkingCall | None = None
    second: bool = False
    kit: tuple[KitLine, ...] = ()
    fits: tuple[str, ...] = ()

    def spec(self, name: str) -> Spec | None:
        """Return the number called `name`, or None when the sheets do not have it."""
        return next((s for s in self.specs if s.name == name), None)


@dataclass(frozen=True, slots=True)
class Standing:
    """The tasks a card has already, and the keys of those that are settled: done or left out."""

    tasks: tuple[Task, ...] = ()
    settled: frozenset[str] = frozenset()

    @property
    def open(self) -> tuple[Task, ...]:
        """Those still to be done."""
        return tuple(task for task in self.tasks if task.key not in self.settled)

    @property
    def templates(self) -> frozenset[str]:
        """The jobs they come from."""
        return frozenset(task.template for task in self.tasks)


@dataclass(frozen=True, slots=True)
class WorkList:
    """The expansion of the chosen templates for one vehicle, in an order that respects every `after`."""

    tasks: tuple[Task, ...]
    kit: tuple[KitLine, ...] = ()
    templates: tuple[tuple[str, str, str], ...] = ()
    notes: tuple[str, ...] = field(default=())

    @property
    def minutes(self) -> int:
        """Hands-on time of the whole list, [min]."""
        return sum(t.minutes for t in self.tasks)
