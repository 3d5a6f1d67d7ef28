"""Where a shop's records are: a SQLite file by default, PostgreSQL by URL; told by option, environment or the usual folder."""

import os
import sys
from pathlib import Path
from typing import NamedTuple

POSTGRES = ("postgresql://", "postgres://", "postgresql+psycopg://")
ENVIRONMENT = "SHOPCLI_DB"
SETTINGS_ENVIRONMENT = "SHOPCLI_SETTINGS"
ASCII_ENVIRONMENT = "SHOPCLI_ASCII"


class Place(NamedTuple):
    """A database: `url` for SQLAlchemy; `file` for SQLite, None for a server."""

    url: str
    file: Path | None

    @property
    def label(self) -> str:
        """What to call it in messages: the file, or the URL without the password."""
        if self.file:
            return str(self.file)
        head, _, tail = self.url.rpartition("@")
        return f"{head.split('//')[0]}//…@{tail}" if head else self.url

    @property
    def dsn(self) -> str:
        """Return the URL as the PostgreSQL driver wants it."""
        return "postgresql://" + self.url.split("://", 1)[1]


def default_file() -> Path:
    """Return the usual place of a shop's records on this machine."""
    folder = _folder("XDG_DATA_HOME", ".local/share")
    if folder is None:
        from platformdirs import user_data_path

        folder = user_data_path("shopcli", appauthor=False)
    return folder / "shop.db"


def _folder(variable: str, usual: str) -> Path | None:
    """Return the shop's folder of a kind where the standard of free desktops holds; None elsewhere.

    The general way costs more than the reading of what lies there, and is asked before the first picture.
    """
    if sys.platform != "linux":
        return None
    named = os.environ.get(variable, "").strip()
    return (Path(named) if named else Path.home() / usual) / "shopcli"


def find_place(told: str | None = None) -> Place:
    """Return the place told by an option, else by the environment, else the usual one."""
    told = told or os.environ.get(ENVIRONMENT) or ""
    if told.startswith(POSTGRES):
        return Place("postgresql+psycopg://" + told.split("://", 1)[1], None)
    file = Path(told).expanduser() if told else default_file()
    return Place(f"sqlite:///{file}", file)


def ascii_wanted() -> bool:
    """Whether the environment asks for plain characters only: ``SHOPCLI_ASCII=1``."""
    return os.environ.get(ASCII_ENVIRONMENT, "") not in {"", "0"}


def find_settings(told: str | None = None, place: Place | None = None) -> Path:
    """Return the settings file: told, from the environment, beside the database, or in the usual folder."""
    told = told or os.environ.get(SETTINGS_ENVIRONMENT) or ""
    if told:
        return Path(told).expanduser()
    if place and place.file:
        beside = place.file.with_name("shop.toml")
        if beside.exists():
            return beside
    folder = _folder("XDG_CONFIG_HOME", ".config")
    if folder is None:
        from platformdirs import user_config_path

        folder = user_config_path("shopcli", appauthor=False)
    return folder / "shop.toml"
