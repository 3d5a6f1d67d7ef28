"""What lies beneath the task: the parts of the kit, the tags on the vehicle and the checks still owed."""

from collections.abc import Callable, Sequence

from shopcli.car_words import OVERDUE, owed_words, stop_told, stop_words, tag_words
from shopcli.columns import shown
from shopcli.screens.bench.wording import open_owed, part_words, parts_in_short, parts_of, tag_in_short
from shopcli.screens.widgets.lines import Line, fitted, wrapped
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.shop.views import CardView, OwedView, TaskView

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
    forbids = [(f"⊠ {stop_told(f)}", "bold $text-error") for f in view.stops]
    tags = [(f"⊠ {tag_words(t)}", "bold $text-error") for t in view.tags]
    owed = [(owed_words(o, view.distance_unit), _owed_style(o)) for o in open_owed(view)]
    return [
        *forbids,
        *(tags or [("no tag hangs on the vehicle", NONE)]),
        *(owed or [("nothing is owed", NONE)]),
    ]


def _owed_style(owed: OwedView) -> str:
    return NONE if owed.for_later else "bold $text-error" if owed.overdue else "$text-warning"


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


def _owed_in_short(owed: Sequence[OwedView]) -> list[Said]:
    """Say in a line each what is overdue, what is owed before the hand-over, what falls due later."""
    later = [o for o in owed if o.for_later]
    overdue = [o for o in owed if o.overdue]
    now = [o for o in owed if o not in later and o not in overdue]
    told = (
        (OVERDUE, "bold $text-error", overdue),
        ("! owed", "$text-warning", now),
        ("due later", NONE, later),
    )
    return [
        (shown(f"{word}: {', '.join(o.title for o in some)}"), style) for word, style, some in told if some
    ]


class Brief(LinesPane):
    """All of it in a line or two, for a small terminal: tags first, they are what hurts."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._said: list[Said] = []

    def show(self, view: CardView | None, task: TaskView | None) -> None:
        """Show what holds for a card and its task in hand."""
        self._said = []
        if view is not None:
            tags = "; ".join((*map(stop_words, view.stops), *(tag_in_short(t) for t in view.tags)))
            self._said += [(f"⊠ {tags}", "bold $text-error")] if tags else []
            self._said += _owed_in_short(open_owed(view))
            parts = parts_in_short(view, task)
            self._said += [(parts, "")] if parts else []
        self.set_class(not self._said, "-empty")
        self.lay_again()

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return as many lines as there is room for."""
        lines = [line for text, style in self._said for line in wrapped(text, width, style, rest="  ")]
        return fitted(lines, rows, "t shows tags and owed, f the parts", width)
