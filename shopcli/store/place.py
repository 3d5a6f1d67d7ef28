"""Where a shop's records are: a SQLite file by default, PostgreSQL by URL; told by option, environment or the usual folder."""

import os
import sys

from shopcli.tuples import NamedTuple

TYPE_CHECKING = False
if TYPE_CHECKING:
    from pathlib import Path

POSTGRES = ("postgresql://", "postgres://", "postgresql+psycopg://")
ENVIRONMENT = "SHOPCLI_DB"
SETTINGS_ENVIRONMENT = "SHOPCLI_SETTINGS"
ASCII_ENVIRONMENT = "SHOPCLI_ASCII"


class Place(NamedTuple):
    """A database: `url` for SQLAlchemy; `name` of the file for SQLite, empty for a server."""

    url: str
    name: str

    @property
    def file(self) -> "Path | None":
        """The file; None for a server."""
        from pathlib import Path  # what is read for the shell's list is found by its name alone

        return Path(self.name) if self.name else None

    @property
    def to_read(self) -> str:
        """The file as an URI, to be opened for reading only, its signs escaped as the engine says [1]_.

        References
        ----------
        .. [1] SQLite, Uniform Resource Identifiers, section 3.1, "The URI Path".

        Examples
        --------
        >>> at_file("/shop/what? 100%.db").to_read
        'file:///shop/what%3f 100%25.db?mode=ro'
        """
        path = os.path.join(os.getcwd(), self.name).replace(os.sep, "/")
        for sign in "%?#":
            path = path.replace(sign, f"%{ord(sign):02x}")
        return f"file://{'' if path.startswith('/') else '/'}{path}?mode=ro"

    @property
    def label(self) -> str:
        """What to call it in messages: the file, or the URL without the password."""
        if self.name:
            return self.name
        head, _, tail = self.url.rpartition("@")
        return f"{head.split('//')[0]}//…@{tail}" if head else self.url

    @property
    def dsn(self) -> str:
        """Return the URL as the PostgreSQL driver wants it."""
        return "postgresql://" + self.url.split("://", 1)[1]


def at_file(file: "str | Path") -> Place:
    """Return the place of records in a file."""
    name = os.fspath(file)
    return Place(f"sqlite:///{name}", name)


def default_file() -> str:
    """Return the usual place of a shop's records on this machine."""
    folder = _folder("XDG_DATA_HOME", ".local/share")
    if folder is None:
        from platformdirs import user_data_dir

        folder = user_data_dir("shopcli", appauthor=False)
    return os.path.join(folder, "shop.db")


def _folder(variable: str, usual: str) -> str | None:
    """Return the shop's folder of a kind where the standard of free desktops holds; None elsewhere.

    The general way costs more than the reading of what lies there, and is asked before the first picture.
    """
    if sys.platform != "linux":
        return None
    named = os.environ.get(variable, "").strip()
    return os.path.join(named or os.path.expanduser(f"~/{usual}"), "shopcli")


def find_place(told: str | None = None) -> Place:
    """Return the place told by an option, else by the environment, else the usual one."""
    told = told or os.environ.get(ENVIRONMENT) or ""
    if told.startswith(POSTGRES):
        return Place("postgresql+psycopg://" + told.split("://", 1)[1], "")
    return at_file(os.path.expanduser(told) if told else default_file())


def ascii_wanted() -> bool:
    """Whether the environment asks for plain characters only: ``SHOPCLI_ASCII=1``."""
    return os.environ.get(ASCII_ENVIRONMENT, "") not in {"", "0"}


def find_settings(told: str | None = None, place: Place | None = None) -> str:
    """Return the settings file: told, from the environment, beside the database, or in the usual folder."""
    told = told or os.environ.get(SETTINGS_ENVIRONMENT) or ""
    if told:
        return os.path.expanduser(told)
    if place and place.name:
        beside = os.path.join(os.path.dirname(place.name), "shop.toml")
        if os.path.exists(beside):
            return beside
    folder = _folder("XDG_CONFIG_HOME", ".config")
    if folder is None:
        from platformdirs import user_config_dir

        folder = user_config_dir("shopcli", appauthor=False)
    return os.path.join(folder, "shop.toml")
