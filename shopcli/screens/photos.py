"""The photos of a card: what each shows, and each as large as the terminal can show it."""

import asyncio
from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from shopcli.columns import cut, shown
from shopcli.present import day
from shopcli.screens.acts import bindings
from shopcli.screens.desk.changes import Changing
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.photo_view import ShowPhoto, can_show, read_picture
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.shop.photo_commands import RemovePhoto
from shopcli.store.reads.photos import PhotoView, photos

NONE_YET = "No photo is on this card. At the bench p, then Photo, adds one."
WIDEST = 160


class PhotosScreen(Changing[None]):
    """The list of photos of a card."""

    CSS_PATH = "photos.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("photos")
    AUTO_FOCUS = "#photos"
    HELP_STATION = "photos"

    def __init__(self, card_id: int, number: str) -> None:
        super().__init__()
        self._card_id = card_id
        self._number = number
        self._photos: tuple[PhotoView, ...] = ()

    def compose(self) -> ComposeResult:
        """Lay out the list, and where the files lie."""
        yield TopBar(f"Photos  {shown(self._number)}")
        yield MarkedList(id="photos", markup=False, compact=True)
        yield Static(Content(NONE_YET), id="none")
        yield Static(Content(""), id="where")
        yield KeyBar("photos", without=("app.desk", "app.bench", "app.week"))

    def on_mount(self) -> None:
        """Read the photos."""
        self.who_changed()
        self.reload()

    def reload(self) -> None:
        """Read the photos again."""
        shop, card_id = self.desk_app.shop, self._card_id
        self.look("photos", lambda: photos(shop, card_id))

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what != "photos":
            return
        self._photos = event.seen
        listed = self.query_one("#photos", OptionList)
        listed.set_options(Option(_prompt(p), id=str(p.id)) for p in self._photos)
        listed.highlighted = len(self._photos) - 1 if self._photos else None
        listed.display = bool(self._photos)
        if self._photos and self.focused is None:
            listed.focus()
        self.query_one("#none").display = not self._photos
        where = f"They lie in {self._photos[0].path.parent}" if self._photos else ""
        self.query_one("#where", Static).update(Content(shown(where)))

    def _chosen(self) -> PhotoView | None:
        option = self.query_one("#photos", OptionList).highlighted_option
        return next((p for p in self._photos if option is not None and str(p.id) == option.id), None)

    @on(OptionList.OptionSelected, "#photos")
    def action_show(self) -> None:
        """Show the chosen photo."""
        if photo := self._chosen():
            self.run_worker(partial(self._show, photo), group="looks", exit_on_error=False)

    async def _show(self, photo: PhotoView) -> None:
        picture = (
            await asyncio.to_thread(read_picture, photo.path) if photo.there and can_show(self.app) else None
        )
        title = ", ".join(filter(None, (photo.of, photo.caption))) or photo.file
        self.app.push_screen(ShowPhoto(title, photo.path, picture))

    def action_remove(self) -> None:
        """Take the chosen photo off the card, with a reason."""
        if photo := self._chosen():
            self.ask_reason(
                f"Why does {photo.file} come off?",
                "The file stays in the shop's folder.",
                lambda why: self.carry_out(RemovePhoto(photo.id, why)),
            )

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and show it."""
        self.tell(event.done.said)
        self.reload()

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()


def _prompt(photo: PhotoView) -> Content:
    first = photo.of or "the car"
    first += f": {photo.caption}" if photo.caption else ""
    gone = "! the file is gone; " if not photo.there else ""
    second = f"{gone}{photo.file}, by {photo.by} {day(photo.at.date())} {photo.at:%H:%M}"
    return Content.assemble((cut(first, WIDEST), "bold"), "\n  ", (cut(second, WIDEST), "dim"))
