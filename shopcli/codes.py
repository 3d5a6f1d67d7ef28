"""Our own short codes: what a printed square says when it is scanned, and how it is told from typing.

A scanner types what it reads and ends with Enter. A code of ours begins with signs nobody begins a word with, which
stand on the same keys of most keyboards; what follows is the number of a card or of a part.
"""

from typing import NamedTuple

BEGIN = "%"
CARD, PART = "C", "P"
LONGEST = 64  # characters; nothing longer is a code of ours


class Code(NamedTuple):
    """A code that was read: of a card or of a part, and its number."""

    kind: str
    number: str


def card_code(number: str) -> str:
    """Return what the square of a card says.

    Examples
    --------
    >>> card_code("J00012")
    '%C%J00012'
    """
    return f"{BEGIN}{CARD}{BEGIN}{number}"


def part_code(number: str) -> str:
    """Return what the label of a part says.

    Examples
    --------
    >>> part_code("TL-2001")
    '%P%TL-2001'
    """
    return f"{BEGIN}{PART}{BEGIN}{number}"


def begins_code(text: str) -> bool:
    """Whether a text may still become a code of ours.

    Examples
    --------
    >>> begins_code("%"), begins_code("%c"), begins_code("%C%J0"), begins_code("5 %"), begins_code("%x")
    (True, True, True, False, False)
    """
    head = text[:3].upper()
    return len(text) <= LONGEST and any(f"{BEGIN}{kind}{BEGIN}".startswith(head) for kind in (CARD, PART))


def is_code(text: str) -> bool:
    """Whether a text has the beginning of a code of ours in full.

    Examples
    --------
    >>> is_code("%C%"), is_code("%C")
    (True, False)
    """
    return len(text) >= len("%C%") and begins_code(text)


def read_code(text: str) -> Code | None:
    """Return the code a text is, None where it is none of ours.

    Examples
    --------
    >>> read_code("%c%J00012"), read_code("5012345678900")
    (Code(kind='C', number='J00012'), None)
    """
    number = text[3:].strip()
    return Code(text[1].upper(), number) if is_code(text) and number else None
