"""The composition root: one object that knows where the records are, what time it is and what the shop knows.

Nothing happens on import, nothing is global. Reading works at once; the mapper and the rules are loaded
with the first act, or ahead of it by `Shop.warm` in a thread behind the first screen.
"""

import importlib
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from functools import cache, cached_property, partial

from shopcli.errors import ShopError
from shopcli.shop.settings import Settings, load_settings
from shopcli.store.place import Place, ascii_wanted, find_place, find_settings
from shopcli.store.reader import Reader, Rows
from shopcli.store.schema import bring_up
from shopcli.store.trouble import told

TYPE_CHECKING = False
if TYPE_CHECKING:
    from pathlib import Path
    from typing import Any

    from sqlalchemy import Engine
    from sqlmodel import Session

    from shopcli.shop.act import Done
    from shopcli.shop.command import Command
    from shopcli.shop.fetching import Fetch
    from shopcli.shop.pin_hash import Argon
    from shopcli.worklists.library import Library
    from shopcli.worklists.model import TagKind


def _new_op() -> str:
    import uuid

    return uuid.uuid4().hex


def utc_now() -> datetime:
    """Return the time now, aware, in UTC."""
    return datetime.now(UTC)


class Run:
    """Several acts in one transaction, each with its own journal row (the demo, imports)."""

    def __init__(self, shop: "Shop", session: "Session") -> None:
        self._shop = shop
        self._session = session

    def do(self, command: "Command", *, by: int, at: datetime | None = None, op: str | None = None) -> "Done":
        """Carry out one act, at the time given or now."""
        done = self._shop.carry_out(self._session, command, by, at or self._shop.now(), op)
        if done.refusal is not None:
            raise done.refusal
        return done

    def fetch(self, sql: str, params: tuple[object, ...] = ()) -> Rows:
        """Read rows by SQL text with ``?`` parameters, as the acts so far have left them."""
        from shopcli.shop.fetch import fetcher

        return fetcher(self._session)(sql, params)


class Shop:
    """A shop's records, settings, library and clock."""

    def __init__(self, place: Place, settings: Settings, now: Callable[[], datetime] = utc_now) -> None:
        self.place = place
        self.settings = settings
        self.now = now
        self.reader = Reader(place)
        self._guard = threading.RLock()
        self._own: tuple[tuple[object, ...], Library] | None = None
        self.changed: list[Callable[[], None]] = []

    @cached_property
    def files(self) -> "Library":
        """What the files say: ours, overridden by the shop's own folder."""
        from shopcli.worklists.load import load_library

        return load_library(*self._own_folders())

    @property
    def library(self) -> "Library":
        """What the shop knows how to do: the files, and its own sheets over theirs as they are in the records now."""
        return self._with_own(self.fetch, keep=True)

    @library.setter
    def library(self, files: "Library") -> None:
        """Take another library for that of the files."""
        self.files = files
        self._own = None

    def _with_own(self, fetch: "Fetch", *, keep: bool) -> "Library":
        """Return the library with the own sheets and times `fetch` sees; kept only when they are there for good."""
        from shopcli.shop.own_sheets import changes, own_sheets
        from shopcli.shop.own_times_now import own_times
        from shopcli.worklists.with_sheets import with_sheets
        from shopcli.worklists.with_times import with_times

        mark, known = changes(fetch), self._own
        if known is not None and known[0] == mark:
            return known[1]
        library = with_times(with_sheets(self.files, own_sheets(fetch)), own_times(fetch))
        if keep:
            self._own = (mark, library)
        return library

    @property
    def tag_kinds(self) -> "Mapping[str, TagKind]":
        """The kinds of tags; the rest of the library is not read for them."""
        known = self.__dict__.get("files") or self.__dict__.get("library")
        return known.tags if known else self._tag_kinds

    @cached_property
    def _tag_kinds(self) -> "Mapping[str, TagKind]":
        from shopcli.worklists.load import load_tags

        return load_tags(*self._own_folders())

    def _own_folders(self) -> "tuple[Path, ...]":
        from pathlib import Path

        own = self.settings.templates_folder
        return (Path(own).expanduser(),) if own else ()

    @cached_property
    def hasher(self) -> "Argon":
        """What PINs are told by."""
        from shopcli.shop.pin_hash import Argon

        return Argon()

    @cached_property
    def engine(self) -> "Engine":
        """Return the writing engine."""
        from shopcli.store.engine import open_engine

        return open_engine(self.place)

    def fetch(self, sql: str, params: tuple[object, ...] = ()) -> Rows:
        """Read rows by SQL text with ``?`` parameters."""
        return self.reader.fetch(sql, params)

    def at(self) -> int:
        """Return the time now in whole seconds UTC, as it is stored."""
        return int(self.now().timestamp())

    def local(self, seconds: int) -> datetime:
        """Return a stored time in the shop's zone."""
        return datetime.fromtimestamp(seconds, self.settings.tz())

    def warm(self) -> None:
        """Load what the first act needs; meant for a thread behind the first screen."""
        with self._guard:
            importlib.import_module("shopcli.shop.closing")
            _ = self.engine, self.library

    @contextmanager
    def _session(self) -> Iterator["Session"]:
        from sqlmodel import Session

        with self._guard:
            engine = self.engine
        with told(), Session(engine, expire_on_commit=False) as session:
            yield session
            session.commit()

    def carry_out(
        self, session: "Session", command: "Command", by: int, at: datetime, op: str | None = None
    ) -> "Done":
        """Carry out one act in an open session: the rule, then its journal row.

        A repeated `op` is answered, not repeated; an act without one gets a new one nobody can have used. Who may do it
        is seen before its rule is asked.
        """
        from dataclasses import replace

        from shopcli.shop import journal, week_keeping
        from shopcli.shop.act import Act, Done
        from shopcli.shop.roles import see_may
        from shopcli.shop.touched import watching

        if op is None:
            op = _new_op()
        elif (before := journal.done_before(session, op)) is not None:
            return before
        module, _, name = command.rule.partition(":")
        rule = getattr(importlib.import_module(f"shopcli.shop.{module}"), name)
        library = cache(partial(self._library_in, session))
        act = Act(by, int(at.timestamp()), op, self.settings, library, self.hasher)
        see_may(session, by, command)
        with watching(session) as touched:
            change = rule(session, act, command)
            session.flush()
        if change.refusal is not None:
            act = replace(act, op=_new_op())  # it is written down, but no repeat of it is taken for done
        rows = touched.rows()
        if not change.unwritten:
            journal.write(session, act, command, change, rows)
        week_keeping.keep(session, rows, act.at, self.settings.tz())
        return Done(change.id, tuple(change.said), change.refusal)

    def _library_in(self, session: "Session") -> "Library":
        """Return the library as a rule sees it: with what its own transaction did to the sheets."""
        from shopcli.shop.fetch import fetcher

        return self._with_own(fetcher(session), keep=False)

    def do(self, command: "Command", *, by: int, op: str | None = None) -> "Done":
        """Do one thing: one transaction, one journal row, or nothing at all.

        Raises
        ------
        ShopError
            Whatever the rule refuses, or the store cannot do; nothing was changed then.
        """
        if command.knows:
            _ = self.library  # read outside the transaction: disk work must not hold the write lock
        with self._session() as session:
            session.connection()  # what time it is, is asked once no other writer can come in between
            done = self.carry_out(session, command, by, self.now(), op)
        if done.refusal is not None:
            raise done.refusal
        if command.wipes:
            from dataclasses import replace

            from shopcli.store.wiping import wipe

            done = replace(done, said=(*done.said, *wipe(self)))
        for listener in self.changed:
            listener()
        return done

    @contextmanager
    def many(self) -> Iterator[Run]:
        """Do many things in one transaction: all or nothing."""
        from sqlalchemy import event

        _ = self.library
        kept: list[object] = []  # a session forgets what nobody holds, and would read it again for every act
        with self._session() as session:
            for seen in ("pending_to_persistent", "loaded_as_persistent"):
                event.listen(session, seen, lambda _session, record: kept.append(record))
            yield Run(self, session)

    def reckon_weeks(self) -> None:
        """Write what the week is read from anew, for the zone of the settings; the first opening does, and another zone."""
        from shopcli.shop.week_keeping import reckon_anew

        with self._session() as session:
            reckon_anew(session, self.settings.zone, self.settings.tz())

    def close(self) -> None:
        """Let go of every connection."""
        self.reader.close()
        engine: Any = self.__dict__.pop("engine", None)
        if engine is not None:
            engine.dispose()


