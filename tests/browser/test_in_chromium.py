"""The front desk in a real browser: sign in, open a card, type, see what another terminal wrote, have the PDF."""

import asyncio
import re
from pathlib import Path
from urllib.parse import urlsplit

import pypdfium2

from shopcli.browser.parts import PARTS
from shopcli.screens.acts import ACTS
from shopcli.screens.keymap import BROWSERS, IN_BROWSER
from shopcli.shop.commands import MoveCard
from tests.browser.serving import PATIENCE_S, PIN, serving, with_pin
from tests.chromium import KEYS, Tab, chromium
from tests.conftest import Busy

KEEPS_COUNT = """
window.kept = new Set();
const prevent = Event.prototype.preventDefault;
Event.prototype.preventDefault = function () {
  if (this.type === "keydown") kept.add((this.ctrlKey ? "ctrl+" : "") + this.key);
  return prevent.call(this);
};
"""
LEAVES = "ctrl+q"
SEEN = "Fuel hose perished, ½ inch"


async def sign_in(tab: Tab) -> None:
    await tab.see("Dora")
    await tab.type("1")
    await tab.see("PIN of Dora")
    await tab.type(PIN)
    await tab.press("enter")
    await tab.see("LRK 120")


def words_of(pdf: Path) -> str:
    with pypdfium2.PdfDocument(pdf) as document:
        return "\n".join(page.get_textpage().get_text_range() for page in document)


async def keys_are_kept(tab: Tab) -> None:
    """Press every key of ours that is no letter, at the sign-in, where none does anything: the page lets a browser have none."""
    every = {key for act in ACTS for key in IN_BROWSER.get(act.id, act.keys).split(",")}
    ours = [key for key in every if key in KEYS or (key.startswith("ctrl+") and key not in BROWSERS)]
    ours.sort(key=LEAVES.__eq__)  # the last one ends the page
    await tab.run(KEEPS_COUNT)
    await tab.press(*ours)
    kept = set(await tab.run("[...kept]"))
    assert {key for key in ours if named(key) not in kept} == set()
    assert len(ours) > 20


def named(key: str) -> str:
    """Return a key as the page's script names it."""
    letter = key.removeprefix("ctrl+")
    return f"{'ctrl+' if key.startswith('ctrl+') else ''}{KEYS.get(letter, (letter,))[0]}"


async def write_finding(tab: Tab) -> None:
    """Find the card, open it at the bench and write down something seen."""
    await tab.type("lrk")
    await tab.see("Find +lrk")
    await tab.press("enter")
    await tab.see("Bench +J00001")
    await tab.type("s")
    await tab.see("Seen at")
    await tab.type(SEEN)
    await tab.press("enter")
    await tab.type("soon")
    await tab.press("f2")
    await tab.see(f"Finding kept: {SEEN}")


async def test_a_day_at_the_front_desk(busy_shop: Busy, tmp_path: Path) -> None:
    """One browser and one server for all of it, because each costs a second."""
    dora, papers = with_pin(busy_shop.shop), tmp_path / "downloaded"
    async with chromium() as browser, serving(tmp_path / "shop.db") as served:
        await browser.downloads_into(papers)
        tab = await browser.tab()

        # Without the link nothing is shown; with it the key does not stay in the address, nor the cookie in reach.
        await tab.goto(served.address)
        await tab.see("The desk is shut here")
        await tab.goto(served.link)
        await sign_in(tab)
        assert await tab.run("[location.href, document.cookie]") == [f"{served.address}/", ""]

        # The keys a browser keeps for its tabs have others in their place.
        await tab.see(r"ctrl\+g Ring")
        await tab.press("ctrl+o")
        await tab.see("Shelf")
        await tab.press("escape")
        await tab.see(r"ctrl\+g Ring")

        # What is typed is written down, by whoever signed in; what somebody else writes is seen without a key.
        await write_finding(tab)
        kept = busy_shop.shop.fetch(
            "SELECT f.what, j.person_id FROM finding f JOIN journal j ON j.act = 'AddFinding'"
        )
        assert kept == [(SEEN, dora)]
        await tab.press("f5")
        await tab.see("Find +lrk")
        busy_shop.do(MoveCard(busy_shop.card, "held", "Waiting for a gasket from Leeds"))
        await tab.see("Waiting for a gasket from Leeds")

        # The summary as PDF goes to the browser and not to a disk of the server's.
        await tab.press("f4")
        await tab.see("lines 1 to")
        await tab.press("f12")
        await tab.see("Handed to the browser: J00001-summary.pdf")
        async with asyncio.timeout(PATIENCE_S):
            await browser.fetched.acquire()
        (paper,) = papers.iterdir()
        assert paper.name == "J00001-summary.pdf"
        assert re.search(rf"(?s)LRK 120.*{SEEN}", words_of(paper))

        # The page opens nothing else, and asked nobody but us for anything.
        assert await tab.run("window.open('https://elsewhere.example/')") is None
        assert len(tab.asked) > len(PARTS)
        assert {urlsplit(asked).netloc for asked in tab.asked} == {served.host}

        # Leaving ends the application behind the page; the page says so and begins again.
        behind = served.behind()
        await tab.press(LEAVES)
        await tab.see_page("This page has ended")
        await tab.press("enter")
        await tab.see("Who stands here")
        assert not set(behind) & set(served.behind())
        await keys_are_kept(tab)
