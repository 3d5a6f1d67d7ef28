"""A real browser without a window: Chromium, told what to do by the protocol of its developer tools.

Where it is not installed its tests are skipped, unless ``SHOPCLI_WITHOUT_CHROMIUM=no`` forbids that: then they fail.
"""

import asyncio
import base64
import itertools
import json
import os
import re
import shutil
import tempfile
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from pathlib import Path
from typing import Any

import aiohttp
import pytest

PATIENCE_S = 60  # a busy machine is no fault
WITHOUT = "SHOPCLI_WITHOUT_CHROMIUM"
NAMES = ("chromium", "chromium-browser", "google-chrome")
OPTIONS = (
    "--headless=new",
    "--remote-debugging-port=0",
    "--no-first-run",
    "--no-default-browser-check",
    "--disable-extensions",
    "--disable-sync",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-dev-shm-usage",
    "--enable-unsafe-swiftshader",  # the terminal in the page is drawn by WebGL, and there is no card for it here
    "--window-size=1000,640",
)
# The page keeps its terminal to itself; whatever is called `terminal` on any object is found by its name.
FINDS_TERMINAL = """
Object.defineProperty(Object.prototype, "terminal", {configurable: true, set(value) {
  window.terminalOfThePage = value;
  Object.defineProperty(this, "terminal", {value, writable: true, configurable: true});
}});
"""
READS_TERMINAL = """
(() => {
  const shown = window.terminalOfThePage?.buffer.active;
  if (!shown) return document.body?.innerText ?? "";
  return Array.from({length: window.terminalOfThePage.rows}, (_, n) => shown.getLine(n)?.translateToString() ?? "").join("\\n");
})()
"""
# name: (key, code, the number the system has for it)
KEYS = {
    "enter": ("Enter", "Enter", 13),
    "escape": ("Escape", "Escape", 27),
    "tab": ("Tab", "Tab", 9),
    "backspace": ("Backspace", "Backspace", 8),
    "down": ("ArrowDown", "ArrowDown", 40),
    "up": ("ArrowUp", "ArrowUp", 38),
    "left": ("ArrowLeft", "ArrowLeft", 37),
    "right": ("ArrowRight", "ArrowRight", 39),
    "pageup": ("PageUp", "PageUp", 33),
    "pagedown": ("PageDown", "PageDown", 34),
    "home": ("Home", "Home", 36),
    "end": ("End", "End", 35),
    "delete": ("Delete", "Delete", 46),
    "insert": ("Insert", "Insert", 45),
    **{f"f{n}": (f"F{n}", f"F{n}", 111 + n) for n in range(1, 13)},
}
CTRL = 2


def found_or_skip() -> str:
    """Return the browser's program, or leave the test out where that may be."""
    found = next(filter(None, map(shutil.which, NAMES)), None)
    if found is None:
        if os.environ.get(WITHOUT, "").casefold() in {"no", "0", "never"}:
            pytest.fail(f"Chromium is not installed, and {WITHOUT} says that it must be")
        pytest.skip(f"Chromium is not installed ({WITHOUT}=no would make this a failure)")
    return found