def open_shop(
    db: str | None = None,
    *,
    settings: Settings | None = None,
    settings_file: str | None = None,
    now: Callable[[], datetime] = utc_now,
) -> Shop:
    """Open a shop's records, making or upgrading the schema when that is needed.

    Parameters
    ----------
    db : str, optional
        A file or a PostgreSQL URL; else the environment, else the usual place.
    settings : Settings, optional
        Settings at hand; else they are read from `settings_file` or the usual places.
    now : callable, optional
        The clock.

    Raises
    ------
    StoreTrouble
        When the records are newer, damaged, read-only or out of reach.
    BadInput
        When the settings cannot be read.
    """
    place = find_place(db)
    chosen = settings if settings is not None else load_settings(find_settings(settings_file, place))
    if ascii_wanted():
        chosen = chosen._replace(ascii_only=True)
    shop = Shop(place, chosen, now)
    try:
        bring_up(place, shop.reader)
    except ShopError:
        shop.close()
        raise
    if not shop.fetch("SELECT 1 FROM person LIMIT 1"):
        _first_people(shop)
    if shop.fetch("SELECT zone FROM week_zone") != [(chosen.zone,)]:
        shop.reckon_weeks()
    return shop


def _first_people(shop: Shop) -> None:
    """A new shop has the people its settings name, and always an owner."""
    from shopcli.shop.people_commands import AddPerson
    from shopcli.shop.rights import is_owner
    from shopcli.shop.settings import Staff

    staff = sorted(shop.settings.staff, key=lambda person: not is_owner(person.role))
    if not staff or not is_owner(staff[0].role):
        staff.insert(0, Staff("Owner", "owner", shop.settings.units))
    with shop.many() as run:
        if run.fetch("SELECT 1 FROM person LIMIT 1"):  # another terminal was quicker
            return
        owner, *others = (AddPerson(person.name, person.role, person.units) for person in staff)
        first = run.do(owner, by=0).id
        for command in others:
            run.do(command, by=first)
