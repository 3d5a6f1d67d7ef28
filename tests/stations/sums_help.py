"""Standing before the sums: the panel opened, its fields filled, and what stands beside and below them."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from textual.pilot import Pilot
from textual.widgets import Static

from shopcli.screens.workings.answerpane import AnswerPane
from shopcli.screens.workings.askedfield import AskedField
from shopcli.screens.workings.hand import Hand
from shopcli.screens.workings.panel import WorkingsPanel
from tests.stations.build import Story, settle


async def open_panel(pilot: Pilot[None], hand: Hand, name: str) -> WorkingsPanel:
    panel = WorkingsPanel(hand, name)
    pilot.app.push_screen(panel)
    await settle(pilot)
    return panel


@asynccontextmanager
async def at_sums(
    told: Story,
    name: str = "",
    hand: Hand | None = None,
    size: tuple[int, int] = (120, 40),
    *,
    plain: bool = False,
) -> AsyncIterator[tuple[WorkingsPanel, Pilot[None]]]:
    app = told.app("Tom")
    app.plain = plain  # type: ignore[attr-defined]
    async with app.run_test(size=size, notifications=True) as pilot:
        await settle(pilot)
        yield await open_panel(pilot, hand or Hand(), name), pilot


def field(panel: WorkingsPanel, name: str) -> AskedField:
    return panel.query_one(f"#in-{name}", AskedField)


def beside(panel: WorkingsPanel, name: str) -> str:
    return str(field(panel, name).query_one(".asked-beside", Static).content)


def about(panel: WorkingsPanel) -> str:
    return str(panel.query_one("#about", Static).content)


def answered(panel: WorkingsPanel) -> str:
    return panel.query_one("#answer", AnswerPane).text


async def fill(panel: WorkingsPanel, pilot: Pilot[None], texts: dict[str, str]) -> None:
    for name, text in texts.items():
        field(panel, name).put(text)
    await settle(pilot)
