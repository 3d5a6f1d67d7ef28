"""What lies beneath the task: the parts of the kit, the tags on the vehicle and the checks still owed."""

from collections.abc import Callable, Iterable, Sequence

from shopcli.car_words import OVERDUE, owed_words, stop_told, stop_words, tag_words
from shopcli.columns import shown
from shopcli.part_words import part_words
from shopcli.screens.bench.wording import open_owed, parts_in_short, parts_of, tag_in_short
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


def _in_short(view: CardView, task: TaskView | None) -> list[Said]:
    """Say in a line each what holds the car, what is overdue or owed, the parts waited for, what falls due later."""
    owed = open_owed(view)
    holds = "; ".join((*map(stop_words, view.stops), *map(tag_in_short, view.tags)))
    told = (
        ("⊠ ", "bold $text-error", holds),
        (f"{OVERDUE}: ", "bold $text-error", _titles(o for o in owed if o.overdue)),
        ("! owed: ", "$text-warning", _titles(o for o in owed if not o.overdue and not o.for_later)),
        ("", "", parts_in_short(view, task)),
        ("due later: ", NONE, _titles(o for o in owed if o.for_later)),
    )
    return [(f"{word}{text}", style) for word, style, text in told if text]


def _titles(owed: Iterable[OwedView]) -> str:
    return shown(", ".join(o.title for o in owed))


class Brief(LinesPane):
    """All of it in a line or two, for a small terminal: tags first, they are what hurts."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._said: list[Said] = []

    def show(self, view: CardView | None, task: TaskView | None) -> None:
        """Show what holds for a card and its task in hand."""
        self._said = _in_short(view, task) if view is not None else []
        self.set_class(not self._said, "-empty")
        self.lay_again()

    def lay(self, width: int, rows: int) -> list[Line]:
        """Return as many lines as there is room for."""
        lines = [line for text, style in self._said for line in wrapped(text, width, style, rest="  ")]
        return fitted(lines, rows, "t shows tags and owed, f the parts", width)
