"""Text is cleaned once, at the border where it enters.

Control characters could drive the terminal, bidirectional overrides can make a line read as
something else, and ten thousand characters belong in a document. Everything else is kept as typed.
"""

import unicodedata

from shopcli.errors import BadInput

# Overrides, embeddings, isolates and marks: they reorder what the reader sees.
_BIDI = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
LINE = 200
NOTE = 4000


def clean_line(text: str, *, name: str = "text", limit: int = LINE) -> str:
    r"""Return one line without controls, trimmed and with runs of blanks folded.

    Parameters
    ----------
    text : str
        As it came.
    name : str, optional
        What the text is, for the message.
    limit : int, optional
        Longest length kept, [characters]

    Raises
    ------
    BadInput
        If more than `limit` characters remain.

    Examples
    --------
    >>> clean_line("  Mrs\tA.\x1b[31m  Lark ")
    'Mrs A.[31m Lark'
    """
    return " ".join(clean_note(text, name=name, limit=limit).split())


def clean_note(text: str, *, name: str = "note", limit: int = NOTE) -> str:
    r"""Return text with line breaks kept, without controls and bidirectional marks.

    Raises
    ------
    BadInput
        If more than `limit` characters remain.

    Examples
    --------
    >>> clean_note("one\r\ntwo\x00")
    'one\ntwo'
    """
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    kept = "".join(
        " " if c == "\t" else c
        for c in text
        if c not in _BIDI and (c in "\n\t" or unicodedata.category(c) not in {"Cc", "Cs"})
    ).strip()
    if len(kept) > limit:
        raise BadInput(
            f"the {name} has {len(kept)} characters; at most {limit} are kept",
            hint="Shorten it; long texts belong in a document of their own.",
        )
    return kept


def required_line(text: str, *, name: str, limit: int = LINE) -> str:
    """Return `clean_line`, refusing an empty one."""
    kept = clean_line(text, name=name, limit=limit)
    if not kept:
        raise BadInput(f"the {name} is empty", hint=f"Type the {name}.")
    return kept
