"""How the open cards are laid out in the width there is: the same facts at 80 columns as at 200.

Narrow, a card takes two lines or three; wide, one. Nothing that matters is cut: what does not fit goes below.
"""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from textual.content import Content

from shopcli.columns import cut, display_width, pad, wrap
from shopcli.present import card_state, h_mm, promise
from shopcli.shop.listed import CardRow

VEHICLE_INDENT = 2
INDENT = 4
GAP = "  "
STATE, PROMISE, HOURS, TASKS = 9, 21, 17, 7
NUMBER_LEAST, NUMBER_MOST = 7, 10
WIDE, WIDEST = 106, 168
LINES_MOST = 3
TEXT_MOST = 1200
STATE_STYLES = {"held": "$text-warning", "in hand": "$text-success", "checked": "bold $text-success"}
Piece = tuple[str, str]


class Plan(NamedTuple):
    """Widths of the columns for one width of the list, [columns]. `title` and `remarks` of 0 stand below."""

    width: int
    number: int
    title: int
    remarks: int

    @property
    def hang(self) -> int:
        """Where lines below begin."""
        return INDENT + self.number + len(GAP)


def plan(width: int, rows: Sequence[CardRow]) -> Plan:
    """Return the columns that fit in `width` for these cards."""
    longest = max((display_width(r.number) for r in rows), default=0)
    number = min(max(longest, NUMBER_LEAST), NUMBER_MOST)
    fixed = INDENT + number + STATE + PROMISE + HOURS + TASKS + 4 * len(GAP)
    if width < WIDE:
        return Plan(width, number, 0, 0)
    left = width - fixed - len(GAP)
    if width < WIDEST:
        return Plan(width, number, left, 0)
    return Plan(width, number, left // 2, left - left // 2 - len(GAP))


def head(columns: Plan) -> Content:
    """Return the line that names the columns."""
    names = [" " * INDENT + pad("card", columns.number), pad("state", STATE)]
    names += [pad("what for", columns.title)] if columns.title else []
    names += [pad("promised", PROMISE), pad("clocked, expected", HOURS), pad("tasks", TASKS)]
    names += ["what holds it, who is on it"] if columns.remarks else []
    return Content(GAP.join(names).rstrip())


def customer_line(row: CardRow, width: int, *, air: bool = False) -> Content:
    """Return the heading of a customer: name and telephone; `air` leaves a line free above it."""
    phone = cut(row.phone, max(2, width // 3)) if row.phone else ""
    name = cut(row.customer, width - display_width(phone) - len(GAP))
    return Content.assemble("\n" if air else "", (name, "bold"), GAP + phone if phone else "")


def vehicle_line(row: CardRow, width: int) -> Content:
    """Return the line of a vehicle: registration and what it is."""
    registration = cut(row.registration, max(2, width // 2))
    rest = width - VEHICLE_INDENT - display_width(registration) - len(GAP)
    what = GAP + cut(row.vehicle, rest) if row.vehicle else ""
    return Content.assemble((" " * VEHICLE_INDENT + registration, "bold"), what)


def remarks(row: CardRow, risks: Sequence[Piece] = ()) -> tuple[Piece, ...]:
    """Return who is on the card, what holds it up and what is coming, each with its style."""
    found: list[Piece] = []
    if row.running:
        found.append((f"● {', '.join(row.running)} on it", "$text-success"))
    if row.state == "held":
        found.append((f"held: {row.held_for or 'no reason written'}", "$text-warning"))
    if row.open_tags:
        word = "tag" if len(row.open_tags) == 1 else "tags"
        found.append((f"{word}: {', '.join(row.open_tags)}", "$text-warning"))
    if row.arrived:
        rest = f", {row.on_order} to come" if row.on_order else ""
        found.append(
            (f"{row.arrived} {'part' if row.arrived == 1 else 'parts'} arrived{rest}", "$text-success")
        )
    if row.owed:
        overdue = f", ! {row.overdue} overdue" if row.overdue else ""
        words = f"{row.owed} {'check' if row.owed == 1 else 'checks'} owed{overdue}"
        found.append((words, "$text-warning" if overdue else ""))
    return (*found, *((f"! {words}", style) for words, style in risks))


def _hours(row: CardRow) -> Piece:
    if not row.expected_minutes:
        return h_mm(row.clocked_seconds), ""
    text = f"{h_mm(row.clocked_seconds)} of {h_mm(row.expected_minutes * 60)}"
    if row.clocked_seconds > row.expected_minutes * 60:
        return f"{text} over", "$text-warning"
    return text, ""


def _promise(row: CardRow, today: date) -> Piece:
    late = row.promised is not None and row.promised < today
    return (promise(row.promised, today) if row.promised else "no date"), "bold $text-error" if late else ""


def _fill(piece: Piece, width: int) -> Piece:
    return pad(cut(piece[0], width), width), piece[1]


def _below(text: str, width: int) -> list[str]:
    """Return text in a few lines; more than that is a story for the card itself."""
    lines = wrap(text[:TEXT_MOST], width)
    if len(lines) <= LINES_MOST:
        return lines
    return [*lines[: LINES_MOST - 1], cut(" ".join(lines[LINES_MOST - 1 :]), width)]


def _remark_lines(row: CardRow, width: int, risks: Sequence[Piece]) -> list[list[Piece]]:
    """Return what holds a card in lines of `width`, several remarks to a line where they fit."""
    lines: list[list[Piece]] = []
    for text, style in remarks(row, risks):
        pieces = _below(text, width)
        used = sum(display_width(t) for t, _ in lines[-1]) if lines else width
        if len(pieces) == 1 and used + len(GAP) + display_width(pieces[0]) <= width:
            lines[-1] += [(GAP, ""), (pieces[0], style)]
        else:
            lines += [[(piece, style)] for piece in pieces]
    return lines


def card_lines(row: CardRow, columns: Plan, today: date, risks: Sequence[Piece] = ()) -> Content:
    """Return a card of the list, as many lines as it needs."""
    cells = [
        _fill((row.number, "bold"), columns.number),
        _fill((card_state(row.state), STATE_STYLES.get(row.state, "")), STATE),
        _fill(_promise(row, today), PROMISE),
        _fill(_hours(row), HOURS),
        _fill((f"{row.tasks_settled}/{row.tasks}" if row.tasks else "none", ""), TASKS),
    ]
    title = _below(row.title, columns.title or columns.width - columns.hang)
    holds = _remark_lines(row, columns.remarks or columns.width - columns.hang, risks)
    below: list[list[Piece]] = []
    if columns.title:
        cells.insert(2, _fill((title[0], ""), columns.title))
        title = title[1:]
    first = [(" " * INDENT, ""), *(piece for cell in cells for piece in (cell, (GAP, "")))][:-1]
    if columns.remarks:
        first += [(GAP, ""), *holds[0]] if holds else []
        indent = columns.hang + STATE + len(GAP)
        right = " " * (columns.width - columns.remarks - indent - columns.title)
        for i in range(max(len(title), len(holds) - 1)):
            left = pad(title[i], columns.title) if i < len(title) else " " * columns.title
            below.append([(" " * indent + left + right, ""), *(holds[i + 1] if i + 1 < len(holds) else [])])
    else:
        indent = columns.hang + (STATE + len(GAP) if columns.title else 0)
        below += [[(" " * indent + line, "")] for line in title]
        below += [[(" " * columns.hang, ""), *line] for line in holds]
    return _assemble([first, *below])


def _assemble(lines: Sequence[Sequence[Piece]]) -> Content:
    return Content("\n").join(
        Content.assemble(*((text, style) if style else text for text, style in line)) for line in lines
    )


def totals(rows: Sequence[CardRow], today: date, *, narrowed: bool, more: bool, closed: int = 0) -> str:
    """Return the line that counts what is shown."""
    beside = f"{closed} closed {'card' if closed == 1 else 'cards'} found" if closed else ""
    if closed and not rows:
        return f"{beside}, none open"
    states = [r.state for r in rows]
    counts = [f"{states.count(s)} {s}" for s in ("booked", "in hand", "held", "checked") if s in states]
    late = sum(1 for r in rows if r.promised and r.promised < today)
    counts.append(f"{late} late" if late else "none late")
    found = f"{len(rows)} {'card' if len(rows) == 1 else 'cards'}{' found' if narrowed else ''}"
    first = f"the first {found}; type to find the others" if more else found
    return "; ".join(filter(None, (f"{first}: {', '.join(counts)}", beside)))
