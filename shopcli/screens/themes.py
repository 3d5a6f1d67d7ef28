"""Our own themes beside the framework's: two whose colours stay apart for eyes that see few of them.

The colours are the eight of Okabe and Ito's set for colour-blind readers ("Color Universal Design", 2008).
A glyph and a word always stand beside a colour; the theme only makes the colour help more people.
"""

from textual.theme import Theme

ORANGE, SKY, GREEN, YELLOW = "#E69F00", "#56B4E9", "#009E73", "#F0E442"
BLUE, VERMILION, PURPLE = "#0072B2", "#D55E00", "#CC79A7"

OURS = (
    Theme(
        "clear-dark",
        primary=SKY,
        secondary=BLUE,
        warning=ORANGE,
        error=VERMILION,
        success=GREEN,
        accent=YELLOW,
        dark=True,
    ),
    Theme(
        "clear-light",
        primary=BLUE,
        secondary=SKY,
        warning="#8A5F00",  # orange and yellow are too pale to be read on white
        error="#B34F00",
        success="#00704F",
        accent=PURPLE,
        background="#FFFFFF",
        surface="#F2F2F2",
        panel="#E4E4E4",
        dark=False,
    ),
)
