"""The web server: a page, what it draws with, a line to the application, and the files it hands out. Nothing else."""

import asyncio
from collections.abc import Awaitable, Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

from aiohttp import web

from shopcli.browser.gate import COOKIE, NO_COOKIE, WRONG_KEY, Gate, Refusal, origins, url_name
from shopcli.browser.pages import Page, Starts
from shopcli.browser.parts import PAGE, PARTS, headers, part, refused

SESSIONS = 10
WAIT_FOR_PLACE_S = 3.0  # a page loaded anew comes before the one it replaces has ended
FULL = Refusal(
    503, "So many pages are open that no other one is let in. Close one, then open this one again."
)
NOT_HERE = Refusal(404, "There is nothing here.")
WRONG_HEAD = Refusal(400, "That is not how a browser asks.")

Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]


@dataclass(frozen=True)
class Wanted:
    """Where and how much is served: at most so many pages at once; where no page was open for `until_idle_s` it ends.

    `port` 0 takes a free one, `until_idle_s` 0 never ends. `public` is the address browsers use when a proxy stands
    in front.
    """

    starts: Starts
    host: str = "127.0.0.1"
    port: int = 0
    public: str = ""
    most: int = SESSIONS
    until_idle_s: float = 0.0


class Server:
    """Serves the application to browsers."""

    def __init__(self, wanted: Wanted) -> None:
        self._wanted = wanted
        self._gate = Gate({})
        self._pages: set[Page] = set()
        self._place_free = asyncio.Condition()
        self._since_empty = 0.0
        self._ended = asyncio.Event()
        self.address = ""

    @property
    def start_url(self) -> str:
        """The link that lets a browser in."""
        return f"{self.address}/in?key={self._gate.key}"

    def end(self) -> None:
        """End the server; each page is closed, and the application behind it leaves."""
        self._ended.set()

    async def serve(self, started: Callable[["Server"], object]) -> None:
        """Serve until the end; `started` is called once the address is known.

        Raises
        ------
        OSError
            When the address is taken or is not this machine's.
        """
        runner = web.AppRunner(
            self._application(), access_log=None, handle_signals=False, shutdown_timeout=15.0
        )
        await runner.setup()
        try:
            await web.TCPSite(runner, self._wanted.host, self._wanted.port).start()
            self._take_address(runner.addresses[0])
            started(self)
            await self._until_ended()
        finally:
            await runner.cleanup()

    def _application(self) -> web.Application:
        app = web.Application(middlewares=[self._look], client_max_size=1)
        app.on_response_prepare.append(self._send_along)
        app.on_shutdown.append(self._close_pages)
        app.router.add_get("/", self._page)
        app.router.add_get("/in", self._come_in)
        app.router.add_get("/line", self._line)
        app.router.add_get("/place", self._place)
        app.router.add_get("/part/{name}", self._part)
        app.router.add_get("/download/{key}", self._download)
        return app

    def _take_address(self, at: Any) -> None:
        host, port = str(at[0]), int(at[1])
        known = origins(host, port, self._wanted.public)
        self._gate = Gate(known)
        self.address = list(known.values())[-1] if self._wanted.public else f"http://{url_name(host)}:{port}"

    async def _until_ended(self) -> None:
        clock, most = asyncio.get_running_loop().time, self._wanted.until_idle_s
        self._since_empty = clock()
        while not self._ended.is_set():
            left = max(0.1, self._since_empty + most - clock())
            with suppress(TimeoutError):
                await asyncio.wait_for(self._ended.wait(), left if most else None)
            if most and not self._pages and clock() - self._since_empty >= most:
                return

    async def _close_pages(self, _app: web.Application) -> None:
        await asyncio.gather(*(page.close() for page in self._pages))

    @web.middleware
    async def _look(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """Let nothing by that is not for us, from our own page, and of somebody who was let in."""
        host, origin = request.headers.getall("Host", []), request.headers.getall("Origin", [])
        if len(host) != 1 or len(origin) > 1:
            return refused(WRONG_HEAD)
        wants = request.path == "/line"
        refusal = self._gate.address_refusal(host[0], origin[0] if origin else None, wants_origin=wants)
        if refusal is None and request.path != "/in" and not self._gate.knows(request.cookies.get(COOKIE)):
            refusal = NO_COOKIE
        if refusal is not None:
            return refused(refusal)
        try:
            return await handler(request)
        except web.HTTPException as error:
            return refused(NOT_HERE if error.status in {404, 405} else WRONG_HEAD)

    async def _send_along(self, request: web.Request, response: web.StreamResponse) -> None:
        response.headers.update(headers(self._gate.line(request.headers.get("Host", ""))))

    async def _come_in(self, request: web.Request) -> web.StreamResponse:
        """Change the key for a cookie, and take it out of the address."""
        cookie = self._gate.cookie_for(request.query.get("key", ""))
        if cookie is None:
            return refused(WRONG_KEY)
        answer = web.Response(status=303, headers={"Location": "/"})
        secure = self._gate.secure(request.headers["Host"])
        answer.set_cookie(COOKIE, cookie, httponly=True, samesite="Strict", secure=secure, path="/")
        return answer

    async def _page(self, _request: web.Request) -> web.StreamResponse:
        return part(PAGE)

    async def _part(self, request: web.Request) -> web.StreamResponse:
        found = PARTS.get(request.match_info["name"])
        return refused(NOT_HERE) if found is None else part(found)

    async def _place(self, _request: web.Request) -> web.StreamResponse:
        """Say whether another page would be let in."""
        return web.Response(status=204) if self._has_place() else web.Response(status=503, text=FULL.words)

    async def _download(self, request: web.Request) -> web.StreamResponse:
        """Hand a file to the browser it was made for, once."""
        cookie, key = request.cookies[COOKIE], request.match_info["key"]
        file = next(filter(None, (page.take(key, cookie) for page in self._pages)), None)
        if file is None:
            return refused(NOT_HERE)
        named = f"attachment; filename*=UTF-8''{quote(file.name, safe='')}"
        return web.Response(
            body=file.content, headers={"Content-Disposition": named, "Content-Type": file.mime}
        )

    def _has_place(self) -> bool:
        return len(self._pages) < self._wanted.most

    async def _line(self, request: web.Request) -> web.StreamResponse:
        async with self._place_free:
            with suppress(TimeoutError):
                await asyncio.wait_for(self._place_free.wait_for(self._has_place), WAIT_FOR_PLACE_S)
            if not self._has_place():
                return refused(FULL)
            page = Page(request.cookies[COOKIE])
            self._pages.add(page)
        try:
            return await page.talk(request, self._wanted.starts)
        finally:
            async with self._place_free:
                self._pages.discard(page)
                self._since_empty = asyncio.get_running_loop().time()
                self._place_free.notify()
