"""A shop with a known truth: how often cards come, how long each waits for what, what jobs really take, what came back.

Rows are written straight into the tables, so that ten years take a minute; what the week is read from is then reckoned by
the program itself. All of it is invented.
"""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from math import exp
from pathlib import Path
from random import Random
from typing import NamedTuple

from tests.known_rows import VAT, ZONE, Line, Rows, labour_line, line, minor, pence, week_of

NOW = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)
HOUR, DAY = 3_600, 86_400
MARKUP = 1.4
MECHANICS = (2, 3)  # Tom and Nell of the tests' shop
# Name, system, what a task is listed at, how many times that it really takes.
JOBS = (
    ("oil-change", "lubrication", 20, 1.0),
    ("points", "ignition", 15, 1.4),
    ("brakes-adjust", "brakes", 30, 0.7),
    ("valve-clearances", "valve gear", 25, 1.0),
    ("clutch-adjust", "transmission", 18, 1.05),
    ("dampers", "suspension", 24, 1.0),
    ("steering-box", "steering", 22, 0.95),
    ("drive-belt", "cooling and charging", 16, 1.0),
)
SPREAD = 0.15
# Why a card is held, in the words of whoever holds it; the mean of the wait in days; how often.
HOLDS = (
    ("parts", "waiting for a spare", 4.0, 4),
    ("authority", "customer to say", 2.5, 3),
    ("outwork", "head away for a skim", 8.0, 2),
    ("other", "no room on the ramp", 1.0, 1),
)
HELD_PART, BAY_DAYS, WORK_DAYS, FETCH_DAYS = 0.4, 1.5, 2.0, 1.0
BACK_PART = 0.05
RARE, OFTEN, MOSTLY, PAYING = 0.03, 0.1, 0.8, 0.99
TEN_POUNDS, DESK, GONE = 1_000, 4, ""
Job = tuple[str, str, int, float]


@dataclass(frozen=True, slots=True)
class Size:
    """How large a shop: weeks, cards opened in each, templates on a card, tasks of each, how many of these are done."""

    weeks: int = 40
    cards: int = 6
    templates: int = 2
    tasks: int = 3
    left_out: int = 0
    mechanics: int = 2
    frozen: str = "{}"


@dataclass
class Truth:
    """What is known of it beforehand."""

    comebacks: set[tuple[int, int]] = field(default_factory=set)
    waited: dict[str, list[int]] = field(default_factory=dict)
    stays: list[int] = field(default_factory=list)
    limits: int = 0
    waived: int = 0


class Turn(NamedTuple):
    """How a card comes to stand: state, what it waits for, the words, when."""

    state: str
    waits: str
    why: str
    at: int


