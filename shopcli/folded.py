"""Letters as a keyboard without them types them: what is written down and what is looked for are folded alike.

The triggers that keep the words to find by (`find_word`) hold the same table in SQL: whoever changes it sets them anew,
by a migration.

References
----------
.. [1] Unicode Standard Annex #15, Unicode Normalization Forms: compatibility decomposition (NFKD), the same for ever.
.. [2] Unicode CLDR, common/transforms/Latin-ASCII.xml: the letters that have no decomposition.
.. [3] ICAO Doc 9303, Machine Readable Travel Documents, part 3, section 6: letters spelt out as passports do;
   those of German alone in CLDR, common/transforms/de-ASCII.xml.
"""

import unicodedata
from functools import cache

# Latin, Greek, Cyrillic and Armenian; Latin of Viet Nam and of Wales.
ALPHABETS = (range(0xC0, 0x588), range(0x1E00, 0x1F00))
MARKS = range(0x300, 0x370)
UNDIVIDED = {
    "æ": "ae", "ð": "d", "ø": "o", "þ": "th", "đ": "d", "ħ": "h", "ı": "i", "ĸ": "q", "ł": "l", "ŀ": "l", "ŉ": "'n",
    "ŋ": "n", "œ": "oe", "ŧ": "t", "ƀ": "b", "ƃ": "b", "ƈ": "c", "ƌ": "d", "ƒ": "f", "ƕ": "hv", "ƙ": "k", "ƚ": "l",
    "ƞ": "n", "ƣ": "oi", "ƥ": "p", "ƫ": "t", "ƭ": "t", "ƴ": "y", "ƶ": "z", "ǥ": "g", "ȥ": "z",
}  # fmt: skip
SPELT_OUT = {"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe"}


def _plain(letter: str) -> str:
    apart = "".join(c for c in unicodedata.normalize("NFKD", letter) if not unicodedata.combining(c))
    small = "".join(UNDIVIDED.get(c, c) for c in UNDIVIDED.get(letter.lower(), apart).casefold())
    # What is taken apart into a blank and a sign stays as it is: a word stays one word.
    return small if not any(c.isspace() for c in small) else letter


@cache
def folds() -> dict[str, str]:
    """Return each letter that is folded, small or large, with what it becomes."""
    letters = (chr(code) for alphabet in ALPHABETS for code in alphabet if code not in MARKS)
    found = {c: _plain(c) for c in letters if unicodedata.category(c).startswith("L")}
    return {letter: plain for letter, plain in found.items() if plain != letter}


@cache
def _table() -> dict[int, str | None]:
    return {**{ord(letter): plain for letter, plain in folds().items()}, **dict.fromkeys(MARKS)}


def folded(text: str) -> str:
    """Return a text in small letters, without accents and strokes.

    Examples
    --------
    >>> folded("Søren AAKJÆR"), folded("Łukasz"), folded("Weiß-Müller")
    ('soren aakjaer', 'lukasz', 'weiss-muller')
    """
    return text.lower() if text.isascii() else text.lower().translate(_table())


def spellings(text: str) -> tuple[str, ...]:
    """Return a text folded, and where a passport would spell its letters out, that as well.

    Examples
    --------
    >>> spellings("Müller"), spellings("Søren"), spellings("Lark")
    (('muller', 'mueller'), ('soren', 'soeren'), ('lark',))
    """
    plain = folded(text)
    if text.isascii():
        return (plain,)
    whole = unicodedata.normalize("NFC", text.lower())
    out = folded("".join(SPELT_OUT.get(letter, letter) for letter in whole))
    return (plain,) if out == plain else (plain, out)
