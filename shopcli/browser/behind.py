"""The application behind one page: a process of its own, spoken to in packets through its input and output.

A packet is a letter, four bytes of length and the content: ``D`` what a terminal would get or send, ``M`` a word about
the terminal as JSON, ``F`` a file to be handed to the browser (`shopcli.screens.browser_driver` is the other end).
"""

import asyncio
import json
import logging
from asyncio.subprocess import PIPE, Process
from collections.abc import Awaitable, Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass

log = logging.getLogger("shopcli.browser")

READY = b"__GANGLION__\n"  # what the framework's driver says before its first packet
LINES_BEFORE = 50
PACKET_MOST = 64 << 20  # [bytes]
LEAVES_S, ENDS_S = 5.0, 2.0  # how long it may take to leave when asked, and when told
INPUT = asyncio.StreamReader  # what a process says


@dataclass(frozen=True, slots=True)
class Handed:
    """A file for the browser."""

    name: str
    mime: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Outlets:
    """Where what the application says goes to."""

    shown: Callable[[bytes], Awaitable[None]]
    handed: Callable[[Handed], Awaitable[None]]


class Behind:
    """One process of the application."""

    def __init__(self, process: Process) -> None:
        self._process = process

    @classmethod
    async def started(
        cls, command: Sequence[str], environment: Mapping[str, str], size: tuple[int, int]
    ) -> "Behind":
        """Start the application for a terminal of so many columns and rows.

        It is in a session of its own: Ctrl+C at the server's terminal ends it by way of the server.
        """
        size_told = {"COLUMNS": str(size[0]), "ROWS": str(size[1])}
        process = await asyncio.create_subprocess_exec(
            *command, stdin=PIPE, stdout=PIPE, env={**environment, **size_told}, start_new_session=True
        )
        return cls(process)

    async def listen(self, outlets: Outlets) -> None:
        """Hand on what the application says, until it says no more."""
        said = self._process.stdout
        assert said is not None  # noqa: S101 - asked for above
        if not await _ready(said):
            log.warning("the application did not start")
            return
        with suppress(asyncio.IncompleteReadError, ConnectionError):
            while True:
                head = await said.readexactly(5)
                length = int.from_bytes(head[1:], "big")
                if length > PACKET_MOST:
                    log.warning("the application sent %s bytes at once", length)
                    return
                if not await _handed_on(head[:1], await said.readexactly(length), outlets):
                    return

    async def tell(self, kind: bytes, content: bytes) -> None:
        """Send the application a packet; one that has gone hears nothing."""
        into = self._process.stdin
        assert into is not None  # noqa: S101 - asked for above
        with suppress(ConnectionError, RuntimeError):
            into.write(b"%s%s%s" % (kind, len(content).to_bytes(4, "big"), content))
            await into.drain()

    async def type(self, text: str) -> None:
        """Send what was typed."""
        await self.tell(b"D", text.encode(errors="replace"))

    async def word(self, kind: str, **more: object) -> None:
        """Send a word about the terminal."""
        await self.tell(b"M", json.dumps({"type": kind, **more}).encode())

    async def end(self) -> None:
        """Have the application leave; one that does not is ended."""
        process = self._process
        if process.returncode is None:
            await self.word("quit")
            if process.stdin is not None:
                process.stdin.close()
        for seconds, harder in ((LEAVES_S, process.terminate), (ENDS_S, process.kill)):
            with suppress(TimeoutError):
                return await asyncio.wait_for(self._gone(), seconds)
            with suppress(ProcessLookupError):
                harder()
        return await self._gone()

    async def _gone(self) -> None:
        # Nobody listens any more: what it still says is read, or both would wait for ever.
        said = self._process.stdout
        while said is not None and await said.read(1 << 16):
            pass
        await self._process.wait()


async def _ready(said: INPUT) -> bool:
    for _ in range(LINES_BEFORE):
        with suppress(ValueError):  # a line longer than is kept
            line = await said.readline()
            if line == READY:
                return True
            if not line:
                return False
    return False


async def _handed_on(kind: bytes, content: bytes, outlets: Outlets) -> bool:
    """Hand a packet on; return whether more is to come."""
    if kind == b"D":
        await outlets.shown(content)
    elif kind == b"F":
        head, _, body = content.partition(b"\n")
        said = json.loads(head)
        await outlets.handed(Handed(str(said["name"]), str(said["mime"]), body))
    elif kind == b"M":
        return bool(json.loads(content).get("type") != "exit")
    return True
