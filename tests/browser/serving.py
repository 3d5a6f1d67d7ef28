"""The real server as a process of its own over real records, and a stranger who asks it things."""

import asyncio
import os
import signal
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import aiohttp

from shopcli.shop.pin_commands import SetPin
from shopcli.store.reads import people
from shopcli.store.shop import Shop

ROOT = Path(__file__).parents[2]
PIN = "4071"
PATIENCE_S = 60  # a busy machine is no fault
SIGN_IN = b"Who stands here"


def with_pin(shop: Shop, name: str = "Dora") -> int:
    """Give somebody a PIN, and return who that is."""
    who = people.person(shop, name)
    shop.do(SetPin(who.id, PIN), by=who.id)
    return who.id


@dataclass
class Served:
    """A server that runs: its process, its link, and somebody at the other end who was not let in yet."""

    process: asyncio.subprocess.Process
    link: str
    web: aiohttp.ClientSession

    @property
    def address(self) -> str:
        return self.link.partition("/in?")[0]

    @property
    def host(self) -> str:
        return self.address.partition("//")[2]

    async def get(self, path: str, **headers: str) -> aiohttp.ClientResponse:
        """Ask for something and read the answer."""
        answer = await self.web.get(self.address + path, headers=headers, allow_redirects=False)
        await answer.read()
        return answer

    async def come_in(self) -> str:
        """Take the link, and return the cookie one gets for it."""
        answer = await self.web.get(self.link, allow_redirects=False)
        cookie = answer.cookies["shopcli-desk"]
        return f"{cookie.key}={cookie.value}"

    def line(self, cookie: str, **headers: str) -> Any:
        """Open a line to the application, as a page does."""
        given = {"Cookie": cookie, "Origin": self.address, **headers}
        return self.web.ws_connect(f"{self.address}/line?width=100&height=30", headers=given)

    def behind(self) -> list[int]:
        """The processes the server started and that live."""
        of = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children").read_text(encoding="ascii")
        return [int(pid) for pid in of.split()]


async def seen(line: aiohttp.ClientWebSocketResponse, words: bytes = SIGN_IN) -> None:
    """Wait until the application has shown some words."""
    shown = b""
    async with asyncio.timeout(PATIENCE_S):
        while words not in shown:
            message = await line.receive()
            assert message.type in {aiohttp.WSMsgType.BINARY, aiohttp.WSMsgType.TEXT}, message
            shown += message.data if isinstance(message.data, bytes) else b""


async def gone(pids: list[int]) -> None:
    """Wait until none of the processes lives."""
    async with asyncio.timeout(PATIENCE_S):
        while any(_lives(pid) for pid in pids):  # noqa: ASYNC110 - the kernel tells nobody who is not their parent
            await asyncio.sleep(0.02)


def _lives(pid: int) -> bool:
    with suppress(OSError):
        return Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()[0] != "Z"
    return False


@asynccontextmanager
async def serving(db: Path, *words: str) -> AsyncIterator[Served]:
    """Start the server over records, and end it as Ctrl+C does unless it has ended."""
    process = await asyncio.create_subprocess_exec(
        sys.executable,
        *("-m", "shopcli", "browser", "--db", str(db), *words),
        cwd=ROOT,
        env={**os.environ, "TEXTUAL_ANIMATIONS": "none"},
        stdout=asyncio.subprocess.PIPE,
        start_new_session=True,
    )
    assert process.stdout is not None
    jar = aiohttp.DummyCookieJar()
    async with aiohttp.ClientSession(cookie_jar=jar) as web:
        try:
            async with asyncio.timeout(PATIENCE_S):
                link = (await process.stdout.readline()).decode().strip()
            assert link.startswith("http://127.0.0.1:"), "the server did not start"
            yield Served(process, link, web)
        finally:
            with suppress(ProcessLookupError):
                process.send_signal(signal.SIGINT)
            async with asyncio.timeout(PATIENCE_S):
                await process.wait()
