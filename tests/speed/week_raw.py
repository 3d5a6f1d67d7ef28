"""The owner's week beside its own questions put to the driver by themselves: what everything around them costs."""

import sqlite3
import statistics
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import timedelta
from functools import partial
from pathlib import Path

from shopcli.screens.week.looking import read
from shopcli.shop.week_period import Period
from shopcli.store.reads.week_bounds import this_week
from shopcli.store.shop import Shop
from tests.speed.rows import Row

ROUNDS, GOAL = 9, 2.0
Asked = list[tuple[str, tuple[object, ...]]]


def against_raw(shop: Shop, file: Path) -> Iterator[Row]:
    """Compare the station, opened and with another period, with the same statements sent by the bare driver."""
    raw = sqlite3.connect(file)
    now = this_week(shop)
    stands = read(shop, now, "owner", None, plain=False).stands
    for what, weeks, known in (
        ("opened", 1, None),
        ("another week", 1, stands),
        ("another year", 52, stands),
    ):
        turns = []
        for back in range(1, ROUNDS + 1):  # what has been read is kept, so each turn goes further back
            period = Period(now.monday - timedelta(weeks=weeks * back), weeks)
            with _asked(shop) as asked:
                ours = _took(partial(read, shop, period, "owner", known, plain=False))
            turns.append((ours, _took(partial(_sent, raw, asked)), len(asked)))
        ours, theirs, count = (statistics.median(turn[i] for turn in turns) for i in range(3))
        yield Row(f"week, ten years: {what}, its {count:.0f} statements alone [ms]", ours, theirs, GOAL)
    raw.close()


@contextmanager
def _asked(shop: Shop) -> Iterator[Asked]:
    """Keep every statement that is sent meanwhile, with its parameters."""
    asked: Asked = []
    fetch = shop.reader.fetch

    def kept(sql: str, params: Sequence[object] = ()) -> list[Sequence[object]]:
        asked.append((sql, tuple(params)))
        return fetch(sql, params)

    shop.reader.fetch = kept  # type: ignore[method-assign, assignment]
    try:
        yield asked
    finally:
        del shop.reader.fetch
    if not asked:
        raise RuntimeError("the week read nothing through the reader: this would compare nothing")


def _sent(raw: sqlite3.Connection, asked: Asked) -> None:
    for sql, params in asked:
        raw.execute(sql, params).fetchall()


def _took(work: Callable[[], object]) -> float:
    started = time.process_time()
    work()
    return (time.process_time() - started) * 1000
