"""What the real server refuses, and what becomes of the application when whoever looked at it is gone."""

import asyncio
import signal
from pathlib import Path

import aiohttp
import pytest

from tests.browser.serving import PATIENCE_S, gone, seen, serving, with_pin
from tests.conftest import Busy

PATHS = ("/", "/line", "/place", "/part/page.js", "/download/x", "/elsewhere")


async def refused(served, status: int, words: str, path: str = "/", **headers: str) -> None:
    answer = await served.get(path, **headers)
    assert (answer.status, words in await answer.text()) == (status, True), (
        path,
        headers,
        await answer.text(),
    )
    assert answer.headers["Content-Security-Policy"].startswith("default-src 'none'; script-src 'self';")
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["X-Frame-Options"] == "DENY"


async def no_line(served, status: int, cookie: str, **headers: str) -> None:
    with pytest.raises(aiohttp.WSServerHandshakeError) as refusal:
        await served.line(cookie, **headers)
    assert refusal.value.status == status


def listened_on(pid: int) -> list[str]:
    """The addresses a process listens on, as the kernel tells: everything but port and state in hexadecimal."""
    sockets = {str(link.readlink()) for link in Path(f"/proc/{pid}/fd").iterdir()}
    found: list[str] = []
    for table in ("tcp", "tcp6", "udp", "udp6"):
        rows = map(str.split, Path(f"/proc/{pid}/net/{table}").read_text(encoding="ascii").splitlines()[1:])
        ours = (row for row in rows if f"socket:[{row[9]}]" in sockets)
        found += [row[1].partition(":")[0] for row in ours if table.startswith("udp") or row[3] == "0A"]
    return found


async def test_the_real_server_lets_in_whom_it_should_and_leaves_nobody_behind(
    busy_shop: Busy, tmp_path: Path
) -> None:
    """One server, because each costs a second: strangers, other names, other sites' pages, too many, too much."""
    with_pin(busy_shop.shop)
    async with serving(tmp_path / "shop.db", "--most", "2") as served:
        # A port scan from within: 0100007F is 127.0.0.1 as the kernel writes it.
        assert listened_on(served.process.pid) == ["0100007F"]

        # Without what the link gives nothing is served, with a wrong key nothing is given.
        for path in PATHS:
            await refused(served, 403, "with the link the server printed", path, Origin=served.address)
        await refused(served, 403, "does not open the desk", "/in?key=wrong")
        await refused(served, 403, "does not open the desk", "/in")
        await refused(served, 403, "with the link", Cookie="shopcli-desk=made-up")

        cookie = await served.come_in()
        came = await served.web.get(served.link, allow_redirects=False)
        assert (came.status, came.headers["Location"]) == (303, "/")
        assert "HttpOnly" in came.headers["Set-Cookie"]
        assert "SameSite=Strict" in came.headers["Set-Cookie"]
        page = await served.get("/", Cookie=cookie)
        assert (page.status, page.content_type) == (200, "text/html")
        assert served.link.partition("key=")[2] not in await page.text()

        # Another name, though it may lead here, and the page of another site, though its user was let in.
        for name in ("elsewhere.example", "127.0.0.1", f"localhost.elsewhere.example:{served.host[-5:]}"):
            await refused(served, 403, "not one the desk answers to", Cookie=cookie, Host=name)
            await refused(
                served,
                403,
                "not one the desk answers to",
                served.link.removeprefix(served.address),
                Host=name,
            )
        for origin in ("http://elsewhere.example", "null", served.address.replace("http", "https")):
            await refused(served, 403, "another site", Cookie=cookie, Origin=origin)
            await refused(
                served, 403, "another site", served.link.removeprefix(served.address), Origin=origin
            )
            await no_line(served, 403, cookie, Origin=origin)
        await no_line(served, 403, cookie, Host="elsewhere.example")
        await no_line(served, 403, "shopcli-desk=made-up")

        # Nothing but what is named: no folder, no other file, no other way of asking.
        for path in (
            "/part/",
            "/part/..%2fgate.py",
            "/part/%2e%2e%2f%2e%2e%2fgate.py",
            "/static/js/textual.js",
            "/download/x",
        ):
            await refused(served, 404, "nothing here", path, Cookie=cookie)
        assert (await served.web.post(served.address, headers={"Cookie": cookie}, data="x" * 9)).status == 404
        await refused(served, 400, "not how a browser asks", "/line", Cookie=cookie, Origin=served.address)

        # Two pages may be open and are; the third is refused until one has ended, and its application gone. What no page
        # of ours says, or too much of it, ends the conversation.
        async with served.line(cookie) as first, served.line(cookie) as second:
            await asyncio.gather(seen(first), seen(second))
            behind = served.behind()
            assert len(behind) == 2
            assert all(listened_on(pid) == [] for pid in behind)
            await no_line(served, 503, cookie)
            assert (await served.get("/place", Cookie=cookie)).status == 503
            await second.send_json(["stdin", "x" * 300_000])
            assert await ended(second) == 1009
            async with served.line(cookie) as third:
                assert len(set(served.behind()) & set(behind)) == 1
                await third.send_str("x")
                assert await ended(third) == 1008

            # A server that is killed leaves nobody behind.
            behind = served.behind()
            assert behind
            served.process.send_signal(signal.SIGKILL)
            await served.process.wait()
            await gone(behind)


async def ended(line: aiohttp.ClientWebSocketResponse) -> int | None:
    async with asyncio.timeout(PATIENCE_S):
        async for _message in line:
            pass
    return line.close_code


async def test_without_a_key_the_page_ends_and_without_a_page_the_server(
    busy_shop: Busy, tmp_path: Path
) -> None:
    with_pin(busy_shop.shop)
    async with serving(tmp_path / "shop.db", "--idle", "0.02", "--until-idle", "0.01") as served:
        async with served.line(await served.come_in()) as line:
            assert await ended(line) == 4000
        async with asyncio.timeout(PATIENCE_S):
            assert await served.process.wait() == 0


@pytest.mark.long
async def test_ten_pages_may_be_open_and_the_eleventh_is_refused(busy_shop: Busy, tmp_path: Path) -> None:
    with_pin(busy_shop.shop)
    async with serving(tmp_path / "shop.db") as served:
        cookie = await served.come_in()
        lines = [await served.line(cookie) for _ in range(10)]
        await asyncio.gather(*map(seen, lines))
        assert len(served.behind()) == 10
        await no_line(served, 503, cookie)
        await lines[3].close()
        lines.append(await served.line(cookie))
        await seen(lines[-1])
        behind = served.behind()
    await gone(behind)
