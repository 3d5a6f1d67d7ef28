"""The sheet that hangs on the car: the card's square to scan, what the customer said, and the work list with its blanks."""

from shopcli.codes import card_code
from shopcli.columns import display_width, pad
from shopcli.papers.bench_list import about_card, body
from shopcli.papers.layout import WIDTH, beside, field, page_width, para, rule
from shopcli.papers.square import square_lines
from shopcli.present import card_state
from shopcli.shop.views import CardView
from shopcli.units import Preferences

GAP = 2
LEAST_FIELDS = 36  # columns beside the square that still read well


def bench_sheet_text(card: CardView, prefs: Preferences, *, width: int = WIDTH, plain: bool = False) -> str:
    """Return the bench sheet of a card as text.

    Parameters
    ----------
    card : CardView
        The card, whole, its tasks in the order they are to stand in.
    prefs : Preferences
        Units of the tools at this bench; the other system stands in brackets.
    width : int, optional
        Width of the page, 72 to 200, [columns]
    plain : bool, optional
        Only ASCII signs; the square is printed of number signs.

    Raises
    ------
    BadInput
        If the page is too narrow or too wide.
    """
    page_width(width)
    code = card_code(card.number)
    square = [
        *square_lines(code, plain=plain),
        code.center(display_width(square_lines(code, plain=plain)[0])).rstrip(),
    ]
    head = beside(
        para(f"BENCH SHEET  {card.number}", width // 2),
        para(card_state(card.state, plain=plain), width // 2),
        width,
    )
    lines = [rule(width, "="), *head, rule(width, "="), *_with_square(card, square, width)]
    return "\n".join([*lines, *body(card, prefs, width, plain=plain)]) + "\n"


def _with_square(card: CardView, square: list[str], width: int) -> list[str]:
    """Set the particulars beside the square, or above it where there is no room."""
    wide = max(map(display_width, square))
    room = width - wide - GAP
    narrow = room if room >= LEAST_FIELDS else width
    fields = [line for name, text in about_card(card) for line in field(name, text, narrow)]
    if room < LEAST_FIELDS:
        return [*fields, "", *square]
    beside_it = fields[: len(square)]
    rows = max(len(square), len(beside_it))
    left = [*beside_it, *[""] * (rows - len(beside_it))]
    right = [*square, *[""] * (rows - len(square))]
    laid = [(pad(a, room + GAP) + b).rstrip() for a, b in zip(left, right, strict=True)]
    # What is longer than the square is high goes on below it.
    return [*laid, *fields[len(square) :]]
