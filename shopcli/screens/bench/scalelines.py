"""The limits of the number in hand as a scale, with what was found, what is left and what is being typed on it."""

from dataclasses import dataclass

from shopcli.marks import STANDING_MARKS
from shopcli.screens.bench.numberwords import figures_of, unit_shown
from shopcli.screens.bench.readingwords import STANDING_STYLE, as_typed
from shopcli.screens.widgets.lines import Line
from shopcli.shop.views import ReadingView
from shopcli.units import Limits, Preferences, from_canonical, unit_named
from shopcli.workings.scale_picture import Hung, Labels, scale_rows
from shopcli.worklists.model import Spec

WIDEST = 88
TYPING_STYLE = "bold $text-accent"
LAST_STYLE = "$foreground-muted"


@dataclass(frozen=True, slots=True)
class OnScale:
    """A reading to hang: how it is called, its value, [canonical unit], as said, in which unit it was read."""

    word: str
    value: float
    said: str
    unit: str
    style: str = ""

    @classmethod
    def taken(cls, word: str, reading: ReadingView) -> "OnScale":
        """Make one of a reading that was taken."""
        return cls(word, reading.value, as_typed(reading), reading.unit)


def scale_lines(
    spec: Spec, prefs: Preferences, readings: tuple[OnScale, ...], width: int, *, plain: bool = False
) -> list[Line]:
    """Draw the scale of a number; a number nobody confirmed judges nothing on it."""
    limits, unit = spec.limits, unit_shown(spec.limits, prefs.for_number(spec.name))
    if unit_named(unit).reciprocal:
        return []  # a unit that runs the other way (miles to the gallon) would turn the scale round
    printed = limits.printed_for(unit)
    low, high = printed.band(unit)
    values = [None if v is None else from_canonical(v, unit) for v in (low, printed.nominal, high)]
    texts = figures_of(limits.text_in(unit))
    labels = Labels(texts.low, texts.aim, texts.high, texts.unit)
    styles: dict[str, str] = {"": "bold"}
    hung = []
    for number, one in enumerate(readings):
        words, style = _judged(one, limits, sure=not spec.provenance.to_confirm)
        styles[str(number)] = one.style or style
        hung.append(Hung(from_canonical(one.value, unit), words, words, str(number)))
    rows = scale_rows(*values, labels, hung, width=min(width, WIDEST), ascii_only=plain)
    return [tuple((text, styles[tag]) for text, tag in row) for row in rows]


def _judged(one: OnScale, limits: Limits, *, sure: bool) -> tuple[str, str]:
    if not sure or one.word == "last time":
        return f"{one.word} {one.said}", LAST_STYLE
    verdict = limits.judge(one.value, unit=one.unit)
    sign = STANDING_MARKS[verdict.standing].sign
    by = "" if verdict.standing == "in" else f" {verdict.standing} by {verdict.amount}"
    return f"{one.word} {one.said} {sign}{by}", STANDING_STYLE[verdict.standing]