class Tab:
    """One page of the browser: what it asked for, what stands in its terminal, and hands at its keys."""

    def __init__(self, ask: Callable[..., Any]) -> None:
        self._ask = ask
        self.asked: list[str] = []  # every address the page asked for

    async def goto(self, url: str) -> None:
        """Open an address."""
        await self._ask("Page.navigate", url=url)

    async def run(self, script: str) -> Any:
        """Return what a script of the page's own world comes to."""
        came = await self._ask("Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True)
        assert "exceptionDetails" not in came, came
        return came["result"].get("value")

    async def see(self, pattern: str, script: str = READS_TERMINAL) -> str:
        """Wait until the pattern is to be seen, and return everything that is."""
        text = ""
        with suppress(TimeoutError):
            async with asyncio.timeout(PATIENCE_S):
                while not re.search(pattern, text):
                    await asyncio.sleep(0.05)
                    text = str(await self.run(script))
                return text
        raise AssertionError(f"'{pattern}' was not seen. The page:\n{text}")

    async def see_page(self, pattern: str) -> str:
        """Wait until the pattern is to be seen on the page itself, beside the terminal."""
        return await self.see(pattern, "document.body?.innerText ?? ''")

    async def press(self, *names: str) -> None:
        """Press keys by name, like ``f2`` or ``ctrl+y``."""
        for name in names:
            letter = name.removeprefix("ctrl+")
            key, code, number = KEYS.get(letter, (letter, f"Key{letter.upper()}", ord(letter[0].upper())))
            what = {"key": key, "code": code, "windowsVirtualKeyCode": number}
            what["modifiers"] = CTRL if name.startswith("ctrl+") else 0
            text = {"text": "\r"} if key == "Enter" else {}  # without it no button is pressed
            await self._ask(
                "Input.dispatchKeyEvent", type="keyDown" if text else "rawKeyDown", **what, **text
            )
            await self._ask("Input.dispatchKeyEvent", type="keyUp", **what)

    async def type(self, text: str) -> None:
        """Type text, sign by sign."""
        for sign in text:
            await self._ask("Input.dispatchKeyEvent", type="keyDown", text=sign, key=sign)
            await self._ask("Input.dispatchKeyEvent", type="keyUp", key=sign)

    async def picture(self) -> bytes:
        """Return a picture of the page, a PNG."""
        came = await self._ask("Page.captureScreenshot", format="png")
        return base64.b64decode(came["data"])


class Chromium:
    """The browser: pages in it, and what it downloads."""

    def __init__(self, socket: aiohttp.ClientWebSocketResponse) -> None:
        self._socket = socket
        self._numbers = itertools.count(1)
        self._answers: dict[int, asyncio.Future[dict[str, Any]]] = {}
        self._tabs: dict[str, Tab] = {}
        self.fetched = asyncio.Semaphore(0)  # one for each file that is here

    async def listen(self) -> None:
        """Take in what the browser says."""
        async for message in self._socket:
            said = json.loads(message.data)
            if "id" in said and said["id"] in self._answers:
                self._answers.pop(said["id"]).set_result(said)
            elif said.get("method") == "Network.requestWillBeSent" and said["sessionId"] in self._tabs:
                self._tabs[said["sessionId"]].asked.append(said["params"]["request"]["url"])
            elif said.get("method") == "Network.webSocketCreated" and said["sessionId"] in self._tabs:
                self._tabs[said["sessionId"]].asked.append(said["params"]["url"])
            elif said.get("method") == "Browser.downloadProgress" and said["params"]["state"] == "completed":
                self.fetched.release()

    async def ask(self, method: str, session: str = "", **params: Any) -> dict[str, Any]:
        """Have something done and return what it comes to."""
        number = next(self._numbers)
        self._answers[number] = asyncio.get_running_loop().create_future()
        to = {"sessionId": session} if session else {}
        await self._socket.send_json({"id": number, "method": method, "params": params, **to})
        async with asyncio.timeout(PATIENCE_S):
            said = await self._answers[number] if number in self._answers else {}
        assert "error" not in said, said
        return dict(said["result"])

    async def tab(self) -> Tab:
        """Open a page with nothing in it."""
        target = (await self.ask("Target.createTarget", url="about:blank"))["targetId"]
        session = (await self.ask("Target.attachToTarget", targetId=target, flatten=True))["sessionId"]

        async def ask(method: str, **params: Any) -> dict[str, Any]:
            return await self.ask(method, session, **params)

        tab = self._tabs[session] = Tab(ask)
        for domain in ("Page", "Network", "Runtime"):
            await ask(f"{domain}.enable")
        await ask("Page.addScriptToEvaluateOnNewDocument", source=FINDS_TERMINAL)
        return tab

    async def downloads_into(self, folder: Path) -> None:
        """Have what is downloaded put into a folder, without asking."""
        wanted = {"behavior": "allow", "downloadPath": str(folder), "eventsEnabled": True}
        await self.ask("Browser.setDownloadBehavior", **wanted)


@asynccontextmanager
async def chromium() -> AsyncIterator[Chromium]:
    """Start the browser with nothing remembered, and end it with all that it started."""
    program = found_or_skip()
    folder = Path(tempfile.mkdtemp(prefix="chromium-"))
    options = [*OPTIONS, f"--user-data-dir={folder}", *(["--no-sandbox"] if os.geteuid() == 0 else [])]
    process = await asyncio.create_subprocess_exec(
        program, *options, "about:blank", stderr=asyncio.subprocess.PIPE, stdout=asyncio.subprocess.DEVNULL
    )
    try:
        async with aiohttp.ClientSession() as web:
            async with asyncio.timeout(PATIENCE_S):
                address = await _address(process)
            async with web.ws_connect(address, max_msg_size=0) as socket:
                browser = Chromium(socket)
                listening = asyncio.create_task(browser.listen())
                yield browser
                with suppress(Exception):
                    await browser.ask("Browser.close")
                listening.cancel()
    finally:
        try:  # told to close, it waits for all that it started
            await asyncio.wait_for(process.wait(), 5)
        except TimeoutError:
            process.kill()
            await process.wait()
        shutil.rmtree(folder, ignore_errors=True)


async def _address(process: asyncio.subprocess.Process) -> str:
    assert process.stderr is not None
    said = ""
    while line := (await process.stderr.readline()).decode(errors="replace"):
        said += line
        if found := re.search(r"DevTools listening on (ws://\S+)", line):
            return found[1]
    raise AssertionError(f"the browser did not start:\n{said}")
