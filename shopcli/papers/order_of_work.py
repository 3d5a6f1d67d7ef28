"""The order of work of a card as text: the picture of the day, then every step with its time and its reason."""

from shopcli.orderwords import about_step, figures_words, from_now, wish_words
from shopcli.papers.layout import WIDTH, beside, heading, page_width, para, rule
from shopcli.present import pad
from shopcli.shop.ordered import Order
from shopcli.shop.views import CardView
from shopcli.worklists.planner import picture

TIME, NUMBER = 7, 4
INDENT = TIME + NUMBER + 2


def order_text(card: CardView, order: Order, made: str, *, width: int = WIDTH, plain: bool = False) -> str:
    """Return the order of work.

    Parameters
    ----------
    card : CardView
        The card.
    order : Order
        As read.
    made : str
        When, in words.
    width : int, optional
        Width of the page, 72 to 200, [columns]
    plain : bool, optional
        Only ASCII signs in the picture.

    Raises
    ------
    BadInput
        If the page is too narrow or too wide.
    """
    page_width(width)
    view = order.view
    car = ", ".join(filter(None, (card.vehicle, card.registration)))
    head = beside(para(f"ORDER OF WORK  {card.number}", width // 2), para(car, width // 2), width)
    lines = [
        rule(width, "="),
        *head,
        rule(width, "="),
        *para(f"From {made} on. {figures_words(view)}", width),
    ]
    if order.plan is not None and view.steps:
        drawn = picture(order.plan, width=width, ascii_only=plain, names=view.people)
        lines += ["", *drawn.splitlines(), ""]
    for step in view.steps:
        first = f"{pad(from_now(step.start_min), TIME)}{pad(str(step.number), NUMBER, right=True)}  "
        lines += para(f"{step.title} ({about_step(step, view)})", width, first=first, indent=INDENT)
        lines += para(step.why, width, first=" " * INDENT)
    if view.no_room:
        lines += ["", *heading("Finds no room", width)]
    for gone in view.no_room:
        lines += para(f"{gone.number}  {gone.title}: {gone.why}", width, first="  ! ")
    if view.wishes:
        lines += ["", *heading("Asked for", width)]
    for wish in view.wishes:
        lines += para(wish_words(wish), width, first="  ! " if wish.set_aside else "  - ")
    for note in view.notes:
        lines += ["", *para(f"Note: {note}", width)]
    return "\n".join([*lines, rule(width, "=")]) + "\n"
