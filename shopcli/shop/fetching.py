"""What reading by SQL text looks like, for rules that only read; nothing of a database is imported here."""

from collections.abc import Callable

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    Rows = list[tuple[Any, ...]]
else:
    Rows = list
Fetch = Callable[..., Rows]


def for_server(sql: str) -> str:
    """Return a SQL text with ``?`` parameters as the driver of a server wants it.

    Examples
    --------
    >>> for_server("SELECT id FROM person WHERE role LIKE '%desk%' AND id = ?")
    "SELECT id FROM person WHERE role LIKE '%%desk%%' AND id = %s"
    """
    return sql.replace("%", "%%").replace("?", "%s")
