"""The numbers of a sheet in words: one line in the list, everything known of one in the pane below it."""

import re
from collections.abc import Sequence

from textual.content import Content

from shopcli.columns import cut, pad, shown
from shopcli.marks import number_state
from shopcli.present import day
from shopcli.screens.bench.numberwords import origin, say_number
from shopcli.screens.dialogs import Choice
from shopcli.screens.widgets.lines import Line, wrapped
from shopcli.shop.sheet_views import (
    FILE,
    SHEET,
    VEHICLE,
    EntryView,
    NumberView,
    SheetChoice,
    SheetView,
    Standing,
)
from shopcli.units import AS_PRINTED, QUANTITIES, Preferences
from shopcli.units.printed_text import one_line
from shopcli.worklists.model import Provenance, Spec

STATE, FROM, PRINTED, OTHER = 3, 12, 19, 17
FROM_WIDE, PRINTED_WIDE, OTHER_WIDE, SHEET_WIDE = 14, 25, 25, 18
LABEL_LEAST, LABEL_MOST = 20, 44
_AIM = re.compile(r", aim for (?P<figure>[+-]?[\d.,]+).*")
_RANGE = re.compile(r"(?<=\d) to (?=\d)")
GAP = 1
WIDE = 100
WHERE = {VEHICLE: "vehicle", SHEET: "own sheet", FILE: "shipped sheet"}


def state_of(number: NumberView) -> str:
    """Return how a number stands: missing, to confirm, contradicted, or fine."""
    if number.shown is None:
        return "missing"
    if number.to_confirm:
        return "to confirm"
    return "differs" if number.against else "fine"


def source_short(source: Provenance) -> str:
    """Return where a number comes from, for a narrow column.

    Examples
    --------
    >>> source_short(Provenance("handbook", "Lark", "14")), source_short(Provenance("practice"))
    ('handbook 14', 'practice')
    """
    return f"{source.kind} {source.page}".strip() if source.kind == "handbook" else source.kind


def printed_text(spec: Spec) -> str:
    """Return the limits in the unit they were printed in."""
    return spec.limits.text(AS_PRINTED)


def other_text(spec: Spec, prefs: Preferences) -> str:
    """Return the limits in another unit than the printed one, or nothing: the reader's own, else its fellow."""
    said = say_number(spec, prefs)
    printed = printed_text(spec)
    return next((text for text in (said.sentence, said.other) if text and text != printed), "")


def short(sentence: str) -> str:
    """Return limits for a narrow column: the unit once.

    Examples
    --------
    >>> short("14 to 18 thou, aim for 16 thou"), short("at least 9 bar")
    ('14–18 thou, aim 16', 'at least 9 bar')
    """
    return _RANGE.sub("–", _AIM.sub(r", aim \g<figure>", sentence))


def widths(width: int) -> tuple[int, int, int, int, int]:
    """Return the columns of label, printed figures, other unit, source and sheet for a list of that width."""
    wide = width >= WIDE
    rest = (PRINTED_WIDE, OTHER_WIDE, FROM_WIDE, SHEET_WIDE) if wide else (PRINTED, OTHER, FROM, 0)
    label = width - STATE - sum(rest) - GAP * sum(1 for w in rest if w)
    return max(LABEL_LEAST, min(LABEL_MOST, label)), *rest


def head(width: int) -> Content:
    """Name the columns."""
    names = ("number", "as printed", "in other units", "from", "on")
    return Content(" " * STATE + _columns(names, widths(width)))


def row(number: NumberView, width: int, prefs: Preferences, *, plain: bool) -> Content:
    """Return a number as one line of the list."""
    state = state_of(number)
    sign = number_state(state, plain=plain)[0]
    columns = widths(width)
    if number.shown is None:
        text = _columns((number.label, "not entered", "", "", ""), columns)
        return Content.assemble((f" {sign} {text}", "$foreground-muted"))
    spec = number.shown.spec
    text = _columns(
        (
            f"{spec.label}, {spec.state}" if spec.state else spec.label,
            short(printed_text(spec)),
            short(other_text(spec, prefs)),
            source_short(spec.provenance),
            number.shown.layer.name,
        ),
        columns,
    )
    style = {"to confirm": "$text-warning", "differs": "$text-error"}.get(state, "")
    return Content.assemble(" ", (sign, style), f" {text}")


