"""Rooms that hold panes side by side and scroll nothing themselves."""

from textual.containers import Container, Horizontal, Vertical
from textual.geometry import Size
from textual.reactive import Reactive

# The framework lays a screen out a second time whenever a widget got other room, for those that scroll. In these
# nothing scrolls: one time is enough, and the picture is there a frame earlier.


class Room(Container):
    """A container that keeps to the room it is given; it has no edge and no ground of its own."""

    BLANK = True
    virtual_size = Reactive(Size(0, 0), layout=False, repaint=False)


class Row(Horizontal):
    """The same, side by side."""

    BLANK = True
    virtual_size = Reactive(Size(0, 0), layout=False, repaint=False)


class Column(Vertical):
    """One below the other; it may have an edge."""

    virtual_size = Reactive(Size(0, 0), layout=False, repaint=False)
