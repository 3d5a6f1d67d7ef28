"""A reason somebody can read years later: words, not a figure that slipped off the bench."""

import re

from shopcli.cleantext import clean_line
from shopcli.errors import BadInput

LONGEST = 400
LETTERS = 2  # the shortest word that says anything; common practice, no source
# A figure with or without its unit, as it is typed for a reading: 5, 0,15 mm, 40 ftlb, .006"
_FIGURE = re.compile(r"[-+]?[\d.,/\s]+\S{0,8}")


def reason_in_words(reason: str, what: str) -> str:
    """Return the cleaned reason for what is done against the usual way.

    Raises
    ------
    BadInput
        When there is none, or only a figure with or without a unit stands there.

    Examples
    --------
    >>> reason_in_words(" cover is on, seen ", "lifting it by hand")
    'cover is on, seen'
    """
    kept = clean_line(reason, name="reason", limit=LONGEST)
    if not kept:
        raise BadInput(f"{what} needs a reason", hint="Write in a few words why.")
    if _FIGURE.fullmatch(kept) or sum(c.isalpha() for c in kept) < LETTERS:
        raise BadInput(f"{what} needs a reason; '{kept}' is none", hint="Write in a few words why.")
    return kept
