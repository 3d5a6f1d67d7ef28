"""A page that is open: the application behind it, what is said to and fro, and the files that wait to be fetched."""

import asyncio
import json
import secrets
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass

from aiohttp import WSCloseCode, WSMsgType, web

from shopcli.browser.behind import Behind, Handed, Outlets
from shopcli.browser.told import fit_size, read
from shopcli.errors import BadInput

MESSAGE_MOST = 256 << 10  # [bytes] of one message of a page: a long text pasted
FILES_KEPT = 8
HEARTBEAT_S = 15.0
LONG_WITHOUT_A_KEY = 4000


@dataclass(frozen=True, slots=True)
class Starts:
    """How the application is started, and after how long without a key its page is closed, [s]; zero is never."""

    command: Sequence[str]
    environment: Mapping[str, str]
    idle_s: float


class Page:
    """One page, let in with its cookie."""

    def __init__(self, cookie: str) -> None:
        self._cookie = cookie
        self._socket = web.WebSocketResponse(heartbeat=HEARTBEAT_S, max_msg_size=MESSAGE_MOST)
        self._waiting: dict[str, Handed] = {}
        self._last_key = 0.0

    async def talk(self, request: web.Request, starts: Starts) -> web.WebSocketResponse:
        """Start the application and hand on what is said, until one of both ends; the other ends then."""
        await self._socket.prepare(request)
        size = fit_size(request.query.get("width"), request.query.get("height"))
        behind = await Behind.started(starts.command, starts.environment, size)
        beside = [asyncio.create_task(self._listen(behind)), asyncio.create_task(self._watch(starts.idle_s))]
        try:
            await self._hear(behind)
        finally:
            for task in beside:
                task.cancel()
            await asyncio.gather(*beside, return_exceptions=True)
            await behind.end()
            await self._socket.close()
        return self._socket

    async def close(self) -> None:
        """Close the page, because the server ends."""
        with suppress(ConnectionError):
            await self._socket.close(code=WSCloseCode.GOING_AWAY)

    def take(self, key: str, cookie: str) -> Handed | None:
        """Return a file that waits under that key for the browser of that cookie, once."""
        if not secrets.compare_digest(self._cookie, cookie):
            return None
        return self._waiting.pop(key, None)

    async def _listen(self, behind: Behind) -> None:
        await behind.listen(Outlets(self._socket.send_bytes, self._hand))
        with suppress(ConnectionError):
            await self._socket.close()

    async def _watch(self, idle_s: float) -> None:
        clock = asyncio.get_running_loop().time
        self._last_key = clock()
        while idle_s:
            left = self._last_key + idle_s - clock()
            if left <= 0:
                await self._socket.close(code=LONG_WITHOUT_A_KEY)
                return
            await asyncio.sleep(left)

    async def _hand(self, file: Handed) -> None:
        key = secrets.token_urlsafe(16)
        self._waiting[key] = file
        while len(self._waiting) > FILES_KEPT:
            del self._waiting[next(iter(self._waiting))]
        await self._socket.send_str(json.dumps(["deliver_file_start", key]))

    async def _hear(self, behind: Behind) -> None:
        async for message in self._socket:
            if message.type != WSMsgType.TEXT:
                break
            try:
                said = read(message.data)
            except BadInput:
                await self._socket.close(code=WSCloseCode.POLICY_VIOLATION)
                break
            if said.kind == "stdin":
                self._last_key = asyncio.get_running_loop().time()
                await behind.type(said.text)
            elif said.kind == "resize":
                await behind.word("resize", width=said.size[0], height=said.size[1])
            elif said.kind == "ping":
                await self._socket.send_str(json.dumps(["pong", said.text]))
            else:
                await behind.word(said.kind)
