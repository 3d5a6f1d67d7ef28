"""What one thing a key does looks like in the list of acts."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Act:
    """One thing a key does. `keys` may name several, the first is shown; `footer` False keeps it to the help page."""

    id: str
    keys: str
    label: str
    help: str
    footer: bool = True
    priority: bool = False
