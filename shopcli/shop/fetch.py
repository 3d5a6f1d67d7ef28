"""SQL text from inside a rule, on the transaction that is open: to read by, the same text as the read side's, and to write by."""

from collections.abc import Callable, Sequence

from sqlmodel import Session

from shopcli.shop.fetching import Fetch, Rows, for_server

Write = Callable[[str, Sequence[Sequence[object]]], None]


def fetcher(session: Session) -> Fetch:
    """Return ``fetch(sql, params)`` over the session's own transaction; parameters are written ``?``."""

    def fetch(sql: str, params: Sequence[object] = ()) -> Rows:
        session.flush()
        connection = session.connection()
        if connection.dialect.paramstyle != "qmark":
            sql = for_server(sql)
        return [tuple(row) for row in connection.exec_driver_sql(sql, tuple(params)).fetchall()]

    return fetch


def writer(session: Session) -> Write:
    """Return ``write(sql, rows)`` on the transaction that is open; parameters are written ``?``."""

    def write(sql: str, rows: Sequence[Sequence[object]]) -> None:
        if not rows:
            return
        connection = session.connection()
        if connection.dialect.paramstyle != "qmark":
            sql = for_server(sql)
        connection.exec_driver_sql(sql, [tuple(row) for row in rows])

    return write
