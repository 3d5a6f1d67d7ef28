"""The questions of the sheets screen: which sheet, a new sheet, a new number, why one is withdrawn."""

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

from shopcli.columns import shown
from shopcli.errors import BadInput
from shopcli.screens.dialogs import AskText, Choice, Pick
from shopcli.screens.sheets.wording import entry_choices, printed_text, sheet_choices
from shopcli.shop.sheet_commands import MakeSheet, WithdrawNumber
from shopcli.shop.sheet_views import FILE, SHEET, NumberView, SheetView
from shopcli.store.reads import sheets
from shopcli.units import QUANTITIES
from shopcli.worklists.library import SpecKind

if TYPE_CHECKING:
    from shopcli.screens.sheets.station import SheetsScreen

NEW = "new"
NAME_MOST = 40
KEY_MOST = 60


def slug(text: str, between: str, most: int) -> str:
    """Return a name made of a title.

    Examples
    --------
    >>> slug("Lark 1200, Mk II", "-", 40), slug("Tappet gap (hot)", "_", 60)
    ('lark-1200-mk-ii', 'tappet_gap_hot')
    """
    return re.sub(r"[^a-z0-9]+", between, text.casefold())[:most].strip(between)


def ask_which(screen: "SheetsScreen", then: Callable[[str | None], None]) -> None:
    """Ask which sheet or vehicle, or a new sheet; None is given on when there is no answer."""
    found = sheets.choices(screen.desk_app.shop)
    screen.app.push_screen(Pick("Which sheet or vehicle?", sheet_choices(found)), then)


def ask_new(screen: "SheetsScreen", then: Callable[[MakeSheet | None], None]) -> None:
    """Ask for title and wider sheet of a new one."""
    found = sheets.choices(screen.desk_app.shop)
    wider = [
        Choice(c.name, f"{c.name}: {c.title}", "own sheet" if c.where == SHEET else "")
        for c in found
        if c.where in {SHEET, FILE}
    ]
    taken = {c.name for c in found}

    def made(title: str, under: str | None) -> None:
        name = _free(slug(title, "-", NAME_MOST) or "sheet", taken)
        then(None if under is None else MakeSheet(name, title, under))

    def titled(title: str | None) -> None:
        if title is None:
            then(None)
            return
        note = "It takes over that one's facts and numbers and says only what differs."
        screen.app.push_screen(
            Pick("Under which sheet does it lie?", wider, note=note), lambda under: made(title, under)
        )

    screen.app.push_screen(
        AskText(
            "What is the new sheet called?",
            note="The engine or model whose numbers it holds.",
            placeholder="Lark 1200, 1958 to 1964",
        ),
        titled,
    )


def _free(name: str, taken: set[str]) -> str:
    """Return the name, with a figure behind it where it is taken."""
    free, number = name, 2
    while free in taken:
        free, number = f"{name[: NAME_MOST - 4]}-{number}", number + 1
    return free


def ask_number(
    screen: "SheetsScreen", view: SheetView, typed: str, then: Callable[[NumberView], None]
) -> None:
    """Ask which number is to be added: one known to another sheet, or a new one with its quantity."""
    here = {n.name for n in view.numbers}
    kinds = {name: kind for name, kind in screen.desk_app.shop.library.kinds.items() if name not in here}
    choices = [Choice(NEW, f"New number{f': {typed}' if typed else ''}", "of a name no sheet knows yet")]
    choices += [Choice(k.name, k.label, f"{k.name}, {k.quantity}") for k in kinds.values()]

    def picked(key: str | None) -> None:
        if key == NEW:
            _ask_kind(screen, typed, then)
        elif key is not None:
            then(_missing(kinds[key]))

    screen.app.push_screen(Pick("Which number is to be added?", choices), picked)


def _ask_kind(screen: "SheetsScreen", typed: str, then: Callable[[NumberView], None]) -> None:
    quantities = [Choice(q.name, q.label, q.unit) for q in QUANTITIES.values()]

    def named(label: str | None) -> None:
        if label is None:
            return
        name = _number_name(label)
        screen.app.push_screen(
            Pick(f"{label}: what does it measure?", quantities),
            lambda key: None if key is None else then(_missing(SpecKind(name, label, key, ""))),
        )

    screen.app.push_screen(
        AskText(
            "What is the number called?",
            value=typed,
            placeholder="rocker shaft end float",
            check=_number_name,
        ),
        named,
    )


def _number_name(label: str) -> str:
    """Return the name of a number made of what it is called."""
    name = slug(label, "_", KEY_MOST).lstrip("0123456789_")
    if not name:
        raise BadInput("a number is called by a word", hint="Write what it is: rocker shaft end float.")
    return name


def _missing(kind: SpecKind) -> NumberView:
    return NumberView(kind.name, kind.label, kind.quantity, kind.unit)


def ask_history(screen: "SheetsScreen", view: SheetView, number: NumberView) -> None:
    """Show every entry of a number; one of them can be withdrawn."""
    entries = {str(e.row): e for e in sheets.history(screen.desk_app.shop, view.where, view.key, number.name)}
    if not entries:
        screen.say(f"{number.label}: nothing was entered on {view.name} itself.", wrong=True)
        return

    def picked(key: str | None) -> None:
        if key is None:
            return
        entry = entries[key]
        if entry.withdrawn_for:
            screen.say("That entry is withdrawn already.", wrong=True)
        else:
            what = f"{number.label}, {printed_text(entry.spec)}"
            ask_withdrawal(screen, view.where, entry.row, what)

    screen.app.push_screen(
        Pick(
            f"{number.label}: every entry, the newest first",
            entry_choices(tuple(entries.values())),
            note="Enter withdraws the chosen one, with a reason; it stays in the history.",
        ),
        picked,
    )


def ask_withdrawal(screen: "SheetsScreen", where: str, row: int, what: str) -> None:
    """Ask why a number is withdrawn."""
    screen.app.push_screen(
        AskText(
            shown(f"Withdraw {what}: why?"),
            note="What it hid counts again; the entry stays in the history.",
            placeholder="a misprint, of another engine",
        ),
        lambda why: None if why is None else screen.carry_out(WithdrawNumber(where, row, why)),
    )
