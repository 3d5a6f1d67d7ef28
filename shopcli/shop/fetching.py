"""What reading by SQL text looks like, for rules that only read; nothing of a database is imported here."""

from collections.abc import Callable
from typing import Any

Rows = list[tuple[Any, ...]]
Fetch = Callable[..., Rows]
