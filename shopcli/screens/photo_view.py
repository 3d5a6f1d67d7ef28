"""A photo on the screen where the terminal and an optional library can show one, else the path where it lies.

The library asks the terminal what it can do when it is loaded, and that answer must not be taken for typing; so it
is loaded once, while the application has let go of the terminal.
"""

import importlib
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual.app import App, ComposeResult, SuspendNotSupported
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widget import Widget
from textual.widgets import Static

from shopcli.columns import cut, shown
from shopcli.screens.careful import Careful

if TYPE_CHECKING:
    from PIL.Image import Image

LIBRARY = "textual_image.widget"
LARGEST = (1600, 1200)  # dots; more is not seen in a terminal
TITLE_MOST = 120


def can_show(app: App[Any]) -> bool:
    """Whether the library is there and can be loaded now; loads it."""
    if LIBRARY in sys.modules:
        return True
    if getattr(app, "plain", False) or find_spec("textual_image") is None or find_spec("PIL") is None:
        return False
    try:
        with app.suspend():
            importlib.import_module(LIBRARY)
    except SuspendNotSupported:
        # Without a terminal of its own there is nobody to be asked, and nothing to be confused.
        out = sys.__stdout__
        if out is not None and out.isatty():
            return False
        importlib.import_module(LIBRARY)
    return True


def read_picture(path: Path) -> "Image | None":
    """Return the picture, upright and no larger than is shown; None when it cannot be read as one."""
    from PIL import Image, ImageOps

    try:
        with Image.open(path) as picture:
            picture.draft("RGB", LARGEST)
            upright = ImageOps.exif_transpose(picture)
            upright.thumbnail(LARGEST)
            return upright.convert("RGB")
    except (OSError, ValueError, SyntaxError, MemoryError, Image.DecompressionBombError):
        return None


class ShowPhoto(Careful, ModalScreen[None]):
    """One photo, as large as there is room."""

    CSS_PATH = "photos.tcss"
    BINDINGS = [Binding("escape,enter,q,space", "dismiss", "Back")]

    def __init__(self, title: str, path: Path, picture: "Image | None") -> None:
        super().__init__()
        self._title = title
        self._path = path
        self._picture = picture

    def compose(self) -> ComposeResult:
        """Lay out the picture, or say where it lies."""
        with Vertical(id="photo"):
            yield Static(Content(cut(self._title, TITLE_MOST)), id="photo-title")
            if self._picture is not None:
                yield self._widget(self._picture)
            else:
                yield Static(Content("It cannot be shown in this terminal."), id="photo-none")
            yield Static(Content(shown(f"{self._path}\nEsc goes back.")), id="photo-path")

    @staticmethod
    def _widget(picture: "Image") -> Widget:
        widget: Widget = importlib.import_module(LIBRARY).Image(picture)
        widget.id = "picture"
        return widget
