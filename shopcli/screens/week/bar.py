"""What is said when a bar is clicked; in a file of its own, for what draws the bars is loaded later."""

from dataclasses import dataclass

from textual.message import Message


@dataclass
class BarClicked(Message):
    """A bar of the picture was clicked, by its place from the left."""

    place: int
