"""The register of measuring tools: what each reads, when it is due; a new one, a calibration, one that is dropped."""

from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from shopcli.columns import cut
from shopcli.screens.acts import bindings
from shopcli.screens.asks import Asks
from shopcli.screens.desk.tool_questions import ask_calibration, ask_change, ask_new, ask_retire
from shopcli.screens.doing import Carried, Looked
from shopcli.screens.widgets.keybar import KeyBar
from shopcli.screens.widgets.marked_list import MarkedList
from shopcli.screens.widgets.topbar import TopBar
from shopcli.store.reads.tools import tools
from shopcli.worklists.tools import OwnedTool

NONE_YET = (
    "No tool is written down yet. F2 writes one into the register: torque wrenches with their range and"
    " calibration, feeler sets with their blades, gauges, strobe, dwell meter."
)


def tool_words(tool: OwnedTool) -> tuple[str, str]:
    """Return what a tool is and reads, and how it stands, in a line each."""
    reads = tool.span.text() if tool.span else tool.blades
    if tool.span and tool.span.step():
        reads = f"{reads}, marked every {tool.span.step()}"
    first = ", ".join(filter(None, (tool.name, "" if tool.kind == tool.name else tool.kind, reads)))
    if tool.retired_for:
        return first, f"⊘ out of use: {tool.retired_for}"
    parts = [f"! {tool.trouble}"] if tool.trouble else []
    parts += [f"calibrated {tool.calibrated}, due {tool.due}"] if tool.calibrated and not tool.trouble else []
    parts += [f"{tool.cycles} cycles since"] if tool.cycles else []
    parts += [f"certificate {tool.certificate}"] if tool.certificate else []
    return first, ", ".join(
        [*parts, *([tool.note] if tool.note else [])]
    ) or "no calibration is noted; none is asked"


class ToolsScreen(Asks):
    """The register."""

    CSS_PATH = "tools.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("tools")
    AUTO_FOCUS = "#tools"
    HELP_STATION = "tools"

    def __init__(self) -> None:
        super().__init__()
        self._tools: tuple[OwnedTool, ...] = ()
        self._all = False

    def compose(self) -> ComposeResult:
        """Lay out the list."""
        yield TopBar("Tools")
        yield MarkedList(id="tools", markup=False, compact=True)
        yield Static(Content(NONE_YET), id="none")
        yield KeyBar("tools", without=("app.desk", "app.bench", "app.week"))

    def on_mount(self) -> None:
        """Show the register."""
        self.who_changed()
        self.reload()

    def reload(self) -> None:
        """Read the register again."""
        shop, every = self.desk_app.shop, self._all
        self.look("tools", lambda: tools(shop, retired=every))

    def on_resize(self) -> None:
        """Lay the list out anew."""
        self._show()

    @on(Looked)
    def take_in(self, event: Looked) -> None:
        """Show what was read."""
        if event.what == "tools":
            self._tools = event.seen
            self._show()

    def _show(self) -> None:
        listed = self.query_one("#tools", OptionList)
        chosen = listed.highlighted_option.id if listed.highlighted_option else None
        width = max(20, self.size.width - 6)
        listed.set_options(Option(_prompt(t, width), id=str(t.id)) for t in self._tools)
        keys = [str(t.id) for t in self._tools]
        listed.highlighted = (keys.index(chosen) if chosen in keys else 0) if keys else None
        listed.display = bool(keys)
        if keys and self.focused is None:  # an empty list cannot keep the focus
            listed.focus()
        self.query_one("#none").display = not keys

    def chosen(self) -> OwnedTool | None:
        """Return the chosen tool."""
        option = self.query_one("#tools", OptionList).highlighted_option
        return next((t for t in self._tools if option is not None and str(t.id) == option.id), None)

    @on(Carried)
    def carried(self, event: Carried) -> None:
        """Say what was done and show it."""
        self.tell(event.done.said)
        self.reload()

    # Acts ---------------------------------------------------------------------------------------------

    def action_new(self) -> None:
        """Write a tool into the register."""
        self.ask(ask_new)

    @on(OptionList.OptionSelected, "#tools")
    def action_change(self) -> None:
        """Change what the register says of the chosen tool."""
        if tool := self.chosen():
            self.ask(partial(ask_change, tool=tool))

    def action_calibrated(self) -> None:
        """Note a calibration of the chosen tool."""
        if tool := self.chosen():
            self.ask(partial(ask_calibration, tool=tool))

    def action_retire(self) -> None:
        """Take the chosen tool out of use."""
        if tool := self.chosen():
            self.ask(partial(ask_retire, tool=tool))

    def action_all(self) -> None:
        """Show those out of use too, or no longer."""
        self._all = not self._all
        self.reload()

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()


def _prompt(tool: OwnedTool, width: int) -> Content:
    first, second = tool_words(tool)
    style = "bold $text-warning" if tool.trouble and not tool.retired_for else "dim"
    return Content.assemble((cut(first, width), "bold"), "\n  ", (cut(second, width - 2), style))
