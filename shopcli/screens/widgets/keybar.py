"""Every key of a station with its label, on as many rows as the terminal needs: nothing scrolls out of sight.

Made from the keys that are in force, so a shop's own choice of keys shows here too. A key can also be clicked.
"""

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.reactive import Reactive
from textual.style import Style
from textual.widget import Widget

from shopcli.screens.acts import acts_of, key_names

GAP = 2
Key = tuple[str, str, str]  # the key as it is called, what it does, the action


class KeyBar(Widget, can_focus=False):
    """The keys of a station.

    `without` names acts that make no sense where it stands, `also` some that are on the help page alone elsewhere.
    """

    ALLOW_SELECT = False
    DEFAULT_CSS = """
    KeyBar { dock: bottom; height: auto; width: 1fr; background: $footer-background; color: $footer-foreground;
        link-style: none; link-color: $footer-foreground; link-background: $footer-background;
        link-style-hover: bold; link-color-hover: $footer-key-foreground; }
    """
    virtual_size = Reactive(Size(0, 0), layout=False, repaint=False)  # see rooms.py

    def __init__(self, station: str, *, without: tuple[str, ...] = (), also: tuple[str, ...] = ()) -> None:
        super().__init__()
        self._also = also
        self._station = station
        self._without = without
        self._keys: list[Key] | None = None

    def on_mount(self) -> None:
        """Follow the keys in force."""
        self.screen.bindings_updated_signal.subscribe(self, self._follow)
        self.watch(self.screen, "focused", self._follow, init=False)  # at once, not in the picture after

    def on_resize(self, event: events.Resize) -> None:
        """Have what is announced stand above the keys: whoever reads it presses one of them next."""
        for rack in self.screen.query("ToastRack"):
            rack.styles.margin = (0, 0, event.size.height, 0)

    def _follow(self, _changed: object) -> None:
        if not self.display:
            return
        keys = self._in_force()
        if keys != self._keys:
            self._keys = keys
            self.refresh(layout=True)

    def _items(self) -> list[Key]:
        if self._keys is None:
            self._keys = self._in_force()
        return self._keys

    def _in_force(self) -> list[Key]:
        """Return (key, label, action) of everything that can be pressed."""
        keys: dict[str, tuple[str, str]] = {}
        for active in self.screen.active_bindings.values():
            if active.binding.id and (active.binding.show or active.binding.id in self._also):
                owner = "app" if active.binding.id.startswith("app.") else "screen"
                keys.setdefault(active.binding.id, (active.binding.key, f"{owner}.{active.binding.action}"))
        return [
            (key_names(keys[act.id][0]), act.label, keys[act.id][1])
            for act in sorted(acts_of(self._station), key=lambda act: act.id.startswith("app."))
            if act.id in keys and act.id not in self._without
        ]

    def _rows(self, width: int) -> list[list[Key]]:
        rows: list[list[Key]] = [[]]
        used = 0
        for item in self._items():
            wide = len(item[0]) + 1 + len(item[1])
            if rows[-1] and used + GAP + wide > width:
                rows.append([])
                used = 0
            used += wide + (GAP if rows[-1] else 0)
            rows[-1].append(item)
        return rows

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Ask for as many rows as the keys need."""
        return len(self._rows(width))

    def render(self) -> Content:
        """Show key and label of each."""
        lines = []
        for row in self._rows(self.size.width):
            parts: list[Content | tuple[str, Style | str]] = []
            for key, label, action in row:
                click = Style.from_meta({"@click": action})
                parts += [(" " * GAP, "")] if parts else []
                parts.append(
                    Content.assemble((key, "bold $footer-key-foreground"), f" {label}").stylize(click)
                )
            lines.append(Content.assemble(*parts))
        return Content("\n").join(lines)
