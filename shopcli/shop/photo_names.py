"""What a photo of ours may be called and which kinds are kept; told apart from the rule, so that lists need no mapper."""

import re

KINDS = {"jpeg": "jpg", "png": "png", "webp": "webp", "gif": "gif", "heic": "heic"}
# A name of our own making: no folder, no dot at its beginning, nothing a system reads as anything else.
_SAFE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,79}\.(?:jpg|png|webp|gif|heic)")


def safe_name(name: str) -> bool:
    """Whether a file name is one of ours.

    Examples
    --------
    >>> safe_name("J00012-3f9a0c.jpg"), safe_name("../x.jpg"), safe_name("a/b.jpg"), safe_name(".x.jpg"), safe_name("x.py")
    (True, False, False, False, False)
    """
    return _SAFE.fullmatch(name) is not None
