"""Reading by SQL text from inside a rule: the same text the read side uses, on the transaction that is open."""

from collections.abc import Sequence

from sqlmodel import Session

from shopcli.shop.fetching import Fetch, Rows, for_server


def fetcher(session: Session) -> Fetch:
    """Return ``fetch(sql, params)`` over the session's own transaction; parameters are written ``?``."""

    def fetch(sql: str, params: Sequence[object] = ()) -> Rows:
        session.flush()
        connection = session.connection()
        if connection.dialect.paramstyle != "qmark":
            sql = for_server(sql)
        return [tuple(row) for row in connection.exec_driver_sql(sql, tuple(params)).fetchall()]

    return fetch
