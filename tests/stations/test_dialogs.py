"""Questions fit the screen they stand on: what the keys do is never cut off."""

import pytest

from shopcli.screens.dialogs import Choice, Pick
from shopcli.store.shop import Shop
from tests.stations.build import seen, settle, story

KEYS = "Enter takes it, Esc goes back"


@pytest.mark.parametrize(
    "note", ["", "a note of a line", "a note of four lines " * 12], ids=["bare", "short", "long"]
)
async def test_what_the_keys_do_stands_below_the_longest_list(shop: Shop, note: str) -> None:
    app = story(shop).app()
    many = [Choice(str(i), f"choice {i}", "and a second line") for i in range(30)]
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        asked = Pick("Which of all these?", many, note=note)
        app.push_screen(asked)
        await settle(pilot)
        for size in ((120, 40), (80, 24), (80, 22)):
            await pilot.resize_terminal(*size)
            await settle(pilot)
            assert KEYS in seen(app), size
            asked.action_move(29)
            await settle(pilot)
            assert "choice 29" in seen(app)
            assert KEYS in seen(app), size
            asked.action_move(-29)


async def test_a_short_list_leaves_no_empty_rows_and_is_narrowed_by_plain_letters(shop: Shop) -> None:
    app = story(shop).app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.push_screen(Pick("Which?", [Choice("a", "this of Łódź"), Choice("b", "that")]))
        await settle(pilot)
        lines = seen(app).splitlines()
        that = next(i for i, line in enumerate(lines) if "that" in line)
        assert any(KEYS in line for line in lines[that : that + 4])
        await pilot.press(*"lodz")
        await settle(pilot)
        assert "this of" in seen(app)
        assert "that" not in seen(app)
