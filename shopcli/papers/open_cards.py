"""The open jobs on a sheet: who waits, for which vehicle, and what holds it up."""

from collections.abc import Sequence
from datetime import date

from shopcli.columns import pad
from shopcli.papers.layout import WIDTH, beside, page_width, para, rule
from shopcli.present import card_state, day_long, hours, promise
from shopcli.shop.listed import CardRow

NUMBER_WIDTH = 12


def open_cards_text(rows: Sequence[CardRow], today: date, width: int = WIDTH, *, plain: bool = False) -> str:
    """Return the open jobs, grouped by customer and vehicle in the order they first come up.

    Parameters
    ----------
    rows : sequence of CardRow
        The open cards, in the order wanted.
    today : date
        Day by which a promise is late.
    width : int, optional
        Width of the page, 72 to 200, [columns]
    plain : bool, optional
        Only ASCII signs for states.

    Raises
    ------
    BadInput
        If the page is too narrow or too wide.
    """
    page_width(width)
    lines = [*beside(["OPEN JOBS"], [day_long(today)], width), rule(width, "=")]
    customers = dict.fromkeys((r.customer_id, r.customer, r.phone) for r in rows)
    for key, name, phone in customers:
        lines += para(", ".join(filter(None, (name, phone))), width)
        own = [r for r in rows if r.customer_id == key]
        for vehicle in dict.fromkeys((r.vehicle_id, r.vehicle, r.registration) for r in own):
            lines += para(", ".join(filter(None, vehicle[1:])), width, first="  ")
            for row in own:
                if row.vehicle_id == vehicle[0]:
                    lines += _card(row, today, width, plain=plain)
        lines.append("")
    if not rows:
        lines += ["No open jobs.", ""]
    late = sum(1 for r in rows if r.promised and r.promised < today)
    lines += [rule(width), f"{len(rows)} open, {late} late"]
    return "\n".join(lines) + "\n"


def _card(row: CardRow, today: date, width: int, *, plain: bool) -> list[str]:
    hang = " " * (NUMBER_WIDTH + 4)
    first = "    " + pad(row.number, NUMBER_WIDTH - 1) + " "
    clocked = f"{hours(row.clocked_seconds)} clocked, {hours(row.expected_minutes * 60)} expected"
    facts = [
        f"promised {promise(row.promised, today)}" if row.promised else "no promise",
        f"{row.tasks_settled} of {row.tasks} tasks; {clocked}",
        f"on it: {', '.join(row.running)}" if row.running else "",
        f"held up by: {row.holds}" if row.holds else "",
        f"checks owed: {row.owed}" if row.owed else "",
    ]
    lines = para(f"{row.title} [{card_state(row.state, plain=plain)}]", width, first=first, indent=len(hang))
    return lines + [line for text in facts if text for line in para(text, width, first=hang)]