class Drawn(Rows):
    """Draws cards one by one."""

    def __init__(self, size: Size, seed: int = 1961) -> None:
        super().__init__()
        self.size, self.truth = size, Truth()
        self.rng = Random(seed)
        self.now = int(NOW.timestamp())

    # One card ------------------------------------------------------------------------------------------

    def whole(self) -> None:
        """Draw every week."""
        first = date(2026, 11, 23) - timedelta(weeks=self.size.weeks)
        for week in range(self.size.weeks + 1):
            for _ in range(self.size.cards):
                day = first + timedelta(weeks=week, days=self.rng.randrange(5))
                at = datetime.combine(day, time(8 + self.rng.randrange(9), self.rng.randrange(60)), ZONE)
                if at <= NOW:
                    self.visit(int(at.timestamp()))

    def visit(self, at: int) -> None:
        """Draw a car that comes for the first time, and what it comes again for."""
        rng, jobs = self.rng, list(JOBS)
        rng.shuffle(jobs)
        mine, others = jobs[: self.size.templates], jobs[self.size.templates :]
        miles, vehicle = rng.randrange(20_000, 90_000), self.vehicle()
        card, closed = self.card(vehicle, at, mine, miles)
        if closed is None or rng.random() > 4 * BACK_PART:
            return
        # A fourth of these is a comeback; the others look like one but for a single thing.
        soon = rng.randrange(3, 80)
        looks = ((soon, 500, mine[:1]), (130, 500, mine), (30, 3_600, mine), (30, 500, others[:1]))
        which = rng.randrange(4)
        days, driven, again = looks[which]
        later = closed + days * DAY
        if later < self.now - DAY:
            back, _closed = self.card(vehicle, later, again, miles + driven)
            if which == 0:
                self.truth.comebacks.add((back, card))

    def vehicle(self) -> int:
        """Draw a customer with a car."""
        nth = self.counts.get("vehicle", 0) + 1
        customer = self.add("customer", name=f"Customer {nth}")
        car = {"registration": f"KS {nth}", "make": "Lark", "distance_unit": "mi", "sheet": "demo-lark-1200"}
        return self.add("vehicle", customer_id=customer, facts="{}", **car)

    def card(self, vehicle: int, at: int, jobs: Sequence[Job], miles: int) -> tuple[int, int | None]:
        """Draw a card from opening to hand-over, as far as that lies behind us; return it and when it was closed."""
        key = self.next("card")
        past = [turn for turn in self.turns(at) if turn.at <= self.now]
        times = {turn.state: turn.at for turn in past}
        closed, handed, checked = times.get("closed"), times.get(GONE), times.get("checked")
        last = past[-1]
        self.keep(
            "card",
            id=key,
            number=f"J{key:05d}",
            vehicle_id=vehicle,
            customer_id=vehicle,
            state=last.state or "closed",
            held_for=last.why if last.state == "held" else "",
            title=" and ".join(job[0] for job in jobs),
            odometer=miles,
            opened_at=at,
            opened_by=DESK,
            checked_at=checked,
            closed_at=closed,
            closed_week=week_of(closed),
            waits_for_parts=last.waits == "parts",
            handed_at=handed,
        )
        self.stood(key, past)
        if handed is not None:
            self.truth.stays.append(handed - at)
        begun = next((turn.at for turn in past if turn.state == "in hand"), None)
        span = None if begun is None else (begun, checked or self.now)
        lines = self.work(key, vehicle, jobs, span, over=checked is not None) + self.parts(key, begun)
        if closed is not None:
            self.invoice(key, closed, handed, lines)
            if self.rng.random() < RARE:
                self.truth.waived += 1
                self.add(
                    "waiver", card_id=key, hindrance="finding:0", reason="told", waived_by=DESK, at=closed
                )
        return key, closed

    def stood(self, card: int, past: Sequence[Turn]) -> None:
        """Keep how long the card stood in each state."""
        for nth, turn in enumerate(past):
            until = past[nth + 1].at if nth + 1 < len(past) else None
            if turn.state:
                kept = {"state": turn.state, "waits": turn.waits, "why": turn.why}
                self.keep("card_stay", card_id=card, nth=nth, **kept, started_at=turn.at, ended_at=until)
                if turn.waits and until is not None:
                    self.truth.waited.setdefault(turn.waits, []).append(until - turn.at)

    def turns(self, at: int) -> Iterator[Turn]:
        """Yield how the card comes to stand."""
        rng = self.rng
        yield Turn("booked", "bay", "", at)
        at += int(rng.expovariate(1 / BAY_DAYS) * DAY) + 60
        yield Turn("in hand", "", "", at)
        at += int(rng.uniform(0.3, WORK_DAYS) * DAY)
        if rng.random() < HELD_PART:
            waits, why, mean, _often = rng.choices(HOLDS, [hold[3] for hold in HOLDS])[0]
            yield Turn("held", waits, why, at)
            at += int(rng.expovariate(1 / mean) * DAY) + 60
            yield Turn("in hand", "", "", at)
            at += int(rng.uniform(0.3, WORK_DAYS) * DAY)
        yield Turn("checked", "", "", at)
        at += rng.randrange(600, 4 * HOUR)
        yield Turn("closed", "fetching", "", at)
        yield Turn(GONE, "", "", at + int(rng.expovariate(1 / FETCH_DAYS) * DAY) + 60)

    def work(
        self, card: int, vehicle: int, jobs: Sequence[Job], span: tuple[int, int] | None, *, over: bool
    ) -> list[Line]:
        """Draw the tasks of a card with their clock, and return the lines of labour."""
        found = []
        for name, _system, minutes, factor in jobs:
            listed = minutes * self.size.tasks
            self.add("card_template", card_id=card, template=name, title=name, expected_minutes=listed)
            ratio = factor * exp(self.rng.gauss(0, SPREAD))
            for nth in range(self.size.tasks):
                seconds = round(minutes * ratio * 60)
                out = nth < self.size.left_out
                task, clocked = self.task(card, (name, nth, minutes), span, seconds, over=over, out=out)
                found.append(labour_line(task, clocked))
                if over and nth == self.size.tasks - 1 and self.rng.random() < RARE:
                    self.limit(card, task, vehicle, span[1] if span else 0)
        return [line for line in found if line]

    def task(
        self,
        card: int,
        job: tuple[str, int, int],
        span: tuple[int, int] | None,
        seconds: int,
        *,
        over: bool,
        out: bool,
    ) -> tuple[int, int]:
        """Draw a task and its clock; return it and what was clocked."""
        name, nth, minutes = job
        who = self.mechanic()
        state = "open" if not over else "left out" if out else "done"
        told = {"key": f"{name}:{nth}", "template": name, "title": f"{name} {nth}", "state": state}
        done = {
            "done_by": who if state == "done" else None,
            "done_at": span[1] if span and state == "done" else None,
        }
        task = self.add(
            "task", card_id=card, position=nth, **told, minutes=minutes, frozen=self.size.frozen, **done
        )
        if span is None or out or span[1] - span[0] <= seconds:
            return task, 0
        start = self.rng.randrange(span[0], span[1] - seconds)
        times = {"started_at": start, "ended_at": start + seconds}
        self.add("clock_entry", person_id=who, card_id=card, task_id=task, **times)
        return task, seconds

    def limit(self, card: int, task: int, vehicle: int, at: int) -> None:
        """Draw a reading left out of its limits."""
        self.truth.limits += 1
        said = {
            "name": "gap",
            "phase": "as left",
            "typed": "20 thou",
            "standing": "high",
            "verdict": "high by 2 thou",
        }
        self.add(
            "reading", card_id=card, task_id=task, vehicle_id=vehicle, person_id=MECHANICS[0], at=at, **said
        )

    def mechanic(self) -> int:
        """Draw who works: the mechanics of the tests' shop, then others."""
        nth = self.rng.randrange(self.size.mechanics)
        return MECHANICS[nth] if nth < len(MECHANICS) else nth + len(MECHANICS) + 1

    def parts(self, card: int, begun: int | None) -> list[Line]:
        """Draw the parts fitted to a card, and return their lines."""
        rng, lines = self.rng, []
        for _ in range(rng.randrange(4) if begun is not None else 0):
            cost = rng.randrange(200, 9_000, 5)
            price, surcharge = round(cost * MARKUP), 1_500 if rng.random() < RARE else 0
            sums = {"cost_minor": cost, "price_minor": price, "surcharge_minor": surcharge}
            here = {"fitted_at": begun, "old_unit_back_at": begun if surcharge else None}
            part = self.add(
                "card_part", card_id=card, qty_milli=1_000, **sums, state="fitted", vat="standard", **here
            )
            if surcharge and rng.random() < MOSTLY:
                credit = {"credit_minor": surcharge, "credited_minor": surcharge, "credited_at": begun}
                self.add("sent_back", kind="old unit", card_part_id=part, sent_by=DESK, at=begun, **credit)
            lines.append(line(f"P{part}", "part", "1", "pc", price) | {"cost": str(cost)})
        return lines

    def invoice(self, card: int, closed: int, handed: int | None, lines: list[Line]) -> None:
        """Draw the invoice of a card and what was paid of it."""
        rng, off = self.rng, 0
        labour, goods = (sum(minor(x["net"]) for x in lines if x["kind"] == k) for k in ("labour", "part"))
        cost = sum(int(x["cost"]) for x in lines if x["kind"] == "part")
        if rng.random() < OFTEN and labour + goods > TEN_POUNDS:
            off = TEN_POUNDS
        net = labour + goods - off
        gross = net + round(net * VAT / 100)
        due_by = datetime.fromtimestamp(closed, ZONE).date() + timedelta(days=14)
        foot = [{"charge": False, "amount": pence(off)}] if off else []
        issued = {"issued_at": closed, "issued_by": DESK, "week": week_of(closed)}
        sums = {"net_minor": net, "vat_minor": gross - net, "gross_minor": gross, "due_minor": gross}
        parts = {"labour_minor": labour, "parts_minor": goods, "parts_cost_minor": cost}
        minutes = sum(round(float(x["qty"]) * 60) for x in lines if x["kind"] == "labour")
        body = json.dumps({"lines": lines, "allowances": foot, "due_by": due_by.isoformat()})
        number = self.counts.get("invoice", 0) + 1
        key = self.add(
            "invoice",
            number=number,
            card_id=card,
            **issued,
            **sums,
            **parts,
            labour_minutes=minutes,
            body=body,
        )
        left = gross - (self.credit(key, card, closed, net) if rng.random() < RARE and net > 0 else 0)
        if rng.random() < PAYING and handed is not None and left:
            self.add("payment", card_id=card, kind="payment", amount_minor=left, at=handed, taken_by=DESK)

    def credit(self, invoice: int, card: int, closed: int, net: int) -> int:
        """Draw a credit note, and return what it comes to."""
        back, at = min(net, 2 * TEN_POUNDS), min(self.now, closed + DAY)
        vat = round(back * VAT / 100)
        sums = {"net_minor": back, "vat_minor": vat, "gross_minor": back + vat, "labour_minor": back}
        told = {"issued_at": at, "issued_by": DESK, "reason": "too much", "week": week_of(at), "body": "{}"}
        number = self.counts.get("credit_note", 0) + 1
        self.add("credit_note", number=number, invoice_id=invoice, card_id=card, **sums, **told)
        return back + vat

    def people(self) -> None:
        """Take on those the tests' shop has not got."""
        for nth in range(len(MECHANICS), self.size.mechanics):
            who = {
                "id": nth + len(MECHANICS) + 1,
                "name": f"Mechanic {nth}",
                "role": "mechanic",
                "active": True,
            }
            self.keep("person", **who, units="metric")


def drawn(size: Size | None = None, seed: int = 1961) -> Drawn:
    """Return a shop of that size, drawn and not yet written."""
    found = Drawn(size or Size(), seed)
    found.people()
    found.whole()
    return found


def known_shop(file: Path, size: Size | None = None, seed: int = 1961) -> Truth:
    """Write a shop of that size into the records of an empty one, and return what is known of it."""
    found = drawn(size, seed)
    found.write(file)
    return found.truth
