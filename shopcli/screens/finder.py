"""The palette finds any card, any task of the card in hand, any sum, and everything the screen's keys do."""

import asyncio
from collections.abc import Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING, cast

from textual.command import DiscoveryHit, Hit, Hits, Provider
from textual.content import Content
from textual.markup import escape

from shopcli.screens.acts import acts_of, key_names
from shopcli.store.reads.anything import found_cards, found_tasks

if TYPE_CHECKING:
    from shopcli.screens.app import ShopApp

MOST = 8


class Finder(Provider):
    """Searches the records and the library in a thread: a key in the palette never waits for them."""

    @property
    def _shop_app(self) -> "ShopApp":
        return cast("ShopApp", self.app)

    async def discover(self) -> Hits:
        """Offer what this screen's keys do."""
        for label, about, run in self._acts():
            yield DiscoveryHit(cast("str", Content(label)), run, text=label, help=escape(about))

    async def search(self, query: str) -> Hits:
        """Find cards and tasks by their words, sums by name and title, acts by label."""
        shop, card_id = self._shop_app.shop, self._shop_app.card_id
        for card in await asyncio.to_thread(found_cards, shop, query, MOST):
            text = f"{card.number}  {card.registration}  {card.vehicle}"
            yield _hit(
                0.9, text, partial(self._shop_app.open_card, card.id), f"Card, {card.state}: {card.title}"
            )
        if card_id is not None:
            for task in await asyncio.to_thread(found_tasks, shop, card_id, query, MOST):
                run = partial(self._shop_app.open_card, card_id, task.id)
                yield _hit(0.8, task.title, run, f"Task of {task.card}, {task.state}")
        matcher = self.matcher(query)
        for label, about, run in self._acts():
            score = matcher.match(f"{label} {about}")
            if score > 0:
                yield _hit(score * 0.7, label, run, about)
        for name, title in await asyncio.to_thread(_sums):
            score = matcher.match(f"{title} {name}")
            if score > 0:
                yield _hit(score * 0.6, title, partial(self._open_sum, name), f"Workshop sum: {name}")

    def _acts(self) -> Iterator[tuple[str, str, Callable[[], None]]]:
        """Return label, help and act of everything that can be pressed on the screen the palette lies over."""
        station = getattr(self.screen, "HELP_STATION", self.app.current_mode)
        for act in acts_of(station):
            owner, action = act.id.split(".")
            target = "app" if owner == "app" else "screen"
            run = partial(self.app.call_later, self.app.run_action, f"{target}.{action}")
            yield act.label, f"{act.help} Key: {key_names(act.keys)}", run

    def _open_sum(self, name: str) -> None:
        from shopcli.screens.workings.panel import WorkingsPanel

        self.app.push_screen(WorkingsPanel(name=name))


def _hit(score: float, text: str, run: Callable[[], object], about: str) -> Hit:
    return Hit(score, Content(text), run, text=text, help=escape(about))


def _sums() -> tuple[tuple[str, str], ...]:
    from shopcli.worklists.workings_at_hand import every_working

    return tuple((name, working.title) for name, working in every_working().items())
