"""Which templates a choice means.

Includes are opened, nothing is taken twice, and what does not fit is said.
"""

from collections.abc import Iterator, Sequence

from shopcli.errors import BadInput
from shopcli.worklists.library import Library
from shopcli.worklists.model import Template, VehicleFacts
from shopcli.worklists.read_values import Applies


def misfit(applies: Applies, facts: VehicleFacts) -> tuple[str, str, tuple[str, ...]] | None:
    """Return the first fact that does not fit: (fact, what the vehicle says or nothing, what is wanted)."""
    for name, wanted in applies:
        has = facts.fact(name) or ""
        if has.casefold() not in {w.casefold() for w in wanted}:
            return name, has, wanted
    return None


def misfit_words(found: tuple[str, str, tuple[str, ...]]) -> str:
    """Say a misfit in words.

    Examples
    --------
    >>> misfit_words(("ignition", "electronic", ("contact breaker",)))
    'the ignition is electronic, it is for contact breaker'
    >>> misfit_words(("cooling", "", ("water", "air")))
    'the vehicle does not say its cooling, it is for water or air'
    """
    name, has, wanted = found
    shown = name.replace("_", " ")
    says = f"the {shown} is {has}" if has else f"the vehicle does not say its {shown}"
    return f"{says}, it is for {' or '.join(wanted)}"


def applicable(library: Library, facts: VehicleFacts) -> tuple[Template, ...]:
    """Return the templates that fit the vehicle, by title."""
    fitting = (t for t in library.templates.values() if misfit(t.applies, facts) is None)
    return tuple(sorted(fitting, key=lambda t: t.title.casefold()))


def flatten(
    library: Library, names: Sequence[str], facts: VehicleFacts
) -> tuple[tuple[Template, ...], tuple[str, ...]]:
    """Return the templates meant by `names`, each followed by what it includes, each once; and notes.

    Raises
    ------
    NotFound
        If a name is not known or its file is not usable.
    BadInput
        If a chosen template does not fit the vehicle.
    """
    chosen: dict[str, Template] = {}
    notes: list[str] = []
    for name in names:
        template = library.template(name)
        found = misfit(template.applies, facts)
        if found is not None:
            raise BadInput(
                f'"{template.title}" does not fit: {misfit_words(found)}',
                hint="Choose another job, or correct the vehicle's facts.",
            )
        for part in _opened(library, template, facts, notes, (name,)):
            chosen.setdefault(part.name, part)
    return tuple(chosen.values()), tuple(dict.fromkeys(notes))


def _opened(
    library: Library, template: Template, facts: VehicleFacts, notes: list[str], above: tuple[str, ...]
) -> Iterator[Template]:
    yield template
    for name in template.include:
        if name in above:
            raise BadInput(f'"{template.name}" includes "{name}" in a circle', hint="Correct its include.")
        part = library.template(name)
        found = misfit(part.applies, facts)
        if found is not None:
            notes.append(f'"{part.title}" is left out: {misfit_words(found)}')
        else:
            yield from _opened(library, part, facts, notes, (*above, name))
