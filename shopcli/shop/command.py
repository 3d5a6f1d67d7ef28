"""The shape of everything that may be asked of the shop: plain frozen data that names its rule.

A command is light (no database library is imported to build one), is written into the journal as it is,
and names its rule; `shopcli.store.shop.Shop.do` finds the rule when the first act is done.
"""

from dataclasses import dataclass
from typing import ClassVar

# What stood in fields, as (column, value as stored), when they were shown to who changes them: `shopcli.shop.seen`.
Seen = tuple[tuple[str, object], ...]


@dataclass(frozen=True, slots=True)
class Command:
    """Base: `rule` is ``module:function`` below `shopcli.shop`; `knows` says that it needs templates, sheets or tags.

    The fields that are `secret` are written down nowhere. What an act that `wipes` leaves free in the file is
    overwritten once it is done.
    """

    rule: ClassVar[str] = ""
    knows: ClassVar[bool] = False
    wipes: ClassVar[bool] = False
    secret: ClassVar[tuple[str, ...]] = ()
