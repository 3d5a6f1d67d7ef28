"""The steps of the order as they stand in the list: two lines each, or one where the terminal is wide."""

from textual.content import Content

from shopcli.columns import cut, display_width, pad, wrap
from shopcli.orderwords import about_step, from_now, wish_words
from shopcli.screens.widgets.lines import Line, wrapped
from shopcli.shop.ordered import NoRoomView, OrderView, StepView

TIME, NUMBER, GAP = 7, 4, 2
HANG = TIME + NUMBER + GAP
WIDE = 150  # columns from which a step stands in one line
ABOUT_WIDE = 52
QUIET, ASKED, LACKING = "$foreground-muted", "$text-accent", "$text-warning"


def _head(step: StepView) -> str:
    return f"{pad(from_now(step.start_min), TIME)}{pad(str(step.number), NUMBER, right=True)}{' ' * GAP}"


def _why(step: StepView) -> tuple[str, str]:
    style = ASKED if step.wish else LACKING if step.why.startswith("parts missing") else QUIET
    return step.why, style


def step_lines(step: StepView, view: OrderView, width: int) -> Content:
    """Return a step: its time, its own number, what, who and where; and why it stands there."""
    why, style = _why(step)
    title = f"{step.title}{'  ▸ in hand' if step.in_hand else ''}"
    about = about_step(step, view)
    if width >= WIDE:
        room = (width - HANG - ABOUT_WIDE - 2 * GAP) // 2
        cells = (pad(cut(title, room), room), pad(cut(about, ABOUT_WIDE), ABOUT_WIDE))
        left = width - HANG - room - ABOUT_WIDE - 2 * GAP
        return Content.assemble(
            (_head(step), QUIET), (cells[0], "bold"), " " * GAP, cells[1], " " * GAP, (cut(why, left), style)
        )
    room = width - HANG
    beside = room - display_width(title) - GAP
    if display_width(about) <= beside:
        first: tuple[str | tuple[str, str], ...] = ((title, "bold"), " " * GAP, (about, ""))
        more = [why]
    else:
        first = ((cut(title, room), "bold"),)
        more = [f"{about}; {why}"]
    below = [f"\n{' ' * HANG}{line}" for text in more for line in wrap(text, room)[:2]]
    return Content.assemble((_head(step), QUIET), *first, ("".join(below), style))


def no_room_lines(gone: NoRoomView, width: int) -> Content:
    """Return a task that finds no room, and why."""
    head = f"{pad('  !', TIME)}{pad(str(gone.number), NUMBER, right=True)}{' ' * GAP}"
    below = "".join(f"\n{' ' * HANG}{line}" for line in wrap(gone.why, width - HANG)[:3])
    return Content.assemble((head, LACKING), (cut(gone.title, width - HANG), "bold"), (below, LACKING))


def asked_lines(view: OrderView, width: int) -> list[Line]:
    """Return wishes that are set aside, and what is to be said of the order as a whole."""
    lines: list[Line] = []
    for wish in view.wishes:
        if wish.set_aside:
            lines += wrapped(wish_words(wish), width, LACKING, first="! ", rest="  ")
    for note in view.notes:
        lines += wrapped(note, width, LACKING, first="! ", rest="  ")
    return lines
