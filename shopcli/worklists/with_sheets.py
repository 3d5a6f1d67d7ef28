"""The library with the shop's own sheets in it: they lie among the sheets of the files and are looked up like them."""

from collections.abc import Iterable
from dataclasses import replace
from types import MappingProxyType

from shopcli.errors import BadTemplate
from shopcli.worklists.library import Library, Sheet
from shopcli.worklists.sheets import broken_chains

RECORDS = "records"


def with_sheets(library: Library, own: Iterable[Sheet]) -> Library:
    """Return the library of the files with own sheets laid over it.

    An own sheet takes the place of a file of the same name. One whose chain does not reach its end (its wider
    sheet is no more) is left out and listed in ``problems``; the files stay as they are.

    Parameters
    ----------
    library : Library
        As loaded from the files.
    own : iterable of Sheet
        The shop's own.
    """
    mine = {sheet.name: sheet for sheet in own}
    if not mine:
        return library
    sheets = {**library.sheets, **mine}
    broken = list(broken_chains(sheets))
    found = [
        BadTemplate(sheets[name].file, 1, f'the sheet "{name}" {message}', hint=hint)
        for name, message, hint in broken
    ]
    for name, _message, _hint in broken:
        if name in mine and name in library.sheets:
            sheets[name] = library.sheets[name]
        else:
            del sheets[name]
    return replace(library, sheets=MappingProxyType(sheets), problems=(*library.problems, *found))
