"""Tuples with names, without the interpreter's `typing`: what a command in the shell prints is there before that could be loaded.

For the views and settings that the shell's lists and the first picture are made from; anything else takes `typing`.
"""

import sys

TYPE_CHECKING = False
if TYPE_CHECKING or sys.version_info >= (
    3,
    14,
):  # from then on what a class says of its fields is told by a function
    from typing import NamedTuple
else:
    from collections import namedtuple

    class _Naming(type):
        """Makes a tuple with names of whatever derives from `NamedTuple`, as `typing` does."""

        def __new__(cls, name: str, _bases: tuple[type, ...], said: dict[str, object]) -> type:
            """Return the tuple; what the class says besides its fields stays."""
            hints = said.get("__annotations__", {})
            given = [said[field] for field in hints if field in said]
            made = namedtuple(name, hints, defaults=given, module=said["__module__"])  # noqa: PYI024 - that is what is made here
            for key, value in said.items():
                if key not in hints:
                    setattr(made, key, value)
            return made

    NamedTuple = type.__new__(_Naming, "NamedTuple", (), {})

__all__ = ["NamedTuple"]
