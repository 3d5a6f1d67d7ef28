"""A real PostgreSQL server of the tests' own: a cluster in a folder of its own, reached through a socket there alone.

The server refuses to run as root, so it is made and run by another user then. Where no server is installed its tests
are skipped, unless ``SHOPCLI_WITHOUT_POSTGRES=no`` forbids that: then they fail.
"""

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import pytest

WITHOUT = "SHOPCLI_WITHOUT_POSTGRES"
USERS = ("postgres", "nobody")
# Nothing here outlives the tests: no waiting for the disk. Many processes knock at once, each with two connections.
OPTIONS = {
    "listen_addresses": "",
    "fsync": "off",
    "full_page_writes": "off",
    "synchronous_commit": "off",
    "max_connections": "60",
    "shared_buffers": "16MB",
    "logging_collector": "off",
}
LASTING = ("fsync", "full_page_writes", "synchronous_commit")  # on where a trial pulls the plug


def binaries() -> Path | None:
    """Return the folder of the server's programs, None where there is none."""
    asked = shutil.which("pg_config")
    told = []
    if asked:
        out = subprocess.run([asked, "--bindir"], capture_output=True, text=True, check=False)
        told.append(Path(out.stdout.strip()))
    told += sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=_major, reverse=True)
    return next((folder for folder in told if (folder / "initdb").exists()), None)


def _major(folder: Path) -> int:
    name = folder.parent.name
    return int(name) if name.isdigit() else 0


def found_or_skip() -> Path:
    """Return the folder of the server's programs, or leave the test out where that may be."""
    where = binaries()
    if where is None:
        if os.environ.get(WITHOUT, "").casefold() in {"no", "0", "never"}:
            pytest.fail(f"no PostgreSQL server is installed, and {WITHOUT} says that it must be")
        pytest.skip(f"no PostgreSQL server is installed ({WITHOUT}=no would make this a failure)")
    return where


def other_user() -> str | None:
    """Return who runs the server: somebody else when we are root."""
    if os.geteuid() != 0:
        return None
    known = {entry.pw_name for entry in pwd.getpwall()}
    return next(name for name in USERS if name in known)


class Cluster:
    """A server in a temporary folder."""

    def __init__(self, programs: Path, *, durable: bool = False) -> None:
        self._programs = programs
        self._options = {k: v for k, v in OPTIONS.items() if not (durable and v == "off" and k in LASTING)}
        self._user = other_user()
        # The tests' own folders are closed to other users; a socket's path may have 107 characters at most.
        self.folder = Path(tempfile.mkdtemp(prefix="shop-pg-"))
        if self._user:
            shutil.chown(self.folder, self._user)
        self._data = self.folder / "data"

    def _run(self, program: str, *args: str) -> None:
        # A server that keeps the pipe of whoever started it open would keep that one waiting.
        with (self.folder / f"{program}.out").open("w+") as said:
            done = subprocess.run(
                [self._programs / program, *args],
                user=self._user,
                group=self._group,
                extra_groups=[] if self._user else None,
                cwd=self.folder,
                env={"PATH": os.environ["PATH"], "LC_ALL": "C", "TZ": "UTC"},
                stdin=subprocess.DEVNULL,
                stdout=said,
                stderr=subprocess.STDOUT,
                check=False,
            )
            said.seek(0)
            assert done.returncode == 0, said.read()

    @property
    def _group(self) -> int | None:
        return pwd.getpwnam(self._user).pw_gid if self._user else None

    def start(self) -> None:
        """Make the cluster and start its server."""
        self._run("initdb", "--no-sync", "-A", "trust", "-U", "shop", "-E", "UTF8", "-D", str(self._data))
        self.serve()

    def again(self) -> None:
        """Stop the server as a power cut would, and start it again."""
        self.halt()
        self.serve()

    def halt(self) -> None:
        """Stop the server as a power cut would."""
        self._run("pg_ctl", "stop", "-w", "-m", "immediate", "-D", str(self._data))

    def serve(self) -> None:
        """Start the server of a cluster that is made."""
        chosen = [f"-c {name}='{value}'" for name, value in self._options.items()]
        chosen.append(f"-c unix_socket_directories='{self.folder}'")
        log = str(self.folder / "server.log")
        self._run("pg_ctl", "start", "-w", "-D", str(self._data), "-l", log, "-o", " ".join(chosen))

    def url(self, database: str) -> str:
        """Return what ``--db`` wants."""
        return f"postgresql://shop@/{database}?host={self.folder}"

    def make(self, database: str, like: str = "template0") -> str:
        """Make a database as a copy of another one nobody uses, and return its URL."""
        import psycopg

        with psycopg.connect(self.url("postgres"), autocommit=True) as connection:
            connection.execute(f'CREATE DATABASE "{database}" TEMPLATE "{like}"')
        return self.url(database)

    def drop(self, database: str) -> None:
        """Throw a database away, whoever still has it open."""
        import psycopg

        with psycopg.connect(self.url("postgres"), autocommit=True) as connection:
            connection.execute(f'DROP DATABASE "{database}" WITH (FORCE)')

    def stop(self) -> None:
        """Stop the server and take its folder away."""
        if (self._data / "postmaster.pid").exists():
            self.halt()
        shutil.rmtree(self.folder)


@pytest.fixture(scope="session")
def cluster() -> Iterator[Cluster]:
    """Return a server that runs; it is made with the first test that asks for one."""
    made = Cluster(found_or_skip())
    try:
        made.start()
        yield made
    finally:
        made.stop()


@pytest.fixture
def postgres_url(cluster: Cluster) -> str:
    """Return the URL of an empty database of this test's own."""
    return cluster.make(f"shop_{uuid4().hex}")
