"""A day's times in words and columns."""

from textual.content import Content

from shopcli.columns import cut, pad, shown
from shopcli.present import day, h_mm
from shopcli.shop.time_views import DayView, StretchView

LEAST_TASK = 12
WIDE = 100


def until(stretch: StretchView) -> str:
    """Return when a stretch ended; a later day is said."""
    if stretch.ended is None:
        return "now"
    days = (stretch.ended.date() - stretch.started.date()).days
    return f"{stretch.ended:%H:%M}" + (f" +{days}d" if days else "")


def began(stretch: StretchView, of_day: DayView) -> str:
    """Return when a stretch began; an earlier day is said."""
    days = (of_day.day - stretch.started.date()).days
    return f"{stretch.started:%H:%M}" + (f" -{days}d" if days > 0 else "")


def sign(stretch: StretchView) -> str:
    """Return the sign and word of a stretch: running, a break, work."""
    if stretch.kind == "break":
        return "◌ break"
    return "● runs " if stretch.ended is None else "  work "


def line(stretch: StretchView, of_day: DayView, width: int) -> Content:
    """Return a stretch as one line of the list; what was corrected says why below it."""
    head = f"{sign(stretch)}  {pad(began(stretch, of_day), 9)}{pad(until(stretch), 10)}{h_mm(stretch.seconds):>6}  "
    room = max(LEAST_TASK, width - len(head) - 3)
    task = cut(f"{stretch.card}  {stretch.task}", room)
    kind = "dim" if stretch.kind == "break" else "bold" if stretch.ended is None else ""
    parts: list[str | tuple[str, str]] = [(f"{head}{task}", kind)]
    notes = [stretch.corrected] if stretch.corrected else []
    notes += ["the card is closed, this stands for good"] if stretch.settled else []
    if notes:
        parts.append((f"\n         {cut('; '.join(notes), max(LEAST_TASK, width - 14))}", "dim"))
    return Content.assemble(*parts)


def head() -> str:
    """Return the names of the columns."""
    return f"{' ' * 11}{pad('from', 9)}{pad('until', 10)}{'time':>6}  card and task"


def sums(seen: DayView) -> str:
    """Say the sums of a day and the shop's hours."""
    hours = "the shop is shut" if seen.shuts is None or seen.opens is None else ""
    if not hours and seen.opens is not None and seen.shuts is not None:
        hours = f"shop {seen.opens:%H:%M} to {seen.shuts:%H:%M}"
    rest = f", breaks {h_mm(seen.break_seconds)}" if seen.break_seconds else ""
    return f"Worked {h_mm(seen.worked_seconds)}{rest}.  {hours}"


def title(seen: DayView) -> str:
    """Return whose day this is."""
    return shown(f"Times of {seen.person}, {day(seen.day)} {seen.day.year}")


def which(stretch: StretchView) -> str:
    """Say a stretch in a line, for a question about it."""
    what = f"break from '{stretch.task}'" if stretch.kind == "break" else f"'{stretch.task}'"
    return shown(f"{stretch.started:%H:%M} to {until(stretch)}, {what}, {stretch.card}")
