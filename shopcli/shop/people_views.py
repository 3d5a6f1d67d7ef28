"""Somebody as the page of people shows them, also who left."""

from shopcli.tuples import NamedTuple


class PersonKnown(NamedTuple):
    """Somebody who works here, or did."""

    id: int
    version: int
    name: str
    role: str
    units: str
    active: bool
    has_pin: bool
