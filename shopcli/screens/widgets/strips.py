"""A line of ours as the terminal gets it: text in colours, ready to be painted."""

from rich.segment import Segment
from rich.style import Style as RichStyle
from textual.strip import Strip
from textual.style import Style

from shopcli.columns import shown
from shopcli.screens.widgets.lines import Line

GROUND = "ground"  # the style of blanks that are nothing but the ground a pane stands on


def strip_of(line: Line, ground: Style) -> Strip:
    """Return a line dressed in its styles, on the ground of the widget it stands in."""
    return Strip([Segment(_printable(text), _dressed(style, ground)) for text, style in line if text])


def _dressed(style: str, ground: Style) -> RichStyle:
    if style == GROUND:
        return ground.background_style.rich_style
    return (ground + Style.parse(style)).rich_style if style else ground.rich_style


def _printable(text: str) -> str:
    """Return a text without what would drive the terminal; lines were cleaned, this is the last gate."""
    return text if text.isprintable() else shown(text).replace("\n", " ")