def _columns(cells: Sequence[str], columns: Sequence[int]) -> str:
    gap = " " * GAP
    return gap.join(
        pad(cut(c, w), w) if c else " " * w for c, w in zip(cells, columns, strict=True) if w
    ).rstrip()


def searched(number: NumberView) -> str:
    """Return every word a number can be found by; what a hidden layer says does not count."""
    words = [number.name, number.label, number.quantity, number_state(state_of(number))]
    for one in (*number.layers[:1], *number.against):
        source = one.spec.provenance
        words += [one.spec.state, one.layer.name, source.kind, source.document, one.spec.note]
    return " ".join(words).casefold()


def heading(view: SheetView) -> str:
    """Return what the screen shows, for its top line."""
    return shown(f"Sheets  {view.name}: {cut(view.title or view.name, LABEL_MOST)}  ({WHERE[view.where]})")


def chain_words(view: SheetView) -> str:
    """Return the layers from the nearest to the widest."""
    if view.trouble:
        return f"! {view.trouble}"
    return " over ".join(layer.name for layer in view.layers)


def pane_lines(number: NumberView | None, width: int, prefs: Preferences, *, plain: bool) -> list[Line]:
    """Return everything known of a number: the layers, the nearest first, and what speaks against it."""
    if number is None:
        return wrapped("No number fits what is typed. F9 adds one that is not in the list.", width)
    lines = wrapped(f"{number.label}  ({number.name}, {_quantity(number)})", width, "bold")
    if number.shown is None:
        return lines + wrapped("Nothing is entered yet. Enter types what the handbook prints.", width)
    against = {one.row: one for one in number.against if one.row}
    for place, one in enumerate(number.layers):
        differs = any(one is a for a in number.against)
        sign = "▸" if not place else "≠" if differs else "·"
        lines += _standing(one, width, prefs, _plain(sign, plain=plain), "" if not place else "hidden: ")
        against.pop(one.row, None)
    for one in against.values():
        lines += _standing(one, width, prefs, _plain("≠", plain=plain), "before: ")
    if number.to_confirm:
        lines += wrapped(
            "common practice, no source: it judges nothing before somebody confirms it (F2)",
            width,
            "bold $text-warning",
            first="? ",
            rest="  ",
        )
    return lines


def _quantity(number: NumberView) -> str:
    kind = QUANTITIES.get(number.quantity)
    return kind.label if kind else number.quantity


def _plain(sign: str, *, plain: bool) -> str:
    return {"▸": ">", "≠": "#", "·": "."}[sign] if plain else sign


def _standing(one: Standing, width: int, prefs: Preferences, sign: str, lead: str) -> list[Line]:
    said = say_number(one.spec, prefs)
    other = other_text(one.spec, prefs)
    figures = printed_text(one.spec) + (f" = {other}" if other else "")
    state = f", {said.state}" if said.state else ""
    note = f" ({said.note})" if said.note else ""
    text = f"{lead}{figures}{state}. {origin(one.spec.provenance)}; on {one.layer.name}{note}"
    style = "bold" if not lead else "$text-error" if sign in "≠#" else "$foreground-muted"
    return wrapped(text, width, style, first=f"{sign} ", rest="  ")


# Choices ----------------------------------------------------------------------------------------------------


def sheet_choices(found: Sequence[SheetChoice]) -> list[Choice]:
    """Return what there is to choose, a new sheet first."""
    made = [Choice("new", "New sheet of our own", "under one of the families or another sheet")]
    return made + [
        Choice(
            f"{c.where}:{c.key}:{c.name}",
            f"{c.name}: {c.title}",
            f"{WHERE[c.where]}, {c.numbers} {'number' if c.numbers == 1 else 'numbers'} of its own"
            + (f", under {c.under}" if c.under else ""),
        )
        for c in found
    ]


def entry_choices(entries: Sequence[EntryView]) -> list[Choice]:
    """Return the history of a number as choices, the newest first."""
    return [Choice(str(e.row), one_line(e.printed), _entry_words(e)) for e in entries]


def _entry_words(entry: EntryView) -> str:
    parts = [origin(entry.spec.provenance)]
    if entry.why:
        parts.append(f"why: {entry.why}")
    if entry.put_aside is not None:
        when = f"{day(entry.put_aside)} {entry.put_aside.year}"
        what = f"withdrawn ({entry.withdrawn_for})" if entry.withdrawn_for else "put aside"
        parts.append(f"{what} by {entry.put_aside_by or '-'}, {when}")
    else:
        parts.append("it stands")
    return "; ".join(parts)
