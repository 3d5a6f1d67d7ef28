"""A chart as a picture of lines (SVG 1.1) in black on white: drawn here, so that page and PDF need nothing from outside."""

from html import escape

from shopcli.columns import cut, shown
from shopcli.papers.charts import Bars, Chart, Range, Ranges, alt, ends_of, top_of_bars

WIDTH = 680.0
HEIGHT = 176.0
LEFT, RIGHT, TOP, BOTTOM = 34.0, 8.0, 34.0, 20.0
ROW = 20.0
SIZE = 11
SMALL = 9
FIGURE_WIDE = 0.56  # a figure, in parts of the size of its letters: as wide as the face has it
TICK_GAP = 6.0
NAMES = 190.0
SAID = 130.0
VALUES_SLOT = 34.0  # below this the values over the bars would run into each other
NAMES_SLOT = 24.0  # and here the names below them: every other one is left out
NAME_SIGNS = 34
FACE = "Liberation Sans, Arial, DejaVu Sans, sans-serif"
HATCH = (
    '<defs><pattern id="h" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<rect width="5" height="5" fill="#fff"/><line x1="0" y1="0" x2="0" y2="5" stroke="#000" stroke-width="2"/>'
    "</pattern></defs>"
)
HALO = ' stroke="#fff" stroke-width="2" paint-order="stroke"'  # over a line of the scale
FILLS = ('fill="#333"', 'fill="url(#h)" stroke="#000" stroke-width="0.8"')


def chart_svg(chart: Chart, of: int = 1) -> str:
    """Return a chart as an SVG document; texts are values and never markup.

    Parameters
    ----------
    chart : Bars or Ranges
        What is drawn.
    of : int, optional
        How many stand beside each other on the page: each is so much narrower, its letters as large.
    """
    width = WIDTH / of
    body, height = _ranges(chart, width) if isinstance(chart, Ranges) else _bars(chart, width)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" width="{width:g}" '
        f'height="{height:g}" role="img" font-family="{FACE}" font-size="{SIZE}">'
        f"<title>{_text(alt(chart))}</title>{HATCH}{body}</svg>"
    )


def _text(text: str) -> str:
    return escape(shown(text))


def _words(x: float, y: float, text: str, *, anchor: str = "start", size: int = SIZE, more: str = "") -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-size="{size}"{more}>{_text(text)}</text>'
    )


def _line(x1: float, y1: float, x2: float, y2: float, width: float = 0.6, more: str = "") -> str:
    return (
        f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" stroke="#000" '
        f'stroke-width="{width:g}"{more}/>'
    )


def _box(x: float, y: float, width: float, height: float, fill: str) -> str:
    return f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" {fill}/>'


def _bars(chart: Bars, width: float) -> tuple[str, float]:
    top = top_of_bars(chart)
    low, left = HEIGHT - BOTTOM, max(LEFT, TICK_GAP + len(str(top)) * SMALL * FIGURE_WIDE)
    parts = [_words(0, 12, chart.title, more=' font-weight="bold"'), *_key(chart, width)]
    for value in (0, top // 2, top):
        y = low - (low - TOP) * value / top
        parts += [_words(left - TICK_GAP, y + 4, str(value), anchor="end", size=SMALL)]
        parts += [_line(left, y, width - RIGHT, y, 0.8 if not value else 0.3)]
    slot = (width - left - RIGHT) / max(1, len(chart.names))
    bar = min(26.0, slot * 0.8 / max(1, len(chart.series)))
    for nth, name in enumerate(chart.names):
        middle = left + slot * (nth + 0.5)
        if slot >= NAMES_SLOT or (len(chart.names) - 1 - nth) % 2 == 0:
            parts.append(_words(middle, HEIGHT - 6, name, anchor="middle", size=SMALL))
        for k, one in enumerate(chart.series):
            x = middle + bar * (k - len(chart.series) / 2)
            tall = (low - TOP) * one.values[nth] / top
            if tall <= 0:
                continue
            parts.append(_box(x + 0.5, low - tall, bar - 1, tall, FILLS[k]))
            if one.said and slot >= VALUES_SLOT:
                parts.append(
                    _words(x + bar / 2, low - tall - 2, one.said[nth], anchor="middle", size=7, more=HALO)
                )
    return "".join(parts), HEIGHT


def _key(chart: Bars, width: float) -> list[str]:
    parts, x = [], width - RIGHT
    for k in range(len(chart.series) - 1, -1, -1):
        name = chart.series[k].name
        x -= len(name) * SIZE * 0.56
        parts += [_words(x, 12, name), _box(x - 17, 3, 13, 10, FILLS[k])]
        x -= 32
    return parts


def _ranges(chart: Ranges, width: float) -> tuple[str, float]:
    low, high = ends_of(chart)
    height = TOP + ROW * len(chart.rows) + 6
    left, right = NAMES, width - SAID

    def across(value: float) -> float:
        return left + (right - left) * (value - low) / (high - low)

    title = f"{chart.title}: the bar holds half of them, its stroke is the middle one"
    parts = [_words(0, 12, title, more=' font-weight="bold"')]
    mark = across(chart.mark)
    parts += [_words(mark, 24, chart.marked, anchor="middle", size=SMALL)]
    parts += [_line(mark, TOP - 6, mark, height - 4, 0.8, ' stroke-dasharray="3 2"')]
    for nth, row in enumerate(chart.rows):
        y = TOP + ROW * nth + ROW / 2
        parts += _range(row, y, (across(row.low), across(row.middle), across(row.high)), width)
    return "".join(parts), height


def _range(row: Range, y: float, at: tuple[float, float, float], width: float) -> list[str]:
    low, middle, high = at
    return [
        _words(0, y + 4, cut(row.name, NAME_SIGNS)),
        _box(low, y - 4, max(1.0, high - low), 8, FILLS[1]),
        _line(middle, y - 7, middle, y + 7, 3),
        _words(width, y + 4, row.said, anchor="end"),
    ]
