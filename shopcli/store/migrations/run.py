"""Runs alembic without its command line: the engine is ours, with our pragmas, and foreign keys off while tables change."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import text

from shopcli.store.engine import open_engine
from shopcli.store.place import Place


def upgrade(place: Place) -> None:
    """Upgrade to the newest schema in one transaction."""
    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent))
    engine = open_engine(place, new=True)
    try:
        with engine.connect() as connection:
            sqlite = connection.dialect.name == "sqlite"
            if sqlite:
                # Inside a transaction the switch is ignored, so it is thrown on the bare driver connection.
                connection.connection.driver_connection.execute("PRAGMA foreign_keys=OFF")  # type: ignore[union-attr]
            with connection.begin():
                config.attributes["connection"] = connection
                command.upgrade(config, "head")
                if sqlite and connection.execute(text("PRAGMA foreign_key_check")).first():
                    raise RuntimeError("references were broken by the change of schema")
    finally:
        engine.dispose()
