"""What was asked of the shop as text, and made a command again: an act that was taken back can be done again."""

import json
from collections.abc import Callable
from dataclasses import asdict, fields

from shopcli.shop.command import Command

SEEN = "seen"  # speaks of the moment it was asked, and the record is another one afterwards


def told(command: Command) -> dict[str, object]:
    """Return what a command asks for as far as it may be written down.

    Examples
    --------
    >>> from shopcli.shop.pin_commands import SetPin
    >>> told(SetPin(3, "1357", old="2468"))
    {'person_id': 3}
    """
    return {
        name: value for name, value in asdict(command).items() if name not in command.secret and name != SEEN
    }


def to_text(command: Command) -> str:
    """Return what a command asks for, as the journal keeps it."""
    return as_json(told(command), separators=(",", ":"))


def as_json(value: object, separators: tuple[str, str] | None = None) -> str:
    r"""Return a value as JSON that can be written down whatever was typed: half a surrogate pair is escaped.

    Examples
    --------
    >>> as_json({"note": "Zo\u00eb"}), as_json({"note": "\ud800"})
    ('{"note": "Zoë"}', '{"note": "\\ud800"}')
    """
    text = json.dumps(value, ensure_ascii=False, default=str, sort_keys=True, separators=separators)
    if text.isascii() or not any("\ud800" <= c <= "\udfff" for c in text):
        return text
    return json.dumps(value, default=str, sort_keys=True, separators=separators)


def from_text(name: str, text: str) -> Command | None:
    """Return the command of a name with what was asked; None where this program knows no such command any more.

    Examples
    --------
    >>> from shopcli.shop.bench_commands import NoteOnTask
    >>> from_text("NoteOnTask", to_text(NoteOnTask(3, "gasket wet"))), from_text("Gone", "{}")
    (NoteOnTask(task_id=3, note='gasket wet', seen=()), None)
    """
    from shopcli.shop import commands

    made: Callable[..., Command] | None = getattr(commands, name, None) if name in commands.__all__ else None
    asked = json.loads(text) if text else None
    if made is None or not isinstance(asked, dict) or set(asked) - {f.name for f in fields(made)}:  # type: ignore[arg-type]
        return None
    try:
        return made(**{key: _value(value) for key, value in asked.items()})
    except TypeError:  # an older program asked for less than is needed now
        return None


def _value(value: object) -> object:
    return tuple(map(_value, value)) if isinstance(value, list) else value
