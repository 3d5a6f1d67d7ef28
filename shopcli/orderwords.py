"""The order of work in words, the same on screens, papers and at the command line. Values in, text out."""

from shopcli.columns import shown
from shopcli.present import h_mm, hours
from shopcli.shop.ordered import OrderView, StepView, WishView


def pairs_of_hands(count: int) -> str:
    """Write how many people.

    Examples
    --------
    >>> pairs_of_hands(1), pairs_of_hands(2)
    ('1 pair of hands', '2 pairs of hands')
    """
    return f"{count} {'pair' if count == 1 else 'pairs'} of hands"


def from_now(minutes: int) -> str:
    """Write a time of the order, counted from when it was made.

    Examples
    --------
    >>> from_now(0), from_now(83)
    ('+0:00', '+1:23')
    """
    return f"+{h_mm(minutes * 60)}"


def left_words(view: OrderView) -> str:
    """Write what is left of a card: work, and how long it takes as the waits allow."""
    if not view.steps:
        return "nothing left to do" if not view.no_room else "nothing that can be done as the car stands"
    left = f"{hours(view.hands_on_min * 60)} hands-on, {hours(view.elapsed_min * 60)} elapsed"
    return f"{left} with {pairs_of_hands(view.hands)}"


def figures_words(view: OrderView) -> str:
    """Write what is left, and how that stands against the list from top to bottom."""
    left = f"Left: {left_words(view)}"
    if not view.steps or view.listed_min <= 0:
        return f"{left}."
    listed = f"{left}. From top to bottom {hours(view.listed_min * 60)}"
    return f"{listed}: {view.saved_percent} % shorter." if view.saved_percent > 0 else f"{listed}."


def about_step(step: StepView, view: OrderView) -> str:
    """Write who does a step, where, how long, and how long it runs on without hands; somebody alone needs no name."""
    wait = step.free_at_min - step.end_min
    lasts = f"{step.end_min - step.start_min} min"
    who = step.who if view.hands > 1 or view.people else ""
    parts = (who, step.place, lasts, f"then {wait} min wait" if wait else "")
    return shown(", ".join(filter(None, parts)))


def wish_words(wish: WishView) -> str:
    """Write a wish, who asked for it, and why it is set aside when it is."""
    said = f"{wish.number}  {wish.title}: {wish.says}, asked by {wish.asked_by}"
    return shown(f"{said}; set aside: {wish.set_aside}" if wish.set_aside else said)
