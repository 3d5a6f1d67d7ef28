"""The library with the shop's own expected times in it: a factor lies over the minutes a template lists."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from shopcli.worklists.library import Library
from shopcli.worklists.model import Template
from shopcli.worklists.own_factor import WHOLE, scaled


def with_times(library: Library, own: Mapping[str, int]) -> Library:
    """Return the library with the hands-on minutes of some templates changed by a factor.

    What waits by itself (draining, curing) is not changed, and no version either: nothing of the work is another.

    Parameters
    ----------
    library : Library
        As loaded, with or without own sheets.
    own : mapping of str to int
        Factor by template, in thousandths; templates the library does not know are passed over.
    """
    known = {name: f for name, f in own.items() if name in library.templates and f != WHOLE}
    if not known:
        return library
    changed = {name: _changed(library.templates[name], factor) for name, factor in known.items()}
    return replace(library, templates=MappingProxyType({**library.templates, **changed}))


def _changed(template: Template, factor: int) -> Template:
    return replace(
        template,
        tasks=tuple(replace(task, minutes=scaled(task.minutes, factor)) for task in template.tasks),
    )
