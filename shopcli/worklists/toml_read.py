"""Read one table of a template file, and complain with file, line and remedy.

Every complaint is kept instead of raised, so that one look at the list shows all that is wrong with a file.
A reader gets a usable default back and goes on; whoever asked decides at the end whether the file is usable.
"""

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from importlib.resources.abc import Traversable
from typing import Protocol

from shopcli.cleantext import LINE, NOTE, clean_line, clean_note
from shopcli.errors import BadInput, BadTemplate
from shopcli.worklists.toml_lines import Lines
from shopcli.worklists.words import did_you_mean

MAX_BYTES = 1_000_000
NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
SPEC_NAME = re.compile(r"[a-z][a-z0-9_]*")

_AT = re.compile(r" \(at line (\d+), column \d+\)$")
_REMEDIES = (
    ("twice", "The name is there twice; keep one of them."),
    ("overwrite", "The key is there twice; keep one of them."),
    ("Duplicate", "The key is there twice; keep one of them."),
    ("Invalid value", 'Put texts in double quotes: title = "Set the gap"; numbers without: minutes = 12.'),
    ("Expected '='", 'Write each key on its own line: title = "Set the gap".'),
    ("Expected newline", "Write one key on a line; a comma is missing or too many on this line."),
    ("Unclosed array", "Close the list with ]; put a comma between its items."),
    ("Unclosed inline", "Close the brace with }; put a comma between its keys."),
    ("Unterminated", 'Close the text with the same quotes; long texts go between """ and """.'),
    ("Unescaped", "Put a text with a backslash between single quotes."),
    ("Illegal character", 'A text ends on its own line; long texts go between """ and """.'),
)


class Cleaner(Protocol):
    """A way of cleaning text, such as `clean_line`."""

    def __call__(self, text: str, *, name: str, limit: int) -> str:
        """Return the clean text."""


