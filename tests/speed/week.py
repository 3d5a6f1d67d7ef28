"""The owner's week over one, three and ten years of a busy shop, and at a real terminal over ten. Named only: it takes minutes.

Ten years are 33,000 cards, 470,000 tasks and as many clock entries. Times in this process are of the processor alone;
those at the terminal are from the key to the figures of the period, by the clock, and opened once, with everything to be read still
cold; the Monday list and the forecast come behind them.
"""

import select
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import timedelta
from itertools import count
from pathlib import Path

from shopcli.papers.of_records import in_form
from shopcli.papers.week.giving import ready_week
from shopcli.screens.week.looking import Read, read
from shopcli.shop.commands import AddClock
from shopcli.shop.week_views import Period
from shopcli.store.reads.week_bounds import this_week
from shopcli.store.reads.week_rows import rows_of
from shopcli.store.shop import Shop, open_shop
from tests.conftest import SETTINGS
from tests.known_shop import NOW, Size, known_shop
from tests.speed.rows import Row
from tests.speed.terminal import Terminal
from tests.speed.week_raw import against_raw

YEARS, WEEKS, A_WEEK, ROUNDS = (1, 3, 10), 52, 54, 7
OPENS, CHANGES, REPORT = 300.0, 100.0, 1_000.0
LOADED_S = 4.0  # after that long nothing is loaded behind the first screen any more
F5, F7 = b"\x1b[15~", b"\x1b[18~"
LOOKED_AT = (1, 4, 13, 52)
OPEN_TASK = """
SELECT t.id FROM task t JOIN card c ON c.id = t.card_id
WHERE c.state = 'in hand' AND t.state = 'open' ORDER BY t.id DESC LIMIT 1"""
Times = dict[str, float]


def busy_shop(file: Path, years: int) -> Shop:
    """Write so many years of a busy shop, and open it."""
    open_shop(str(file), settings=SETTINGS, now=lambda: NOW).close()
    size = Size(years * WEEKS, A_WEEK, templates=3, tasks=5, mechanics=5, frozen="x" * 300)
    known_shop(file, size)
    return open_shop(str(file), settings=SETTINGS, now=lambda: NOW)


def rows() -> Iterator[Row]:
    """Measure; the goals stand for ten years, the cost of more years is only told."""
    with tempfile.TemporaryDirectory() as folder:
        by_years = {}
        for years in YEARS:
            file = Path(folder) / f"{years}.db"
            shop = busy_shop(file, years)
            by_years[years] = _times(shop)
            against = list(against_raw(shop, file)) if years == YEARS[-1] else []
            shop.close()
        yield from _told(by_years)
        yield from against
        yield from _at_a_terminal(file)


def _told(by_years: dict[int, Times]) -> Iterator[Row]:
    few, most = by_years[YEARS[0]], by_years[YEARS[-1]]
    for what, took in most.items():
        goal = (
            OPENS
            if "opens" in what
            else CHANGES
            if "period" in what
            else REPORT
            if "report" in what
            else None
        )
        against = f", against {goal:.0f}" if goal else ""
        yield Row(f"week: {what}, ten years [ms]{against}", took, goal or took, 1.0 if goal else None)
    for years in YEARS[1:]:
        for what, took in by_years[years].items():
            yield Row(f"week: {what}, {years} years beside one [ms]", took, few[what])


def _times(shop: Shop) -> Times:
    now = this_week(shop)
    seen = read(shop, now, "owner", None, plain=False)
    found = {"station opens": _took(lambda: read(shop, now, "owner", None, plain=False))}
    for weeks in LOOKED_AT:
        back = count(1)
        found[f"another period of {weeks}"] = _took(
            lambda weeks=weeks, back=back: _earlier(shop, weeks, next(back), seen)
        )
    for form in ("text", "html", "pdf"):
        found[f"whole report, {form}"] = _took(
            lambda form=form: in_form(shop, ready_week(shop, now, "owner", full=True), form)
        )
    last = Period(now.monday - timedelta(weeks=13), 13)
    found["rows of hours clocked, 13 weeks"] = _took(lambda: rows_of(shop, last, "clocked:person:2"))
    moments = count(int(NOW.timestamp()) - 400 * 24 * 3600, 60)
    found["time added to a card"] = _took(lambda: _added(shop, next(moments)))
    return found


def _earlier(shop: Shop, weeks: int, back: int, seen: Read) -> Read:
    """Go back by the period once more; what the last one was held against is there already, as for who goes back."""
    period = Period(this_week(shop).monday - timedelta(weeks=weeks * back), weeks)
    return read(shop, period, "owner", seen.stands, plain=False)


def _added(shop: Shop, at: int) -> None:
    """Add a minute of the owner's, who has no other time: the act and what the week keeps of it."""
    shop.do(AddClock(int(shop.fetch(OPEN_TASK)[0][0]), at, at + 60, "forgotten"), by=1)


def _took(work: Callable[[], object]) -> float:
    work()
    times = []
    for _ in range(ROUNDS):
        started = time.process_time()
        work()
        times.append((time.process_time() - started) * 1000)
    return statistics.median(times)


def _at_a_terminal(file: Path) -> Iterator[Row]:
    """Open the station where it has not been opened yet, at once and once the rest is loaded; then look through periods."""
    at_once = _started(file)
    opened = at_once.key_until(F7, b"handed over") * 1000
    at_once.close()
    yield Row("week: at a terminal, first opened while the rest still loads [ms]", opened, OPENS)
    ours = _started(file)
    try:
        _listened(ours, LOADED_S)
        opened = ours.key_until(F7, b"handed over") * 1000
        yield Row("week: at a terminal, first opened [ms]", opened, OPENS, 1.0)
        ours.settled(0.4)
        again = []
        for _ in range(ROUNDS):
            ours.key_until(F5, b"KS ")
            ours.settled(0.4)
            again.append(ours.key_until(F7, b"handed over") * 1000)
            ours.settled(0.4)
        yield Row("week: at a terminal, opened again [ms]", statistics.median(again), OPENS, 1.0)
        earlier = [ours.key_until(b"e", b"2026-W") * 1000 for _ in range(ROUNDS)]
        yield Row("week: at a terminal, another week [ms]", statistics.median(earlier), CHANGES, 1.0)
    finally:
        ours.close()


def _started(file: Path) -> Terminal:
    ours = Terminal([sys.executable, "-m", "shopcli", "--db", str(file), "--by", "Olive"])
    ours.wait_for(b"KS ")
    ours.settled(0.4)
    return ours


def _listened(ours: Terminal, seconds: float) -> None:
    """Read what comes for a while: a terminal nobody reads from holds the program up."""
    until = time.perf_counter() + seconds
    while time.perf_counter() < until:
        if select.select([ours.fd], [], [], 0.1)[0]:
            ours.read()
