"""The line on which each key of a TOML file stands.

The standard reader gives values but no lines, and an error without a line sends people hunting. This scanner
walks the same text once more and notes the line of every key, table and list item. It runs only over text
that the standard reader has accepted, so it may be lenient: what it cannot follow, it leaves, and the nearest
line above stands in.
"""

import re
import tomllib
from bisect import bisect_right
from collections.abc import Iterator
from contextlib import suppress

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_STRINGS = (
    re.compile(r'"""(?:[^"\\]|\\[\s\S]|"{1,2}(?!"))*"""(?:"{0,2})'),
    re.compile(r"'''(?:[^']|'{1,2}(?!'))*'''(?:'{0,2})"),
    re.compile(r'"(?:[^"\\\n]|\\.)*"'),
    re.compile(r"'[^'\n]*'"),
)
_PLAIN = re.compile(r"\d{4}-\d\d-\d\d \d\d:[^,\]}\s#]*|[^,\]}\s#]+")


class _Lost(Exception):  # noqa: N818 - never leaves this file
    """The text is not what the scanner expected here."""


class Lines:
    r"""The line of every key of one TOML text.

    Examples
    --------
    >>> lines = Lines('title = "Points"\n\n[[task]]\nid = "fit"\n[[task]]\nid = "gap"\n')
    >>> lines.of("task", 1, "id")
    6
    >>> lines.of("task", 1, "minutes")
    5
    """

    def __init__(self, text: str) -> None:
        self._text = text
        self._starts: list[int] = []
        self._found: dict[Path, int] = {}
        self._headers: dict[str, tuple[int, ...]] = {}
        self._counts: dict[Path, int] = {}
        self._at = 0

    def of(self, *path: str | int) -> int:
        """Return the line of `path`, or of the nearest thing around it; the first line is 1."""
        header = self._block(path)
        if header:
            return header
        self._scan()
        for length in range(len(path), 0, -1):
            if path[:length] in self._found:
                return self._found[path[:length]]
        return 1

    def _block(self, path: Path) -> int:
        """Return the line of a block's header, like the third ``[[task]]``, without walking the text; 0 if that is not sure.

        Every task of every file asks for its own, and only text over several lines could hold such a header as words.
        """
        match path:
            case (str(name), int(index)) if '"""' not in self._text and "'''" not in self._text:
                if name not in self._headers:
                    found = re.finditer(
                        rf"^[ \t]*\[\[[ \t]*{re.escape(name)}[ \t]*\]\]", self._text, re.MULTILINE
                    )
                    self._headers[name] = tuple(self._text.count("\n", 0, m.start()) + 1 for m in found)
                headers = self._headers[name]
                return headers[index] if index < len(headers) else 0
        return 0

    def __iter__(self) -> Iterator[Path]:
        self._scan()
        return iter(self._found)

    def _scan(self) -> None:
        """Walk the text on the first question: most files are never asked for a line."""
        if self._starts:
            return
        self._starts = [0, *(m.end() for m in re.finditer("\n", self._text))]
        with suppress(_Lost, RecursionError):  # what was found so far is kept; `of` falls back on it
            self._document()

    def _note(self, path: Path) -> None:
        line = bisect_right(self._starts, self._at)
        for length in range(1, len(path) + 1):
            self._found.setdefault(path[:length], line)

    def _skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self._text, self._at)
        self._at = match.end() if match else self._at

    def _take(self, literal: str) -> bool:
        if not self._text.startswith(literal, self._at):
            return False
        self._at += len(literal)
        return True

    def _expect(self, literal: str) -> None:
        if not self._take(literal):
            raise _Lost

    def _document(self) -> None:
        table: Path = ()
        while True:
            self._skip(_BLANK)
            if self._at >= len(self._text):
                return
            if self._text.startswith("[", self._at):
                table = self._header()
            else:
                self._pair(table)

    def _header(self) -> Path:
        start, many = self._at, self._take("[[") or not self._take("[")
        keys = self._key()
        end = self._at
        self._at = start
        path = self._below((), keys[:-1])
        if many:
            self._counts[(*path, keys[-1])] = self._counts.get((*path, keys[-1]), -1) + 1
        path = self._below(path, keys[-1:])
        self._note(path)
        self._at = end
        self._expect("]]" if many else "]")
        return path

    def _below(self, path: Path, keys: tuple[str, ...]) -> Path:
        """Follow `keys`; a list of tables means its last table, as TOML has it."""
        for key in keys:
            path = (*path, key)
            if path in self._counts:
                path = (*path, self._counts[path])
        return path

    def _pair(self, table: Path) -> None:
        start = self._at
        keys = self._key()
        end, self._at = self._at, start
        path = (*table, *keys)
        self._note(path)
        self._at = end
        self._expect("=")
        self._value(path)

    def _key(self) -> tuple[str, ...]:
        keys: list[str] = []
        while True:
            self._skip(_SPACE)
            keys.append(self._one_key())
            self._skip(_SPACE)
            if not self._take("."):
                return tuple(keys)

    def _one_key(self) -> str:
        quoted = self._string()
        if quoted:
            return str(tomllib.loads(f"k = {quoted}")["k"])
        match = _BARE_KEY.match(self._text, self._at)
        if match is None:
            raise _Lost
        self._at = match.end()
        return match.group()

    def _string(self) -> str:
        if self._text[self._at : self._at + 1] in {'"', "'"}:
            for pattern in _STRINGS:
                match = pattern.match(self._text, self._at)
                if match:
                    self._at = match.end()
                    return match.group()
            raise _Lost
        return ""

    def _value(self, path: Path) -> None:
        self._skip(_BLANK)
        if self._take("["):
            self._items(path)
        elif self._take("{"):
            self._inline(path)
        elif not self._string():
            match = _PLAIN.match(self._text, self._at)
            if match is None:
                raise _Lost
            self._at = match.end()

    def _items(self, path: Path) -> None:
        index = 0
        while True:
            self._skip(_BLANK)
            if self._take("]"):
                return
            self._note((*path, index))
            self._value((*path, index))
            index += 1
            self._skip(_BLANK)
            self._take(",")

    def _inline(self, path: Path) -> None:
        while True:
            self._skip(_BLANK)
            if self._take("}"):
                return
            self._pair(path)
            self._skip(_BLANK)
            self._take(",")
