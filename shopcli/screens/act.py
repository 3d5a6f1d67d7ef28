"""What one thing a key does looks like in the list of acts."""

from typing import NamedTuple


class Act(NamedTuple):
    """One thing a key does. `keys` may name several, the first is shown; `footer` False keeps it to the help page."""

    id: str
    keys: str
    label: str
    help: str
    footer: bool = True
    priority: bool = False