@dataclass(frozen=True, slots=True)
class Table:
    """One table of a file, with its lines, and the list its complaints go to."""

    file: str
    lines: Lines
    data: Mapping[str, object]
    path: tuple[str | int, ...] = ()
    found: list[BadTemplate] = field(default_factory=list)

    @property
    def line(self) -> int:
        """Line the table starts on."""
        return self.lines.of(*self.path)

    def bad(self, message: str, hint: str, *key: str | int) -> None:
        """Note a complaint about `key` of this table."""
        line = self.lines.of(*self.path, *key)
        self.found.append(BadTemplate(self.file, line, message, hint=hint))

    def only(self, *keys: str) -> None:
        """Complain about every key that is not one of `keys`."""
        for key in self.data:
            if key not in keys:
                self.bad(f'"{key}" is not known here', did_you_mean(key, keys), key)

    def text(self, key: str, *, needed: bool = False, limit: int = LINE, example: str = "") -> str:
        """Return one clean line of text, or nothing when the key is not there."""
        value = self.data.get(key)
        if value is None and not needed:
            return ""
        if not isinstance(value, str) or not value.strip():
            what = f'"{key}" is missing' if value is None else f'"{key}" must be a text'
            self.bad(what, f'Write: {key} = "{example or "..."}"', *(() if value is None else (key,)))
            return ""
        return self._clean(clean_line, value, key, limit)

    def note(self, key: str) -> str:
        """Return a clean text of several lines."""
        value = self.data.get(key, "")
        if not isinstance(value, str):
            self.bad(f'"{key}" must be a text', f'Write: {key} = "..."', key)
            return ""
        return self._clean(clean_note, value, key, NOTE)

    def _clean(self, cleaner: Cleaner, value: str, key: str, limit: int) -> str:
        if value.isascii() and value.isprintable() and len(value) <= limit and "  " not in value:
            return value.strip()  # nothing to clean, as in nearly every line of a file
        try:
            return cleaner(value, name=key, limit=limit)
        except BadInput as error:
            self.bad(error.message, error.hint, key)
            return ""

    def texts(self, key: str, *, example: str = "...") -> tuple[str, ...]:
        """Return a list of texts; a lone text counts as a list of one."""
        value = self.data.get(key, [])
        items = [value] if isinstance(value, str) else value
        if not isinstance(items, list) or not all(isinstance(i, str) and i.strip() for i in items):
            self.bad(f'"{key}" must be a list of texts', f'Write: {key} = ["{example}"]', key)
            return ()
        kept = tuple(self._clean(clean_line, i, key, LINE) for i in items)
        for index, item in enumerate(kept):
            if item in kept[:index]:
                self.bad(f'"{key}" has "{item}" twice', "Keep one of them.", key, index)
        return kept

    def known(self, key: str, known: Iterable[str], what: str, *, example: str = "...") -> tuple[str, ...]:
        """Return a list of texts, each of which must be one of `known`."""
        names = tuple(known)
        kept = self.texts(key, example=example)
        for index, item in enumerate(kept):
            if item not in names:
                self.bad(f'no {what} is called "{item}"', did_you_mean(item, names), key, index)
        return kept

    def whole(self, key: str, low: int, high: int, default: int = 0) -> int:
        """Return a whole number between `low` and `high`."""
        value = self.data.get(key, default)
        if not isinstance(value, int) or isinstance(value, bool) or not low <= value <= high:
            shown = f'"{value}"' if isinstance(value, str) else str(value)
            self.bad(
                f'"{key}" is {shown}; it must be a whole number from {low} to {high}',
                f"Write: {key} = {min(max(low, 12), high)}",
                key,
            )
            return default
        return value

    def number(self, key: str) -> Decimal | None:
        """Return a finite number with the digits it was written with, or None when the key is not there."""
        value = self.data.get(key)
        if value is None:
            return None
        if isinstance(value, int) and not isinstance(value, bool):
            value = Decimal(value)
        if not isinstance(value, Decimal) or not value.is_finite():
            self.bad(f'"{key}" must be a number', f"Write: {key} = 0.15 (without quotes or unit)", key)
            return None
        return value

    def yes(self, key: str) -> bool:
        """Return a true or false."""
        value = self.data.get(key, False)
        if not isinstance(value, bool):
            self.bad(f'"{key}" must be true or false', f"Write: {key} = true (without quotes)", key)
            return False
        return value

    def table(self, key: str, *, example: str) -> "Table | None":
        """Return the table under `key`, or None when the key is not there."""
        value = self.data.get(key)
        if value is None:
            return None
        if not isinstance(value, dict):
            self.bad(f'"{key}" must be a table', f"Write: {key} = {example}", key)
            return None
        return self.inner(value, key)

    def tables(self, key: str, *, example: str) -> tuple["Table", ...]:
        """Return the list of tables under `key`."""
        value = self.data.get(key, [])
        if not isinstance(value, list) or not all(isinstance(i, dict) for i in value):
            self.bad(f'"{key}" must be a list of tables', f"Write: {key} = [{example}]", key)
            return ()
        return tuple(self.inner(item, key, index) for index, item in enumerate(value))

    def inner(self, data: Mapping[str, object], *key: str | int) -> "Table":
        """Return a table inside this one; its complaints go to the same list."""
        return Table(self.file, self.lines, data, (*self.path, *key), self.found)


def read_toml(entry: Traversable, found: list[BadTemplate]) -> tuple[Table, str] | None:
    """Return the outermost table of a file and its text, or None after a complaint in `found`.

    Numbers with a point are read as decimals, so that the digits somebody printed are not lost.
    """
    file = str(entry)
    try:
        with entry.open("rb") as stream:
            raw = stream.read(MAX_BYTES + 1)
    except OSError as error:
        found.append(
            BadTemplate(file, 1, f"cannot be read ({error.strerror})", hint="Look at its permissions.")
        )
        return None
    if len(raw) > MAX_BYTES:
        found.append(BadTemplate(file, 1, "is larger than 1 MB", hint="Split it into several files."))
        return None
    try:
        text = raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        found.append(BadTemplate(file, line, "is not UTF-8 text", hint="Save the file as UTF-8."))
        return None
    return _parse(file, text, found)


def _parse(file: str, text: str, found: list[BadTemplate]) -> tuple[Table, str] | None:
    try:
        data = tomllib.loads(text, parse_float=Decimal)
    except RecursionError:
        found.append(BadTemplate(file, 1, "has lists within lists without end", hint="Write it flat."))
    except ValueError as error:
        found.append(_syntax(file, text, str(error)))
    else:
        return Table(file, Lines(text), data, (), found), text
    return None


def _syntax(file: str, text: str, message: str) -> BadTemplate:
    match = _AT.search(message)
    line = int(match.group(1)) if match else max(1, len(text.rstrip().splitlines()))
    what = _AT.sub("", message).removesuffix(" (at end of document)")
    hint = next(
        (h for sign, h in _REMEDIES if sign in what), 'Each line reads: key = "text" or key = number.'
    )
    if not text.strip():
        line = 1
    return BadTemplate(file, line, f"is not proper TOML: {what[:200]}", hint=hint)
