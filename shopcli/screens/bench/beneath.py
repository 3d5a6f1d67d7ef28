"""What lies beneath the task: the parts of the kit, the tags on the vehicle and the checks still owed."""

from collections.abc import Callable, Sequence

from shopcli.columns import shown
from shopcli.screens.bench.wording import (
    is_for_later,
    open_owed,
    owed_words,
    part_words,
    parts_in_short,
    parts_of,
    stops_driving,
    tag_in_short,
    tag_words,
)
from shopcli.screens.widgets.lines import Line, fitted, wrapped
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.shop.views import CardView, TaskView

Said = tuple[str, str]  # words and style
Say = Callable[[CardView, TaskView | None], Sequence[Said]]
NONE = "$foreground-muted"


def parts_said(view: CardView, task: TaskView | None) -> list[Said]:
    """Return the parts of the card in words, those of the task first."""
    style = {"fitted": "$text-success", "wanted": "", "on order": "$text-warning"}
    return [(part_words(p), style.get(p.state, NONE)) for p in parts_of(view, task)] or [
        ("no parts on the card", NONE)
    ]


def open_said(view: CardView, _task: TaskView | None) -> list[Said]:
    """Return what forbids driving, the tags on the vehicle, who hung them and when, then the checks still owed."""
    stops = [(f"⊠ {words}", "bold $text-error") for words in stops_driving(view)]
    tags = [(f"⊠ {tag_words(t)}", "bold $text-error") for t in view.tags]
    owed = [
        (owed_words(o, view.distance_unit), NONE if is_for_later(o) else "$text-warning")
        for o in open_owed(view)
    ]
    return [
        *stops,
        *(tags or [("no tag hangs on the vehicle", NONE)]),
        *(owed or [("nothing is owed", NONE)]),
    ]


class Panel(LinesPane):
    """One of them, in a frame of its own."""

    def __init__(self, title: str, key: str, say: Say, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id, classes="panel")
        self.border_title = title
        self._more = f"{key} shows all"
        self._say = say
        self._said: Sequence[Said] = ()

    def show(self, view: CardView | None, task: TaskView | None) -> None:
        """Show what holds for a card and its task in hand."""
        said = self._say(view, task) if view else ()
        if said != self._said:
            self._said = said
            self.lay_again()

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return as many lines as there is room for, and say when there are more."""
        lines = [line for text, style in self._said for line in wrapped(text, width, style, rest="  ")]
        return fitted(lines, rows, self._more, width)


class Brief(LinesPane):
    """All of it in a line or two, for a small terminal: tags first, they are what hurts."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._said: list[Said] = []

    def show(self, view: CardView | None, task: TaskView | None) -> None:
        """Show what holds for a card and its task in hand."""
        self._said = []
        if view is not None:
            tags = "; ".join((*stops_driving(view), *(tag_in_short(t) for t in view.tags)))
            owed = ", ".join(shown(o.title) for o in open_owed(view) if not is_for_later(o))
            later = ", ".join(shown(o.title) for o in open_owed(view) if is_for_later(o))
            self._said += [(f"⊠ {tags}", "bold $text-error")] if tags else []
            self._said += [(f"! owed: {owed}", "$text-warning")] if owed else []
            self._said += [(f"due later: {later}", NONE)] if later else []
            parts = parts_in_short(view, task)
            self._said += [(parts, "")] if parts else []
        self.set_class(not self._said, "-empty")
        self.lay_again()

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return as many lines as there is room for."""
        lines = [line for text, style in self._said for line in wrapped(text, width, style, rest="  ")]
        return fitted(lines, rows, "t shows tags and owed, f the parts", width)
