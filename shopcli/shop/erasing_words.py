"""Taking somebody's words out of a text or out of JSON kept as text. Pure; what is taken out is said by the caller."""

import json
import re
from collections.abc import Collection, Mapping
from typing import Any

from shopcli.shop.asked import as_json

ERASED = "erased"
SHORTEST = 4
LONG_ENOUGH = 6  # a single word, or figures without a blank, that is hardly anything else
TOKEN = re.compile(r"\w+")


def telling(words: Collection[str], but: Collection[str] = ()) -> tuple[str, ...]:
    """Return the words that mean somebody wherever they stand, the longest first.

    A single short word is none: it may be a make, or a part of anybody's sentence.

    Examples
    --------
    >>> telling(["Ada Lark", "Ada", "01234 567890", "LRK 120", "", "Little Proof"], but=["Little Proof"])
    ('01234 567890', 'Ada Lark', 'LRK 120')
    """
    found = {
        word.strip()
        for word in words
        if len(word.strip()) >= (SHORTEST if " " in word.strip() else LONG_ENOUGH)
    }
    return tuple(sorted(found - set(but), key=lambda word: (-len(word), word)))


def tokens(word: str) -> tuple[str, ...]:
    r"""Return the longest run of letters in a word as a database may hold it: as it is, and escaped in JSON.

    Examples
    --------
    >>> tokens('Ada "Ace" Lark'), tokens("Zoë Müller")
    (('Lark',), ('Müller', 'M\\u00fcller'))
    """
    found = TOKEN.findall(word)
    longest = max(reversed(found), key=len) if found else word
    return tuple(dict.fromkeys((longest, json.dumps(longest)[1:-1])))


class Taking:
    """Takes words out, whatever capitals they are written in; and all that stands under certain names in JSON."""

    def __init__(self, words: Collection[str]) -> None:
        listed = "|".join(re.escape(word) for word in words)
        self._find = re.compile(rf"(?<!\w)(?:{listed})(?!\w)", re.IGNORECASE) if listed else None

    def plain(self, text: str) -> str:
        """Return a text without the words.

        Examples
        --------
        >>> Taking(["Ada Lark"]).plain("ADA LARK rang; Ada Larkin did not")
        'erased rang; Ada Larkin did not'
        """
        return self._find.sub(ERASED, text) if self._find else text

    def value(self, value: Any, names: Collection[str] = ()) -> Any:
        """Return a value of JSON without the words, and with nothing under the names."""
        if isinstance(value, str):
            return self.plain(value)
        if isinstance(value, list):
            return [self.value(one, names) for one in value]
        if isinstance(value, Mapping):
            return {
                key: ERASED if key in names and isinstance(one, str) and one else self.value(one, names)
                for key, one in value.items()
            }
        return value

    def text(self, text: str, names: Collection[str] = ()) -> str:
        r"""Return a column's text without the words, in JSON where it is JSON.

        Examples
        --------
        >>> Taking(["Ada Lark"]).text('{"said": "call\\nAda Lark", "to": "Bea"}', ["to"])
        '{"said": "call\\nerased", "to": "erased"}'
        """
        if text[:1] not in {"{", "["}:
            return self.plain(text)
        try:
            read = json.loads(text)
        except ValueError:
            return self.plain(text)
        taken = self.value(read, names)
        return text if taken == read else as_json(taken)

    def touched(self, text: str, names: Mapping[str, Collection[str]]) -> str:
        """Return rows as the journal keeps them without the words, and with nothing under the names of each table."""
        if not text:
            return text
        rows = json.loads(text)
        taken = [
            [row[0], row[1], *(self.value(part, names.get(row[0], ())) for part in row[2:])] for row in rows
        ]
        return text if taken == rows else as_json(taken)
