"""Several figures in one line, as they are read off a gauge: ``120 118 95 121 psi``.

A unit said once holds for the whole line. Where blanks could part two figures or belong to one, the person
is told to part them with a semicolon instead of being guessed at.
"""

import re

from shopcli.errors import BadInput

_BEGINS = re.compile(r"[+−–-]?[.,]?[0-9½¼¾⅛⅜⅝⅞]")
_FIGURE = re.compile(r"[+−–-]?\s*[0-9½¼¾⅛⅜⅝⅞.,/\s'-]*(?:[eE][+-]?[0-9]+)?")
_FRACTION = re.compile(r"[0-9]+/[0-9]+.*")
_WHOLE = re.compile(r"[+−–-]?[0-9]+")
_PART_THEM = "Part the figures with ; like 3 1/2 in; 4 in."


def split_list(text: str) -> tuple[str, ...]:
    """Part a line of figures, each with its unit behind it.

    Parameters
    ----------
    text : str
        Figures parted by semicolons, or by blanks.

    Returns
    -------
    tuple of str
        One text for each figure; a unit said once stands behind each.

    Raises
    ------
    BadInput
        If it is not clear where one figure ends, or some figures have one unit, some another and some none.

    Examples
    --------
    >>> split_list("120 118 95 psi"), split_list("6 thou; 0,2 mm"), split_list("8.3, 8.1, 8.4 bar")
    (('120 psi', '118 psi', '95 psi'), ('6 thou', '0,2 mm'), ('8.3 bar', '8.1 bar', '8.4 bar'))
    """
    parts = text.split(";") if ";" in text else _by_blanks(text)
    items = [part.strip().removesuffix(",").strip() for part in parts]
    if items and not items[-1]:
        items.pop()
    if "" in items:
        raise BadInput("there is an empty place in the list", hint="One figure between two ;.")
    return _share_unit(items)


def _by_blanks(text: str) -> list[str]:
    items: list[str] = []
    for word in text.split():
        if not items or _BEGINS.match(word):
            if items and _FRACTION.fullmatch(word) and _WHOLE.fullmatch(items[-1]):
                raise BadInput(f"“{items[-1][:10]} {word[:20]}”: one figure or two?", hint=_PART_THEM)
            items.append(word)
        elif _BEGINS.match(items[-1]):
            items[-1] += f" {word}"
        else:
            items.append(word)
    return items


def _unit_part(item: str) -> str:
    found = _FIGURE.match(item)
    return item[found.end() :].strip() if found else item


def _share_unit(items: list[str]) -> tuple[str, ...]:
    units = {item: _unit_part(item) for item in items}
    said = {unit.casefold() for unit in units.values() if unit}
    bare = [item for item in items if not units[item]]
    if not said or not bare:
        return tuple(items)
    if len(said) > 1:
        raise BadInput(
            f"“{bare[0][:20]}” has no unit and the others differ", hint="Write each with its unit."
        )
    unit = next(unit for unit in units.values() if unit)
    return tuple(item if units[item] else f"{item} {unit}" for item in items)
