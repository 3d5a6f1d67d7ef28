"""The answer to a sum, laid out for the room there is: a picture beside the words where both fit, else above them."""

from textual.content import Content

from shopcli.columns import display_width, pad
from shopcli.errors import ShopError
from shopcli.screens.widgets.lines import BLANK, Line, beside, wrapped
from shopcli.screens.widgets.linespane import LinesPane
from shopcli.screens.workings.answering import Answer
from shopcli.units import AS_PRINTED, UNITS, Preferences, on_tool, to_canonical
from shopcli.workings.frame import Result, Worked, Working
from shopcli.worklists.workings_at_hand import pictured
from shopcli.worklists.workings_words import result_text

LEAST_WORDS = 34  # columns beside a picture in which words can still be read
GAP = 3
LABEL_MOST = 30
QUIET, CAUTION = "dim", "$text-warning"


class AnswerPane(LinesPane):
    """Verdict, results, picture, cautions, steps, source."""

    def __init__(self, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id)
        self._answer: Answer | None = None
        self._plain = False
        self._prefs = AS_PRINTED

    def show(self, answer: Answer, prefs: Preferences, *, plain: bool) -> None:
        """Show an answer, or why there is none; figures in other units say those of `prefs` too."""
        self._answer, self._prefs, self._plain = answer, prefs, plain
        self.refresh(layout=True)

    @property
    def text(self) -> str:
        """Everything that stands in the pane."""
        content = self.render()
        return content.plain if isinstance(content, Content) else ""

    @property
    def rows(self) -> int:
        """How many rows everything takes."""
        return len(self.lay(self.size.width, 0)) if self.size.width else 0

    def lay(self, width: int, rows: int) -> list[Line]:
        """Lay the answer out."""
        del rows
        if self._answer is None:
            return []
        return answer_lines(self._answer, width, self._prefs, plain=self._plain)


def answer_lines(
    answer: Answer, width: int, prefs: Preferences = AS_PRINTED, *, plain: bool = False
) -> list[Line]:
    """Return an answer laid out in `width` columns."""
    worked = answer.worked
    if worked is None:
        words = wrapped(answer.words, width, "bold")
        return _blocks(words, _cautions(answer.working.cautions, width), _trust(answer.working, width))
    picture = pictured(worked, plain=plain).splitlines()
    wide = max((display_width(line) for line in picture), default=0)
    drawn: list[Line] = [((line, ""),) for line in picture]
    if picture and width - wide - GAP >= LEAST_WORDS:
        room = width - wide - GAP
        return beside(_said(worked, answer.working, room, prefs), drawn, room, GAP)
    return _said(worked, answer.working, width, prefs, drawn)


def _said(
    worked: Worked, working: Working, width: int, prefs: Preferences, drawn: list[Line] | None = None
) -> list[Line]:
    """Return everything said of an answer; a picture stands right below the verdict it shows."""
    verdict = wrapped(worked.verdict, width, "bold") if worked.verdict else []
    results = _results(worked.results, width, prefs)
    return _blocks(
        *((verdict, drawn, results) if verdict else (results, drawn)),
        _cautions(worked.cautions, width),
        _steps(worked.steps, width),
        _trust(working, width),
    )


def text_in(result: Result, prefs: Preferences) -> str:
    """Say a result, with the tool's figure in somebody's own unit beside it where that is another one.

    Examples
    --------
    >>> from shopcli.units import IMPERIAL, METRIC
    >>> torque = Result("t", "Setting", 54.2, "Nm", "54.2 N·m")
    >>> text_in(torque, IMPERIAL), text_in(torque, METRIC)
    ('54.2 N·m (40 lbf·ft)', '54.2 N·m')
    """
    text, value = result_text(result), result.value
    if isinstance(value, bool) or not isinstance(value, int | float) or result.unit not in UNITS:
        return text
    try:
        canonical = to_canonical(value, result.unit)
        liked = prefs.unit_for(UNITS[result.unit].quantity, result.unit, canonical)
        same = liked == result.unit or UNITS[liked].label in text
        return text if same else f"{text} ({on_tool(canonical, liked)})"
    except ShopError:  # what cannot be said in the other unit is said in its own alone
        return text


def _blocks(*blocks: list[Line] | None) -> list[Line]:
    lines: list[Line] = []
    for block in blocks:
        if block:
            lines += [BLANK, *block] if lines else block
    return lines


def _results(results: tuple[Result, ...], width: int, prefs: Preferences) -> list[Line]:
    column = min(LABEL_MOST, max((display_width(r.label) for r in results), default=0))
    lines: list[Line] = []
    for each in results:
        text, room = text_in(each, prefs), width - column - 2
        if display_width(text) <= room and display_width(each.label) <= column:
            lines.append(((f"{pad(each.label, column)}  ", QUIET), (text, "bold")))
        else:
            lines += wrapped(each.label, width, QUIET)
            lines += wrapped(text, width, "bold", first="  ", rest="  ")
    return lines


def _cautions(cautions: tuple[str, ...], width: int) -> list[Line]:
    return [line for each in cautions for line in wrapped(each, width, CAUTION, first="! ", rest="  ")]


def _steps(steps: tuple[str, ...], width: int) -> list[Line]:
    return [line for each in steps for line in wrapped(each, width, "", first="- ", rest="  ")]


def _trust(working: Working, width: int) -> list[Line]:
    """Say how far to trust the sum."""
    return [
        *wrapped(f"Good for {working.good_for}.", width, QUIET),
        *wrapped(f"Source: {working.source}", width, QUIET),
    ]
